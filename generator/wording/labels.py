"""What a line is called: `Rnd 3`, `Rnds 4–8`, `Row 3 (RS)`, `Round 3`."""

from generator.fabric.model import Make, Part, WorkedLine
from generator.notation.tree import Label, Word
from generator.wording.numbers import number_list
from generator.wording.places import Scene
from generator.wording.voice import Voice


def scene_of(line: WorkedLine, part: Part, voice: Voice) -> Scene:
    """Whether a line speaks of rounds or rows: by its label, else by the courses it makes or the last ones did."""
    word = line.line.label.word
    if word in (Word.ROUND, Word.ROW):
        return Scene(voice, rows=word is Word.ROW)
    first, last = line.courses
    near = part.courses[max(0, min(first, len(part.courses) - 1)) : max(first + 1, last)] if part.courses else ()
    made = [course.make for course in near if course.make is not Make.FOUNDATION]
    if made:
        return Scene(voice, rows=made[0] is Make.ROW)
    return Scene(voice, rows=any(course.make is Make.ROW for course in part.courses))


def label_text(label: Label, scene: Scene, numbers: tuple[int, ...] | None = None, many: int = 1) -> str:
    """The label in words; empty for a line that has none.

    `numbers` replaces the label's own; `many` is how many rounds an unnumbered label speaks of (`Next 5 rnds`).
    """
    voice = scene.voice
    shown = label.numbers if numbers is None else numbers
    if label.word is Word.NONE and not shown:
        return ""
    if label.word is Word.FOUNDATION:
        text = voice.language.terms["foundation"].name
    elif shown:
        listed = number_list(shown, voice.say("and"), voice.say("to") if voice.whole else "–")
        text = voice.say("label", word=scene.course(len(shown)), numbers=listed)
    else:
        phrase = "label-next" if many == 1 else "label-next-many"
        text = voice.say(phrase, word=scene.course(many), n=many)
    if label.side:
        side = voice.term("right-side" if label.side == "RS" else "wrong-side")
        text = voice.say("label-side", label=text, side=side)
    return text[0].upper() + text[1:]

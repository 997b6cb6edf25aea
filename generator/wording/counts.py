"""The count at the end of a round: what is live, by kind where the kind matters."""

from generator.fabric.model import WorkedLine
from generator.notation import tree
from generator.notation.tree import Noun, Target, Word
from generator.wording.places import space
from generator.wording.voice import Voice


def count_text(line: WorkedLine, voice: Voice) -> str:
    """`18 sts`; `12 dc, 4 ch-2 sps` where there are spaces or the author counts by kind; empty for no course.

    The numbers are the fabric's, never the author's.
    """
    first, last = line.courses
    if last <= first or (not line.live and not line.kinds):
        return ""
    if line.line.stated is None and (line.line.label.word in (Word.NONE, Word.FOUNDATION) or _finishes(line)):
        return ""  # a chain to begin on, a levelling stitch: nobody counts there
    spaces = [(kind, n) for kind, n in line.kinds if kind.startswith("sp:")]
    stitches = [(kind, n) for kind, n in line.kinds if not kind.startswith("sp:")]
    named = line.line.stated is not None and bool(line.line.stated.kinds)
    if voice.terse and not spaces and not named:
        return str(line.live)
    parts: list[str] = []
    if stitches and (named or spaces) and len(stitches) <= 3:
        parts = [voice.say("count", n=n, things=voice.stitch(kind, n)) for kind, n in stitches]
    elif line.live:
        parts = [voice.say("count", n=line.live, things=voice.term("stitch", line.live))]
    parts.extend(voice.say("count", n=n, things=_space(kind, n, voice)) for kind, n in spaces)
    return ", ".join(parts)


def _finishes(line: WorkedLine) -> bool:
    """Slip stitches that only end the round below."""
    works = [step for step in line.steps if isinstance(step, tree.Work | tree.Repeat | tree.Group)]
    return bool(works) and all(isinstance(step, tree.Work) and step.stitch == "sl-st" for step in works)


def _space(kind: str, n: int, voice: Voice) -> str:
    size = int(kind[3:]) if kind.startswith("sp:") else 0
    return space(Target(noun=Noun.SPACE, size=size), n, voice)

"""The published text: a worked part written back, line by line, in a dialect and a style.

What readers see is what was worked: every line is written from its settled steps, every count from the fabric.
"""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field, replace

from generator.fabric.model import Part, WorkedLine
from generator.notation import tree
from generator.notation.tree import Step, Word
from generator.vocabulary.records import Language
from generator.wording import settle, unroll
from generator.wording.counts import count_text
from generator.wording.flow import linked, say, texts
from generator.wording.labels import label_text, scene_of
from generator.wording.places import Scene
from generator.wording.voice import Style, Voice

__all__ = ["Style", "Written", "write_line", "write_part"]


@dataclass(frozen=True, slots=True)
class Written:
    """One line of the published text."""

    label: str
    """`Rnd 3`, without colon; empty where the line has none."""
    text: str
    """The instruction as sentences, without label and count."""
    count: str
    """`18 sts`; empty where nothing is counted."""
    line: int
    """Index of its `WorkedLine` in the part."""
    numbers: tuple[int, ...]
    """Numbers of the rounds or rows it is for."""
    kind: str
    """`round`, `row`, `setup` (yarn, ring, foundation, fastening off) or `note`."""
    steps: tuple[str, ...] = field(default=())
    """Single instructions in order, for ticking off; only in style STEPS."""

    @property
    def whole(self) -> str:
        """The line as one piece of text: `Rnd 3: (sc in next st, 2 sc in next st) 6 times. (18 sts)`."""
        head = f"{self.label}: " if self.label else ""
        tail = f" ({self.count})" if self.count else ""
        return f"{head}{self.text}{tail}"


def write_part(
    part: Part,
    language: Language,
    style: Style = Style.SHORT,
    yarns: Mapping[str, str] | None = None,
    left_handed: bool = False,
    author: Language | None = None,
    own: Mapping[str, str] | None = None,
) -> tuple[Written, ...]:
    """All lines of a part, in order.

    `yarns` maps yarn keys to colour names; `author` is the language the source is written in (its header's terms),
    for moving remarks; `own` maps the pattern's own stitches to their words. Private notes are never written.
    """
    voice = Voice(language, style, dict(yarns or {}), left_handed, author, dict(own or {}))
    return write_script(settle.settle(part), voice)


def write_script(script: settle.Script, voice: Voice, only: Collection[int] | None = None) -> tuple[Written, ...]:
    """All lines of a part that was settled once, for those who write it in several voices; or `only` some of them."""
    written: list[Written] = []
    for index in range(len(script.steps)) if only is None else sorted(only):
        written.extend(_write(index, script, voice))
    return tuple(written)


def write_line(part: Part, index: int, language: Language, style: Style = Style.SHORT) -> tuple[Written, ...]:
    """One line of a part, for messages that offer it rewritten."""
    voice = Voice(language, style)
    return tuple(_write(index, settle.settle(part), voice))


def _write(index: int, script: settle.Script, voice: Voice) -> list[Written]:
    part, line = script.part, script.part.lines[index]
    if voice.style is Style.STEPS:
        pieces = unroll.line_courses(index, script)
    else:
        pieces = [unroll.Unrolled(line.line.label.numbers, script.steps[index])]
    scene = replace(scene_of(line, part, voice), all_sc=script.all_sc[index])
    written: list[Written] = []
    for piece in pieces:
        steps = piece.steps[1:] if _heading(line) is not None else piece.steps
        said = texts(steps, scene)
        if not any(said):
            continue
        written.append(
            Written(
                label=_label(line, scene, piece.numbers),
                text=sentences(steps, said),
                count=count_text(line, voice),
                line=index,
                numbers=piece.numbers,
                kind=_kind(line, scene),
                steps=tuple(text[0].upper() + text[1:].rstrip(",;") for text in said if text)
                if voice.style is Style.STEPS
                else (),
            )
        )
    return written


def _label(line: WorkedLine, scene: Scene, numbers: tuple[int, ...]) -> str:
    if _is_note(line):
        return scene.voice.say("note")
    if _heading(line) is not None:
        text = say(line.steps[0], scene)
        return text[:1].upper() + text[1:]
    stated = line.line.stated
    return label_text(line.line.label, scene, numbers, many=stated.rounds if stated and stated.rounds else 1)


def _heading(line: WorkedLine) -> tree.Remark | None:
    """What an unlabelled line is headed with: `To level the step: sc in next st, ...`."""
    if line.line.label.word is not Word.NONE or len(line.steps) < 2:
        return None
    first = line.steps[0]
    rest = line.steps[1:]
    if isinstance(first, tree.Remark) and not first.act and not isinstance(rest[0], tree.Remark):
        return first
    return None


def _is_note(line: WorkedLine) -> bool:
    only = line.steps[0] if len(line.steps) == 1 else None
    return line.line.label.word is Word.NONE and isinstance(only, tree.Remark) and only.act == "note"


def _kind(line: WorkedLine, scene: Scene) -> str:
    if line.line.label.word in (Word.ROUND, Word.ROW, Word.NEXT):
        return "row" if scene.rows else "round"
    if line.steps and all(isinstance(step, tree.Remark | tree.Define | tree.PartRef) for step in line.steps):
        return "note"
    return "setup"


_OWN_SENTENCE = (tree.FastenOff, tree.PartRef, tree.Convention)


def sentences(items: Sequence[Step], said: Sequence[str]) -> str:
    """Steps, said one by one, as sentences. What carries no stitches begins one of its own, unless the author put it in the middle."""
    done: list[str] = []
    remarked = False
    for step, text in zip(items, said, strict=True):
        if not text:
            continue
        remark = isinstance(step, tree.Remark)
        tied = bool(done) and done[-1].endswith((",", ";"))
        begins = isinstance(step, _OWN_SENTENCE) or (text[0].isupper() if remark else remarked and not tied)
        if begins or not done:
            done.append(text)
        else:
            done[-1] += f" {text}" if tied else linked(step, text, 1)
        remarked = remarked if remark and not begins else remark
    return " ".join(f"{text[0].upper()}{text[1:].rstrip(',;')}." for text in done)

"""Stitches the pattern itself names: `bead in next st`, once the header says what a bead is worked as."""

from dataclasses import dataclass, replace

from generator.notation.cursor import Cursor
from generator.notation.memory import Memory
from generator.notation.places import read_place, starts_place
from generator.notation.tokens import Token
from generator.notation.tree import NEXT, Group, Repeat, Step, Times
from generator.source import Span


@dataclass(frozen=True, slots=True)
class Named:
    """One name: its tokens, the key it stands under in the header, what it is worked as."""

    words: tuple[tuple[str, str], ...]
    key: str
    steps: tuple[Step, ...]


def name_of(tokens: list[Token], key: str, steps: tuple[Step, ...]) -> Named:
    """A name as the reader will meet it in a line."""
    return Named(tuple((token.type, token.value) for token in tokens), key, steps)


def named(c: Cursor, memory: Memory) -> list[Step] | None:
    """The pattern's own stitch at the cursor, in its place."""
    begin = c.i
    n = c.take().n if c.peek().type == "number" else 1
    found = max((one for one in memory.named if _here(c, one)), key=lambda one: len(one.words), default=None)
    if found is None:
        c.i = begin
        return None
    c.i += len(found.words)
    c.skip_words("st")
    target = read_place(c) if starts_place(c) and not c.word("of", "to") else None
    span = c.span(begin)
    memory.started = True
    group = Group(span, tuple(_at(step, span) for step in found.steps), target or NEXT, found.key)
    return [group] if n < 2 else [Repeat(span, (group,), Times(n), 0, "")]


def _here(c: Cursor, one: Named) -> bool:
    """Whether the name stands here; several of them may take an s."""
    last = len(one.words) - 1
    for ahead, (kind, value) in enumerate(one.words):
        token = c.peek(ahead)
        same = token.value == value or (ahead == last and token.value in (value + "s", value + "es"))
        if token.type != kind or not same:
            return False
    return bool(one.words)


def _at(step: Step, span: Span) -> Step:
    """What the name stands for points at the name, not into the header."""
    if isinstance(step, (Group, Repeat)):
        return replace(step, span=span, steps=tuple(_at(inner, span) for inner in step.steps))
    return replace(step, span=span)

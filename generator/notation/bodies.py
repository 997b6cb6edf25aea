"""What stands behind a line's label, read once: patterns say the same thing in many rounds, and a text that is followed
while it is written says nearly all of it again at every save.

A body is read at offset 0 and its places are moved to where the line stands. What it means depends on its words, on
whether it has a label, on the terms and on what the reader has in mind from the lines before; on nothing else. Where
the pattern has named stitches of its own, they point to where they were named, and bodies are read where they stand.
"""

from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from generator.notation import slips
from generator.notation.body import Body
from generator.notation.cursor import Cursor
from generator.notation.glossary import renamed
from generator.notation.lastheap import last_heap
from generator.notation.lexicon import lexicon
from generator.notation.memory import Memory
from generator.notation.multiples import plain
from generator.notation.netting import netted
from generator.notation.passage import Passage
from generator.notation.settling import settled
from generator.notation.spelled import swept
from generator.notation.standing import over_its_loop
from generator.notation.tokens import Token, tokenize
from generator.notation.tree import Choice, Group, Label, Remark, Repeat, Stated, Step, Unread, Word
from generator.notation.untils import stated_until
from generator.notation.verbatim import verbatim
from generator.source import Span

LONG_BODY = 500
"""Characters up to which a body is remembered; longer ones are rare and seldom said twice."""


@dataclass(frozen=True, slots=True)
class Known:
    """A body at offset 0, and what the reader had in mind when it was through."""

    body: Body
    mind: tuple[Any, ...]


@lru_cache(maxsize=4096)
def remembered(text: str, label: Label, terms: str, mind: tuple[Any, ...]) -> Known | None:
    """A body read with this in mind; None where it names a stitch, whose own places belong to that text."""
    memory = Memory()
    memory.become(mind)
    body = read_body(text, 0, label, terms, memory)
    return None if memory.specials else Known(body, memory.state())


def read_body(text: str, offset: int, label: Label, terms: str, memory: Memory) -> Body:
    """The body that stands at `offset` of its source. Of its label only the word is told, and that there are numbers."""
    tokens = _plain_row(tokenize(text, offset, lexicon(terms)), text, memory.stitch)
    tokens = renamed(tokens, memory.short)
    steps, stated, mended = _with_slips(tokens, terms, memory)
    stated = stated or stated_until(steps, tokens)
    memory.heap = last_heap(steps) or memory.heap
    if label.word in (Word.ROUND, Word.ROW) and _says_nothing(steps):
        # A numbered round is worked: words of which none was known are no remark there.
        steps = [Unread(steps[0].span.cover(steps[-1].span), text.strip()[:80])]
    return Body(verbatim(over_its_loop(settled(steps, label), text, offset), text, offset), stated, mended)


def _plain_row(tokens: list[Token], body: str, stitch: str) -> list[Token]:
    """`Plain.`, `Plain, with 3 extra`: a course of the stitch in hand, not of the one called plain."""
    alone = len(tokens) == 1 or (len(tokens) > 1 and (tokens[1].type == "sign" or tokens[1].value in ("row", "round")))
    if tokens and alone and body.lstrip()[:5].lower() == "plain" and tokens[0].type == "stitch":
        rest = tokens[2:] if len(tokens) > 1 and tokens[1].type != "sign" else tokens[1:]
        return [tokens[0]._replace(value=stitch), *rest]
    return tokens


def _with_slips(
    tokens: list[Token], terms: str, memory: Memory
) -> tuple[list[Step], Stated | None, tuple[tuple[Span, str], ...]]:
    before = memory.state()
    steps, stated = _read(tokens, memory)
    unread = count_unread(steps)
    if not unread:
        return steps, stated, ()
    mended, what = slips.mend(tokens, lexicon(terms))
    if what:
        after = memory.state()
        memory.become(before)
        again, stated_again = _read(mended, memory)
        if count_unread(again) < unread:
            return again, stated_again, what
        memory.become(after)
    return steps, stated, ()


def _read(tokens: list[Token], memory: Memory) -> tuple[list[Step], Stated | None]:
    memory.begin()
    memory.stitch = _first_stitch(tokens) or memory.stitch
    passage = Passage(Cursor(tokens), memory)
    passage.read()
    passage.folder.close_open_marks()
    steps, _ = passage.folder.done()
    steps = netted(steps, memory)
    return swept(steps) if memory.legs else steps, None if passage.sewn else passage.stated


def _says_nothing(steps: list[Step]) -> bool:
    return bool(steps) and all(isinstance(step, Remark) and not step.act for step in steps)


def _first_stitch(tokens: list[Token]) -> str:
    for token in tokens:
        if token.type == "stitch" and token.value not in ("sl-st", "picot"):
            return plain(token.value)
    return ""


def count_unread(steps: list[Step] | tuple[Step, ...]) -> int:
    """How many steps were not understood, inside repeats and groups too."""
    total = 0
    for step in steps:
        if isinstance(step, Unread):
            total += 1
        elif isinstance(step, (Repeat, Group)):
            total += count_unread(step.steps)
        elif isinstance(step, Choice):
            total += count_unread(step.options[0].steps)
    return total

"""Along a chain from the hook, where the first chain is told after the others."""

from dataclasses import replace

from generator.notation.cursor import Cursor
from generator.notation.places import read_place, starts_place
from generator.notation.tree import How, Noun, Step, Work


def from_the_hook(c: Cursor, steps: list[Step]) -> list[Step]:
    """`sc in each ch, starting in 2nd ch from hook`: where the first of them goes, told last."""
    last = steps[-1]
    if not isinstance(last, Work) or last.target.how is not How.EACH or last.target.noun is not Noun.CHAIN:
        return steps
    mark = c.i
    if c.sign(","):
        c.take()
    if c.word("beginning"):
        c.take()
        c.skip_words("with", "at", "from")
        first = read_place(c, bare=not starts_place(c))
        if first is not None and first.how is How.FROM_HOOK:
            return [*steps[:-1], replace(last, target=replace(first, loop=last.target.loop)), last]
    c.i = mark
    return steps

"""Where another piece begins in the middle of a text: a new ring or foundation, a foundation on a line of its own."""

from generator.fabric.asking import flat, index_of, works
from generator.fabric.state import State
from generator.notation.tree import (
    Again,
    Chain,
    Choice,
    Define,
    Foundation,
    How,
    Line,
    Noun,
    Remark,
    Ring,
    Stay,
    Step,
    Word,
    Work,
    Yarn,
)  # fmt: skip
from generator.vocabulary.load import stitch

CORD = 20
"""Chains of a cord, which slip stitches go back along; a point on an edge has fewer."""


def founds(state: State, lines: tuple[Line, ...], index: int) -> bool:
    """`Ch 20.` on a line of its own while work is there, and a first row or stitch from the hook after it."""
    line = lines[index]
    if line.label.numbers or not state.started:
        return False
    steps = [s for s in line.steps if not isinstance(s, (Remark, Yarn))]
    if len(steps) != 1 or not isinstance(steps[0], Chain):
        return False
    after = next((other for other in lines[index + 1 :] if works(other.steps)), None)
    if after is None or steps[0].n < 2:
        return False
    if after.label.numbers[:1] == (1,):
        return True
    first = next((s for s in flat(after.steps) if isinstance(s, Work)), None)
    return first is not None and first.target.how is How.FROM_HOOK and (first.stitch != "sl-st" or state.cut)


def begins_again(state: State, line: Line) -> bool:
    """A new ring or foundation while work is there, and the yarn was cut (or a label says 1): a new piece."""
    if not state.started:
        return False
    if line.label.numbers[:1] == (1,) and not state.ground.ring:
        working = next((s for s in flat(line.steps) if isinstance(s, (Work, Ring, Foundation, Chain))), None)
        if isinstance(working, Work) and working.target.noun is Noun.RING:
            return True  # `Rnd 1: 6 sc in magic ring`
    first = next((s for s in line.steps if not isinstance(s, (Remark, Yarn, Define, Stay))), None)
    if isinstance(first, Choice):
        first = first.options[0].steps[0]
    if isinstance(first, Ring):
        return True
    if isinstance(first, Work) and stitch(first.stitch).family == "foundation" and line.label.numbers[:1] in ((), (1,)):
        return True  # `Fsc 40`
    if isinstance(first, Chain) and first.n > 1:
        hooks = [s for s in flat(line.steps) if isinstance(s, Work) and s.target.how.value == "from hook"]
        joins = [s for s in line.steps if isinstance(s, (Ring,))]
        if joins:
            return True
        early = hooks and index_of(line.steps, first) + 2 >= index_of(line.steps, hooks[0])
        cord = first.n >= CORD and not line.label.numbers
        return bool(early and (first.n >= 10 or state.cut) and (hooks[0].stitch != "sl-st" or cord))
    return isinstance(first, Foundation)


def again_from_the_ring(state: State, by_number: dict[int, tuple[tuple[Step, ...], Word]], line: Line) -> bool:
    """`Rep Rnds 1-14 of first leg`, with the yarn cut: another piece, worked like the one before."""
    first = next((step for step in line.steps if not isinstance(step, (Remark, Yarn, Stay))), None)
    if not isinstance(first, Again) or not first.numbers or not state.cut or line.label.numbers:
        return False
    named = by_number.get(first.numbers[0])
    works = [step for step in flat(named[0]) if isinstance(step, (Work, Ring, Foundation))] if named else []
    return bool(works) and (not isinstance(works[0], Work) or works[0].target.noun is Noun.RING)

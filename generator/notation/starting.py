"""A course that begins at a chain it names: the first stitch goes there, the rest along."""

from dataclasses import replace

from generator.notation.tree import Chain, Choice, How, Option, Remark, Skip, Step, Work, Yarn
from generator.vocabulary.load import stitch


def started(steps: list[Step]) -> None:
    """`Starting in 4th ch from hook, dc in each ch across`: the first of the stitches goes there, the rest along."""
    for k, skip in enumerate(steps):
        if isinstance(skip, Skip) and skip.target.how is How.FROM_HOOK:
            first = steps[k + 1] if k + 1 < len(steps) else None
            if isinstance(first, Choice) and first.kind == "n-st":
                options = tuple(replace(o, steps=_from_there(skip, o.steps[0])) for o in first.options)
                steps[k : k + 2] = [replace(first, options=options)]
            elif isinstance(first, Work):
                steps[k : k + 2] = _from_there(skip, first)
            return


def chain_left_out(steps: list[Step]) -> None:
    """`2nd round: dc in same place, 2 dc in each (32)`: a tall stitch where the round before was joined stands behind a
    chain that lifted the hook there; where the count asks for it, the print has left it out."""
    at = next((k for k, step in enumerate(steps) if not isinstance(step, Remark | Yarn)), len(steps))
    first = steps[at] if at < len(steps) else None
    if not isinstance(first, Work) or first.target.how is not How.SAME or first.each != 1 or at + 1 >= len(steps):
        return
    lift = stitch(first.stitch).turning_chain
    if lift < 2:
        return
    as_said = Option((first,), "")
    lifted = Option((Chain(first.span, lift, counts=True), first), "behind a chain that the print leaves out", 3)
    steps[at] = Choice(first.span, "chain-left-out", (as_said, lifted))


def _from_there(skip: Skip, first: Step) -> tuple[Step, ...]:
    """Stitches along a chain from the one that `skip` names."""
    if not isinstance(first, Work) or first.target.how not in (How.NEXT, How.EACH):
        return (skip, first)
    one = replace(first, target=replace(skip.target, loop=first.target.loop))
    left = first.target.count - 1
    if first.target.how is How.NEXT and not left:
        return (one,)
    return (one, replace(first, target=replace(first.target, count=max(1, left))))

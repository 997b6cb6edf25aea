"""What the work has settled and the words must say: which ring is made, what a starting chain counts as."""

from collections.abc import Iterator
from dataclasses import replace

from generator.fabric.model import Part
from generator.notation import tree
from generator.notation.tree import Noun, Step

MAGIC_RING = "magic-ring"
"""Kind of a ring target whose ring has to be made first, as in `6 sc in magic ring`."""


def part_steps(part: Part) -> tuple[tuple[Step, ...], ...]:
    """The steps of every line, as they are to be written."""
    ringed = False
    out: list[tuple[Step, ...]] = []
    for line in part.lines:
        steps = line.steps
        if not ringed:
            ringed = any(_makes_ring(step) for step in _flat(steps))
            if not ringed and any(_into_ring(step) for step in _flat(steps)):
                steps, ringed = _with_ring(steps), True
        out.append(steps)
    return tuple(out)


def _flat(steps: tuple[Step, ...]) -> Iterator[Step]:
    for step in steps:
        yield step
        if isinstance(step, tree.Repeat | tree.Group):
            yield from _flat(step.steps)


def _makes_ring(step: Step) -> bool:
    return isinstance(step, tree.Ring)


def _into_ring(step: Step) -> bool:
    return isinstance(step, tree.Work | tree.Group) and step.target.noun is Noun.RING


def _with_ring(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    """The same steps; the first work into the ring names it as the one to make."""
    out = list(steps)
    for i, step in enumerate(out):
        if isinstance(step, tree.Work | tree.Group) and _into_ring(step):
            out[i] = replace(step, target=replace(step.target, kind=MAGIC_RING))
            return tuple(out)
        if isinstance(step, tree.Repeat | tree.Group) and any(_into_ring(inner) for inner in _flat(step.steps)):
            out[i] = replace(step, steps=_with_ring(step.steps))
            return tuple(out)
    return steps

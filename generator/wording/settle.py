"""What the work has settled and the words must say: which ring is made, what a starting chain counts as."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import accumulate

from generator.fabric.model import Course, Part, Role, Run, WorkedLine
from generator.notation import tree
from generator.notation.tree import Noun, Step
from generator.source import Span

MAGIC_RING = "magic-ring"
"""Kind of a ring target whose ring has to be made first, as in `6 sc in magic ring`."""


@dataclass(frozen=True, slots=True)
class Script:
    """A part with its steps as they are to be written: one entry for every line, in order."""

    part: Part
    steps: tuple[tuple[Step, ...], ...]
    all_sc: tuple[bool, ...]
    """Whether no other stitch has been worked up to and with the line."""


def settle(part: Part) -> Script:
    """The part's script."""
    steps = tuple(_with_start(line, steps, part) for line, steps in zip(part.lines, _ringed(part), strict=True))
    return Script(part, steps, tuple(accumulate(map(all_sc, steps), lambda before, here: before and here)))


def _with_start(line: WorkedLine, steps: tuple[Step, ...], part: Part) -> tuple[Step, ...]:
    """The same steps; a chain that begins the course says what it counts as, as makers lose or gain a stitch there."""
    first, last = line.courses
    if last <= first:
        return steps
    course = part.courses[first]
    starts = {run.span: run for run in course.runs if run.role is Role.START and run.kind == "ch"}
    begun = next((run.n for run in starts.values()), 0)
    return tuple(_sure(step, starts, begun, course) for step in steps)


def _sure(step: Step, starts: Mapping[Span, Run], begun: int, course: Course) -> Step:
    if isinstance(step, tree.Chain) and step.span in starts:
        return _said(step, starts[step.span], course)
    if isinstance(step, tree.Join) and step.target.noun is Noun.START:
        return replace(step, target=replace(step.target, size=begun))  # `top of beg ch-3`
    return step


def _said(step: tree.Chain, run: Run, course: Course) -> tree.Chain:
    """A beginning chain with what the work made of it. One chain that isn't counted goes without saying."""
    own = range(run.first, run.first + run.n)
    counted = [live for live in course.edge if live.counted and live.first in own]
    spaces = [live.n for live in course.edge if not live.counted and live.kind == "ch" and live.first in own]
    if not counted:
        return step if step.n == 1 or step.stands_for else replace(step, counts=False)
    kind = counted[0].kind
    return replace(step, stands_for=kind, stands_chains=spaces[0] if spaces else 0, counts=True)


def _ringed(part: Part) -> Iterator[tuple[Step, ...]]:
    ringed = False
    for line in part.lines:
        steps = line.steps
        if not ringed:
            ringed = any(_makes_ring(step) for step in flat(steps))
            if not ringed and any(_into_ring(step) for step in flat(steps)):
                steps, ringed = _with_ring(steps), True
        yield steps


def all_sc(steps: tuple[Step, ...]) -> bool:
    """Whether single crochet is the only stitch that is worked in these steps."""
    kinds = {step.stitch for step in flat(steps) if isinstance(step, tree.Work)}
    return kinds <= {"sc", "sl-st", "sc2tog", "sc3tog", "invdec"}


def flat(steps: tuple[Step, ...]) -> Iterator[Step]:
    """Steps and all that stands inside them, in order."""
    for step in steps:
        yield step
        if isinstance(step, tree.Repeat | tree.Group):
            yield from flat(step.steps)


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
        if isinstance(step, tree.Repeat | tree.Group) and any(_into_ring(inner) for inner in flat(step.steps)):
            out[i] = replace(step, steps=_with_ring(step.steps))
            return tuple(out)
    return steps

"""A course worked again on a longer edge: what it repeats is worked as often as it fits.

`Repeat the 3rd row having one more shell in each row`: the row was written out for two shells, and its like on more
shells has its middle once more for each of them.
"""

from dataclasses import replace

from generator.notation.tree import Choice, Group, How, Noun, Option, Repeat, Step, Times, Work
from generator.source import NOWHERE

MOST_UNIT = 8
"""Steps of one unit that are looked for."""


def stretched(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    """The steps with their repeat, or what stands in them several times over, worked to the end; as they are where
    nothing in them is repeated."""
    for at in range(len(steps) - 1, -1, -1):
        step = steps[at]
        repeat = step.options[0].steps[0] if isinstance(step, Choice) and step.kind in ("rep-n", "rep-closed") else step
        if isinstance(repeat, Repeat):
            to_end = replace(repeat, times=Times(to_end=True), stop_at=0)
            return (*steps[:at], to_end, *steps[at + 1 :]) if not repeat.times.to_end else steps
    found = _unit(steps) or _alone(steps)
    if found is None:
        return steps
    at, size, many = found
    unit = steps[at : at + size]
    repeat = Repeat(unit[0].span.cover(unit[-1].span), unit, Times(to_end=True), 0, "")
    return (*steps[:at], repeat, *steps[at + size * many :])


def _unit(steps: tuple[Step, ...]) -> tuple[int, int, int] | None:
    """Where a unit stands several times one after the other: its place, its size, how often."""
    bare = [_bare(step) for step in steps]
    best: tuple[int, int, int] | None = None
    for size in range(1, min(MOST_UNIT, len(steps) // 2) + 1):
        for at in range(len(steps) - 2 * size + 1):
            unit = bare[at : at + size]
            many = 1
            while bare[at + many * size : at + (many + 1) * size] == unit:
                many += 1
            works = any(isinstance(step, (Work, Group)) for step in unit)
            if many > 1 and works and (best is None or many * size > best[1] * best[2]):
                best = (at, size, many)
    return best


def _alone(steps: tuple[Step, ...]) -> tuple[int, int, int] | None:
    """The one group worked into the next space, where no unit stands twice."""
    for at, step in enumerate(steps):
        into_next = isinstance(step, Group) and step.target.how is How.NEXT
        if isinstance(step, Group) and into_next and step.target.noun is Noun.SPACE and step.target.count == 1:
            return at, 1, 1
    return None


def _bare(step: Step) -> Step:
    """A step without the places of its words, to be compared."""
    if isinstance(step, (Repeat, Group)):
        return replace(step, span=NOWHERE, steps=tuple(_bare(inner) for inner in step.steps))
    if isinstance(step, Choice):
        options = tuple(Option(tuple(_bare(s) for s in o.steps), o.reason, o.cost) for o in step.options)
        return replace(step, span=NOWHERE, options=options)
    return replace(step, span=NOWHERE)

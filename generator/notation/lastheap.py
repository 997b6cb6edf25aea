"""What `shell` means in a text that never says so: the group that was worked last."""

from collections.abc import Sequence
from dataclasses import replace

from generator.notation.tree import Chain, Choice, Group, How, Repeat, Step, Work
from generator.source import NOWHERE, Span


def last_heap(steps: Sequence[Step]) -> tuple[Step, ...]:
    """The last group of stitches around a chain, without its places in the text; empty where there is none."""
    for at in range(len(steps) - 1, -1, -1):
        step = steps[at]
        if isinstance(step, Group) and _around_chain(step.steps):
            return placed_at(_whole(step, steps[:at]), NOWHERE)
        inner = step.steps if isinstance(step, Repeat) else ()
        for some in [option.steps for option in step.options] if isinstance(step, Choice) else [inner]:
            if some and (found := last_heap((*steps[max(0, at - 1) : at], *some) if len(some) == 1 else some)):
                return found
    return ()


def _whole(group: Group, before: Sequence[Step]) -> tuple[Step, ...]:
    """The steps of a group, its first stitch too where the chain that begins the course is that stitch."""
    first = group.steps[0]
    if (
        group.target.how is not How.SAME
        or not before
        or not isinstance(before[-1], Chain)
        or not isinstance(first, Work)
    ):
        return group.steps
    if any(isinstance(s, (Group, Repeat)) or (isinstance(s, Work) and s.stitch != "sl-st") for s in before):
        return group.steps
    return (replace(first, each=first.each + 1), *group.steps[1:])


def placed_at(steps: tuple[Step, ...], span: Span) -> tuple[Step, ...]:
    """The same steps, told where `span` is."""
    return tuple(replace(step, span=span) for step in steps)


def _around_chain(steps: tuple[Step, ...]) -> bool:
    """Stitches, chains between them, stitches: nothing else, so that it can stand elsewhere as well."""
    plain = all(isinstance(s, Chain) or (isinstance(s, Work) and s.target.implied) for s in steps)
    inside = any(isinstance(s, Chain) for s in steps[1:-1])
    return plain and inside and isinstance(steps[0], Work) and isinstance(steps[-1], Work)

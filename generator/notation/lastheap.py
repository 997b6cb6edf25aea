"""What `shell` means in a text that never says so: the group that was worked last."""

from collections.abc import Sequence
from dataclasses import replace

from generator.notation.tree import Chain, Choice, Group, Repeat, Step, Work
from generator.source import NOWHERE, Span


def last_heap(steps: Sequence[Step]) -> tuple[Step, ...]:
    """The last group of stitches around a chain, without its places in the text; empty where there is none."""
    for step in reversed(steps):
        if isinstance(step, Group) and _around_chain(step.steps):
            return placed_at(step.steps, NOWHERE)
        inner = step.options[0].steps if isinstance(step, Choice) else step.steps if isinstance(step, Repeat) else ()
        if found := last_heap(inner):
            return found
    return ()


def placed_at(steps: tuple[Step, ...], span: Span) -> tuple[Step, ...]:
    """The same steps, told where `span` is."""
    return tuple(replace(step, span=span) for step in steps)


def _around_chain(steps: tuple[Step, ...]) -> bool:
    """Stitches, chains between them, stitches: nothing else, so that it can stand elsewhere as well."""
    plain = all(isinstance(s, Chain) or (isinstance(s, Work) and s.target.implied) for s in steps)
    inside = any(isinstance(s, Chain) for s in steps[1:-1])
    return plain and inside and isinstance(steps[0], Work) and isinstance(steps[-1], Work)

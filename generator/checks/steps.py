"""Walks through the steps of a line: what is inside repeats, groups and choices."""

from collections.abc import Iterator
from typing import TypeVar

from generator.notation.tree import Choice, Group, Repeat, Step

S = TypeVar("S", bound=Step)


def walk(steps: tuple[Step, ...]) -> Iterator[Step]:
    """Every step, outer before inner; of an open choice only the usual reading."""
    for step in steps:
        yield step
        if isinstance(step, (Repeat, Group)):
            yield from walk(step.steps)
        elif isinstance(step, Choice) and step.options:
            yield from walk(step.options[0].steps)


def every(steps: tuple[Step, ...]) -> Iterator[Step]:
    """Every step of every reading, outer before inner."""
    for step in steps:
        yield step
        if isinstance(step, (Repeat, Group)):
            yield from every(step.steps)
        elif isinstance(step, Choice):
            for option in step.options:
                yield from every(option.steps)


def find(kind: type[S], steps: tuple[Step, ...]) -> tuple[S, ...]:
    """The steps of one kind, wherever they are nested."""
    return tuple(step for step in walk(steps) if isinstance(step, kind))


def has(kind: type[Step] | tuple[type[Step], ...], steps: tuple[Step, ...]) -> bool:
    """Whether a step of that kind occurs."""
    return any(isinstance(step, kind) for step in walk(steps))

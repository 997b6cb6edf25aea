"""Walks through the steps of a line: what is inside repeats, groups and choices."""

from collections.abc import Iterator
from typing import TypeVar

from generator.notation.tree import Choice, Group, Repeat, Step

S = TypeVar("S", bound=Step)


def walk(steps: tuple[Step, ...]) -> list[Step]:
    """Every step, outer before inner; of an open choice only the usual reading."""
    found: list[Step] = []
    for step in steps:
        found.append(step)
        if isinstance(step, (Repeat, Group)):
            found += walk(step.steps)
        elif isinstance(step, Choice) and step.options:
            found += walk(step.options[0].steps)
    return found


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
    found: list[S] = []
    for step in steps:
        if isinstance(step, kind):
            found.append(step)
        if isinstance(step, (Repeat, Group)):
            found += find(kind, step.steps)
        elif isinstance(step, Choice) and step.options:
            found += find(kind, step.options[0].steps)
    return tuple(found)


def has(kind: type[Step] | tuple[type[Step], ...], steps: tuple[Step, ...]) -> bool:
    """Whether a step of that kind occurs."""
    for step in steps:
        if isinstance(step, kind):
            return True
        if isinstance(step, (Repeat, Group)):
            if has(kind, step.steps):
                return True
        elif isinstance(step, Choice) and step.options and has(kind, step.options[0].steps):
            return True
    return False

"""What stands behind a line's label, and how it is moved to where its line stands."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from operator import attrgetter
from typing import Any

from generator.notation.tree import Choice, Group, Option, Repeat, Stated, Step
from generator.source import Span, named


@dataclass(frozen=True, slots=True, eq=False)
class Body:
    """The steps of a body, the count it states, the slips that were mended in it."""

    steps: tuple[Step, ...]
    stated: Stated | None
    slips: tuple[tuple[Span, str], ...]
    said: "Body | None" = None
    """The same as it was read at offset 0, once for all lines that say it; None for one read where it stands."""


@lru_cache(maxsize=4096)
def moved(body: Body, by: int) -> Body:
    """A body with all its places moved on by so many characters. Remembered: what stands before a change in a text that
    is followed is at the same place at every save."""
    stated = body.stated
    if stated is not None:
        stated = Stated(*_values(stated, by))
    mended = tuple([(_span(span, by), word) for span, word in body.slips])
    return Body(_steps(body.steps, by), stated, mended, body)


def _span(span: Span, by: int) -> Span:
    start, end = span
    if not end:
        return span  # nowhere, wherever the line stands
    return named(Span, (start + by, end + by))


def _steps(steps: tuple[Step, ...], by: int) -> tuple[Step, ...]:
    return tuple([_step(step, by) for step in steps])


def _step(step: Step, by: int) -> Step:
    kind = type(step)
    values = _values(step, by)  # behind the span come the steps of a repeat or a group
    if kind is Repeat or kind is Group:
        values[1] = _steps(values[1], by)
    elif kind is Choice:
        values[2] = tuple([Option(_steps(one.steps, by), one.reason, one.cost) for one in values[2]])
    return kind(*values)


def _values(record: Step | Stated, by: int) -> list[Any]:
    """What a record holds, field by field, its span moved on."""
    kind = type(record)
    if kind not in _FIELDS:
        names = list(record.__dataclass_fields__)
        # With a second name the getter gives a tuple, also where the span is all there is.
        _FIELDS[kind] = attrgetter(*names, "span"), names.index("span")
    get, at = _FIELDS[kind]
    values = list(get(record))
    values[at] = _span(values.pop(), by)
    return values


_FIELDS: dict[type, tuple[Callable[[Any], Any], int]] = {}
"""How the fields of each kind of record are taken at once, and which of them is the span."""

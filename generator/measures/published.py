"""Single numbers out of the published tables, by name."""

from collections.abc import Mapping
from functools import cache
from typing import Any, cast

from generator.vocabulary.load import table


def rows(name: str) -> tuple[Mapping[str, Any], ...]:
    """The rows of a table, ready to be indexed."""
    return cast(tuple[Mapping[str, Any], ...], table(name).rows)


@cache
def value(name: str, row: str) -> float:
    """The `value` of the row called `row`; a missing one is our own mistake and raises KeyError."""
    for entry in rows(name):
        if entry.get("name") == row:
            return float(entry["value"])
    raise KeyError(f"{name}: no row {row!r}")

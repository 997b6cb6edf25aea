"""Heads and the hats that go on them."""

import re
from collections.abc import Mapping
from itertools import pairwise
from typing import Any

from generator.measures.published import rows

SNUG = 0.90
"""Tightest hat over the head: snug caps are worked 5 to 10 % smaller (thedietdiary.com/knittingfiend/Hats/HeadSizes)."""
LOOSE = 1.05
"""Loosest hat that stays on; own choice."""
_AGE = re.compile(
    r"(?:age[ds]? )?(?P<first>\d{1,2})(?:\s*(?:-|–|to)\s*(?P<last>\d{1,2}))?\s*(?P<unit>months?|mths?|m|years?|yrs?|y)(?: olds?)?"
)


def head(size: str) -> Mapping[str, Any] | None:
    """The council's row for a size (`Woman`), any letter case; None when it has none."""
    return next((row for row in rows("heads") if str(row["size"]).lower() == size.strip().lower()), None)


def heads_mm(size: str) -> tuple[float, float] | None:
    """Smallest and greatest head that tables give for a size or an age (`Woman`, `6 months`, `1-2 years`).

    The council's sizes run small, so measured medians count too; ages are the medians of girls and boys.
    """
    if (row := head(size)) is not None:
        all_cm = [float(row["head_cm"]), *(float(cm) for cm in row["measured_cm"])]
        return min(all_cm) * 10, max(all_cm) * 10
    ages = [_at_age(months) for months in _months(size)]
    known = [cm for each in ages if each for cm in each]
    return (min(known), max(known)) if known and all(ages) else None


def _months(size: str) -> tuple[float, ...]:
    """The ages that words name, in months."""
    match = _AGE.fullmatch(size.strip().lower())
    if match is None:
        return ()
    each = 12.0 if match["unit"].startswith("y") else 1.0
    return tuple(float(n) * each for n in (match["first"], match["last"]) if n)


def _at_age(months: float) -> tuple[float, float] | None:
    """Median heads of girls and boys in mm, straight between the ages of the table; None outside it."""
    table = rows("heads-by-age")
    for before, after in pairwise(table):
        low, high = float(before["age_months"]), float(after["age_months"])
        if low <= months <= high:
            part = (months - low) / (high - low)
            girls, boys = (
                10 * (float(before[who]) + part * (float(after[who]) - float(before[who])))
                for who in ("girls_p50", "boys_p50")
            )
            return girls, boys
    return None


def hat_range_mm(size: str) -> tuple[float, float] | None:
    """Ways round that a hat for that size may have; None when no table names the size."""
    heads = heads_mm(size)
    return (heads[0] * SNUG, heads[1] * LOOSE) if heads else None

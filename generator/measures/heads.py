"""Heads and the hats that go on them."""

from collections.abc import Mapping
from math import pi
from typing import Any

from generator.measures.published import rows

SNUG = 0.90
"""Tightest hat over the head: snug caps are worked 5 to 10 % smaller (thedietdiary.com/knittingfiend/Hats/HeadSizes)."""
LOOSE = 1.05
"""Loosest hat that stays on; own choice."""


def head(size: str) -> Mapping[str, Any] | None:
    """The council's row for a size (`Woman`), any letter case; None when it has none."""
    return next((row for row in rows("heads") if str(row["size"]).lower() == size.strip().lower()), None)


def heads_mm(size: str) -> tuple[float, float] | None:
    """Smallest and greatest head that tables give for a size: the council's run small, so measured medians count too."""
    row = head(size)
    if row is None:
        return None
    all_cm = [float(row["head_cm"]), *(float(cm) for cm in row["measured_cm"])]
    return min(all_cm) * 10, max(all_cm) * 10


def hat_range_mm(size: str) -> tuple[float, float] | None:
    """Ways round that a hat for that size may have; None when no table names the size."""
    heads = heads_mm(size)
    return (heads[0] * SNUG, heads[1] * LOOSE) if heads else None


def median_head_mm(age_months: int) -> tuple[float, float] | None:
    """Median heads of boys and girls at an age in the table; None for other ages."""
    for row in rows("heads-by-age"):
        if row["age_months"] == age_months:
            return float(row["boys_p50"]) * 10, float(row["girls_p50"]) * 10
    return None


def crown_diameter(around: float) -> float:
    """Flat crown of a hat: as wide as its way round over π (hookthatyarn.wordpress.com/2016/06/09)."""
    return around / pi


def hat_height(around: float) -> float:
    """Crown to edge: four tenths of the way round (same page)."""
    return 0.4 * around

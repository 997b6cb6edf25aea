"""Yarn weights: the council's categories, and metres per gram."""

from collections.abc import Mapping
from typing import Any

from generator.measures.published import rows
from generator.notation.pattern import YarnSpec

LEAST = 0.1
"""Grams or metres under which a ball is a slip of the pen."""


def weight(category: int | None) -> Mapping[str, Any] | None:
    """The council's row for a category; None when there is none."""
    return next((row for row in rows("yarn-weights") if row["category"] == category), None)


def metres_per_gram(yarn: YarnSpec) -> tuple[float, float, float, str] | None:
    """Metres of one strand in a gram: best guess, least, most, and where from (`ball` or `weight`); None unknown."""
    if yarn.grams_per_ball and yarn.metres_per_ball and min(yarn.grams_per_ball, yarn.metres_per_ball) >= LEAST:
        exact = yarn.metres_per_ball / yarn.grams_per_ball
        return exact, exact, exact, "ball"
    row = weight(yarn.weight)
    if row is None:
        return None
    low, high = float(row["metres_low"]) / 100, float(row["metres_high"]) / 100
    return (low + high) / 2, low, high, "weight"

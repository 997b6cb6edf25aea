"""Yarn weights: the council's categories by number and by word, and metres per gram."""

from collections.abc import Mapping
from typing import Any

from generator.measures.published import rows
from generator.notation.pattern import YarnSpec

LEAST = 0.1
"""Grams or metres under which a ball is a slip of the pen."""


def weight(category: int | None) -> Mapping[str, Any] | None:
    """The council's row for a category; None when there is none."""
    return next((row for row in rows("yarn-weights") if row["category"] == category), None)


def categories_for(word: str) -> tuple[int, ...]:
    """Every category a word may mean (`4 ply` is two in the UK); empty when nobody uses it."""
    wanted = word.strip().lower()
    found = []
    for row in rows("yarn-weights"):
        words = [row["name"], *row["us_words"], *row["uk_words"], *row["au_words"]]
        contested = row["contested"].lower().startswith(f"uk {wanted} is")
        if contested or any(wanted == each.lower() or each.lower().startswith(wanted + " ") for each in words):
            found.append(int(row["category"]))
    return tuple(found)


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

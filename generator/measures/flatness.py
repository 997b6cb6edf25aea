"""Whether rounds lie flat: increases a flat circle or polygon needs, and the verdict on rounds as worked.

Geometry: a round of height h adds 2πh to the circumference of a flat disc, so it needs 2π·h/w increases; a flat
k-gon with its increases stacked in the corners needs 2k·tan(π/k)·h/w.
"""

from collections.abc import Sequence
from math import pi, tan

from generator.measures.measured import Lie
from generator.measures.surface import EASE

SLACK = 0.85
"""Share of the full circumference below which a disc cups. Own choice: six sc at the usual ratio are flat, five (0.83)
cup, as in the controlled series named in the table flat-circles."""
WALL = 0.70
"""Share below which a part is no disc that cups but a thing with a wall."""


def flat_increases(height_over_width: float) -> float:
    """Increases a round that a flat circle needs."""
    return 2 * pi * height_over_width


def polygon_factor(corners: int) -> float:
    """What 2π becomes for a flat polygon with stacked increases."""
    return 2 * corners * tan(pi / corners) if corners >= 3 else 2 * pi


def verdict(full: Sequence[float], steps: Sequence[float]) -> tuple[Lie, int | None]:
    """How a piece worked from its middle lies, and from which of its rounds (0-based) it doesn't lie flat.

    Args:
        full: for every round, its way round over that of a flat one at the same distance from the middle.
        steps: for every round, how much it widens over how much a flat round would (1.0 exactly flat, 0.0 a wall).
    """
    ruffled = next((i for i, (f, s) in enumerate(zip(full, steps, strict=True)) if i and s > EASE and f > EASE), None)
    if ruffled is not None:
        return Lie.RUFFLES, ruffled
    if not full or full[-1] >= SLACK:
        return Lie.FLAT, None
    if full[-1] < WALL or any(step < 0.35 for step in steps[1:-1]):
        return Lie.RISES, None
    return Lie.CUPS, next(i for i, f in enumerate(full) if f < SLACK)

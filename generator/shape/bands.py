"""Colour zones by height: which yarn each round of a plan is worked in."""

from collections.abc import Sequence
from dataclasses import dataclass

from generator.shape.plan import Plan


@dataclass(frozen=True, slots=True)
class Band:
    """A yarn and the height above the lowest point it is worked up to, mm; the last band has no upper end (inf)."""

    yarn: str
    upto: float


def yarns(plan: Plan, bands: Sequence[Band]) -> tuple[str, ...]:
    """The yarn of every round, by the height of its middle. Empty names where there are no bands."""
    if not bands:
        return ("",) * len(plan.counts)
    lowest = min(level for _, level in plan.points)
    heights = [(a[1] + b[1]) / 2 - lowest for a, b in zip(plan.points, plan.points[1:], strict=False)]
    return tuple(_at(height, bands) for height in heights[: len(plan.counts)])


def turned(bands: Sequence[Band], height: float) -> tuple[Band, ...]:
    """The same zones measured from the other end of a piece `height` mm high."""
    lows = [0.0, *(band.upto for band in bands[:-1])]
    flipped = [
        Band(band.yarn, height - low if low > 0 else float("inf")) for band, low in zip(bands, lows, strict=True)
    ]
    return tuple(reversed(flipped))


def _at(height: float, bands: Sequence[Band]) -> str:
    return next((band.yarn for band in bands if height <= band.upto), bands[-1].yarn)

"""Surfaces of revolution out of circumferences: how far each course climbs, what area and room it encloses.

The model: a course is a band of slant height h; its edge is a circle of radius c / 2π; it climbs √(h² - Δr²). The
arc-length idea is published in Martinez & Lipnicki, Bridges 2023 (arXiv 2302.02205). When Δr is greater than h no such
surface exists and the fabric ruffles.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import pi, sqrt

EASE = 1.25
"""How much further out than its height a course may reach and still lie flat: fabric gives. Own choice, within which
the published rules of thumb for flat circles (table flat-circles) all lie flat."""


def radius(around_mm: float) -> float:
    """Radius of a circle from the way round it."""
    return around_mm / (2 * pi)


def rise(slant: float, out: float) -> float:
    """How far a course climbs when its edge moves `out` sideways; 0.0 when it can't reach that far."""
    return sqrt(max(0.0, slant * slant - out * out))


def reach(slant: float, out: float) -> float:
    """How far out a course really gets: at most its height, with a little give (see EASE)."""
    if out <= slant:
        return out
    return sqrt(out * slant) if out <= EASE * slant else slant


@dataclass(frozen=True, slots=True)
class Ring:
    """One edge in space: mm."""

    radius: float
    level: float


def climb(start: Ring, bands: Sequence[tuple[float, float]]) -> Iterator[Ring]:
    """The edges of courses worked one on the other.

    Args:
        start: where the first one begins (radius 0 for an adjustable ring).
        bands: for every course its wanted radius and its slant height.
    """
    here = start
    for wanted, slant in bands:
        out = wanted - here.radius
        moved = reach(slant, out) if out > 0 else max(out, -slant)
        here = Ring(here.radius + moved, here.level + rise(slant, moved))
        yield here


def volume(rings: Sequence[Ring]) -> float:
    """Room enclosed by the rings, mm³ (sum of cone frustums)."""
    return sum(
        pi / 3 * abs(b.level - a.level) * (a.radius**2 + a.radius * b.radius + b.radius**2) for a, b in pairwise(rings)
    )


def area(rings: Sequence[Ring]) -> float:
    """Area of the surface through the rings, mm² (sum of frustum mantles)."""
    return sum(
        pi * (a.radius + b.radius) * sqrt((b.radius - a.radius) ** 2 + (b.level - a.level) ** 2)
        for a, b in pairwise(rings)
    )

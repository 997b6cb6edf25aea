"""The wish: half an outline, turned round an axis.

A profile is a line of points (radius, level) in millimetres from where the work begins to where it ends. Levels grow
upwards in the order of working, so a piece worked from the top is a profile turned over. Radius 0 at either end means
that the piece is closed there.
"""

from bisect import bisect_right
from dataclasses import dataclass, field
from itertools import pairwise
from math import hypot

Point = tuple[float, float]
"""Radius and level, mm."""

NOTHING_MM = 1e-6


@dataclass(frozen=True, slots=True)
class Profile:
    """An outline to be worked.

    `straight_mm` is the straight middle of an oval, per side (0 for round things). `sewn` says that the last round is
    sewn to the foundation, as in a ring. `solid` things are stuffed.
    """

    points: tuple[Point, ...]
    straight_mm: float = 0.0
    sewn: bool = False
    solid: bool = False
    _along: tuple[float, ...] = field(default=(), repr=False, compare=False)

    def __post_init__(self) -> None:
        along = [0.0]
        for (r0, z0), (r1, z1) in pairwise(self.points):
            along.append(along[-1] + hypot(r1 - r0, z1 - z0))
        object.__setattr__(self, "_along", tuple(along))

    @property
    def length(self) -> float:
        """Millimetres along the outline: what the rounds' heights have to fill."""
        return self._along[-1]

    @property
    def closed_start(self) -> bool:
        """It begins in a point."""
        return self.points[0][0] <= NOTHING_MM

    @property
    def closed_end(self) -> bool:
        """It ends in a point."""
        return self.points[-1][0] <= NOTHING_MM

    def at(self, along: float) -> Point:
        """The point that many millimetres along the outline; its ends beyond them."""
        if along <= 0:
            return self.points[0]
        if along >= self.length:
            return self.points[-1]
        i = bisect_right(self._along, along) - 1
        step = self._along[i + 1] - self._along[i]
        part = (along - self._along[i]) / step if step else 0.0
        (r0, z0), (r1, z1) = self.points[i], self.points[i + 1]
        return r0 + (r1 - r0) * part, z0 + (z1 - z0) * part

    def samples(self, step: float) -> tuple[Point, ...]:
        """Points at most `step` millimetres apart, corners included."""
        marks = sorted({*self._along, *(i * step for i in range(int(self.length / step) + 1))})
        return tuple(self.at(mark) for mark in marks)

    def turned(self) -> "Profile":
        """The same thing worked from its other end; the new beginning lies at level 0 and the work still climbs."""
        last = self.points[-1][1]
        points = tuple((r, last - z) for r, z in reversed(self.points))
        return Profile(points, self.straight_mm, self.sewn, self.solid)

    def scaled(self, factor: float) -> "Profile":
        """The same form, so many times as large."""
        points = tuple((r * factor, z * factor) for r, z in self.points)
        return Profile(points, self.straight_mm * factor, self.sewn, self.solid)

    def widest(self) -> float:
        """Greatest radius, mm."""
        return max(r for r, _ in self.points)

    def levels(self) -> tuple[float, float]:
        """Lowest and highest level, mm."""
        return min(z for _, z in self.points), max(z for _, z in self.points)

"""Frames: how "along the round" and "outward" become a place on paper.

Every frame has a label z along its level curves and a distance r across them. A post that stands upright keeps its z,
which is what makes the placing linear whatever the outline: a point, a segment, a polygon or a line grows outward.
y grows downwards; rounds worked right-handed run anticlockwise, which raises z.
"""

import math
from dataclasses import dataclass
from typing import Protocol

Point = tuple[float, float]


class Frame(Protocol):
    """What the layout needs to know of an outline."""

    @property
    def closed(self) -> bool:
        """Whether rounds close in it."""

    def period(self) -> float:
        """How much z grows in one turn; 0 for open frames."""

    def stretch(self, z: float, r: float) -> float:
        """Length on paper of one unit of z, at z and r."""

    def girth(self, r: float) -> float:
        """Length of the level curve at r; 0 for open frames."""

    def level_for(self, need: float) -> float:
        """The r at which the level curve is `need` long; minus infinity where nothing is gained by going out."""

    def spot(self, z: float, r: float) -> Point:
        """Where it is."""

    def outward(self, z: float) -> Point:
        """Unit vector across the level curves."""


@dataclass(frozen=True, slots=True)
class Circle:
    """Rounds about a point; z is the angle in radians."""

    closed: bool = True

    def period(self) -> float:
        """One turn."""
        return 2 * math.pi

    def stretch(self, z: float, r: float) -> float:
        """The radius."""
        return max(r, 0.3)

    def girth(self, r: float) -> float:
        """The circumference."""
        return 2 * math.pi * r

    def level_for(self, need: float) -> float:
        """From the circumference."""
        return need / (2 * math.pi)

    def spot(self, z: float, r: float) -> Point:
        """Polar to paper."""
        return (r * math.cos(z), -r * math.sin(z))

    def outward(self, z: float) -> Point:
        """Along the ray."""
        return (math.cos(z), -math.sin(z))


@dataclass(frozen=True, slots=True)
class Inward:
    """Rounds that close toward a point, seen from outside: r counts from the rim, at `rim` from the middle, inward.

    Seen from the other pole the same hand works clockwise, and still right to left where outward is up.
    """

    rim: float
    closed: bool = True

    def period(self) -> float:
        """One turn."""
        return 2 * math.pi

    def stretch(self, z: float, r: float) -> float:
        """The radius left."""
        return max(self.rim - r, 0.3)

    def girth(self, r: float) -> float:
        """The circumference left."""
        return 2 * math.pi * max(self.rim - r, 0.05)

    def level_for(self, need: float) -> float:
        """Room only shrinks."""
        return -math.inf

    def spot(self, z: float, r: float) -> Point:
        """Polar, the other way round."""
        return ((self.rim - r) * math.cos(z), (self.rim - r) * math.sin(z))

    def outward(self, z: float) -> Point:
        """To the middle."""
        return (-math.cos(z), -math.sin(z))


@dataclass(frozen=True, slots=True)
class Rows:
    """Rows on a line; z is x, r the height above the foundation."""

    closed: bool = False

    def period(self) -> float:
        """Open."""
        return 0.0

    def stretch(self, z: float, r: float) -> float:
        """True length."""
        return 1.0

    def girth(self, r: float) -> float:
        """Open."""
        return 0.0

    def level_for(self, need: float) -> float:
        """Rows are as long as they need."""
        return -math.inf

    def spot(self, z: float, r: float) -> Point:
        """As it stands."""
        return (z, -r)

    def outward(self, z: float) -> Point:
        """Up."""
        return (0.0, -1.0)


@dataclass(frozen=True, slots=True)
class Stadium:
    """Rounds about a segment of `length`, as an oval grows from a chain.

    z runs over straight side (0 to length), far cap, straight side, near cap; a cap is `cap` long in z whatever r is,
    so that a post on a cap keeps its z as one on a straight side does. Beyond `base` the outline grows in proportion:
    what rises as a wall from an oval base is drawn evenly spaced all round.
    """

    length: float
    cap: float
    base: float = math.inf
    closed: bool = True

    def period(self) -> float:
        """Both sides and both caps."""
        return 2 * (self.length + self.cap)

    def stretch(self, z: float, r: float) -> float:
        """True length on the sides; on the caps as the radius makes it."""
        return self._wider(r) if self._place(z)[0] % 2 == 0 else math.pi * max(r, 0.2) / self.cap

    def girth(self, r: float) -> float:
        """Two sides and a circle."""
        return 2 * self.length * self._wider(r) + 2 * math.pi * r

    def level_for(self, need: float) -> float:
        """What the sides don't hold the caps must."""
        return (need - 2 * self.length) / (2 * math.pi)

    def _wider(self, r: float) -> float:
        """How much longer than the chain the sides are."""
        return max(1.0, r / self.base)

    def onward(self, z: float, r: float, far: float) -> float:
        """The z reached from z by going `far` along the level curve at r (backward where it is negative)."""
        way = math.copysign(1.0, far)
        left = abs(far)
        for _ in range(9):
            index, along = self._place(z)
            size = self.length if index % 2 == 0 else self.cap
            ahead = size - along if way > 0 else along or 1e-9
            stretch = self.stretch(z if along else z + way * 1e-9, r)
            if left <= ahead * stretch:
                break
            left -= ahead * stretch
            z += way * (ahead + 1e-9)
        return z + way * left / self.stretch(z, r)

    def _place(self, z: float) -> tuple[int, float]:
        """Which stretch (0 side, 1 cap, 2 side, 3 cap) and how far into it."""
        z %= self.period()
        for index, size in enumerate((self.length, self.cap, self.length)):
            if z < size:
                return index, z
            z -= size
        return 3, z

    def spot(self, z: float, r: float) -> Point:
        """The first side is the upper one, worked right to left."""
        index, along = self._place(z)
        half = self.length / 2
        nx, ny = self.outward(z)
        core = (half - along, -half, along - half, half)[index] * self._wider(r)
        return (core + nx * r, ny * r)

    def outward(self, z: float) -> Point:
        """Up, round the left end, down, round the right end."""
        index, along = self._place(z)
        turn = (0.0, along / self.cap, 1.0, 1.0 + along / self.cap)[index] * math.pi
        return (-math.sin(turn), -math.cos(turn))


@dataclass(frozen=True, slots=True)
class Polygon:
    """Rounds about a point with `sides` straight sides; r is the distance of a side from the middle.

    z = side * STRIDE + offset from the middle of that side. Sides are numbered in the direction of working; `lean` is
    the direction (radians, anticlockwise) in which side 0 faces.
    """

    sides: int
    lean: float
    closed: bool = True

    STRIDE = 1e4

    def period(self) -> float:
        """All sides."""
        return self.sides * self.STRIDE

    def stretch(self, z: float, r: float) -> float:
        """True length."""
        return 1.0

    def girth(self, r: float) -> float:
        """All sides at r."""
        return 2 * self.sides * self.half(r)

    def level_for(self, need: float) -> float:
        """From one unit's girth."""
        return need / self.girth(1.0)

    def half(self, r: float) -> float:
        """Half a side at r."""
        return r * math.tan(math.pi / self.sides)

    def _side(self, z: float) -> tuple[int, float]:
        side = round(z / self.STRIDE)
        return side, z - side * self.STRIDE

    def spot(self, z: float, r: float) -> Point:
        """Out along the side's normal, then along the side."""
        offset = self._side(z)[1]
        nx, ny = self.outward(z)
        if abs(offset) > self.half(r):  # past the corner: stay on the corner's ray
            offset = math.copysign(self.half(r), offset)
        return (nx * r + ny * offset, ny * r - nx * offset)

    def outward(self, z: float) -> Point:
        """The side's normal."""
        side, _ = self._side(z)
        turn = self.lean + 2 * math.pi * side / self.sides
        return (math.cos(turn), -math.sin(turn))

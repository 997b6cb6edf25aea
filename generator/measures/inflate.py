"""What stuffing does: it rounds a closed piece off, as far as the length of its fabric from end to end allows.

A ball worked as `six a round, plain rounds, six a round` is two flat caps and a wall by its counts alone. Stuffed it is
a ball: its meridian keeps its length and the equator its way round, and the caps gather a little. Two flat discs make a
pillow, whose edge draws in. Between two necks the
outline is drawn as the roundest superellipse |x/a|^p + |z/b|^p = 1 with that meridian and that equator for which no round
gathers too much, where this makes the piece taller than its counts do; cones and long tubes stay what their counts make
them. Own model, checked against closed formulas for balls.
"""

from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import pairwise
from math import asin, cos, hypot, pi, sin

from generator.measures.surface import Ring

STEPS = 48
"""Pieces an arc is measured in."""
NECK = 0.9
"""Share of the narrower neighbour's radius under which a waist divides a piece into two."""
GATHER, FULL = 0.73, 0.8
"""Share of its own way round to which stuffing may draw a round together, and share of the equator from which that is
asked: towards the poles rounds close anyway. Own choice."""
PILLOW = 0.7627
"""See `equator`."""
POWERS = (2.0, 2.5, 3.0, 4.0, 6.0, 9.0)
"""Superellipses tried, roundest (an ellipse) first."""

Arc = list[tuple[float, float, float]]
"""Points of an outline: length so far, radius, level; mm."""


def lobes(rings: Sequence[Ring]) -> Iterator[tuple[int, int]]:
    """First and last ring of every stretch between necks; neighbours share their neck."""
    start, i = 0, 1
    while i < len(rings) - 1:
        here = rings[i].radius
        end = i
        while end < len(rings) - 1 and rings[end + 1].radius == here:
            end += 1
        before = max(ring.radius for ring in rings[start : i + 1])
        after = max((ring.radius for ring in rings[end + 1 :]), default=0.0)
        falls, climbs = rings[i - 1].radius > here, end + 1 < len(rings) and rings[end + 1].radius > here
        if falls and climbs and here < NECK * min(before, after):
            yield start, i
            start = i
        i = end + 1
    yield start, len(rings) - 1


def _outline(across: float, begin: float, end: float, power: float) -> tuple[tuple[float, float], ...]:
    """Radius and share of the height at every point of a superellipse between two radii, from its lower end over its
    equator to its upper one."""
    first, last = (asin(min(1.0, (radius / across) ** (power / 2))) for radius in (begin, end))
    angles = [first + (pi - last - first) * k / STEPS for k in range(STEPS + 1)]
    return tuple(
        [
            (across * abs(sin(angle)) ** (2 / power), abs(c) ** (2 / power) * (-1 if c > 0 else 1))
            for angle, c in ((angle, cos(angle)) for angle in angles)
        ]
    )


def _arc(outline: tuple[tuple[float, float], ...], up: float) -> Arc:
    """An outline so high, with its length."""
    found: Arc = []
    length = x = z = 0.0
    for nx, share in outline:
        nz = up * share
        length += hypot(nx - x, nz - z) if found else 0.0
        x, z = nx, nz
        found.append((length, x, z))
    return found


@lru_cache(maxsize=256)
def fitted(across: float, begin: float, end: float, length: float, power: float) -> Arc | None:
    """The superellipse whose outline has that length; None when even a flat one is longer. Remembered, for a piece is
    measured at every save and drawn besides."""
    outline = _outline(across, begin, end, power)
    low, high = 0.0, length
    if _arc(outline, low)[-1][0] >= length:
        return None
    for _ in range(20):
        middle = (low + high) / 2
        low, high = (middle, high) if _arc(outline, middle)[-1][0] < length else (low, middle)
    return _arc(outline, low)


def inflate(rings: Sequence[Ring], slants: Sequence[float], closed: bool) -> list[Ring]:
    """The rings of a stuffed piece; lobe by lobe rounded off where that makes it taller.

    Args:
        rings: beginning first, as the counts alone would stand.
        slants: height of every course along the fabric; one fewer than rings.
        closed: the last round is drawn together.
    """
    found = [Ring(rings[0].radius, 0.0)]
    for first, last in lobes(rings):
        drawn = closed and last == len(rings) - 1
        found += _lobe(rings[first : last + 1], slants[first:last], found[-1].level, drawn)
    return found


def _lobe(rings: Sequence[Ring], slants: Sequence[float], level: float, drawn: bool) -> list[Ring]:
    """All rings of a lobe but its first, raised to `level`. Drawing the end together takes half its hole in fabric."""
    plain = [Ring(ring.radius, level + ring.level - rings[0].level) for ring in rings[1:]]
    widest, end = max(ring.radius for ring in rings), 0.0 if drawn else rings[-1].radius
    if widest <= 0 or rings[0].radius >= widest or len(rings) < 3:
        return plain
    length = sum(slants) + (rings[-1].radius / 2 if drawn else 0.0)
    whole = length + rings[0].radius + end  # as if the necks were closed by flat discs
    across = max(widest * equator(whole / widest), rings[0].radius, end)
    for power in POWERS:
        points = fitted(across, rings[0].radius, end, length, power)
        if points and points[-1][2] - points[0][2] > rings[-1].level - rings[0].level:
            made = list(_along(points, slants, level))
            if _gathered(rings[0], made, plain, FULL * widest) >= GATHER:
                fullest = max(range(len(made)), key=lambda i: made[i].radius)
                made[fullest] = Ring(across, made[fullest].level)
                return made
    return plain


def equator(length: float) -> float:
    """Share of its way round that the equator of a stuffed piece keeps, by its meridian in radii.

    Two flat discs sewn together (2 radii from pole to pole) draw in to 0.7627 when filled, the known shape of the Mylar
    balloon (Paulsen, American Mathematical Monthly 101(10), 1994, from memory); a ball (π radii) keeps all; between them
    in proportion.
    """
    return PILLOW + (1 - PILLOW) * min(1.0, max(0.0, (length - 2) / (pi - 2)))


def _gathered(first: Ring, made: Sequence[Ring], plain: Sequence[Ring], from_radius: float) -> float:
    """Least share of its own way round that any full round keeps, by the middle of its band."""
    new = [(a.radius + b.radius) / 2 for a, b in pairwise((first, *made))]
    old = [(a.radius + b.radius) / 2 for a, b in pairwise((first, *plain))]
    return min((n / o for n, o in zip(new, old, strict=True) if o > from_radius), default=1.0)


def _along(points: Arc, slants: Sequence[float], level: float) -> Iterator[Ring]:
    """Rings at the ends of the courses along an arc."""
    done, share = 0.0, points[-1][0] / sum(slants)
    after = 1
    for slant in slants:
        done += slant * share
        while after < len(points) - 1 and points[after][0] < done:
            after += 1
        (l0, r0, z0), (l1, r1, z1) = points[after - 1], points[after]
        part = min(1.0, (done - l0) / (l1 - l0)) if l1 > l0 else 1.0
        yield Ring(r0 + (r1 - r0) * part, level + z0 + (z1 - z0) * part - points[0][2])

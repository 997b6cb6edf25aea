"""What stuffing does: it rounds a closed piece off, as far as the length of its fabric from end to end allows.

A ball worked as `six a round, plain rounds, six a round` is two flat caps and a wall by its counts alone. Stuffed it is
a ball: its meridian keeps its length and the equator its way round, and the caps give a little. Between two necks the
outline is drawn as an ellipse with that meridian and that equator where this makes the piece taller than its counts do;
cones and tubes stay what their counts make them. Own model, checked against closed formulas for balls.
"""

from collections.abc import Iterator, Sequence
from math import asin, cos, hypot, pi, sin

from generator.measures.surface import Ring

STEPS = 48
"""Pieces an arc is measured in."""
NECK = 0.9
"""Share of the narrower neighbour's radius under which a waist divides a piece into two."""


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


def arc(across: float, up: float, begin: float, end: float) -> list[tuple[float, float, float]]:
    """Points of an ellipse between two angles from its lower pole: (length so far, radius, level), all mm."""
    found, length, last = [], 0.0, None
    for k in range(STEPS + 1):
        angle = begin + (end - begin) * k / STEPS
        here = (across * sin(angle), -up * cos(angle))
        length += hypot(here[0] - last[0], here[1] - last[1]) if last else 0.0
        found.append((length, *here))
        last = here
    return found


def half_height(across: float, begin: float, end: float, length: float) -> float:
    """Upright half-axis of the ellipse whose arc has that length, to a millionth; 0.0 when even a flat one is longer."""
    low, high = 0.0, length
    if arc(across, low, begin, end)[-1][0] >= length:
        return 0.0
    for _ in range(20):
        middle = (low + high) / 2
        low, high = (middle, high) if arc(across, middle, begin, end)[-1][0] < length else (low, middle)
    return low


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
    """All rings of a lobe but its first, raised to `level`."""
    plain = [Ring(ring.radius, level + ring.level - rings[0].level) for ring in rings[1:]]
    across = max(ring.radius for ring in rings)
    if across <= 0 or rings[0].radius >= across or len(rings) < 3:
        return plain
    begin = asin(min(1.0, rings[0].radius / across))
    end = pi - (0.0 if drawn else asin(min(1.0, rings[-1].radius / across)))
    up = half_height(across, begin, end, sum(slants))
    points = arc(across, up, begin, end)
    if points[-1][2] - points[0][2] <= rings[-1].level - rings[0].level:
        return plain
    return list(_along(points, slants, level))


def _along(points: Sequence[tuple[float, float, float]], slants: Sequence[float], level: float) -> Iterator[Ring]:
    """Rings at the ends of the courses along an arc."""
    done, share = 0.0, points[-1][0] / sum(slants)
    for slant in slants:
        done += slant * share
        after = next((i for i, point in enumerate(points) if point[0] >= done - 1e-9), len(points) - 1)
        (l0, r0, z0), (l1, r1, z1) = points[max(0, after - 1)], points[after]
        part = (done - l0) / (l1 - l0) if l1 > l0 else 1.0
        yield Ring(r0 + (r1 - r0) * part, level + z0 + (z1 - z0) * part - points[0][2])

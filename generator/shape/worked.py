"""The worked outline: where the edges of the rounds really come to lie, and how far that is from the wish.

Model and its limits as in `measures.surface`: a round is a band of slant height h, its edge a circle of the count's
length. Rounds may also go down (the inside of a ring), which the wish decides.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import hypot, sqrt

from generator.measures.surface import rise
from generator.shape.hand import Hand
from generator.shape.profile import Point, Profile

LEVEL = 0.3
"""Where the wish climbs less than this (mm per mm along it), a round may as well rise as fall: the fabric settles on
whichever side is nearer."""
SETTLE = 24
"""Steps in which the piece is moved up and down to lie over the wish as well as it can."""


@dataclass(frozen=True, slots=True)
class Deviation:
    """Greatest distance between worked and wished outline, mm, and the index of the round nearest to it.

    `lift` is how far the worked outline was moved up to lie over the wish as well as it can, mm.
    """

    mm: float
    round: int
    lift: float = 0.0


def outline(profile: Profile, counts: Sequence[int], hand: Hand, foundation: int = 0) -> tuple[Point, ...]:
    """Edges of the rounds as (radius, level), the beginning first; with the tip where the end is drawn shut."""
    start = (hand.radius(foundation), profile.points[0][1]) if foundation else profile.points[0]
    points = [start]
    for number, count in enumerate(counts, 1):
        points.append(step(profile, points[-1], hand.radius(count), number * hand.height, hand.height))
    if profile.closed_end:
        points.append(step(profile, points[-1], 0.0, profile.length, hand.height))
    return tuple(points)


def step(profile: Profile, here: Point, radius: float, along: float, slant: float) -> Point:
    """Where the next edge comes to lie."""
    climb = rise(slant, radius - here[0])
    (_, low), (_, high) = profile.at(along - slant), profile.at(along)
    tilt = (high - low) / slant
    if abs(tilt) >= LEVEL:
        return radius, here[1] + (climb if tilt > 0 else -climb)
    return radius, min((here[1] + climb, here[1] - climb), key=lambda level: (abs(level - high), level))


def deviation(profile: Profile, points: Sequence[Point], slant: float) -> Deviation:
    """How far the worked outline is from the wish at worst, once laid over it as well as it can be.

    Measured both ways: no worked point further than this from the wish, no wished point further from the work.
    """
    apart = slant / 6
    wish, work = profile.samples(apart), Profile(tuple(points)).samples(apart)
    best = Deviation(float("inf"), 0)
    for i in range(-SETTLE, SETTLE + 1):
        lift = i / SETTLE * slant / 2
        enough = best.mm - 1e-9
        far, at = _farthest([(r, z + lift) for r, z in work], wish, apart, enough)
        if far >= enough:
            continue
        back, back_at = _farthest([(r, z - lift) for r, z in wish], work, apart, enough)
        worst, (r, z) = (far, work[at]) if far >= back else (back, (wish[back_at][0], wish[back_at][1] - lift))
        if worst < enough:
            nearest = min(range(len(points)), key=lambda k: (_distance(points[k], (r, z)), k))
            best = Deviation(worst, nearest, lift)
    return best


def _distance(a: Point, b: Point) -> float:
    return hypot(a[0] - b[0], a[1] - b[1])


def _farthest(points: Sequence[Point], line: Sequence[Point], apart: float, enough: float) -> tuple[float, int]:
    """The point that lies farthest from a line of samples no more than `apart` from each other: its distance and its
    index. From `enough` on it does not matter how much farther there is one."""
    worst, at, near = -1.0, 0, 0
    for index, point in enumerate(points):
        gap, near = _gap(point, line, apart, near, worst)
        if gap > worst:
            worst, at = gap, index
            if worst >= enough:
                break
    return worst, at


def _gap(point: Point, line: Sequence[Point], apart: float, near: int, enough: float) -> tuple[float, int]:
    """Distance to the nearest sample and its index, sought from index `near`; or to any that is as near as `enough`.

    A sample that is farther than the best one by d has none nearer than that within d / apart steps along the line.
    """
    best, found = sqrt((point[0] - line[near][0]) ** 2 + (point[1] - line[near][1]) ** 2), near
    for way in (1, -1):
        k = near + way
        while 0 <= k < len(line) and best > enough:
            here = sqrt((point[0] - line[k][0]) ** 2 + (point[1] - line[k][1]) ** 2)
            if here < best:
                best, found = here, k
            k += way * max(1, int((here - best) / apart))
    return best, found


def height(points: Sequence[Point]) -> float:
    """From the lowest to the highest level, mm."""
    levels = [z for _, z in points]
    return max(levels) - min(levels)


def length(points: Sequence[Point]) -> float:
    """Along the outline, mm."""
    return sum(_distance(a, b) for a, b in pairwise(points))

"""The worked outline: where the edges of the rounds really come to lie, and how far that is from the wish.

Model and its limits as in `measures.surface`: a round is a band of slant height h, its edge a circle of the count's
length. Rounds may also go down (the inside of a ring), which the wish decides.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import hypot

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
    """Greatest distance between worked and wished outline, mm, and the index of the round nearest to it."""

    mm: float
    round: int


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
    wish = profile.samples(slant / 6)
    work = Profile(tuple(points)).samples(slant / 6)
    best = Deviation(float("inf"), 0)
    for i in range(-SETTLE, SETTLE + 1):
        lift = i / SETTLE * slant / 2
        moved = tuple((r, z + lift) for r, z in work)
        worst = max((_farthest(moved, wish), _farthest(wish, moved)), key=lambda found: found[0])
        if worst[0] < best.mm - 1e-9:
            nearest = min(range(len(points)), key=lambda k: _distance((points[k][0], points[k][1] + lift), worst[1]))
            best = Deviation(worst[0], nearest)
    return best


def _distance(a: Point, b: Point) -> float:
    return hypot(a[0] - b[0], a[1] - b[1])


def _farthest(of: Sequence[Point], from_: Sequence[Point]) -> tuple[float, Point]:
    """The point of the first line that lies farthest from the second, with its distance."""
    import numpy as np

    a, b = np.asarray(of), np.asarray(from_)
    gaps = np.sqrt(((a[:, None, :] - b[None, :, :]) ** 2).sum(axis=2)).min(axis=1)
    at = int(gaps.argmax())
    return float(gaps[at]), of[at]


def height(points: Sequence[Point]) -> float:
    """From the lowest to the highest level, mm."""
    levels = [z for _, z in points]
    return max(levels) - min(levels)


def length(points: Sequence[Point]) -> float:
    """Along the outline, mm."""
    return sum(_distance(a, b) for a, b in pairwise(points))

"""The worked outline: where the edges of the rounds really come to lie, and how far that is from the wish.

Model and its limits as in `measures.surface`: a round is a band of slant height h, its edge a circle of the count's
length. Rounds may also go down (the inside of a ring), which the wish decides.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import hypot
from typing import TYPE_CHECKING

from generator.measures.surface import rise
from generator.shape.hand import Hand
from generator.shape.profile import Point, Profile

if TYPE_CHECKING:
    from scipy.spatial import KDTree

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
    from scipy.spatial import KDTree  # heavy, and not needed to write rounds

    wish, work = profile.samples(slant / 6), Profile(tuple(points)).samples(slant / 6)
    near_wish, near_work = KDTree(wish), KDTree(work)
    best = Deviation(float("inf"), 0)
    for i in range(-SETTLE, SETTLE + 1):
        lift = i / SETTLE * slant / 2
        far, at = _farthest([(r, z + lift) for r, z in work], near_wish)
        back, back_at = _farthest([(r, z - lift) for r, z in wish], near_work)
        worst, (r, z) = (far, work[at]) if far >= back else (back, (wish[back_at][0], wish[back_at][1] - lift))
        if worst < best.mm - 1e-9:
            nearest = min(range(len(points)), key=lambda k: (_distance(points[k], (r, z)), k))
            best = Deviation(worst, nearest, lift)
    return best


def _distance(a: Point, b: Point) -> float:
    return hypot(a[0] - b[0], a[1] - b[1])


def _farthest(points: Sequence[Point], tree: "KDTree") -> tuple[float, int]:
    """The point that lies farthest from a line of points: its distance and its index."""
    import numpy as np

    gaps = np.asarray(tree.query(np.asarray(points))[0])
    at = int(gaps.argmax())
    return float(gaps[at]), at


def height(points: Sequence[Point]) -> float:
    """From the lowest to the highest level, mm."""
    levels = [z for _, z in points]
    return max(levels) - min(levels)


def length(points: Sequence[Point]) -> float:
    """Along the outline, mm."""
    return sum(_distance(a, b) for a, b in pairwise(points))

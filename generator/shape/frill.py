"""Frills: rounds that grow by a share of what is there, as the hyperbolic plane does.

One stitch more after every N gives a ratio of (N + 1) / N a round; the smaller N, the wilder (Henderson and Taimina,
Crocheting the Hyperbolic Plane, Mathematical Intelligencer 23(2), 2001). Such a piece is no surface of revolution: a
round k rounds from the middle is k rounds' heights away from it along the fabric, and longer than any circle there.
"""

import itertools
from math import log, pi, sinh

from generator.shape.hand import Hand
from generator.shape.plan import Plan
from generator.shape.profile import Profile
from generator.shape.regular import regular
from generator.shape.worked import Deviation


def growing(start: int, every: int, rounds: int) -> tuple[int, ...]:
    """Counts of a frill: one more after every `every`, what is left over worked plain."""
    counts = [start]
    while len(counts) < rounds:
        counts.append(counts[-1] + max(1, counts[-1] // every))
    return tuple(counts)


def curvature(every: float, height: float = 1.0) -> float:
    """Radius of curvature that a ratio of (N + 1) / N makes, in the unit of `height`: h / ln((N + 1) / N)."""
    return height / log((every + 1) / every)


def constant(curvature_mm: float, hand: Hand, rounds: int) -> tuple[float, ...]:
    """Stitches (not rounded) of a disc of constant negative curvature: 2 pi rho sinh(k h / rho) / w."""
    rho = curvature_mm
    return tuple(2 * pi * rho * sinh(k * hand.height / rho) / hand.width for k in range(1, rounds + 1))


def grown(profile: Profile, hand: Hand, every: int) -> Plan:
    """A frill as deep as the profile is long."""
    rounds = max(2, round(profile.length / hand.height))
    counts = growing(hand.base, every, rounds)
    points = tuple((k * hand.height, 0.0) for k in range(rounds + 1))
    uneven = sum(not regular(a, b) for a, b in itertools.pairwise(counts))
    return Plan(profile, hand, counts, 0, 0, points, Deviation(0.0, 0), uneven)

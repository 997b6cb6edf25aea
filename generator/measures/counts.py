"""Stitch counts of known shapes: circle, cone, ball, saddle; chains to begin with. Pure arithmetic, no fabric.

w and h below are the width and height of a stitch; where only their ratio matters it is `h_over_w`.
"""

from collections.abc import Iterator
from math import atan, degrees, log, pi, sin, sinh

from generator.measures.flatness import flat_increases
from generator.vocabulary.load import stitch


def disc(base: int, rounds: int) -> tuple[int, ...]:
    """The rule of thumb for a flat circle: begin with `base`, add `base` a round."""
    return tuple(base * k for k in range(1, rounds + 1))


def flat_disc(rounds: int, h_over_w: float = 1.0) -> tuple[int, ...]:
    """Counts of an exactly flat circle, rounded."""
    return tuple(round(k * flat_increases(h_over_w)) for k in range(1, rounds + 1))


def cone(start: int, pattern: tuple[int, ...], rounds: int) -> tuple[int, ...]:
    """Counts of a cone: `start` stitches, then the increases of `pattern` over and over."""
    counts = [start]
    while len(counts) < rounds:
        counts.append(counts[-1] + pattern[(len(counts) - 1) % len(pattern)])
    return tuple(counts)


def sphere(equator: float, steps: int) -> tuple[int, ...]:
    """Counts of a ball: round(N sin(kπ / steps)), poles left out.

    The count goes as the sine of the polar angle (mspremiseconclusion.wordpress.com/2010/03/14); `equator` need not be
    whole: the published 12-round ball is 25.5 in 13 steps.
    """
    return tuple(round(equator * sin(k * pi / steps)) for k in range(1, steps))


def sphere_rounds(equator: int, h_over_w: float = 1.0) -> int:
    """Rounds from pole to pole of a ball with that many stitches at its equator: half as many when h = w."""
    return round(equator / (2 * h_over_w))


def ball_plain_rounds(equator: int) -> int:
    """Plain rounds of the classic ball (six a round, plain, six a round) that make it N/2 rounds from pole to pole."""
    return equator // 2 - (2 * equator // 6 - 1)


def growing(start: float, rate: float, rounds: int) -> Iterator[float]:
    """Counts that grow by one factor each round, as saddles and ruffles do; not rounded."""
    for k in range(rounds):
        yield start * rate**k


def saddle_radius(every: int) -> float:
    """Radius of curvature, in row heights, when one stitch is added after every `every` stitches."""
    return 1 / log((every + 1) / every)


def saddle_counts(radius: float, h: float, w: float, rounds: int) -> Iterator[float]:
    """Counts of a disc of constant negative curvature of that radius; not rounded."""
    for k in range(1, rounds + 1):
        yield 2 * pi * radius * sinh(k * h / radius) / w


def seam_drift(n: int) -> float:
    """Degrees that the start of a spiral round of `n` moves each round, half a stitch; a model, nobody has measured it."""
    return 180.0 / n


def seam_lean(h_over_w: float) -> float:
    """Degrees by which the line of round starts leans from upright when each moves half a stitch."""
    return degrees(atan(0.5 / h_over_w))


def granny_clusters(round_number: int) -> int:
    """Clusters in a round of the classic granny square: four in the first, four more each round."""
    return 4 * round_number


def solid_square_side(round_number: int) -> int:
    """Double crochets along one side of a solid square in that round: 3, 7, 11, …; corner chains not counted."""
    return 4 * round_number - 1


def oval_first_round(chains: int, end_extra: int = 2) -> int:
    """Stitches round a foundation chain, first one in the second chain from the hook."""
    return 2 * (chains - 1) + end_extra


def multiple(of: int, times: int, plus: int) -> int:
    """Stitches for `a multiple of A plus B`."""
    return of * times + plus


def foundation_chains(kind: str, stitches: int, counts: bool | None = None) -> int:
    """Chains to make for a first row of `stitches`.

    `counts`: whether the skipped chains stand for the first stitch; None for the stitch's own convention, where an
    undecided stitch (hdc) counts them.
    """
    known = stitch(kind)
    if counts is None:
        counts = known.turning_chain_counts != "no"
    return stitches + known.turning_chain - (1 if counts and known.turning_chain else 0)

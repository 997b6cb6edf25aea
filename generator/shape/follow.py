"""Counts that follow a line of wished counts, one round each: for walls and crowns between rounds that are fixed."""

from collections.abc import Sequence
from math import ceil, floor

from generator.shape.hand import Hand
from generator.shape.regular import unevenness

REACHES = (4, 12, 40)
"""Stitches a round may stray from its wish, tried in turn."""
CLOSE = 0.35
PLEASANT = 0.3


def follow(start: int, wishes: Sequence[float], end: int, hand: Hand, plain_first: bool = False) -> tuple[int, ...]:
    """Counts of the rounds, as near the wishes as a pleasant round allows; empty where hands can't do it.

    Args:
        start: stitches before the first of them; 0 for a ring in the middle, whose first round is as wished.
        end: count of the last round; 0 to leave it open.
        plain_first: the first round keeps the count (a new yarn begins in it).
    """
    if not wishes:
        return ()
    # The end is met by giving way in proportion: walls wholly, the first rounds of a crown hardly at all.
    give = end / wishes[-1] - 1 if end else 0.0
    aims = [wish * (1 + give * wish / wishes[-1]) for wish in wishes]
    if not start:
        aims[0] = wishes[0]
    for reach in REACHES:
        ways: dict[int, tuple[float, tuple[int, ...]]] = {start: (0.0, ())}
        for k, aim in enumerate(aims):
            tries = _tries(k, aim, start, end if k == len(aims) - 1 else 0, plain_first, reach)
            ways = _on(ways, tries, aim, hand)
        if ways:
            return min(ways.values())[1]
    return ()


def _tries(k: int, aim: float, start: int, end: int, plain_first: bool, reach: int) -> Sequence[int]:
    if k == 0 and not start:
        return [round(aim)]
    if k == 0 and plain_first:
        return [start]
    return [end] if end else range(max(3, floor(aim) - reach), ceil(aim) + reach + 1)


def _on(
    ways: dict[int, tuple[float, tuple[int, ...]]], tries: Sequence[int], aim: float, hand: Hand
) -> dict[int, tuple[float, tuple[int, ...]]]:
    """One round further."""
    following: dict[int, tuple[float, tuple[int, ...]]] = {}
    for count in tries:
        off = CLOSE * ((count - aim) * hand.radius(1) / hand.height) ** 2
        found = [
            (cost + off + (PLEASANT * unevenness(before, count, hand.base) if before else 0.0), (*way, count))
            for before, (cost, way) in ways.items()
            if not before or (count <= 2 * before and before <= 2 * count)
        ]
        if found:
            following[count] = min(found)
    return following

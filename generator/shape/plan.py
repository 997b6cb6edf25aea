"""Finds the rounds: a shortest path over (count, level) from round to round.

Rounding each round by itself gives counts that no repeat fits. Here every round may take any count near the wish; the
path is chosen that stays closest to the outline and is pleasant to work (see `regular`). A state is a count together
with the level the edge has come to, in steps of a fraction of a round, since the same count may lie lower or higher
depending on how the work got there; of two ways to one state the cheaper is kept.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, floor
from typing import Any

import numpy as np
import numpy.typing as npt

from generator.shape.hand import Hand
from generator.shape.profile import Point, Profile
from generator.shape.regular import STRAY, regular, unevenness
from generator.shape.worked import LEVEL, Deviation, deviation, outline

Floats = npt.NDArray[np.floating[Any]]
Whole = npt.NDArray[np.signedinteger[Any]]

BINS = 6
"""Levels told apart within one round's height."""
PLEASANT = 0.3
"""Weight of an uneven round."""
CLOSE = 1.2
"""Weight of the square of a round's distance from the wish, in rounds' heights."""
NEAR = 0.33
"""Distance, in rounds' heights, from which a further one is dear (the promise is half a round)."""
DEAR = 40.0
RUFFLE = 4.0
"""Weight of reaching further out than a round is high, for the share it is too far."""
AGAINST = 0.5
"""For shaping against the wish: an increase where it runs straight or narrows, a decrease where it widens."""
TREND = 0.2
"""Stitches a round below which the wish runs straight."""
EASES = (1.0, 0.4, 0.1, 0.0)
"""Shares of the weight of pleasant work, tried in turn until the outline is kept within the promise."""
PROMISE = 0.499
"""Distance from the wish that is kept, in rounds' heights, wherever hands can keep it."""
END = 2.0
"""Weight of ending too early or too late."""
WIDE = 3000
"""Most stitches in a planned round."""


@dataclass(frozen=True, slots=True)
class Plan:
    """Rounds for a profile.

    `counts` has one entry per round, first round first. `foundation` is the chain it begins with where it begins open,
    0 for a ring in the middle. For an oval `counts` leaves the two straight sides out; each has `straight` stitches.
    """

    profile: Profile
    hand: Hand
    counts: tuple[int, ...]
    foundation: int
    straight: int
    points: tuple[Point, ...]
    """Worked outline: (radius, level) of the beginning and of every round's edge; last the tip, where drawn shut."""
    deviation: Deviation
    uneven: int
    """Rounds whose shaping no single repeat fits."""

    def around(self, round_: int) -> int:
        """Stitches of a round (counted from 1), straight sides included."""
        return self.counts[round_ - 1] + 2 * self.straight


def plan(profile: Profile, hand: Hand, steps: Sequence[int] = ()) -> Plan:
    """The best rounds for a profile.

    Args:
        steps: where given, the only changes of count from round to round (0, 6, -6 for an oval's ends).
    """
    best: Plan | None = None
    for ease in EASES:
        counts = _Search(profile, hand, tuple(steps), ease).run()
        found = finish(profile, hand, counts, 0 if profile.closed_start else counts[0])
        if best is None or found.deviation.mm < best.deviation.mm:
            best = found
        if best.deviation.mm <= PROMISE * hand.height:
            break
    assert best is not None  # EASES is not empty
    return best


def plain(profile: Profile, hand: Hand) -> Plan:
    """Rounds found by rounding each one by itself: what the plan is compared with."""
    closed = profile.closed_end
    rounds = max(1, round(profile.length / hand.height) - (1 if closed else 0))
    step = profile.length / (rounds + closed)
    counts = tuple(max(1, round(hand.stitches(profile.at(k * step)[0]))) for k in range(1, rounds + 1))
    foundation = 0 if profile.closed_start else max(3, round(hand.stitches(profile.points[0][0])))
    return finish(profile, hand, counts, foundation)


def finish(profile: Profile, hand: Hand, counts: tuple[int, ...], foundation: int) -> Plan:
    """Counts with everything that follows from them."""
    points = outline(profile, counts, hand, foundation)
    straight = max(1, round(profile.straight_mm / hand.width)) if profile.straight_mm else 0
    before = foundation or counts[0]
    uneven = sum(not regular(a, b) for a, b in zip((before, *counts), counts, strict=False))
    return Plan(
        profile, hand, counts, foundation, straight, points, deviation(profile, points, hand.height), uneven
    )  # fmt: skip


@dataclass(slots=True)
class _Front:
    """All states after a round. `back` is the index of the state before."""

    counts: Whole
    levels: Floats
    costs: Floats
    back: Whole


class _Search:
    """One search; holds what stays the same from round to round."""

    def __init__(self, profile: Profile, hand: Hand, steps: tuple[int, ...], ease: float) -> None:
        self.profile, self.hand, self.steps = profile, hand, steps
        self.pleasant = PLEASANT * ease
        self.unit = hand.radius(1)
        self.rounds = profile.length / hand.height - (1 if profile.closed_end else 0)
        self.open = not profile.closed_start
        self.fronts: list[_Front] = []

    def _foundations(self) -> Whole:
        """Chains it may begin with: near the wish; in a ring that is sewn, where the count returns, the one best."""
        wish, base = self.hand.stitches(self.profile.points[0][0]), self.hand.base
        slack = max(1.0, NEAR * self.hand.height / self.unit)
        near: Whole = np.arange(max(3, ceil(wish - slack)), max(4, floor(wish + slack) + 1))
        if self.profile.sewn or self.steps:
            regular_first = sorted(near.tolist(), key=lambda n: (n % base > 0, abs(n - wish)))
            near = np.array(regular_first[:1])
        return near

    def run(self) -> tuple[int, ...]:
        """The counts of the cheapest plan."""
        best: tuple[float, int, int] = (float("inf"), 1, 0)
        self._begin()
        last = max(1, ceil(self.rounds + 1.25))
        for k in range(1, last + 1):
            if k > 1:
                self._advance(k)
            if k >= self.rounds - 1.25 or k == last:
                ends = self.fronts[-1].costs + self._end(self.fronts[-1])
                at = int(ends.argmin())
                if ends[at] < best[0]:
                    best = (float(ends[at]), k, at)
        return self._trace(best[1], best[2])

    def _begin(self) -> None:
        """Round 1: in a ring, or plain on the foundation chain."""
        hand, first = self.hand, self.profile.points[0]
        if self.open:
            counts = self._foundations()
            climb = hand.height if self._tilt(hand.height) >= 0 else -hand.height
            levels = np.full(len(counts), first[1] + climb)
            costs = self.pleasant * STRAY * (counts % hand.base > 0)
        else:
            counts = np.array([hand.base] if self.steps else list(hand.starts))
            levels = first[1] + np.sqrt(np.maximum(0.0, hand.height**2 - (counts * self.unit) ** 2))
            costs = self.pleasant * (counts != hand.base)
        costs = costs + self._far(counts * self.unit, levels, 1)
        self.fronts = [_Front(counts, levels, costs, np.zeros(len(counts), np.int64))]

    def _tilt(self, along: float) -> float:
        """Climb of the wish over the round that ends there, per mm along it."""
        h = self.hand.height
        return (self.profile.at(along)[1] - self.profile.at(along - h)[1]) / h

    def _advance(self, k: int) -> None:
        """All states of round k from those of the round before."""
        before, along = self.fronts[-1], k * self.hand.height
        counts = self._near(along)
        froms: Whole = np.repeat(np.arange(len(before.counts)), len(counts))
        tos: Whole = np.tile(counts, len(before.counts))
        olds = before.counts[froms]
        able = self._able(olds, tos)
        froms, tos, olds = froms[able], tos[able], olds[able]
        levels = self._levels(before.levels[froms], (tos - olds) * self.unit, along)
        costs = before.costs[froms] + self._far(tos * self.unit, levels, k) + self._work(olds, tos, k)
        self.fronts.append(self._keep(_Front(tos, levels, costs, froms)))

    def _near(self, along: float) -> Whole:
        """Counts worth trying at that distance along the outline."""
        h = self.hand.height
        radii = [self.profile.at(along + part * h)[0] for part in (-1.0, -0.5, 0.0, 0.5, 1.0)]
        slack = max(1.0, 0.5 * h / self.unit)
        low = max(4, floor(min(radii) / self.unit - slack))
        high = max(low + self.hand.base, ceil(max(radii) / self.unit + slack))
        every: Whole = np.arange(low, high + 1)
        kept: Whole = every[every % self.hand.base == 0] if self.steps else every
        return kept

    def _able(self, olds: Whole, tos: Whole) -> npt.NDArray[np.bool_]:
        """What hands can do: at most two in one, at most two together, no further out than the fabric gives."""
        able: npt.NDArray[np.bool_] = (tos <= 2 * olds) & (2 * tos >= olds) & (np.abs(tos - olds) <= self.hand.most)
        if self.steps:
            able &= np.isin(tos - olds, np.asarray(self.steps))
        # However odd the wish, there is always a next round: the nearest that can be worked.
        if not able.any():
            least = int(np.abs(tos - olds).min())
            able = np.asarray(np.abs(tos - olds) == least, dtype=np.bool_)
        return able

    def _levels(self, olds: Floats, out: Floats, along: float) -> Floats:
        """Where the edges come to lie (the same rule as `worked.step`, for many at once)."""
        climb: Floats = np.sqrt(np.maximum(0.0, self.hand.height**2 - out**2))
        tilt = self._tilt(along)
        if abs(tilt) >= LEVEL:
            return np.add(olds, climb if tilt > 0 else -climb)
        high = self.profile.at(along)[1]
        up, down = olds + climb, olds - climb
        nearer: Floats = np.where(np.abs(up - high) < np.abs(down - high), up, down)
        return nearer

    def _far(self, radii: Floats, levels: Floats, k: int) -> Floats:
        """Cost of the distance from the wish near the k-th round."""
        h = self.hand.height
        wish = np.asarray([self.profile.at((k + i / 6) * h) for i in range(-9, 10)])
        gaps: Floats = np.hypot(radii[:, None] - wish[None, :, 0], levels[:, None] - wish[None, :, 1]).min(axis=1) / h
        cost: Floats = CLOSE * gaps**2 + DEAR * np.maximum(0.0, gaps - NEAR) ** 2
        return cost

    def _work(self, olds: Whole, tos: Whole, k: int) -> Floats:
        """Cost of working it: unevenness, and reaching too far out."""
        base = self.hand.base
        uneven = np.array([unevenness(a, b, base) for a, b in zip(olds.tolist(), tos.tolist(), strict=True)])
        over = np.maximum(0.0, np.abs(tos - olds) * self.unit / self.hand.height - 1.0)
        cost: Floats = self.pleasant * uneven + RUFFLE * over**2 + AGAINST * self._against(tos - olds, k)
        return cost

    def _against(self, changes: Whole, k: int) -> npt.NDArray[np.bool_]:
        """Which changes go against the wish near round k."""
        h = self.hand.height
        radii = [self.profile.at((k + i) * h)[0] for i in (-2, -1, 0, 1)]
        trends = np.diff(radii) / self.unit
        narrows, widens = bool(trends.max() < TREND), bool(trends.min() > -TREND)
        against: npt.NDArray[np.bool_] = ((changes > 0) & narrows) | ((changes < 0) & widens)
        return against

    def _keep(self, front: _Front) -> _Front:
        """Of all ways to one state the cheapest."""
        bins = np.round(front.levels / self.hand.height * BINS).astype(np.int64)
        order = np.lexsort((front.levels, front.costs))
        seen: dict[tuple[int, int], int] = {}
        for i in order.tolist():
            seen.setdefault((int(front.counts[i]), int(bins[i])), i)
        kept = np.array(sorted(seen.values()))
        kept = kept[front.costs[kept] <= front.costs[kept].min() + 8.0]
        return _Front(front.counts[kept], front.levels[kept], front.costs[kept], front.back[kept])

    def _end(self, front: _Front) -> Floats:
        """Cost of stopping here."""
        h, (radius, level) = self.hand.height, self.profile.points[-1]
        radii = front.counts * self.unit
        if self.profile.closed_end:
            climb = np.sqrt(np.maximum(0.0, h**2 - radii**2))
            off = np.minimum(np.abs(front.levels + climb - level), np.abs(front.levels - climb - level)) / h
            wide = np.maximum(0, front.counts - max(self.hand.starts))
            shut: Floats = END * off**2 + 2.0 * wide + self.pleasant * (front.counts != self.hand.base)
            return shut
        gaps = np.hypot(radii - radius, front.levels - level) / h
        cost: Floats = END * gaps**2 + DEAR * np.maximum(0.0, gaps - 0.5) ** 2
        if self.profile.sewn:
            cost = cost + 100.0 * (front.counts != self.fronts[0].counts[0])
        return cost

    def _trace(self, k: int, at: int) -> tuple[int, ...]:
        counts: list[int] = []
        for front in reversed(self.fronts[:k]):
            counts.append(int(front.counts[at]))
            at = int(front.back[at])
        return tuple(reversed(counts))

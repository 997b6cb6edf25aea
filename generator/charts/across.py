"""Across the rounds: every stitch as tall as it is, level with its neighbours; arches of chains bulge outward."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial

import numpy as np
from numpy.typing import NDArray

from generator.charts.closers import chains_of, ride_on_arches
from generator.charts.equations import Equations, Ties
from generator.charts.frames import Polygon
from generator.charts.layout import Layout, ends_of_arch, least_level
from generator.charts.nodes import CHAIN, Node, Sort
from generator.charts.points import seat_across
from generator.fabric.model import Into, Make, Role

LEVEL = 0.8
"""Weight of staying level with a neighbour of the same kind, against keeping one's height at 1."""
DIP = 0.0115
"""Two in one place lean, so their heads lie lower; by no more than this share of the radius, so that discs are round."""
OVER = 0.42
"""An arch of chains keeps this much above the heads it passes over."""
WAVE = 3.0
"""Where rows slope, keeping the slope counts this much more than being level would."""
LOW_ARCH = 0.3
"""Chains that lead up from the end of a round bulge no further than this above the next."""
FULL = 0.25
"""An arch that must rise by more than this above what its chains do gets full flanks and so much more air."""
PICOT = 0.9
"""How far a picot stands out from what it hangs on."""
CHAIN_AIR = 0.22
"""From the middle of a foundation chain to the feet on it."""


@dataclass(frozen=True, slots=True)
class Stand:
    """What the nodes of a course stand on in one pass."""

    base: float
    rise: float
    """Mean height of its stitches."""
    factor: float
    """By how much their heights are stretched so that they find room."""


Ask = Callable[[Layout, Node, Stand], float]
"""What a node's equation comes to, with the places as they are now."""


class Across:
    """The places across the rounds of one layout, asked for again in every pass: who is tied to whom stays."""

    def __init__(self, layout: Layout) -> None:
        self.layout, nodes = layout, layout.graph.nodes
        self.rows = [(c, layout.rise(c), [nodes[n] for n in layout.graph.courses[c]]) for c in layout.shown]
        tied = [_tied(layout, node) for _, _, row in self.rows for node in row]
        self.asks = [ask for _, _, ask in tied]
        self.heights, self.weights = Ties.of([terms for terms, _, _ in tied]), np.asarray([w for _, w, _ in tied])
        bent = {node.index for node in nodes if node.sort in (Sort.SPACE, Sort.POINT)}
        self.links = [(a, b) for a, b, _, _ in layout.links() if a not in bent and b not in bent]
        self.levels = Ties.steps(self.links)
        self.level = np.asarray([_evenness(layout, nodes[a], nodes[b]) for a, b in self.links])

    def placed(self) -> NDArray[np.float64]:
        """The distances r of all nodes, with levels and places as they are now."""
        layout = self.layout
        equations = Equations(len(layout.graph.nodes))
        stands = ((Stand(layout.base(c), rise, _factor(layout, c, rise)), row) for c, rise, row in self.rows)
        each = ((stand, node) for stand, row in stands for node in row)
        wanted = [ask(layout, node, stand) for ask, (stand, node) in zip(self.asks, each, strict=True)]
        equations.extend(self.heights, wanted, self.weights)
        equations.extend(self.levels, self._climbs(), self.level)
        seat_across(layout, equations)
        ride_on_arches(layout, equations)
        return equations.solve()

    def _climbs(self) -> NDArray[np.float64]:
        """How much higher than the first the second of two neighbours lies; nothing but where rows slope."""
        layout, z = self.layout, self.layout.z
        if not layout.slope:
            return np.zeros(len(self.links))
        return np.asarray([layout.slope_between(a, b) * (z[b] - z[a]) for a, b in self.links])


def _evenness(layout: Layout, here: Node, there: Node) -> float:
    """Weight of two neighbours lying on one level."""
    alike = Sort.CHAIN in (here.sort, there.sort) or (
        abs(here.height - there.height) < 0.2 and not (here.loose or there.loose)
    )
    shared = here.sharers > 2 and here.parents == there.parents and not layout.slope
    weight = (LEVEL if not shared else 0.12) if alike else 0.05
    return WAVE * weight if layout.slope else weight


def _factor(layout: Layout, c: int, rise: float) -> float:
    """Factor by which a course's heights are stretched so that its stitches find room."""
    if layout.part.courses[c].make is Make.FOUNDATION or not layout.frame.closed:
        return 1.0
    return max(1.0, (least_level(layout, c, 0.0) - layout.base(c)) / rise) if rise > 0 else 1.0


def _tied(layout: Layout, node: Node) -> tuple[Sequence[tuple[int, float]], float, Ask]:
    """The equation that gives a node its distance across: terms, weight, and what it comes to in each pass."""
    alone = ((node.index, 1.0),)
    if node.sort in (Sort.SPACE, Sort.POINT):  # a point's root lies between its neighbours
        before, after = ends_of_arch(layout, node.index)
        terms = (*alone, (before, -0.5), (after, -0.5))
        return terms, 1.0, partial(_bulge, before, after) if node.sort is Sort.SPACE else _between
    if layout.part.courses[node.course].make is Make.FOUNDATION:
        return alone, 30.0 if not layout.slope else 1e-3, _on_level
    if node.sort is Sort.CHAIN:  # a chain of its own lies level between the stitches it links
        return alone, 0.05, _linking
    if node.into is Into.RING or (not node.parents and layout.frame.closed):
        return alone, 1.0, _in_ring
    if not node.parents:
        return alone, 0.5, _unworked
    return (*alone, *((p, -1.0 / len(node.parents)) for p in node.parents)), 1.0, _on_parents


def _between(_layout: Layout, _node: Node, _stand: Stand) -> float:
    return 0.0


def _on_level(layout: Layout, node: Node, _stand: Stand) -> float:
    return layout.level[node.course]


def _linking(_layout: Layout, _node: Node, stand: Stand) -> float:
    return stand.base + stand.rise * stand.factor


def _unworked(_layout: Layout, node: Node, stand: Stand) -> float:
    return stand.base + node.height


def _in_ring(layout: Layout, node: Node, stand: Stand) -> float:
    base = layout.hub if node.into is Into.RING else stand.base
    if layout.slope:  # a first row in a ring opens like a fan
        row = layout.graph.courses[node.course]
        aside = layout.z[node.index] - sum(layout.z[n] for n in row) / len(row)
        base -= node.height - math.sqrt(max(node.height**2 - aside**2, (0.55 * node.height) ** 2))
    return base + node.height * stand.factor


def _on_parents(layout: Layout, node: Node, stand: Stand) -> float:
    own = node.role is not Role.EXTRA
    rise = _rise(layout, node, node.height * (stand.factor if own else 1.0), crowded=stand.factor > 1.0)
    if layout.slope:
        rise *= layout.level_share(node.index)
    on_chains = layout.graph.nodes[node.parents[0]].sort is Sort.CHAIN
    return rise + (layout.lift.get(node.course, 0.0) if own else 0.0) + (CHAIN_AIR if on_chains else 0.0)


def _rise(layout: Layout, node: Node, tall: float, crowded: bool) -> float:
    """How far a post of that length gets across; in rounds stretched to find room a pair keeps all of it."""
    if node.under or node.sharers < 2 or (node.sharers == 2 and (crowded or not layout.frame.closed)):
        return tall
    lean = _lean(layout, node)
    rise = math.sqrt(max(tall * tall - lean * lean, (0.55 * tall) ** 2))
    return rise if node.sharers > 2 else max(rise, tall - DIP * layout.level[node.course])


def _lean(layout: Layout, node: Node) -> float:
    """How far the head stands to the side of the foot, in chart units; a fan's outer stitches lean and so end lower."""
    if isinstance(layout.frame, Polygon) or layout.slope:
        return 0.0
    period = layout.frame.period()
    steps = [float(layout.z[node.index] - layout.z[p]) for p in node.parents]
    apart = sum(step - period * round(step / period) if period else step for step in steps) / len(steps)
    return abs(apart) * layout.frame.stretch(float(layout.z[node.index]), layout.level[node.course])


def _bulge(before: int, after: int, layout: Layout, node: Node, _stand: Stand) -> float:
    """How far the top of an arch lies above the mean of its ends."""
    a, b = layout.head(before), layout.head(after)
    ends = float(layout.r[before] + layout.r[after]) / 2
    chord = math.dist(a, b)
    top = sagitta(chord, chains_of(layout.graph, node) * CHAIN)
    nx, ny = layout.outward(node.index)
    middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    flat = layout.frame.spot(float(layout.z[node.index]), ends)
    dip = (flat[0] - middle[0]) * nx + (flat[1] - middle[1]) * ny  # a chord lies inside its curve
    if layout.graph.nodes[before].course != node.course:  # from the round below up to this one: no higher than it
        top = min(top, max(float(layout.r[before]), float(layout.r[after])) + LOW_ARCH - ends)
    own, over = top - max(dip, 0.0), _crown(layout, node, before, after) + OVER - ends
    rise = max(own, over, 0.0)
    if over > max(own, 0.0) + FULL:
        layout.crowned.add(node.index)
        return rise + FULL
    layout.crowned.discard(node.index)
    return rise


def _crown(layout: Layout, node: Node, before: int, after: int) -> float:
    """Greatest height of the heads an arch passes over, well within its ends; minus infinity where there are none."""
    below, graph, period = layout.below(node.course), layout.graph, layout.frame.period()
    middle, half = float(layout.z[node.index]), abs(float(layout.z[after] - layout.z[before])) / 2
    if below is None or half == 0.0:
        return -math.inf
    if period and half > period / 4:  # the arch lies over the join of its round
        half = period / 2 - half
    highest, knots = -math.inf, graph.knots
    for n in graph.courses[below]:
        if graph.nodes[n].sort is Sort.STITCH:
            apart = layout.z[n] - middle
            apart -= period * round(apart / period) if period else 0.0
            if abs(apart) < 0.7 * half:
                highest = max(highest, layout.r[n] + (PICOT if n in knots else 0.0))
    return highest


def sagitta(chord: float, length: float) -> float:
    """Height of a circular arc of that length over that chord; 0 where the chord is longer. Elementary geometry."""
    if length <= chord * 1.001:
        return 0.0
    low, high = 1e-6, math.pi - 1e-6
    for _ in range(40):
        half = (low + high) / 2
        if math.sin(half) / half > chord / length:
            low = half
        else:
            high = half
    return length / (2 * low) * (1 - math.cos(low))

"""Across the rounds: every stitch as tall as it is, level with its neighbours; arches of chains bulge outward."""

import math

import numpy as np
from numpy.typing import NDArray

from generator.charts.equations import Equations
from generator.charts.frames import Polygon
from generator.charts.layout import Layout, ends_of_arch, least_level
from generator.charts.nodes import CHAIN, Node, Sort, mean_rise
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
FULL = 0.25
"""An arch that must rise by more than this above what its chains do gets full flanks and so much more air."""
PICOT = 0.9
"""How far a picot stands out from what it hangs on."""
CHAIN_AIR = 0.22
"""From the middle of a foundation chain to the feet on it."""


def place_across(layout: Layout) -> NDArray[np.float64]:
    graph = layout.graph
    equations = Equations(len(graph.nodes))
    for c in layout.shown:
        target = _rise_target(layout, c)
        for n in graph.courses[c]:
            _height(layout, equations, graph.nodes[n], target)
    for a, b, _c, _turns in layout.links():
        here, there = graph.nodes[a], graph.nodes[b]
        if {Sort.SPACE, Sort.POINT} & {here.sort, there.sort}:
            continue
        alike = Sort.CHAIN in (here.sort, there.sort) or (
            abs(here.height - there.height) < 0.2 and not (here.loose or there.loose)
        )
        shared = here.sharers > 2 and here.parents == there.parents and not layout.slope
        weight = (LEVEL if not shared else 0.12) if alike else 0.05
        if layout.slope:
            climb = layout.slope_between(a, b) * float(layout.z[b] - layout.z[a])
            equations.add([(b, 1.0), (a, -1.0)], climb, WAVE * weight)
        else:
            equations.add([(b, 1.0), (a, -1.0)], 0.0, weight)
    seat_across(layout, equations)
    return equations.solve()


def _rise_target(layout: Layout, c: int) -> float:
    """Factor by which a course's heights are stretched so that its stitches find room."""
    rise = mean_rise(layout.graph, c)
    below = layout.base(c)
    if layout.part.courses[c].make is Make.FOUNDATION or not layout.frame.closed:
        return 1.0
    least = least_level(layout, c, 0.0)
    return max(1.0, (least - below) / rise) if rise > 0 else 1.0


def _height(layout: Layout, equations: Equations, node: Node, factor: float) -> None:
    """The equation that gives a node its distance across."""
    if node.sort is Sort.SPACE:
        _bulge(layout, equations, node)
        return
    if node.sort is Sort.POINT:  # its root lies between its neighbours
        before, after = ends_of_arch(layout, node.index)
        equations.add([(node.index, 1.0), (before, -0.5), (after, -0.5)], 0.0)
        return
    if layout.part.courses[node.course].make is Make.FOUNDATION:
        equations.add([(node.index, 1.0)], layout.level[node.course], 30.0 if not layout.slope else 1e-3)
    elif node.sort is Sort.CHAIN:  # a chain of its own lies level between the stitches it links
        equations.add(
            [(node.index, 1.0)], layout.base(node.course) + mean_rise(layout.graph, node.course) * factor, 0.05
        )
    elif node.into is Into.RING or (not node.parents and layout.frame.closed):
        base = layout.hub if node.into is Into.RING else layout.base(node.course)
        if layout.slope:  # a first row in a ring opens like a fan
            row = layout.graph.courses[node.course]
            aside = float(layout.z[node.index]) - sum(float(layout.z[n]) for n in row) / len(row)
            base -= node.height - math.sqrt(max(node.height**2 - aside**2, (0.55 * node.height) ** 2))
        equations.add([(node.index, 1.0)], base + node.height * factor)
    elif not node.parents:
        equations.add([(node.index, 1.0)], layout.base(node.course) + node.height, 0.5)
    else:
        tall = node.height * (factor if node.role is not Role.EXTRA else 1.0)
        rise = _rise(layout, node, tall, crowded=factor > 1.0) * layout.level_share(node.index)
        terms = [(node.index, 1.0)] + [(p, -1.0 / len(node.parents)) for p in node.parents]
        on_chains = layout.graph.nodes[node.parents[0]].sort is Sort.CHAIN
        equations.add(
            terms,
            rise
            + (layout.lift.get(node.course, 0.0) if node.role is not Role.EXTRA else 0.0)
            + (CHAIN_AIR if on_chains else 0.0),
        )


def _rise(layout: Layout, node: Node, tall: float, crowded: bool) -> float:
    """How far a post of that length gets across; in rounds stretched to find room a pair keeps all of it."""
    if node.sharers == 2 and (crowded or not layout.frame.closed):
        return tall
    lean = _lean(layout, node)
    rise = math.sqrt(max(tall * tall - lean * lean, (0.55 * tall) ** 2))
    return rise if node.sharers > 2 else max(rise, tall - DIP * layout.level[node.course])


def _lean(layout: Layout, node: Node) -> float:
    """How far the head stands to the side of the foot, in chart units; a fan's outer stitches lean and so end lower."""
    if node.sharers < 2 or isinstance(layout.frame, Polygon) or layout.slope:
        return 0.0
    period = layout.frame.period()
    steps = [float(layout.z[node.index] - layout.z[p]) for p in node.parents]
    apart = sum(step - period * round(step / period) if period else step for step in steps) / len(steps)
    return abs(apart) * layout.frame.stretch(float(layout.z[node.index]), layout.level[node.course])


def _bulge(layout: Layout, equations: Equations, node: Node) -> None:
    before, after = ends_of_arch(layout, node.index)
    a, b = layout.head(before), layout.head(after)
    chord = math.dist(a, b)
    top = sagitta(chord, len(node.stitches) * CHAIN)
    nx, ny = layout.outward(node.index)
    middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    flat = layout.frame.spot(float(layout.z[node.index]), float(layout.r[before] + layout.r[after]) / 2)
    dip = (flat[0] - middle[0]) * nx + (flat[1] - middle[1]) * ny  # a chord lies inside its curve
    ends = float(layout.r[before] + layout.r[after]) / 2
    own, over = top - max(dip, 0.0), _crown(layout, node, before, after) + OVER - ends
    rise = max(own, over, 0.0)
    if over > max(own, 0.0) + FULL:
        layout.crowned.add(node.index)
        rise += FULL
    else:
        layout.crowned.discard(node.index)
    equations.add([(node.index, 1.0), (before, -0.5), (after, -0.5)], rise)


def _crown(layout: Layout, node: Node, before: int, after: int) -> float:
    """Greatest height of the heads an arch passes over, well within its ends; minus infinity where there are none."""
    below, graph, period = layout.below(node.course), layout.graph, layout.frame.period()
    middle, half = float(layout.z[node.index]), abs(float(layout.z[after] - layout.z[before])) / 2
    if below is None or half == 0.0:
        return -math.inf
    if period and half > period / 4:  # the arch lies over the join of its round
        half = period / 2 - half
    highest = -math.inf
    for n in graph.courses[below]:
        if graph.nodes[n].sort is Sort.STITCH:
            apart = float(layout.z[n]) - middle
            apart -= period * round(apart / period) if period else 0.0
            if abs(apart) < 0.7 * half:
                highest = max(highest, float(layout.r[n]) + (PICOT if n in layout.graph.knots else 0.0))
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

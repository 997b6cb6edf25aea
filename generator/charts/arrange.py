"""Where every stitch stands.

Two sparse least-squares problems, solved in turn: along the rounds (stand over what you are worked into, keep even
spacing) and across them (keep your height, stay level with your neighbours). Both are linear in a frame that suits
the work, so a disc comes out round, a square square and an oval oval, and equal patterns come out equal.
"""

import math
from collections.abc import Mapping, Sequence
from functools import partial

from generator.charts.across import Across
from generator.charts.along import Along
from generator.charts.corners import along_sides
from generator.charts.foundations import upright
from generator.charts.frames import Circle, Frame, Polygon, Rows, Stadium
from generator.charts.layout import RING, Layout, least_level
from generator.charts.nodes import CHAIN, LOW, Graph, Sort
from generator.charts.posts import posts_of
from generator.charts.waves import slopes_of
from generator.fabric.model import Make, Part


def arrange(
    graph: Graph, part: Part, frame: Frame, shown: tuple[int, ...], seams: Sequence[float], lift: Mapping[int, float]
) -> Layout:
    """Places the nodes of the courses in `shown`. `seams` is the extra room at the start of each course."""
    nodes = graph.nodes
    layout = Layout(
        graph, frame, part, shown,
        [0.0] * len(nodes), [0.0] * len(nodes), [0.0] * len(part.courses), _directions(part, frame), 0.0, lift, seams,
    )  # fmt: skip
    layout.straight = upright(graph) if isinstance(frame, Stadium) else frozenset()
    layout.slope = slopes_of(layout) if isinstance(frame, Rows) else {}
    layout.hub = _hub(layout) if isinstance(frame, Circle | Polygon) else 0.0
    _first_levels(layout, seams)
    polygonal = partial(along_sides, layout, frame) if isinstance(frame, Polygon) else None
    along, across = polygonal or Along(layout, seams, posts_of(layout)).placed, Across(layout).placed
    for _ in range(2 if not isinstance(frame, Stadium) and not layout.slope else 4):
        layout.z = along().tolist()
        layout.r = across().tolist()
        _take_levels(layout)
    return layout


def _directions(part: Part, frame: Frame) -> list[int]:
    """Right-handed: rounds anticlockwise (+), rows seen from the right side right to left (-)."""
    sign = 1 if frame.closed else -1
    found = [sign if course.forward else -sign for course in part.courses]
    for i, course in enumerate(part.courses[:-1]):
        if course.make is Make.FOUNDATION and not frame.closed:
            found[i] = -found[i + 1]
    return found


def _hub(layout: Layout) -> float:
    """Radius at which the first round's feet stand."""
    rings = [h for h in layout.graph.hangers if h.sort == "ring"]
    chains = sum(1 for h in rings for s in h.stitches if layout.graph.stitches[s].kind == "ch")
    first = next((c for c in layout.shown if layout.graph.courses[c]), 0)
    feet = len([n for n in layout.graph.courses[first] if layout.graph.nodes[n].height > 0])
    around = max(chains * CHAIN / (2 * math.pi) + 0.35 if chains else RING, feet * 0.32 / (2 * math.pi))
    rise = layout.rise(first)
    long = layout.natural(first) / (2 * math.pi) - (rise / 2 if rise < LOW else rise)
    around = max(around, long)  # an opening, where the round is too long to close over its stitches
    return around + 0.12


def _first_levels(layout: Layout, seams: Sequence[float]) -> None:
    """Radii by heights, pushed outward where a round would otherwise be too crowded."""
    level = layout.hub
    for c in layout.shown:
        level += layout.lift.get(c, 0.0)
        if layout.part.courses[c].make is not Make.FOUNDATION:
            level += layout.rise(c)
        if layout.frame.closed:
            level = max(level, least_level(layout, c, seams[c]))
        layout.level[c] = level
    for n in layout.graph.nodes:
        layout.r[n.index] = layout.level[n.course]


def _take_levels(layout: Layout) -> None:
    for c in layout.shown:
        heads = [
            layout.r[n] for n in layout.graph.plain(c) if layout.graph.nodes[n].sort not in (Sort.SPACE, Sort.POINT)
        ]
        if heads:
            layout.level[c] = sum(heads) / len(heads)

"""Motifs with corners: finding them, and placing their stitches along straight sides."""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from generator.charts.along import ASIDE
from generator.charts.equations import Equations
from generator.charts.frames import Polygon
from generator.charts.layout import Layout, gap_between
from generator.charts.nodes import Graph, Sort, families, natural_width
from generator.fabric.model import Into, Make, Part

FEWEST, MOST = 3, 6


def find_corners(graph: Graph, part: Part) -> Polygon | None:
    """The polygon a part grows as, when its rounds turn corners one above the other; None for round work."""
    marks = corner_nodes(graph)
    if not marks:
        return None
    sides = len(next(iter(marks.values())))
    closed = all(c.make in (Make.JOINED, Make.SPIRAL) for i, c in enumerate(part.courses) if graph.courses[i])
    if not closed or not FEWEST <= sides <= MOST:
        return None
    return Polygon(sides, math.pi / 2)


def corner_nodes(graph: Graph) -> dict[int, list[int]]:
    """Corner nodes by course, the same corner at the same place of every list; empty when the work has no corners.

    A corner is the middle of a group worked into a corner below. The last course that has such groups sets the
    number; every course below must have as many, or hold what they are worked into, down to the middle.
    """
    found: dict[int, list[int]] = {}
    want: list[int] = []
    strong = False
    for c in reversed([c for c, row in enumerate(graph.courses) if row]):
        middles = {_middle(graph, nodes): parents for nodes, parents in corner_groups(graph, c)}
        if not want:
            if FEWEST <= len(middles) <= MOST:
                found[c] = list(middles)
                strong = any(graph.nodes[m].sort is Sort.SPACE for m in middles)
                want = [p[len(p) // 2] for p in middles.values()]
            continue
        if not set(want) <= set(graph.courses[c]):
            return {}
        found[c] = want
        strong = strong or any(m in middles for m in want)
        below = [middles.get(w, graph.nodes[w].parents) for w in want]
        if not all(below):
            in_ring = any(graph.nodes[n].into is Into.RING for n in graph.courses[c])
            return found if strong and in_ring and not any(below) else {}
        want = [p[len(p) // 2] for p in below]
    return {}


@dataclass(frozen=True, slots=True)
class Corner:
    """One corner of one course: the node that turns it (-1 where two stitches stand on either side), and the node
    after which the next side begins."""

    node: int
    after: int


def corner_places(graph: Graph) -> dict[int, list[Corner]]:
    """Corners of every course, those of plain courses above the last marked one carried up."""
    places = {c: [Corner(n, n) for n in nodes] for c, nodes in corner_nodes(graph).items()}
    if not places:
        return {}
    last = max(places)
    for c in range(last + 1, len(graph.courses)):
        if graph.courses[c]:
            places[c] = [_carried(graph, c, corner) for corner in places[last]]
            last = c
    return places


def _carried(graph: Graph, c: int, below: Corner) -> Corner:
    """The corner of a course over a corner of the course below."""
    row = [n for n in graph.courses[c] if not graph.nodes[n].loose]
    over = [n for n in row if (below.node if below.node >= 0 else below.after) in graph.nodes[n].parents]
    if below.node < 0 and over:
        return Corner(-1, over[-1])
    if len(over) % 2:
        return Corner(over[len(over) // 2], over[len(over) // 2])
    if over:
        return Corner(-1, over[len(over) // 2 - 1])
    before = [n for n in row if graph.nodes[n].parents and max(graph.nodes[n].parents) < below.after]
    return Corner(-1, before[-1] if before else row[-1])


def corner_groups(graph: Graph, c: int) -> list[tuple[list[int], tuple[int, ...]]]:
    """Groups in one place that turn a corner: stitches on both sides of a space, or an odd fan of three or more."""
    row = graph.courses[c]
    round_spaces: list[tuple[list[int], tuple[int, ...]]] = []
    fans: list[tuple[list[int], tuple[int, ...]]] = []
    merged: list[tuple[list[int], tuple[int, ...]]] = []
    for nodes, parents in families(graph, c):
        if merged and merged[-1][1] == parents:
            merged[-1][0].extend(nodes)
        else:
            merged.append((list(nodes), parents))
    if len(merged) > 1 and merged[0][1] == merged[-1][1]:  # the round starts in the middle of a group
        last = merged.pop()
        merged[0] = (last[0] + merged[0][0], merged[0][1])
    for nodes, parents in merged:
        inner = _between(graph, row, nodes)
        spaces = [n for n in inner if graph.nodes[n].sort is Sort.SPACE]
        fan = not spaces and len(nodes) >= 3 and len(nodes) % 2 and graph.nodes[nodes[0]].into is Into.STITCH
        if len(spaces) == 1 or fan:
            (round_spaces if spaces else fans).append((inner, parents))
    return round_spaces or fans


def _between(graph: Graph, row: list[int], nodes: list[int]) -> list[int]:
    """The stretch of the course from the first of the nodes to the last, spaces in between included."""
    i, j = row.index(nodes[0]), row.index(nodes[-1])
    return row[i : j + 1] if i <= j else row[i:] + row[: j + 1]


def _middle(graph: Graph, inner: list[int]) -> int:
    spaces = [n for n in inner if graph.nodes[n].sort is Sort.SPACE]
    return spaces[0] if spaces else inner[len(inner) // 2]


def along_sides(layout: Layout, frame: Polygon) -> NDArray[np.float64]:
    """Labels z of all nodes: every side is a row of its own between two pinned corners."""
    graph, places = layout.graph, corner_places(layout.graph)
    side = _sides(layout, places)
    equations = Equations(len(graph.nodes))
    pinned = {corner.node for corners in places.values() for corner in corners}
    for c in layout.shown:
        row = [n for n in graph.plain(c) if graph.nodes[n].width > 0]
        half = frame.half(layout.level[c])
        scale = frame.girth(layout.level[c]) / max(natural_width(graph, c, 0.0), 1e-6)
        layout.scale[c] = scale
        for a, b in zip(row, row[1:] + row[:1], strict=True):
            value = gap_between(graph.nodes[a], graph.nodes[b]) * scale * layout.direction[c]
            terms = [(n, sign) for n, sign in ((b, 1.0), (a, -1.0)) if n not in pinned]
            value -= (half if b in pinned else 0.0) + (half if a in pinned else 0.0)
            if len(terms) == 2 and side[a] != side[b]:
                value -= 2 * half  # no stitch marks this corner: the two stand on either side of it
            soft = 0.45 if Sort.SPACE in (graph.nodes[a].sort, graph.nodes[b].sort) else 1.0
            if terms:
                equations.add(terms, value, soft)
        _stand_on_sides(layout, equations, c, side, pinned)
    for a, b in graph.beside():
        equations.add([(a, 1.0), (b, -1.0)], -ASIDE * layout.direction[graph.nodes[a].course])
    z = equations.solve()
    for c, corners in places.items():
        for corner in corners:
            if corner.node >= 0:
                z[corner.node] = frame.half(layout.level[c])
    for arch, closer in graph.closers.items():
        z[closer], side[closer] = z[arch], side[arch]
    return np.asarray([z[n] + side[n] * frame.STRIDE for n in range(len(graph.nodes))])


def _sides(layout: Layout, places: dict[int, list[Corner]]) -> list[int]:
    """Which side every node is on; corner i closes side i."""
    graph = layout.graph
    side = [0] * len(graph.nodes)
    for c in layout.shown:
        ends = {corner.after: i for i, corner in enumerate(places.get(c, ()))}
        if not ends:
            continue
        current = next(ends[n] for n in graph.courses[c] if n in ends)
        for n in graph.courses[c]:
            side[n] = current
            if n in ends:
                side[n] = ends[n]
                current = (ends[n] + 1) % len(ends)
    return side


def _stand_on_sides(layout: Layout, equations: Equations, c: int, side: list[int], pinned: set[int]) -> None:
    graph = layout.graph
    for children, parents in families(graph, c):
        inner = [n for n in children if n not in pinned]
        if not inner or any(p in pinned for p in parents) or len({side[n] for n in (*inner, *parents)}) != 1:
            continue
        terms = [(n, 1.0 / len(inner)) for n in inner] + [(p, -1.0 / len(parents)) for p in parents]
        equations.add(terms, 0.0, 1.3 * math.sqrt(len(inner)))

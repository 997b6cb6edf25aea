"""Motifs with corners: finding them, and placing their stitches along straight sides."""

import math

import numpy as np
from numpy.typing import NDArray

from generator.charts.equations import Equations
from generator.charts.frames import Polygon
from generator.charts.layout import Layout
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
    """Corner nodes by course, in working order; empty when the work has no corners.

    A corner is the middle of a group worked into a corner below. The last course that has such groups sets the
    number; every course below must have as many, or hold what they are worked into.
    """
    found: dict[int, list[int]] = {}
    want: list[int] | None = None
    strong = False
    for c in range(len(graph.courses) - 1, -1, -1):
        if not graph.courses[c]:
            continue
        middles = {_middle(graph, nodes): parents for nodes, parents in corner_groups(graph, c)}
        if want is None:
            if FEWEST <= len(middles) <= MOST:
                found[c] = list(middles)
                strong = any(graph.nodes[m].sort is Sort.SPACE for m in middles)
                want = [p[len(p) // 2] for p in middles.values()]
            continue
        here = set(graph.courses[c])
        if not all(w in here for w in want):
            return {}
        found[c] = sorted(want)
        below = [graph.nodes[w] for w in want]
        if any(m in middles for m in want):
            strong = True
        wanted = [middles.get(w, n.parents) for w, n in zip(want, below, strict=True)]
        if all(not p for p in wanted):
            break
        if any(not p for p in wanted):
            return {}
        want = [p[len(p) // 2] for p in wanted]
    return found if strong and found else {}


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
    graph, marks = layout.graph, corner_nodes(layout.graph)
    side = _sides(layout, marks)
    equations = Equations(len(graph.nodes))
    for c in layout.shown:
        row = graph.courses[c]
        half = frame.half(layout.level[c])
        scale = frame.girth(layout.level[c]) / max(natural_width(layout.graph, c, 0.0), 1e-6)
        corners = set(marks.get(c, ()))
        for a, b in zip(row, row[1:] + row[:1], strict=True):
            gap = (graph.nodes[a].width + graph.nodes[b].width) / 2 * scale
            terms, value = [], gap * layout.direction[c]
            for n, sign in ((b, 1.0), (a, -1.0)):
                if n in corners:
                    value -= sign * (half if n == b else -half)
                else:
                    terms.append((n, sign))
            if len(terms) == 2 and side[a] != side[b]:
                value -= 2 * half  # no stitch marks this corner: the two stand on either side of it
            soft = 0.45 if Sort.SPACE in (graph.nodes[a].sort, graph.nodes[b].sort) else 1.0
            if terms:
                equations.add(terms, value, soft)
        _stand_on_sides(layout, equations, c, side, marks)
    z = equations.solve()
    for c, nodes in marks.items():
        for n in nodes:
            z[n] = frame.half(layout.level[c])
    return np.asarray([z[n] + side[n] * frame.STRIDE for n in range(len(graph.nodes))])


def _sides(layout: Layout, marks: dict[int, list[int]]) -> list[int]:
    """Which side every node is on; a corner node closes its side. Sides of all courses are numbered alike."""
    graph = layout.graph
    side = [0] * len(graph.nodes)
    number: dict[int, int] = {}
    for c in layout.shown:
        corners = marks.get(c, [])
        ordered = [n for n in graph.courses[c] if n in corners]
        for i, n in enumerate(ordered):
            known = [number[p] for p in graph.nodes[n].parents if p in number]
            if not known:
                neighbours = [number[p] for m in _group_of(graph, n) for p in graph.nodes[m].parents if p in number]
                known = neighbours
            number[n] = known[0] if known else i
        current = number[ordered[0]] if ordered else 0
        count = max(len(ordered), 1)
        for n in graph.courses[c]:
            side[n] = current
            if n in corners:
                side[n] = number[n]
                current = (number[n] + 1) % count
    return side


def _group_of(graph: Graph, n: int) -> list[int]:
    row = graph.courses[graph.nodes[n].course]
    i = row.index(n)
    return [row[i - 1], row[(i + 1) % len(row)]]


def _stand_on_sides(layout: Layout, equations: Equations, c: int, side: list[int], marks: dict[int, list[int]]) -> None:
    graph = layout.graph
    below = layout.below(c)
    corners_below = set(marks.get(below, ())) if below is not None else set()
    here = set(marks.get(c, ()))
    for children, parents in families(graph, c):
        inner = [n for n in children if n not in here]
        if not inner or any(p in corners_below for p in parents) or len({side[n] for n in (*inner, *parents)}) != 1:
            continue
        terms = [(n, 1.0 / len(inner)) for n in inner] + [(p, -1.0 / len(parents)) for p in parents]
        equations.add(terms, 0.0, 1.3 * math.sqrt(len(inner)))

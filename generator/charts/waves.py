"""Flat work that does not lie level: ripples with their peaks and valleys, shawls that grow from the middle of a row.

Stitches stand square to the row they are part of. Where increases and decreases push a column sideways by `lean`
places a row, the row therefore runs downhill by lean / height, and it is drawn so: a ripple waves and a triangle
begun in the middle of its long side comes out with the angle that its counts give it. Plane geometry, no other source.
"""

import itertools
from collections import Counter
from dataclasses import dataclass

from generator.charts.layout import Layout
from generator.charts.nodes import Graph, Sort, families
from generator.fabric.model import Make

STEEPEST = 1.3
"""Rows are drawn no steeper than this (rise over run)."""
FELT = 0.25
"""A row waves when most of its stitches lean by more than this share of their height."""
PLAIN = 4
"""Where fewer than one stitch in so many is plain, the groups of a row tell whether it waves."""
ENOUGH = 0.4
"""Share of the rows that must wave before the work is drawn so: a single shaped row does not bend a scarf."""


@dataclass(frozen=True, slots=True)
class Lean:
    """How one place's stitches run: `slope` is rise over run to the right; `turns` where the row bends at them."""

    nodes: tuple[int, ...]
    slope: float
    turns: bool


def slopes_of(layout: Layout) -> dict[int, float]:
    """The slope (rise over run, to the right) of the row at every node; empty where the work lies level."""
    part, rows = layout.part, [c for c in layout.shown if layout.part.courses[c].make is Make.ROW]
    if not rows or any(part.courses[c].make not in (Make.ROW, Make.FOUNDATION) for c in layout.shown[1:]):
        return {}
    found: dict[int, float] = {}
    waving = 0
    for c in rows:
        leans = _leans(layout, c)
        if _waves(leans):
            waving += 1
            found |= _upright(_over_row(layout, c, leans))
    if not waving or waving < ENOUGH * len(rows):
        return {}
    return _inherited(layout, found)


def _waves(leans: list[Lean]) -> bool:
    """Whether most of a row's plain stitches lean; a row shaped at its ends lies level, and one of shells goes by them."""
    plain = [one for one in leans if not one.turns]
    if len(plain) * PLAIN < sum(len(one.nodes) for one in leans):
        plain = leans
    return sum(abs(one.slope) > FELT for one in plain) * 2 > len(plain)


def _places(layout: Layout, c: int) -> dict[int, float]:
    """Where the nodes of a course stand, counted in stitches to the right; a space counts as its chains."""
    found, at = dict[int, float](), 0.0
    for n in layout.graph.courses[c]:
        node = layout.graph.nodes[n]
        wide = 0.0 if node.loose else float(len(node.stitches)) if node.sort is Sort.SPACE else 1.0
        found[n] = layout.direction[c] * (at + wide / 2)
        at += wide
    return found


def _leans(layout: Layout, c: int) -> list[Lean]:
    """Every place of a course from left to right, how far its stitches lean against the row's mean."""
    below = layout.below(c)
    if below is None:
        return []
    here, under, graph = _places(layout, c), _places(layout, below), layout.graph
    groups = [(tuple(nodes), parents) for nodes, parents in families(graph, c) if set(parents) <= set(under)]
    groups.sort(key=lambda group: _mean(here, group[0]))
    leans = [_mean(here, nodes) - _mean(under, parents) for nodes, parents in groups]
    if len(leans) < 3:
        return []
    leans = _without_gauge(leans)
    sizes = [len(nodes) for nodes, _ in groups]
    middle = sum(lean * n for lean, n in zip(leans, sizes, strict=True)) / sum(sizes)
    found = []
    for (nodes, parents), lean in zip(groups, leans, strict=True):
        tall = max(max(graph.nodes[n].height for n in nodes), 0.8)
        slope = max(-STEEPEST, min(STEEPEST, (middle - lean) / tall))
        found.append(Lean(nodes, slope, len(nodes) > 1 or len(parents) > 1))
    return found


def _mean(places: dict[int, float], nodes: tuple[int, ...]) -> float:
    return sum(places[n] for n in nodes) / len(nodes)


def _without_gauge(leans: list[float]) -> list[float]:
    """Leans without what comes from a row that is wider all along than the one below, as arches of chains may be."""
    steps = Counter(round(b - a, 2) for a, b in itertools.pairwise(leans))
    usual, often = steps.most_common(1)[0]
    trend = usual if often > len(leans) / 2 else 0.0
    return [lean - trend * i for i, lean in enumerate(leans)]


def _over_row(layout: Layout, c: int, leans: list[Lean]) -> dict[int, float]:
    """Slopes of all nodes of a row: places that turn it pass over from the slope before them to the one after."""
    found: dict[int, float] = {}
    plain = [i for i, one in enumerate(leans) if not one.turns]
    for i, one in enumerate(leans):
        if not one.turns:
            found |= dict.fromkeys(one.nodes, one.slope)
            continue
        before = next((leans[k].slope for k in reversed(plain) if k < i), None)
        after = next((leans[k].slope for k in plain if k > i), None)
        if before is None and after is None:
            found |= dict.fromkeys(one.nodes, one.slope)
            continue
        left = before if before is not None else after
        right = after if after is not None else before
        assert left is not None and right is not None
        nodes = one.nodes if layout.direction[c] > 0 else one.nodes[::-1]
        for k, n in enumerate(nodes):
            share = k / (len(nodes) - 1) if len(nodes) > 1 else 0.5
            found[n] = left + (right - left) * share
    return found


def _upright(slopes: dict[int, float]) -> dict[int, float]:
    """Slopes of a row from left to right, turned so that its first and last peak lie level.

    Where the row bends less than twice, that is the line from end to end.
    """
    heights = list(itertools.accumulate(slopes.values()))
    bends = [i for i in range(1, len(heights) - 1) if heights[i - 1] < heights[i] >= heights[i + 1]]
    ends = (bends[0], bends[-1]) if len(bends) > 1 else (0, len(heights) - 1)
    tilt = (heights[ends[1]] - heights[ends[0]]) / (ends[1] - ends[0])
    return {n: slope - tilt for n, slope in slopes.items()}


def _inherited(layout: Layout, found: dict[int, float]) -> dict[int, float]:
    """Rows that only go along wave with those above them, then with those below; what is left between neighbours."""
    graph = layout.graph
    children: dict[int, list[int]] = {}
    for node in graph.nodes:
        for p in node.parents:
            children.setdefault(p, []).append(node.index)
    for c in reversed(layout.shown):
        _take(found, graph, c, children)
    parents = {node.index: list(node.parents) for node in graph.nodes}
    for c in layout.shown:
        _take(found, graph, c, parents)
    return found


def _take(found: dict[int, float], graph: Graph, c: int, kin: dict[int, list[int]]) -> None:
    row = graph.courses[c]
    if sum(n in found for n in row) * 2 > len(row):
        _fill(found, row)
        return
    taken = {}
    for n in row:
        known = [found[k] for k in kin.get(n, ()) if k in found]
        if n not in found and known:
            taken[n] = sum(known) / len(known)
    found |= taken
    if any(n in found for n in row):
        _fill(found, row)


def _fill(found: dict[int, float], row: list[int]) -> None:
    """Nodes of which nothing is known run on as their neighbours do."""
    known = [i for i, n in enumerate(row) if n in found]
    for i, n in enumerate(row):
        if n not in found:
            before = max((k for k in known if k < i), default=None)
            after = min((k for k in known if k > i), default=None)
            ends = [found[row[k]] for k in (before, after) if k is not None]
            found[n] = sum(ends) / len(ends)

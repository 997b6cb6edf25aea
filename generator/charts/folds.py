"""Runs of like rounds, told in a line instead of drawn: what keeps tubes and balls legible."""

from dataclasses import dataclass

from generator.charts.nodes import Graph, Sort
from generator.fabric.model import Into, Make, Part, Role

LEAST = 3
"""Rounds hidden at least; fewer are drawn."""


@dataclass(frozen=True, slots=True)
class Fold:
    """Courses `first` to `last` (indices, both hidden), all worked like `shown`, the drawn course below them."""

    shown: int
    first: int
    last: int


def find_folds(graph: Graph, part: Part) -> tuple[Fold, ...]:
    """All folds of a part, in order."""
    found: list[Fold] = []
    start = 0
    for c in range(1, len(part.courses) + 1):
        if c < len(part.courses) and _repeats(graph, part, c):
            continue
        if c - 1 - start >= LEAST:
            found.append(Fold(start, start + 1, c - 1))
        start = c
    return tuple(found)


def _repeats(graph: Graph, part: Part, c: int) -> bool:
    """Whether a round only repeats the one below it, stitch on stitch, in the same yarn."""
    course, below = part.courses[c], part.courses[c - 1]
    if course.make not in (Make.SPIRAL, Make.JOINED) or course.forward != below.forward:
        return False
    if course.extra or below.extra or course.shift or course.cut:
        return False
    here = [graph.nodes[n] for n in graph.courses[c]]
    there = [graph.nodes[n] for n in graph.courses[c - 1]]
    if [(n.kind, n.sort, n.yarn, n.loop) for n in here] != [(n.kind, n.sort, n.yarn, n.loop) for n in there]:
        return False
    if any(h.course in (c, c - 1) and h.sort in ("picot", "travel") for h in graph.hangers):
        return False
    upright = [n for n in here if not n.loose]
    if len({n.kind for n in upright if n.sort is not Sort.COLUMN}) != 1:
        return False
    return all(_plain(graph, c, n.index) for n in upright) and all(
        _plain(graph, c - 1, n.index) for n in there if not n.loose
    )


def _plain(graph: Graph, c: int, n: int) -> bool:
    node = graph.nodes[n]
    if node.sort is Sort.COLUMN:
        return True
    alone = len(node.parents) == 1 and node.sharers == 1 and node.into is Into.STITCH
    return (
        node.sort is Sort.STITCH and node.role is Role.STITCH and alone and graph.nodes[node.parents[0]].course == c - 1
    )


def fold(graph: Graph, folds: tuple[Fold, ...]) -> None:
    """Lets the stitches above a fold stand on the drawn course below it."""
    stand: dict[int, int] = {}
    for one in folds:
        for c in range(one.first, one.last + 1):
            for n in graph.courses[c]:
                node = graph.nodes[n]
                under = node.parents[0] if node.parents else n
                stand[n] = stand.get(under, under)
    for node in graph.nodes:
        node.parents = tuple(dict.fromkeys(stand.get(p, p) for p in node.parents))

"""Ovals: rounds that go along both sides of a foundation chain."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from typing import TYPE_CHECKING

from generator.charts.equations import Equations
from generator.charts.frames import Stadium
from generator.charts.nodes import Graph, Node, Sort, families
from generator.fabric.model import Into, Make, Part, Role, Stitch

if TYPE_CHECKING:
    from generator.charts.layout import Layout

WEIGHT = 1.5


def oval_frame(graph: Graph, part: Part) -> Stadium | None:
    """The frame of an oval, when the first round goes along both sides of an open foundation chain."""
    joined = any(h.sort == "join" and h.course == 0 for h in graph.hangers)
    if part.courses[0].make is not Make.FOUNDATION or joined:
        return None
    worked = _worked(graph)
    visits = [p for n in first_round(graph) for p in n.parents]
    sides = sum(1 for a, b in itertools.pairwise(visits) if a != b)
    if len(worked) < 3 or sides < 1.5 * (len(worked) - 1):
        return None
    return Stadium(float(len(worked) - 1), 4.0)


def first_round(graph: Graph) -> list[Node]:
    """The stitches of the first round above the foundation."""
    row = next((row for row in graph.courses[1:] if row), [])
    return [graph.nodes[n] for n in row]


def _worked(graph: Graph) -> list[int]:
    """Chains of the foundation that are worked into, in the order they were made."""
    return sorted({p for n in first_round(graph) for p in n.parents})


def stand_on_chain(layout: Layout, frame: Stadium, equations: Equations) -> None:
    """Puts the chains on the segment and the first round over them: back along one side, round the end, and home."""
    worked = _worked(layout.graph)
    place = {n: i for i, n in enumerate(worked)}
    last = len(worked) - 1
    for n in layout.graph.courses[0]:  # chains nearer the hook than the first stitch stand at its side
        equations.add([(n, 1.0)], float(last - place[n]) if n in place else -0.8, 1000.0)
    families = _by_parent(first_round(layout.graph))
    home = [members for members in families if place[members[0].parents[0]] == last]
    turned = False
    for members in families:
        i = place[members[0].parents[0]]
        if i == last:
            continue
        turned = turned or i == 0
        target = frame.length + frame.cap / 2 if i == 0 else frame.length + frame.cap + i if turned else float(last - i)
        equations.add([(n.index, 1.0 / len(members)) for n in members], target, WEIGHT * len(members) ** 0.5)
    _round_the_near_end(frame, equations, home)


def _round_the_near_end(frame: Stadium, equations: Equations, home: list[list[Node]]) -> None:
    """Stitches in the chain at which the round begins and ends spread round it together."""
    if not home:
        return
    begun, done = home[0], [n for members in home[1:] for n in members]
    k = len(begun) + len(done)
    terms = [(n.index, 1.0 / k) for n in (*begun, *done)]
    middle = -frame.cap / 2 if done else -frame.cap / 2 * (1 - 1 / k)
    equations.add(terms, middle + frame.period() * len(done) / k, WEIGHT * k**0.5)


def upright(graph: Graph) -> set[int]:
    """Nodes that stand on a straight side of an oval, one on one above its chains."""
    worked = _worked(graph)
    found = set(worked[1:-1])
    for c in range(1, len(graph.courses)):
        alone = [(nodes[0], parents) for nodes, parents in families(graph, c) if len(nodes) == 1]
        found |= {n for n, parents in alone if found.issuperset(parents)}
    return found


def _by_parent(nodes: list[Node]) -> list[list[Node]]:
    found: list[list[Node]] = []
    for node in nodes:
        if node.parents and found and found[-1][0].parents == node.parents:
            found[-1].append(node)
        elif node.parents:
            found.append([node])
    return found


def fold_into_ring(graph: Graph, part: Part) -> bool:
    """A round worked whole into one chain (`6 sc in 2nd ch from hook`) starts from a ring: the chain becomes one."""
    if part.courses[0].make is not Make.FOUNDATION or not graph.courses[0]:
        return False
    nodes = [n for n in first_round(graph) if n.parents]
    if len(nodes) < 3 or len({n.parents for n in nodes}) != 1 or len(nodes[0].parents) != 1:
        return False
    for node in nodes:
        node.parents, node.into, node.sharers = (), Into.RING, 1
    return True


def one_chain_for_all(part: Part, stitches: Sequence[Stitch]) -> int:
    """The chain into which a whole first round is worked (`11 dc in 4th ch from hook`); -1 when there is none."""
    if not part.courses or part.courses[0].make is Make.FOUNDATION:
        return -1
    first = stitches[: part.courses[0].size]
    stood_on = {s.parents for s in first if s.role is Role.STITCH and s.kind != "ch"}
    chains = {s.number for s in first if s.kind == "ch"}
    if len(stood_on) != 1 or len(first) < 4:
        return -1
    place = stood_on.pop()
    if not set(place) <= chains:
        return -1
    run = next((i for i, s in enumerate(first) if s.kind != "ch"), 0)
    if first[run].role is Role.JOIN:  # `ch 6, sl st to join`: the chains closed are the ring
        return first[run - 1].number
    return place[0] if len(place) == 1 else -1


def turning_chain_of_foundation(graph: Graph, part: Part) -> None:
    """The chains nearest the hook that the first course passes over (`2nd ch from hook`) stand up as its first stitch."""
    if len(graph.courses) < 2 or part.courses[0].make is not Make.FOUNDATION:
        return
    row, used = graph.courses[0], {p for n in graph.courses[1] for p in graph.nodes[n].parents}
    passed = []
    while row and row[-1] not in used and graph.nodes[row[-1]].sort is Sort.CHAIN:
        passed.append(row.pop())
    if not passed or not used:
        row.extend(reversed(passed))
        return
    passed.reverse()
    column = graph.nodes[passed[0]]
    column.stitches = tuple(s for n in passed for s in graph.nodes[n].stitches)
    column.sort, column.course, column.height = Sort.COLUMN, 1, float(len(passed))
    worked = any(set(node.parents) & set(passed) for node in graph.nodes)
    column.loose, column.width, column.parents = not worked, 1.0 if worked else 0.6, ()
    for s in column.stitches:
        graph.of[s] = column.index
    for node in graph.nodes:
        node.parents = tuple(dict.fromkeys(column.index if p in passed else p for p in node.parents))
    graph.courses[1].insert(0, column.index)

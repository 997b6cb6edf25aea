"""Points, leaves and tentacles: chains that stand out from the work, with stitches worked back along them.

A point is one node on its course, its root. What it is made of rides on it: the chains outward from the root one
after the other, the stitches beside them on the side towards which the work goes on, each over its own chain.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from generator.charts.equations import Equations
from generator.charts.nodes import CHAIN, Graph, Node, Sort, rise
from generator.fabric.model import Role, Stitch

if TYPE_CHECKING:
    from generator.charts.layout import Layout

ROOT = 0.3
"""From the edge to the first chain."""
BESIDE = 0.2
"""From the middle of a chain to the foot of a stitch on it."""
AIR = 0.5
"""Room a point takes beyond its chain and its tallest stitch."""
OPENS = 0.4
"""How much more room there is beside a point for every unit further out."""
SNUG = 0.82
"""Room of a stitch along the chains, where several stand on one."""


def end_of_point(stitches: Sequence[Stitch], i: int) -> int:
    """End of the point that begins with the chain at i: chains, then stitches into them one by one; i for none."""
    end = i
    while end < len(stitches) and stitches[end].kind == "ch" and stitches[end].role is Role.STITCH:
        end += 1
    chains = {s.number for s in stitches[i:end]}
    if not chains:
        return i
    back = end
    while back < len(stitches) and stitches[back].kind != "ch" and len(stitches[back].parents) == 1 \
            and stitches[back].parents[0] in chains:  # fmt: skip
        back += 1
    worked = [s for s in stitches[end:back] if s.role is not Role.JOIN]
    return back if len({s.parents for s in worked}) > 1 else i


def picot_at(stitches: Sequence[Stitch], i: int) -> tuple[int, int] | None:
    """Begin and end of a picot told in full (`ch 3, sl st in 3rd ch from hook`) at the end of the chains from i on."""
    end = i
    while end < len(stitches) and stitches[end].kind == "ch" and stitches[end].role is Role.STITCH:
        end += 1
    if not i < end < len(stitches) or stitches[end].role is not Role.PICOT:
        return None
    begun = next((k for k in range(i, end) if stitches[end].parents == (stitches[k].number,)), None)
    return None if begun is None else (begun, end + 1)


def riders(some: Sequence[Stitch], index: int, course: int, own: int) -> list[Node]:
    """The nodes that ride on a point, numbered from `index`: its chains, then the stitches over them."""
    found: list[Node] = []
    place: dict[int, int] = {}
    for k, s in enumerate(some):
        chain = s.kind == "ch"
        node = Node(index + k, course, (s.number,), Sort.CHAIN if chain else Sort.STITCH, s.kind, 0.0,
                    0.0 if chain else rise(s.kind), into=s.into, loop=s.loop, yarn=s.yarn, own=own)  # fmt: skip
        node.parents = () if chain else (place[s.parents[0]],)
        place[s.number] = node.index
        found.append(node)
    for node in found:
        node.sharers = max(sum(other.parents == node.parents for other in found), 1) if node.parents else 1
    return found


def _step(nodes: Sequence[Node]) -> float:
    """Distance of the chains: wide enough for the stitches that stand on one."""
    return max(CHAIN, SNUG * max(node.sharers for node in nodes))


def room_of_point(nodes: Sequence[Node]) -> float:
    """How much of its course a point takes at its root; further out there is more room."""
    step = _step(nodes)
    chains = {node.index: k for k, node in enumerate(n for n in nodes if n.sort is Sort.CHAIN)}
    return AIR + BESIDE + max(n.height - OPENS * step * chains[n.parents[0]] for n in nodes if n.parents)


def reach_of_point(nodes: Sequence[Node]) -> float:
    """How far a point stands out."""
    return ROOT + _step(nodes) * sum(node.sort is Sort.CHAIN for node in nodes)


def _seats(graph: Graph, root: int) -> Iterator[tuple[int, float, float]]:
    """(node, distance out from the root, distance towards the next stitch) for all that rides on a point."""
    nodes = [graph.nodes[n] for n in graph.points[root]]
    step, half = _step(nodes), max(node.height for node in nodes) / 2
    out = {node.index: ROOT + step * (k + 0.5) for k, node in enumerate(n for n in nodes if n.sort is Sort.CHAIN)}
    met: dict[int, int] = {}
    for node in nodes:
        if node.sort is Sort.CHAIN:
            yield node.index, out[node.index], -half
            continue
        p = node.parents[0]
        place = met.get(p, 0)
        met[p] = place + 1
        along = ((node.sharers - 1) / 2 - place) * step / node.sharers  # worked from the tip home
        yield node.index, out[p] + along, BESIDE + node.height - half


def seat_along(layout: Layout, equations: Equations) -> None:
    """Labels z of everything that rides on points."""
    for root in layout.graph.points:
        turn, z, r = layout.direction[layout.graph.nodes[root].course], float(layout.z[root]), float(layout.r[root])
        for n, out, aside in _seats(layout.graph, root):
            equations.add([(n, 1.0), (root, -1.0)], turn * aside / layout.frame.stretch(z, r + out), 10.0)


def seat_across(layout: Layout, equations: Equations) -> None:
    """Distances r of everything that rides on points."""
    for root in layout.graph.points:
        for n, out, _ in _seats(layout.graph, root):
            equations.add([(n, 1.0), (root, -1.0)], out, 10.0)

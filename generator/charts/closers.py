"""Rounds that close with a stitch (`ch 2, dc in first sc`): chains and stitch together are the last arch of the round.

The arch is one node, as any space is. The stitch is a node that rides on it: its head is the top of the arch, where
the hook then is and the next round begins; its foot is where the arch ends.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from generator.charts.equations import Equations
from generator.charts.nodes import Graph, Node, Sort, arch_room, rise
from generator.fabric.model import Make, Role, Stitch

if TYPE_CHECKING:
    from generator.charts.layout import Layout


def closing_stitch(graph: Graph, stitches: Sequence[Stitch], make: Make) -> int:
    """Number of the stitch that closes a round's last arch; -1 for none.

    It stands on a stitch of its own round, or on the one that closed the round below.
    """
    last = next((i for i in range(len(stitches) - 1, 0, -1) if stitches[i].kind != "sl-st"), 0)
    one = stitches[last] if last else None
    if one is None or make is not Make.JOINED or one.kind == "ch" or stitches[last - 1].kind != "ch":
        return -1
    own = {s.number for s in stitches[:last] if s.role is not Role.JOIN}
    home = len(one.parents) == 1 and (
        one.parents[0] in own or graph.of.get(one.parents[0], -1) in graph.closers.values()
    )
    return one.number if home else -1


def close_arch(graph: Graph, one: Stitch, own: int) -> None:
    """Lets the stitch ride on the arch before it, which grows by its length."""
    arch = graph.nodes[graph.courses[own][-1]]
    node = Node(len(graph.nodes), arch.course, (one.number,), Sort.STITCH, one.kind, 0.0, rise(one.kind),
                into=one.into, loop=one.loop, yarn=one.yarn, role=one.role, own=own)  # fmt: skip
    node.parents = (graph.of[one.parents[0]],)
    graph.nodes.append(node)
    graph.of[one.number] = node.index
    graph.closers[arch.index] = node.index
    arch.width = arch_room(chains_of(graph, arch))


def chains_of(graph: Graph, arch: Node) -> int:
    """Length of an arch in chains, the stitch that closes it included."""
    closer = graph.closers.get(arch.index, -1)
    return len(arch.stitches) + (round(graph.nodes[closer].height) if closer >= 0 else 0)


def ride_on_arches(layout: Layout, equations: Equations) -> None:
    """The head of a closing stitch is the top of its arch, along the round as well as across it."""
    for arch, closer in layout.graph.closers.items():
        equations.add([(closer, 1.0), (arch, -1.0)], 0.0, 10.0)

"""Shells that begin with chains: `sc in ch-2 loop, ch 2, 3 dc in same loop`.

Such chains are no arch: they stand up on the place itself, beside the tall stitches that follow, and the next row works
into their top.
"""

from collections.abc import Sequence

from generator.charts.nodes import FAN, FAN_ROOM, HALF_FAN, LOW, LOW_FAN_ROOM, Graph, Node, Sort, rise
from generator.fabric.model import Into, Role, Stitch

NEAR = 1.25
"""Chains this much longer or shorter than the stitch beside them stand up with it."""

LEANS = 0.45
"""How far to the side such a shell stands, so that the low stitch before its chains is nearer to their common place."""
UNDER = 0.3
"""Room of a cross that shares its place with a fan of tall stitches: it stands under the fan's outer stitch."""


def stands_with(stitches: Sequence[Stitch], i: int, chains: int) -> Stitch | None:
    """The tall stitch of a shell beside which the chains at i stand; None where they are an arch.

    Chains that begin a shell come after a low stitch and before a tall one, both in one place; chains that end it, as
    those of a petal do, come down again to a low one.
    """
    if i == 0 or i + chains >= len(stitches):
        return None
    before, after, own = stitches[i - 1], stitches[i + chains], stitches[i]
    if own.role is not Role.STITCH or before.course != own.course or after.course != own.course:
        return None
    if "ch" in (before.kind, after.kind) or Role.PICOT in (before.role, after.role):
        return None
    if not set(before.parents) & set(after.parents):
        return None
    low, tall = sorted((before, after), key=lambda s: rise(s.kind))
    upright = rise(low.kind) + 0.5 < rise(tall.kind) and abs(chains - rise(tall.kind)) <= NEAR
    return tall if upright else None


def share_places(graph: Graph) -> None:
    """How many nodes stand on the same single place, and the room they take: they are drawn with touching feet."""
    same: dict[tuple[int, tuple[int, ...]], list[Node]] = {}
    for node in graph.nodes:
        if node.parents and not node.loose:
            same.setdefault((node.course, node.parents), []).append(node)
    fans = {course for (course, _), nodes in same.items() if len(nodes) >= FAN}
    for (course, _), nodes in same.items():
        begun, low = any(is_upright(node) for node in nodes), max(node.height for node in nodes) <= LOW
        for node in nodes:
            node.sharers = len(nodes)
            node.under = node.height <= LOW and (begun or (low and node.into is Into.SPACE))
            if len(nodes) >= (FAN if course not in fans else HALF_FAN):
                node.fan = True
                node.width *= _share_of_room(node, begun)


def is_upright(node: Node) -> bool:
    """Whether a node is chains that stand up as one stitch of a shell."""
    return node.sort is Sort.COLUMN and node.role is Role.STITCH


def leans(nodes: Sequence[Node]) -> bool:
    """Whether a shell begins with chains and does not end with some: it leans the way it is worked."""
    upright = [i for i, node in enumerate(nodes) if is_upright(node)]
    return bool(upright) and upright[-1] <= 1


def _share_of_room(node: Node, begun: bool) -> float:
    """How close one of a fan stands to its neighbours, as a share of its room alone; the ovals of a chain need it all."""
    if is_upright(node):
        return 1.0
    if node.height > LOW:
        return FAN_ROOM
    return UNDER if begun else LOW_FAN_ROOM

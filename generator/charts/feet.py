"""Where stitches stand: on a head, in a space, between two stitches, round a stem, on a ring or a folded band."""

import math

from generator.charts.frames import Point, Polygon
from generator.charts.layout import RING
from generator.charts.nodes import CHAIN, Node, Sort
from generator.charts.spaces import Spaces
from generator.fabric.model import Into, Make, Role
from generator.notation.tree import Loop


def is_post(node: Node) -> bool:
    """Whether a stitch goes round the stem of another."""
    return node.loop in (Loop.FRONT_POST, Loop.BACK_POST) or node.kind.startswith(("fp", "bp"))


class Feet(Spaces):
    """Places for the legs of every stitch of a layout."""

    def feet(self, node: Node) -> tuple[Point, ...]:
        """Where a stitch's legs stand; above a folded run, on the band that stands for it."""
        lift = self.layout.lift.get(node.course, 0.0)
        if not lift or node.role is Role.EXTRA:
            return self._feet(node)
        raised = []
        low = [self.layout.head(p) for p in node.parents] if is_post(node) and node.parents else self._feet(node)
        for x, y in low:
            hx, hy = self.layout.head(node.index)
            far = math.hypot(hx - x, hy - y) or 1.0
            share = min(lift / far, 0.75)
            raised.append((x + (hx - x) * share, y + (hy - y) * share))
        return tuple(raised)

    def _feet(self, node: Node) -> tuple[Point, ...]:
        lay, graph = self.layout, self.layout.graph
        z = float(lay.z[node.index])
        if not lay.frame.closed and node.course == lay.shown[0] and self._in_ring(node):
            return (self._on_ring(node),)
        if not node.parents:
            first = node.course == lay.shown[0]
            if node.into is Into.RING and isinstance(lay.frame, Polygon):  # a ring is round, whatever grows from it
                hx, hy = lay.head(node.index)
                far = math.hypot(hx, hy) or 1.0
                return ((hx / far * lay.hub, hy / far * lay.hub),)
            r = lay.hub if node.into is Into.RING or first else float(lay.r[node.index]) - node.height
            return (lay.frame.spot(z, r),)
        if node.into is Into.SPACE or (len(node.parents) == 1 and graph.nodes[node.parents[0]].sort is Sort.SPACE):
            return tuple(self._in_space(node, p) for p in node.parents[:1])
        if node.into is Into.GAP:
            return (self._in_gap(node),)
        feet = tuple(self._on_top(node, p) for p in node.parents)
        if not lay.frame.closed and self._came_round(node, feet):
            return (lay.frame.spot(z, float(lay.r[node.index]) - max(node.height, 0.4)),)
        return feet

    def ring_under_row(self) -> tuple[Point, float]:
        """Middle and radius of the ring into which a first row, or a round unrolled, is worked."""
        row = self.layout.graph.courses[self.layout.shown[0]]
        chains = [s for h in self.layout.graph.hangers if h.sort == "ring" for s in h.stitches]
        radius = max(sum(self.layout.graph.stitches[s].kind == "ch" for s in chains) * CHAIN / (2 * math.pi), RING)
        return (sum(float(self.layout.z[n]) for n in row) / len(row), radius + 0.3), radius

    def _in_ring(self, node: Node) -> bool:
        """Whether a stitch of the first course goes into a ring, or is the beginning chain of one that does."""
        row = [self.layout.graph.nodes[n] for n in self.layout.graph.courses[node.course]]
        begun = node.sort is Sort.COLUMN and not node.parents and any(n.into is Into.RING for n in row)
        return begun or node.into is Into.RING

    def _on_ring(self, node: Node) -> Point:
        """A foot on the rim of the ring under a row, towards the stitch's head."""
        (x, y), radius = self.ring_under_row()
        if self.layout.part.courses[node.course].make is not Make.ROW and not self.layout.slope:
            return self.layout.frame.spot(float(self.layout.z[node.index]), self.layout.hub)
        hx, hy = self.layout.head(node.index)
        far = math.hypot(hx - x, hy - y) or 1.0
        return (x + (hx - x) / far * (radius + 0.3), y + (hy - y) / far * (radius + 0.3))

    def _came_round(self, node: Node, feet: tuple[Point, ...]) -> bool:
        """Whether, in a round unrolled, a stitch stands on the far end of the round below."""
        if self.layout.part.courses[node.course].make not in (Make.SPIRAL, Make.JOINED):
            return False
        reach = 0.5 * len(self.layout.graph.courses[node.course])
        return any(abs(x - self.layout.head(node.index)[0]) > max(reach, 4.0) for x, _ in feet)

    def _in_gap(self, node: Node) -> Point:
        """Between two stitches, a little below their tops, side by side with others in the same gap."""
        lay = self.layout
        points = [lay.head(p) for p in node.parents]
        x, y = sum(p[0] for p in points) / len(points), sum(p[1] for p in points) / len(points)
        nx, ny = lay.outward(node.parents[0])
        row = lay.graph.courses[node.course]
        sharers = [n for n in row if lay.graph.nodes[n].parents == node.parents]
        aside = (sharers.index(node.index) - (len(sharers) - 1) / 2) * 0.26
        ox, oy = lay.onward(node.parents[0], node.course)
        return (x - nx * 0.15 + ox * aside, y - ny * 0.15 + oy * aside)

    def _on_top(self, node: Node, p: int) -> Point:
        lay, below = self.layout, self.layout.graph.nodes[p]
        x, y = lay.head(p)
        if below.sort is Sort.CHAIN:
            nx, ny = self._away(node, p)
            return (x + nx * 0.2, y + ny * 0.2)
        if is_post(node):
            fx, fy = self.feet(below)[0]
            return (x + (fx - x) * 0.3, y + (fy - y) * 0.3)
        return (x, y)

    def _away(self, node: Node, p: int) -> Point:
        """Direction in which a stitch leaves a chain: on a foundation worked on both sides it may be either."""
        x, y = self.layout.head(p)
        hx, hy = self.layout.head(node.index)
        far = math.hypot(hx - x, hy - y) or 1.0
        return ((hx - x) / far, (hy - y) / far)

    def _in_space(self, node: Node, p: int) -> Point:
        """In a chain space; a space that stands upright as a beginning does is stood on."""
        upright = self.layout.graph.nodes[p].sort is not Sort.SPACE
        return self._on_top(node, p) if upright else self.in_arch(node, p)

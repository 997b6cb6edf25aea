"""From places to symbols: stitches on their feet, chains strung along their arches, columns upright."""

import math
from dataclasses import replace

from generator.charts.feet import Feet, is_post
from generator.charts.frames import Point, Polygon
from generator.charts.layout import Layout
from generator.charts.marks import Sign
from generator.charts.nodes import CHAIN, LOW, Hanger, Node, Sort
from generator.charts.shells import is_upright
from generator.charts.symbols import CHAIN_OVAL, DOT, grain, picot, symbol
from generator.fabric.model import Into, Role

PICOT_ROOM = 0.5
"""Room of a picot between the chains of an arch, in chains."""
OFF_FOOT = 0.42
"""Chains that begin a shell stand this share of their height at most above the foot they have in common with its stitches."""


class Seats(Feet):
    """Signs of a layout, node by node."""

    def __init__(self, layout: Layout, sc_sign: str) -> None:
        super().__init__(layout)
        self.sc = sc_sign

    def signs(self, n: int) -> list[Sign]:
        """The symbols of one node."""
        node = self.layout.graph.nodes[n]
        if node.sort is Sort.STITCH:
            return [self._stitch(node)]
        if node.sort is Sort.SPACE:
            return self._chains(node)
        if node.sort is Sort.COLUMN:
            return self._column(node)
        if node.sort is Sort.POINT:
            return [self._riding(self.layout.graph.nodes[rider]) for rider in self.layout.graph.points[n]]
        (x, y), (nx, ny) = self.layout.head(n), self.layout.outward(n)
        return [self._chain(node, node.stitches[0], x, y, math.degrees(math.atan2(nx, -ny)))]

    def _riding(self, node: Node) -> Sign:
        """A chain of a point, lying outward, or a stitch worked back along it."""
        if node.sort is Sort.STITCH:
            return replace(self._stitch(node), role=Sort.POINT.value)
        (x, y), (nx, ny) = self.layout.head(node.index), self.layout.outward(node.index)
        sign = self._chain(node, node.stitches[0], x, y, math.degrees(math.atan2(nx, -ny)) + 90.0)
        return replace(sign, role=Sort.POINT.value)

    def _chain(self, node: Node, number: int, x: float, y: float, turn: float) -> Sign:
        return Sign(CHAIN_OVAL, x, y, turn, (number,), (), "ch", node.yarn, node.role.value)

    def _stitch(self, node: Node) -> Sign:
        head, feet = self.layout.head(node.index), self.feet(node)
        mx, my = sum(f[0] for f in feet) / len(feet), sum(f[1] for f in feet) / len(feet)
        turn = math.degrees(math.atan2(head[0] - mx, my - head[1]))
        local = []
        a = math.radians(-turn)
        for fx, fy in feet:
            dx, dy = fx - head[0], fy - head[1]
            local.append((grain(dx * math.cos(a) - dy * math.sin(a)), grain(dx * math.sin(a) + dy * math.cos(a))))
        touching = node.sharers > 1 and node.into is Into.STITCH
        shape = symbol(node.kind, tuple(local), touching, node.loop, self.sc)
        return Sign(shape, *head, turn, node.stitches, feet, node.kind, node.yarn, node.role.value, node.loop)

    def _chains(self, node: Node) -> list[Sign]:
        """Chains along their arch; where a stitch closes it, up to the top, where that stitch has its head."""
        arch, closer = self.arch(node.index), self.layout.graph.closers.get(node.index, -1)
        signs = []
        for number, t in zip(
            node.stitches,
            arch.along(self._seats_on(node)[0], 0.5 - 0.75 / max(arch.length, 1.0) if closer >= 0 else 1.0),
            strict=True,
        ):
            (x, y), turn = arch.at(t)
            signs.append(self._chain(node, number, x, y, turn))
        return [*signs, self._stitch(self.layout.graph.nodes[closer])] if closer >= 0 else signs

    def _seats_on(self, node: Node) -> tuple[list[float], dict[int, float]]:
        """Where along an arch its chains lie and its picots hang, as shares of its length; picots by first stitch."""
        mine = {h.stitches[0] for h in self.layout.graph.hangers if h.sort == "picot" and h.node == node.index}
        seats, gaps, at = list[float](), dict[int, float](), 0.0
        for number in sorted((*node.stitches, *mine)):
            room = PICOT_ROOM if number in mine else 1.0
            if number in mine:
                gaps[number] = at + room / 2
            else:
                seats.append(at + room / 2)
            at += room
        return [seat / at for seat in seats], {number: gap / at for number, gap in gaps.items()}

    def _column(self, node: Node) -> list[Sign]:
        """Chains one above the other, from the foot up to where the first stitch's head would be."""
        foot, top = self._beside(node) if node.loose else ((self.feet(node)[0]), self.layout.head(node.index))
        turn = math.degrees(math.atan2(top[0] - foot[0], foot[1] - top[1])) + 90.0
        n = len(node.stitches)
        low = min(OFF_FOOT, max(1 - 0.27 * n, 0.0)) if is_upright(node) else 0.0
        upward = node.stitches if not is_upright(node) or self._goes_up(node) else node.stitches[::-1]
        return [
            self._chain(node, number, foot[0] + (top[0] - foot[0]) * t, foot[1] + (top[1] - foot[1]) * t, turn)
            for number, t in ((s, low + (1 - low) * (i + (0.64 if n == 1 else 0.55)) / n) for i, s in enumerate(upward))
        ]

    def _goes_up(self, node: Node) -> bool:
        """Whether chains begin a shell; those that end one come down from its last head."""
        nodes, row = self.layout.graph.nodes, self.layout.graph.courses[node.course]
        after = row.index(node.index) + 1
        return after < len(row) and nodes[row[after]].parents == node.parents and nodes[row[after]].height > LOW

    def _beside(self, node: Node) -> tuple[Point, Point]:
        """Foot and top of a beginning chain that counts for nothing: close before the first stitch, as tall as it."""
        lay = self.layout
        row = lay.graph.courses[node.course]
        after = lay.graph.nodes[row[min(row.index(node.index) + 1, len(row) - 1)]]
        if after.sort is not Sort.STITCH:
            return self.feet(node)[0], lay.head(node.index)
        foot, top = self.feet(after)[0], lay.head(after.index)
        if after.height <= LOW and after.into is Into.SPACE and isinstance(lay.frame, Polygon):  # upright on its side
            (nx, ny), tall = lay.outward(after.index), math.dist(foot, top)
            foot = (top[0] - nx * tall, top[1] - ny * tall)
        if len(after.parents) == 1 and is_post(after):  # a post stitch begins lower than the chain beside it
            foot = lay.head(after.parents[0])
        ox, oy = lay.onward(after.index, node.course)
        before = lay.graph.plain(node.course)[-1]
        apart = math.dist(lay.head(before), lay.head(after.index)) if lay.frame.closed else math.inf
        back = min(0.62, max(0.5, apart / 2))  # half way between its neighbours where they stand close
        dx, dy = -back * ox, -back * oy
        longer = len(node.stitches) * 0.72 / max(math.dist(foot, top), 0.1)
        if lay.graph.nodes[before].sort is not Sort.SPACE:  # below an arch of chains it stays as short as it is
            longer = max(longer / 0.9, 1.0)
        top = (foot[0] + (top[0] - foot[0]) * longer, foot[1] + (top[1] - foot[1]) * longer)
        return (foot[0] + dx, foot[1] + dy), (top[0] + dx, top[1] + dy)

    def hanging(self, course: int) -> list[Sign]:
        """Joins, picots and travelling slip stitches of a course."""
        found = []
        mine = [h for h in self.layout.graph.hangers if h.course == course and h.sort != "ring" and h.node >= 0]
        for i, hanger in enumerate(mine):
            if hanger.sort == "picot":
                found += self._picot(hanger.node, hanger.stitches)
            else:
                behind = sum(1 for other in mine[i + 1 :] if (other.sort, other.node) == (hanger.sort, hanger.node))
                found.append(self._dot(hanger, behind))
        return found

    def _dot(self, hanger: Hanger, behind: int) -> Sign:
        """A slip stitch on the edge; several that travel to one place lie one behind the other."""
        lay, n = self.layout, hanger.node
        (x, y), (nx, ny) = lay.head(n), lay.outward(n)
        turn = math.degrees(math.atan2(nx, -ny))
        ox, oy = lay.onward(n, hanger.course)
        x, y = x + nx * 0.16 - ox * 0.5 * behind, y + ny * 0.16 - oy * 0.5 * behind
        return Sign(DOT, x, y, turn, hanger.stitches, (), "sl-st", "", hanger.sort)

    def _picot(self, n: int, numbers: tuple[int, ...]) -> list[Sign]:
        lay = self.layout
        node = lay.graph.nodes[n]
        (x, y), (nx, ny) = lay.head(n), lay.outward(n)
        if node.sort is Sort.SPACE:
            (x, y), (nx, ny) = self._between_chains(n, numbers[0])
        if node.sort is Sort.STITCH:
            fx, fy = self.feet(node)[0]
            far = math.hypot(x - fx, y - fy) or 1.0
            nx, ny = (x - fx) / far, (y - fy) / far
        chains = sum(1 for s in numbers if lay.graph.stitches[s].kind == "ch")
        turn = math.degrees(math.atan2(nx, -ny))
        return [
            Sign(
                picot(chains or 3),
                x + nx * 0.08,
                y + ny * 0.08,
                turn,
                numbers,
                (),
                "picot",
                node.yarn,
                Role.PICOT.value,
            )
        ]

    def _between_chains(self, n: int, number: int) -> tuple[Point, Point]:
        """Where on an arch a picot hangs, and the way outward there."""
        arch, node = self.arch(n), self.layout.graph.nodes[n]
        _, gaps = self._seats_on(node)
        spot, turn = arch.at(arch.along([gaps[number]])[0])
        nx, ny = math.sin(math.radians(turn)), -math.cos(math.radians(turn))
        ox, oy = self._out_of(n, arch)
        side = math.copysign(1.0, nx * ox + ny * oy)
        return spot, (nx * side, ny * side)

    def chain_ring(self) -> list[Sign]:
        """The ring of chains in the middle, with its closing dot."""
        lay = self.layout
        numbers = [s for h in lay.graph.hangers if h.sort == "ring" for s in h.stitches]
        chains = [s for s in numbers if lay.graph.stitches[s].kind == "ch"]
        radius = max(len(chains) * CHAIN / (2 * math.pi), 0.3)
        found = []
        for i, s in enumerate(chains):
            a = 2 * math.pi * i / len(chains) + math.pi / 2
            x, y = radius * math.cos(a), -radius * math.sin(a)
            found.append(Sign(CHAIN_OVAL, x, y, 90 - math.degrees(a), (s,), (), "ch"))
        a = math.pi / 2 - math.pi / max(len(chains), 1)
        closing = (s for s in numbers if s not in chains)
        found += [
            Sign(DOT, radius * math.cos(a), -radius * math.sin(a), 0.0, (s,), (), "sl-st", "", "join") for s in closing
        ]
        return found

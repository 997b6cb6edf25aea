"""From places to symbols: feet on what they stand on, chains strung along their arches, columns upright."""

import itertools
import math
from dataclasses import dataclass, replace

from generator.charts.across import sagitta
from generator.charts.frames import Point, Polygon
from generator.charts.layout import RING, Layout, ends_of_arch
from generator.charts.marks import Sign
from generator.charts.nodes import CHAIN, LOW, Hanger, Node, Sort
from generator.charts.symbols import CHAIN_OVAL, DOT, grain, picot, symbol
from generator.fabric.model import Into, Make, Role
from generator.notation.tree import Loop

LONG = 2.5
"""An arch drawn this much longer than its chains lets what stands on it spread."""


@dataclass(frozen=True, slots=True)
class Arch:
    """A chain space as a cubic curve from `start` to `end`, drawn towards its two handles."""

    start: Point
    one: Point
    two: Point
    end: Point
    length: float

    def at(self, t: float) -> tuple[Point, float]:
        """Place and direction (degrees) at t in 0..1."""
        u = 1 - t
        a, b, c, d = u * u * u, 3 * u * u * t, 3 * u * t * t, t * t * t
        x = a * self.start[0] + b * self.one[0] + c * self.two[0] + d * self.end[0]
        y = a * self.start[1] + b * self.one[1] + c * self.two[1] + d * self.end[1]
        a, b, c = u * u, 2 * u * t, t * t
        dx = a * (self.one[0] - self.start[0]) + b * (self.two[0] - self.one[0]) + c * (self.end[0] - self.two[0])
        dy = a * (self.one[1] - self.start[1]) + b * (self.two[1] - self.one[1]) + c * (self.end[1] - self.two[1])
        return (x, y), math.degrees(math.atan2(dy, dx))

    def bulge(self) -> Point:
        """From the middle between its ends to its top."""
        (x, y), _ = self.at(0.5)
        return (x - (self.start[0] + self.end[0]) / 2, y - (self.start[1] + self.end[1]) / 2)

    def spread(self, n: int) -> list[float]:
        """n values of t, evenly spaced along the curve's length, half a step in from either end."""
        steps = 32
        points = [self.at(i / steps)[0] for i in range(steps + 1)]
        lengths = [0.0]
        for p, q in itertools.pairwise(points):
            lengths.append(lengths[-1] + math.dist(p, q))
        found, k = [], 0
        for i in range(n):
            want = lengths[-1] * (i + 0.5) / n
            while lengths[k + 1] < want and k < steps - 1:
                k += 1
            part = (want - lengths[k]) / max(lengths[k + 1] - lengths[k], 1e-9)
            found.append((k + part) / steps)
        return found


def _arch_through(start: Point, top: Point, end: Point, full: bool) -> Arch:
    """The curve through the top: as a chain hangs, or with full flanks where it must clear what it passes over."""
    rise = (top[0] - (start[0] + end[0]) / 2, top[1] - (start[1] + end[1]) / 2)
    flank = (end[0] - start[0]) / 3, (end[1] - start[1]) / 3
    if full:
        flank = (0.0, 0.0)
    one = (start[0] + flank[0] + rise[0] * 4 / 3, start[1] + flank[1] + rise[1] * 4 / 3)
    two = (end[0] - flank[0] + rise[0] * 4 / 3, end[1] - flank[1] + rise[1] * 4 / 3)
    return Arch(start, one, two, end, 0.0)


def is_post(node: Node) -> bool:
    """Whether a stitch goes round the stem of another."""
    return node.loop in (Loop.FRONT_POST, Loop.BACK_POST) or node.kind.startswith(("fp", "bp"))


class Seats:
    """Signs of a layout, node by node."""

    def __init__(self, layout: Layout, sc_sign: str) -> None:
        self.layout, self.sc = layout, sc_sign
        self.arches: dict[int, Arch] = {}
        self._guests: dict[int, list[int]] = {}
        for node in layout.graph.nodes:
            if node.into is Into.SPACE and node.sort is Sort.STITCH:
                for p in node.parents:
                    self._guests.setdefault(p, []).append(node.index)

    def arch(self, n: int) -> Arch:
        """The curve of a chain space."""
        if n not in self.arches:
            lay = self.layout
            before, after = ends_of_arch(lay, n)
            start, end, top = self._anchor(before, after), self._anchor(after, before), lay.head(n)
            if isinstance(lay.frame, Polygon):
                top = self._cut_corner(n, start, end, top)
            whole = _arch_through(start, top, end, n in lay.crowned)
            points = [whole.at(i / 16)[0] for i in range(17)]
            length = sum(math.dist(p, q) for p, q in itertools.pairwise(points))
            self.arches[n] = replace(whole, length=length)
        return self.arches[n]

    def _cut_corner(self, n: int, start: Point, end: Point, corner: Point) -> Point:
        """Chains round a corner don't reach into its very tip."""
        middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
        far = math.dist(middle, corner)
        reach = max(sagitta(math.dist(start, end), len(self.layout.graph.nodes[n].stitches) * CHAIN), 0.42 * far)
        share = min(reach / far, 1.0) if far > 1e-6 else 0.0
        return (middle[0] + (corner[0] - middle[0]) * share, middle[1] + (corner[1] - middle[1]) * share)

    def _anchor(self, n: int, towards: int) -> Point:
        """Where an arch takes hold of a stitch: at the side of its top."""
        lay = self.layout
        x, y = lay.head(n)
        tx, ty = lay.head(towards)
        far = math.hypot(tx - x, ty - y) or 1.0
        wide = 0.36 if lay.graph.nodes[n].height > 1.2 else 0.22
        step = min(wide, far * 0.3)
        return (x + (tx - x) / far * step, y + (ty - y) / far * step)

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
        """Stitches in one space stand side by side along it, just outside its chains."""
        if self.layout.graph.nodes[p].sort is not Sort.SPACE:
            return self._on_top(node, p)
        guests = [g for g in self._guests.get(p, [node.index]) if self.layout.graph.nodes[g].course == node.course]
        guests = guests or [node.index]
        arch = self.arch(p)
        span = min(arch.length * 0.8, len(self.layout.graph.nodes[p].stitches) * CHAIN)
        widest = 0.42
        if (
            arch.length > LONG * span and self.layout.graph.nodes[guests[0]].height <= LOW
        ):  # crosses stand upright on an arch that is drawn long
            apart = math.dist(self.layout.head(guests[0]), self.layout.head(guests[-1])) / max(len(guests) - 1, 1)
            span, widest = max(span, min(apart * len(guests), arch.length * 0.9)), max(0.95, apart)
        step = min(widest, span / max(len(guests), 1))
        place = guests.index(node.index) if node.index in guests else 0
        if self.layout.direction[node.course] != self.layout.direction[self.layout.graph.nodes[p].course]:
            place = len(guests) - 1 - place
        t = 0.5 + (place - (len(guests) - 1) / 2) * step / max(arch.length, 0.5)
        (x, y), turn = arch.at(t)
        nx, ny = math.sin(math.radians(turn)), -math.cos(math.radians(turn))
        ox, oy = self._out_of(p, arch)
        side = 1.0 if nx * ox + ny * oy >= 0 else -1.0
        return (x + nx * side * 0.3, y + ny * side * 0.3)

    def _out_of(self, p: int, arch: Arch) -> Point:
        """The way a chain space bulges; round a corner that is neither side's own outward."""
        bulge = arch.bulge()
        return bulge if math.hypot(*bulge) > 0.15 else self.layout.outward(p)

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
        arch = self.arch(node.index)
        signs = []
        for number, t in zip(node.stitches, arch.spread(len(node.stitches)), strict=True):
            (x, y), turn = arch.at(t)
            signs.append(self._chain(node, number, x, y, turn))
        return signs

    def _column(self, node: Node) -> list[Sign]:
        """Chains one above the other, from the foot up to where the first stitch's head would be."""
        foot, top = self._beside(node) if node.loose else ((self.feet(node)[0]), self.layout.head(node.index))
        turn = math.degrees(math.atan2(top[0] - foot[0], foot[1] - top[1])) + 90.0
        n = len(node.stitches)
        return [
            self._chain(node, number, foot[0] + (top[0] - foot[0]) * t, foot[1] + (top[1] - foot[1]) * t, turn)
            for number, t in ((s, (i + (0.64 if n == 1 else 0.55)) / n) for i, s in enumerate(node.stitches))
        ]

    def _beside(self, node: Node) -> tuple[Point, Point]:
        """Foot and top of a beginning chain that counts for nothing: close before the first stitch, as tall as it."""
        lay = self.layout
        row = lay.graph.courses[node.course]
        after = lay.graph.nodes[row[min(row.index(node.index) + 1, len(row) - 1)]]
        if after.sort is not Sort.STITCH:
            return self.feet(node)[0], lay.head(node.index)
        foot, top = self.feet(after)[0], lay.head(after.index)
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
        before = sum(s < number for s in node.stitches)
        seats = [0.0, *arch.spread(len(node.stitches)), 1.0]
        spot, turn = arch.at((seats[before] + seats[before + 1]) / 2)
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

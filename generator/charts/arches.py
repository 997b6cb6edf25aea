"""Chain spaces as curves: where an arch takes hold, how high it rises, which way it bulges."""

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from generator.charts.across import sagitta
from generator.charts.closers import chains_of
from generator.charts.frames import Point, Polygon
from generator.charts.layout import Layout, ends_of_arch
from generator.charts.nodes import CHAIN, Sort
from generator.fabric.model import Into

ABOVE = 0.2
"""How far above the last stitch of a round the chains begin that lead on from it."""


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

    def along(self, shares: Sequence[float], until: float = 1.0) -> list[float]:
        """Values of t at these shares (rising, 0..1) of the curve's length up to `until`."""
        steps = 32
        points = [self.at(until * i / steps)[0] for i in range(steps + 1)]
        lengths = [0.0]
        for p, q in itertools.pairwise(points):
            lengths.append(lengths[-1] + math.dist(p, q))
        found, k = [], 0
        for share in shares:
            want = lengths[-1] * share
            while lengths[k + 1] < want and k < steps - 1:
                k += 1
            part = (want - lengths[k]) / max(lengths[k + 1] - lengths[k], 1e-9)
            found.append(until * (k + part) / steps)
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


class Arches:
    """The arches of a layout, each drawn once, and who stands in them."""

    def __init__(self, layout: Layout) -> None:
        self.layout = layout
        self.arches: dict[int, Arch] = {}
        self._guests: dict[int, list[int]] = {}
        for node in layout.graph.nodes:
            if node.into is Into.SPACE and node.sort in (Sort.STITCH, Sort.COLUMN) and not node.loose:
                for p in node.parents:
                    self._guests.setdefault(p, []).append(node.index)

    def arch(self, n: int) -> Arch:
        """The curve of a chain space."""
        if n not in self.arches:
            lay = self.layout
            before, after = ends_of_arch(lay, n)
            course = lay.graph.nodes[n].course
            start, end, top = self._anchor(before, after, course), self._anchor(after, before, course), lay.head(n)
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
        reach = max(
            sagitta(math.dist(start, end), chains_of(self.layout.graph, self.layout.graph.nodes[n]) * CHAIN), 0.42 * far
        )
        share = min(reach / far, 1.0) if far > 1e-6 else 0.0
        return (middle[0] + (corner[0] - middle[0]) * share, middle[1] + (corner[1] - middle[1]) * share)

    def _anchor(self, n: int, towards: int, course: int) -> Point:
        """Where an arch takes hold of a stitch: at the side of its top."""
        lay = self.layout
        x, y = lay.head(n)
        if lay.graph.nodes[n].course != course:  # the round begins here: above the chains that hang on the same stitch
            nx, ny = lay.outward(n)
            x, y = x + nx * ABOVE, y + ny * ABOVE
        tx, ty = lay.head(towards)
        far = math.hypot(tx - x, ty - y) or 1.0
        wide = 0.36 if lay.graph.nodes[n].height > 1.2 else 0.22
        step = min(wide, far * 0.3)
        return (x + (tx - x) / far * step, y + (ty - y) / far * step)

    def _out_of(self, p: int, arch: Arch) -> Point:
        """The way a chain space bulges; round a corner that is neither side's own outward."""
        bulge = arch.bulge()
        return bulge if math.hypot(*bulge) > 0.15 else self.layout.outward(p)

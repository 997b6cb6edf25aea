"""A layout: nodes with places, and how the parts of the layout ask for them."""

import itertools
import math
from collections.abc import Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, field

from generator.charts.frames import Frame, Point, Stadium
from generator.charts.nodes import LOW, Graph, Node, Sort, mean_rise, natural_width
from generator.fabric.model import Make, Part

LEAST = 0.82
"""Least room a stitch of width 1 is given, in chart units."""
END = 0.9
"""The same round the ends of an oval, where nothing can give way to the sides."""
RING = 0.55
"""Radius of the adjustable ring as drawn."""


@dataclass(slots=True)
class Layout:
    """Nodes with places: z along, r across, and what frame they are in."""

    graph: Graph
    frame: Frame
    part: Part
    shown: tuple[int, ...]
    """Courses that are drawn stitch by stitch, in order; folded ones are left out."""
    z: list[float]
    r: list[float]
    level: list[float]
    """Mean r of each course's heads."""
    direction: list[int]
    """+1 where z grows along the course, -1 where the work was turned."""
    hub: float
    """Radius of what the first round is worked into; 0 in rows."""
    lift: Mapping[int, float]
    """Extra distance below a course, where a folded run is told in words."""
    seams: Sequence[float]
    """Extra room at the start of each course, in chart units."""
    straight: AbstractSet[int] = frozenset()
    """Nodes on the straight sides of an oval."""
    crowned: set[int] = field(default_factory=set)
    """Arches that rise higher than their chains would by themselves, to clear what they pass over."""
    slope: Mapping[int, float] = field(default_factory=dict)
    """Rise over run of its row to the right, by node; empty where the work lies level."""
    scale: dict[int, float] = field(default_factory=dict)
    """How far the natural spacing of a closed course is stretched to go round."""
    _links: list[tuple[int, int, int, int]] = field(default_factory=list)
    _along: list[tuple[dict[int, int], dict[int, int]]] = field(default_factory=list)
    _naturals: dict[int, float] = field(default_factory=dict)
    _rises: dict[int, float] = field(default_factory=dict)

    def below(self, course: int) -> int | None:
        """The drawn course under a course; None under the first."""
        i = self.shown.index(course)
        return self.shown[i - 1] if i else None

    def after(self, course: int) -> int | None:
        """The drawn course that follows; None after the last."""
        i = self.shown.index(course)
        return self.shown[i + 1] if i + 1 < len(self.shown) else None

    def base(self, course: int) -> float:
        """Level on which a course stands."""
        under = self.below(course)
        return (self.hub if under is None else self.level[under]) + self.lift.get(course, 0.0)

    def slope_between(self, a: int, b: int) -> float:
        """Slope of the row from one node to its neighbour: the steeper one's, level in the middle of a bend."""
        here, there = self.slope.get(a, 0.0), self.slope.get(b, 0.0)
        return (here + there) / 2 if here * there < 0 else max(here, there, key=abs)

    def level_share(self, node: int) -> float:
        """Share of a length along the row that is left when seen from below; 1 where the row lies level."""
        return 1 / math.hypot(1.0, self.slope.get(node, 0.0))

    def links(self) -> list[tuple[int, int, int, int]]:
        """Neighbours along the work: (node, next node, course, turns between them)."""
        if not self._links:
            self._links = _links(self)
        return self._links

    def along(self) -> tuple[dict[int, int], dict[int, int]]:
        """For every node the one before it along the work, and the one after it."""
        if not self._along:
            links = (
                self.links()
            )  # a spiral's last round ends beside its first stitch, which still follows the round below
            self._along.append(({b: a for a, b, _, _ in reversed(links)}, {a: b for a, b, _, _ in links}))
        return self._along[0]

    def natural(self, course: int) -> float:
        """Natural length of a course without the room at its start; the same in every pass."""
        if course not in self._naturals:
            self._naturals[course] = natural_width(self.graph, course, 0.0)
        return self._naturals[course]

    def rise(self, course: int) -> float:
        """Mean height of the stitches of a course; the same in every pass."""
        if course not in self._rises:
            self._rises[course] = mean_rise(self.graph, course)
        return self._rises[course]

    def head(self, node: int) -> Point:
        """Top of a node: where the next course works."""
        return self.frame.spot(self.z[node], self.r[node])

    def onward(self, node: int, course: int) -> Point:
        """Unit vector along the course at the node, the way the course is worked."""
        nx, ny = self.outward(node)
        sign = self.direction[course] * (1 if self.frame.closed else -1)
        return (ny * sign, -nx * sign)

    def outward(self, node: int) -> Point:
        """Unit vector across the course at the node."""
        slope = self.slope.get(node, 0.0)
        if slope:
            return (-slope * self.level_share(node), -self.level_share(node))
        return self.frame.outward(float(self.z[node]))

    def foot_level(self, node: int) -> float:
        """Level on which one node stands: its course's, or in rows that slope its own."""
        course = self.graph.nodes[node].course
        if not self.slope:
            return self.base(course)
        own = self.graph.nodes[node].height
        if self.graph.nodes[node].sort in (Sort.SPACE, Sort.CHAIN):
            tall = [self.graph.nodes[n].height for n in self.graph.courses[course] if self.graph.nodes[n].height]
            own = sum(tall) / len(tall) if tall else own
        return float(self.r[node]) - (own or 0.3) * self.level_share(node)


def least_level(layout: Layout, course: int, seam: float) -> float:
    """The r at which a course is long enough for its stitches; crosses need the room half way down, not at their tops."""
    rise = layout.rise(course)
    need = (seam + layout.natural(course)) * LEAST
    if isinstance(layout.frame, Stadium) and layout.part.courses[course].make is Make.FOUNDATION:
        return -math.inf  # the chain lies on a segment
    if isinstance(layout.frame, Stadium):  # the sides keep their length, and either end must hold its own stitches
        ends = [sum(layout.graph.nodes[n].width for n in end) for end in round_ends(layout, course)]
        need = 2 * (layout.frame.length - 1 + max(ends, default=0.0) * END)
    return layout.frame.level_for(need) + (rise / 2 if rise < LOW and layout.frame.closed else 0.0)


def round_ends(layout: Layout, course: int) -> list[list[int]]:
    """Stretches of a course of an oval that lie between its straight sides, the one at the start last."""
    row = layout.graph.in_line(course)
    stretches = [list(run) for still, run in itertools.groupby(row, key=lambda n: n in layout.straight) if not still]
    if len(stretches) > 1 and row[0] not in layout.straight and row[-1] not in layout.straight:
        stretches[-1] += stretches.pop(0)
    return stretches


def gap_between(a: Node, b: Node) -> float:
    return (a.width + b.width) / 2


def _is_cut(layout: Layout, c: int) -> bool:
    """Whether the yarn was cut after a course or after the levelling stitches that lie on it."""
    courses = layout.part.courses
    return courses[c].cut or any(courses[layout.graph.nodes[n].own].cut for n in layout.graph.courses[c])


def _links(layout: Layout) -> list[tuple[int, int, int, int]]:
    found = []
    for c in layout.shown:
        row = layout.graph.in_line(c)
        found += [(a, b, c, 0) for a, b in itertools.pairwise(row)]
        if layout.frame.closed and row:
            after = layout.after(c)
            following = layout.graph.in_line(after) if after is not None else []
            goes_on = layout.part.courses[c].make is Make.SPIRAL and following and not _is_cut(layout, c)
            last = row[-1] if goes_on else next((n for n in reversed(layout.graph.plain(c)) if n in row), row[-1])
            found.append((last, following[0] if goes_on else row[0], c, 1))
    return found


def ends_of_arch(layout: Layout, n: int) -> tuple[int, int]:
    """The nodes an arch of chains hangs between; one that begins a round over a closing stitch hangs on that."""
    graph = layout.graph
    row = graph.in_line(graph.nodes[n].course)
    i = row.index(n)
    before, after = _beside(layout, row, i)
    if n in graph.closers:
        after = graph.nodes[graph.closers[n]].parents[0]
    below = layout.below(graph.nodes[n].course) if not i else None
    before = graph.closers.get(graph.courses[below][-1], before) if below is not None else before
    return _where_begun(graph, n, before), _where_begun(graph, n, after)


def _where_begun(graph: Graph, n: int, end: int) -> int:
    """An arch at the end of a round and one at its beginning meet where the slip stitches before it led."""
    if graph.nodes[end].sort is not Sort.SPACE:
        return end
    own = graph.nodes[n].own
    led = (h.node for h in reversed(graph.hangers) if h.course == own and h.sort == "travel" and h.node >= 0)
    return next(led, end)


def _beside(layout: Layout, row: list[int], i: int) -> tuple[int, int]:
    """The nodes before and after a place of a course; a spiral goes on from one course to the next."""
    if layout.frame.closed:
        before, after = layout.along()
        last = before.get(row[i], row[i - 1])
        if last in layout.graph.nodes[row[-1]].parents:  # the round came back over the stitch it began at
            last = row[-1]
        return last, after.get(row[i], row[(i + 1) % len(row)])
    return row[i - 1] if i else row[min(1, len(row) - 1)], row[i + 1] if i + 1 < len(row) else row[i - 1]

"""Reading the fabric for the layout: which stitches need room, and what they stand on."""

from collections.abc import Sequence

from generator.charts.closers import close_arch, closing_stitch
from generator.charts.foundations import one_chain_for_all, turning_chain_of_foundation
from generator.charts.nodes import (
    Graph,
    Hanger,
    Node,
    Sort,
    arch_room,
    rise,
    room,
)
from generator.charts.points import end_of_point, picot_at, reach_of_point, riders, room_of_point
from generator.charts.shells import share_places, stands_with
from generator.fabric.model import Course, Into, Make, Part, Role, Stitch


def build_graph(part: Part) -> Graph:
    """The nodes of a part."""
    graph = Graph(stitches=part.stitches())
    weaver = _Weaver(graph, part)
    for index, course in enumerate(part.courses):
        graph.courses.append([])
        weaver.add_course(index, course)
    turning_chain_of_foundation(graph, part)
    share_places(graph)
    return graph


class _Weaver:
    """Adds course after course to a graph."""

    def __init__(self, graph: Graph, part: Part) -> None:
        self.graph = graph
        self.ring = {s.number for s in graph.stitches if s.role is Role.RING}
        self.hub = one_chain_for_all(part, graph.stitches)
        if self.hub >= 0:
            self.ring |= set(range(graph.stitches[0].number, self.hub + 1))
        self.single = {
            p
            for s in graph.stitches
            if s.into is Into.STITCH and s.role not in (Role.JOIN, Role.PICOT)
            for p in s.parents
        }  # chains that some stitch is worked into as single chains, not as part of a space
        self.index, self.course, self.into = 0, part.courses[0] if part.courses else None, 0
        self.position = {s.number: i for i, s in enumerate(graph.stitches)}

    def add_course(self, index: int, course: Course) -> None:
        """All stretches of one course."""
        begin = self.position.get(course.first, 0)
        stitches = self.graph.stitches[begin : begin + course.size]
        self.index, self.course, self.into = index, course, index
        if stitches and all(s.role is Role.EXTRA for s in stitches):
            self.into = next((c for c in range(index - 1, -1, -1) if self.graph.courses[c]), index)
        i, closing = 0, closing_stitch(self.graph, stitches, course.make)
        while i < len(stitches):
            if stitches[i].number == closing:
                close_arch(self.graph, stitches[i], index)
                i += 1
                continue
            chain = stitches[i].kind == "ch"
            end, knot = (end_of_point(stitches, i), picot_at(stitches, i)) if chain else (i, None)
            if end > i and course.make is not Make.FOUNDATION:
                self._add_point(stitches[i:end])
            elif knot and (self.graph.courses[self.into] or knot[0] > i):
                start, end = knot
                if start > i:
                    self._add_stretch(stitches[i:start])
                self._hang("picot", stitches[start:end])
            else:
                end = _stretch(stitches, i)
                self._add_stretch(stitches[i:end])
            i = end
        self._settle_joins(stitches)

    def _add_stretch(self, some: Sequence[Stitch]) -> None:
        first, numbers, hangers = some[0], tuple(s.number for s in some), self.graph.hangers
        if self.hub in numbers and first.kind == "ch":
            self._open_chain(some)
        elif first.role is Role.PICOT:
            self._hang("picot", some)
        elif first.role is Role.RING or (first.role is Role.JOIN and set(first.parents) & self.ring and not self.index):
            hangers.append(Hanger("ring", numbers, -1, self.index))
        elif first.role in (Role.JOIN, Role.TRAVEL) and first.kind == "sl-st":
            where = self._parents(first)
            hangers.append(Hanger(first.role.value, numbers, where[0] if where else -1, self.index))
        elif first.kind != "ch":
            self._add_stitch(first)
        elif first.role is Role.START:
            self._add_column(some)
        elif (beside := stands_with(self.graph.stitches, self.position[first.number], len(some))) is not None:
            self._add_upright(some, beside)
        elif self._singly(first, numbers):
            for one in some:
                self._add((one,), Sort.CHAIN, 1.0, 0.0)
        elif (arch := self._arch_before(first)) is not None:
            arch.stitches += numbers
            arch.width = arch_room(len(arch.stitches))
            self.graph.of |= dict.fromkeys(numbers, arch.index)
        else:
            self._add(some, Sort.SPACE, arch_room(len(some)), 0.0)

    def _arch_before(self, first: Stitch) -> Node | None:
        """The arch that a chain goes on with, when only a picot stands between them."""
        row, hangers = self.graph.courses[self.into], self.graph.hangers
        if not row or not hangers or hangers[-1].sort != "picot" or hangers[-1].stitches[-1] != first.number - 1:
            return None
        last = self.graph.nodes[row[-1]]
        return last if last.sort is Sort.SPACE and hangers[-1].node == last.index else None

    def _hang(self, sort: str, some: Sequence[Stitch]) -> None:
        """Hangs stitches that need no room on the node before them; who works into them stands there."""
        node = self.graph.courses[self.into][-1] if self.graph.courses[self.into] else len(self.graph.nodes) - 1
        self.graph.hangers.append(Hanger(sort, tuple(s.number for s in some), node, self.index))
        self.graph.of |= {s.number: node for s in some}

    def _add_point(self, some: Sequence[Stitch]) -> None:
        """The root stands on the course; its chains and stitches ride on it."""
        root = self._add((), Sort.POINT, 0.0, 0.0, some[0])
        nodes = riders(some, len(self.graph.nodes), self.into, self.index)
        self.graph.nodes += nodes
        self.graph.points[root.index] = tuple(node.index for node in nodes)
        self.graph.of |= {node.stitches[0]: node.index for node in nodes}
        root.width, root.height = room_of_point(nodes), reach_of_point(nodes)

    def _open_chain(self, some: Sequence[Stitch]) -> None:
        """Chains of which one is the ring: it lies in the middle, those after it stand up as a beginning."""
        middle = tuple(s.number for s in some if s.number <= self.hub)
        self.graph.hangers.append(Hanger("ring", middle, -1, self.index))
        rest = [s for s in some if s.number > self.hub]
        if rest:
            self._add_column(rest)

    def _singly(self, first: Stitch, numbers: tuple[int, ...]) -> bool:
        foundation = self.course is not None and self.course.make is Make.FOUNDATION
        return foundation or first.role in (Role.FOUNDATION, Role.CORD) or bool(self.single & set(numbers))

    def _add(
        self, some: Sequence[Stitch], sort: Sort, width: float, height: float, first: Stitch | None = None
    ) -> Node:
        first, graph = first or some[0], self.graph
        node = Node(len(graph.nodes), self.into, tuple(s.number for s in some), sort, first.kind, width, height,
                    into=first.into, loop=first.loop, yarn=first.yarn, role=first.role, own=self.index)  # fmt: skip
        graph.nodes.append(node)
        graph.courses[self.into].append(node.index)
        for s in some:
            graph.of[s.number] = node.index
        return node

    def _parents(self, one: Stitch) -> tuple[int, ...]:
        """Nodes a stitch stands on; where a levelling stitch lies on one, on that."""
        if len(one.parents) == 1:
            place = self.graph.of.get(one.parents[0], -1)
            return (self.graph.covered.get(place, place),) if place >= 0 else ()
        found = (self.graph.of[p] for p in one.parents if p in self.graph.of)
        return tuple(dict.fromkeys(self.graph.covered.get(n, n) for n in found))

    def _add_stitch(self, one: Stitch) -> None:
        parents = self._parents(one)
        node = self._add((one,), Sort.STITCH, room(one.kind), rise(one.kind))
        node.parents = parents
        if not self.ring.isdisjoint(one.parents):
            node.parents, node.into = (), Into.RING
        if one.role is Role.EXTRA and len(parents) == 1:
            self.graph.covered[parents[0]] = node.index

    def _add_column(self, some: Sequence[Stitch]) -> None:
        """A beginning chain: the chains that stand for a stitch upright, any further ones as the space they make."""
        edge = self.course.edge if self.course else ()
        spaces, counted = set[int](), set[int]()
        for live in edge:
            numbers = {live.first + live.step * k for k in range(live.n)}
            (spaces if live.kind == "ch" and not live.counted else counted).update(numbers)
        upright = [s for s in some if s.number not in spaces] or list(some)
        stands = any(s.number in counted for s in upright)
        parents = self._parents(some[0]) or self._under_start(stands)
        node = self._add(upright, Sort.COLUMN, 1.0 if stands else 0.6, max(len(upright) * 1.0, 1.0))
        node.loose = not stands
        node.into = Into.RING if self.hub >= 0 and not self.index else node.into
        node.parents = parents
        rest = [s for s in some if s not in upright]
        if rest and self.single & {s.number for s in rest}:
            for one in rest:
                self._add((one,), Sort.CHAIN, 1.0, 0.0)
        elif rest:
            self._add(rest, Sort.SPACE, arch_room(len(rest)), 0.0)

    def _add_upright(self, some: Sequence[Stitch], beside: Stitch) -> None:
        """Chains that begin a shell: one stitch of it, as tall as the stitch beside it and on the same place."""
        node = self._add(some, Sort.COLUMN, room(beside.kind), rise(beside.kind))
        node.parents, node.into = self._parents(beside), beside.into

    def _under_start(self, stands: bool) -> tuple[int, ...]:
        """The node a beginning chain stands on: the last stitch below in rows, the first in rounds where it counts."""
        below = self.graph.courses[self.index - 1] if self.index else []
        if below and below[-1] in self.graph.closers:
            return (self.graph.closers[below[-1]],) if stands else ()
        carriers = [n for n in below if not self.graph.nodes[n].loose and self.graph.nodes[n].sort is not Sort.SPACE]
        row = self.course is not None and self.course.make is Make.ROW
        if not carriers or not (row or stands):
            return ()
        return (carriers[-1] if row else carriers[0],)

    def _settle_joins(self, stitches: Sequence[Stitch]) -> None:
        """A yarn joined `in any st` is joined where its first stitch is worked; slip stitches that travel there lie on the
        places they pass."""
        first = next(
            (s for s in stitches if s.kind != "ch" and s.role not in (Role.JOIN, Role.TRAVEL) and s.parents), None
        )
        where = self._parents(first) if first else ()
        if not where:
            return
        row = self.graph.courses[self.graph.nodes[where[0]].course]
        place = row.index(where[0]) if where[0] in row else 0
        lead = next((s for s in stitches if s.role not in (Role.JOIN, Role.TRAVEL)), None)
        spaces = [i for i, n in enumerate(row) if self.graph.nodes[n].sort is Sort.SPACE]
        if lead and lead.kind == "ch" and lead.role is Role.STITCH and place in spaces:  # chains lead to the next loop
            place = spaces[spaces.index(place) - 1]
        passed = 0
        for i, hanger in reversed(list(enumerate(self.graph.hangers))):
            if hanger.course == self.index and hanger.node < 0 and hanger.sort in ("join", "travel"):
                node = row[place - passed] if passed <= place else where[0]
                self.graph.hangers[i] = Hanger(hanger.sort, hanger.stitches, node, self.index)
                passed += hanger.sort == "travel"


def _stretch(stitches: Sequence[Stitch], i: int) -> int:
    """End of the stretch of stitches that belong together: a run of chains, a picot, or one stitch."""
    first, end = stitches[i], i + 1
    if first.role is Role.PICOT:
        while end < len(stitches) and stitches[end].role is Role.PICOT and stitches[end - 1].kind == "ch":
            end += 1
    elif first.kind == "ch":
        while end < len(stitches) and stitches[end].kind == "ch" and stitches[end].role is first.role:
            end += 1
    return end

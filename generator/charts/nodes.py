"""The stitches of a part as the layout sees them: one node for every place that needs room.

A stitch is a node. A chain space is one node however many chains it has, because it moves as one arch; chains that
are worked into singly (foundations, cords) are nodes of their own. Turning and beginning chains stand upright as one
column. Joins, picots and travelling slip stitches need no room: they hang on the node they touch.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from enum import StrEnum

from generator.fabric.model import Course, Into, Make, Part, Role, Stitch
from generator.notation.tree import Loop
from generator.vocabulary.load import is_stitch, stitch


class Sort(StrEnum):
    """What kind of place a node is."""

    STITCH = "stitch"
    SPACE = "space"
    CHAIN = "chain"
    COLUMN = "column"


@dataclass(slots=True)
class Node:
    """A place with room of its own. Width and height in chart units (chain lengths)."""

    index: int
    course: int
    stitches: tuple[int, ...]
    sort: Sort
    kind: str
    width: float
    height: float
    parents: tuple[int, ...] = ()
    """Nodes it stands on."""
    into: Into = Into.AIR
    loose: bool = False
    """Uncounted (a starting chain that is no stitch): it needs room but carries nothing."""
    loop: Loop = Loop.BOTH
    yarn: str = ""
    role: Role = Role.STITCH
    sharers: int = 1
    """How many nodes stand on exactly the same place."""


@dataclass(frozen=True, slots=True)
class Hanger:
    """Stitches that need no room: what they are, and the node they hang on (-1 for the ring in the middle)."""

    sort: str
    """`join`, `picot`, `travel`, `ring`."""
    stitches: tuple[int, ...]
    node: int
    course: int


@dataclass(slots=True)
class Graph:
    """Nodes in order of working, by course, with what hangs on them."""

    nodes: list[Node] = field(default_factory=list)
    of: dict[int, int] = field(default_factory=dict)
    """Node of each stitch number."""
    courses: list[list[int]] = field(default_factory=list)
    hangers: list[Hanger] = field(default_factory=list)
    stitches: tuple[Stitch, ...] = ()


SC_HEIGHT = 1.15  # a little air between the rounds of crosses, as engravers leave it
SLIP_HEIGHT = 0.55
FAN = 4
FAN_ROOM = 0.82
"""Four or more in one place make a fan, which stands a little closer than single stitches do."""
CHAIN = 0.82  # length of one chain's oval, with its gap


def rise(kind: str) -> float:
    """How far a stitch lifts the edge in the drawing, in chart units: the trade's height table, a little air added."""
    if kind == "ch" or not is_stitch(kind):
        return 0.0
    record = stitch(kind)
    if record.family in ("slip", "chain"):
        return SLIP_HEIGHT
    return max(record.height, 1.0) * (SC_HEIGHT if record.height <= 1.5 else 1.0)


_ROOM = {"cluster": 1.15, "puff": 1.15, "bobble": 1.35, "popcorn": 1.45, "picot": 0.6, "slip": 0.7}


def room(kind: str) -> float:
    """How much of the edge a stitch takes up in the drawing, in chart units."""
    if not is_stitch(kind):
        return 1.0
    record = stitch(kind)
    return _ROOM.get(record.family, 1.0)


def arch_room(chains: int) -> float:
    """Room a chain space of that many chains takes: short ones lie flat, long ones bulge."""
    return CHAIN * min(chains, 2) + 0.5 * max(chains - 2, 0)


def build_graph(part: Part) -> Graph:
    """The nodes of a part."""
    graph = Graph(stitches=part.stitches())
    single = _worked_singly(part)
    offset = {s.number: i for i, s in enumerate(graph.stitches)}
    for index, course in enumerate(part.courses):
        graph.courses.append([])
        begin = offset.get(course.first, 0)
        _add_course(graph, index, course, graph.stitches[begin : begin + course.size], single)
    _turning_chain_of_foundation(graph, part)
    _count_sharers(graph)
    return graph


def _turning_chain_of_foundation(graph: Graph, part: Part) -> None:
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
    column.loose, column.width, column.parents = not worked, 1.0 if worked else 0.6, (row[-1],) if row else ()
    for s in column.stitches:
        graph.of[s] = column.index
    for node in graph.nodes:
        node.parents = tuple(dict.fromkeys(column.index if p in passed else p for p in node.parents))
    graph.courses[1].insert(0, column.index)


def _worked_singly(part: Part) -> frozenset[int]:
    """Chains that some stitch is worked into as single chains, not as part of a space."""
    return frozenset(
        p for s in part.stitches() if s.into is Into.STITCH and s.role is not Role.JOIN for p in s.parents
    )  # fmt: skip


def _add_course(graph: Graph, index: int, course: Course, stitches: Sequence[Stitch], single: frozenset[int]) -> None:
    i = 0
    while i < len(stitches):
        end = _stretch(stitches, i)
        _add_stretch(graph, index, course, stitches[i:end], single)
        i = end


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


def _add_stretch(graph: Graph, index: int, course: Course, some: Sequence[Stitch], single: frozenset[int]) -> None:
    first, numbers = some[0], tuple(s.number for s in some)
    before = len(graph.nodes) - 1
    if first.role is Role.PICOT:
        graph.hangers.append(Hanger("picot", numbers, before, index))
    elif first.role in (Role.JOIN, Role.TRAVEL) and first.kind == "sl-st":
        where = graph.of.get(first.parents[0], before) if first.parents else before
        graph.hangers.append(Hanger(first.role.value, numbers, where, index))
    elif first.role is Role.RING:
        graph.hangers.append(Hanger("ring", numbers, -1, index))
    elif first.kind != "ch":
        _add_stitch(graph, index, first)
    elif first.role is Role.START:
        _add_column(graph, index, course, some)
    elif course.make is Make.FOUNDATION or first.role in (Role.FOUNDATION, Role.CORD) or single & set(numbers):
        for one in some:
            _add(graph, index, (one,), Sort.CHAIN, 1.0, 0.0)
    else:
        _add(graph, index, some, Sort.SPACE, arch_room(len(some)), 0.0)


def _add(graph: Graph, index: int, some: Sequence[Stitch], sort: Sort, width: float, height: float) -> Node:
    first = some[0]
    node = Node(len(graph.nodes), index, tuple(s.number for s in some), sort, first.kind, width, height,
                into=first.into, loop=first.loop, yarn=first.yarn, role=first.role)  # fmt: skip
    graph.nodes.append(node)
    graph.courses[index].append(node.index)
    for s in some:
        graph.of[s.number] = node.index
    return node


def _add_stitch(graph: Graph, index: int, one: Stitch) -> None:
    parents = tuple(dict.fromkeys(graph.of[p] for p in one.parents if p in graph.of))
    node = _add(graph, index, (one,), Sort.STITCH, room(one.kind), rise(one.kind))
    node.parents = parents


def _add_column(graph: Graph, index: int, course: Course, some: Sequence[Stitch]) -> None:
    """A beginning chain: the chains that stand for a stitch upright, any further ones as the space they make."""
    spaces = {
        live.first + live.step * k
        for live in course.edge
        if live.kind == "ch" and not live.counted
        for k in range(live.n)
    }
    counted = {
        live.first + live.step * k for live in course.edge if live.counted or live.kind != "ch" for k in range(live.n)
    }
    upright = [s for s in some if s.number not in spaces] or list(some)
    is_stitch_itself = any(s.number in counted for s in upright)
    width = 1.0 if is_stitch_itself else 0.6
    node = _add(graph, index, upright, Sort.COLUMN, width, max(len(upright) * 1.0, 1.0))
    node.loose = not is_stitch_itself
    if course.make is Make.ROW or is_stitch_itself:
        node.parents = _under_start(graph, index, course)
    rest = [s for s in some if s not in upright]
    if rest:
        _add(graph, index, rest, Sort.SPACE, arch_room(len(rest)), 0.0)


def _under_start(graph: Graph, index: int, course: Course) -> tuple[int, ...]:
    """The node a beginning chain stands on: the last stitch below in turned rows, the first in rounds."""
    below = graph.courses[index - 1] if index else []
    carriers = [n for n in below if not graph.nodes[n].loose and graph.nodes[n].sort is not Sort.SPACE]
    if not carriers:
        return ()
    return (carriers[-1] if course.make is Make.ROW else carriers[0],)


def _count_sharers(graph: Graph) -> None:
    """How many nodes stand on the same single place: those are drawn with touching feet."""
    same: dict[tuple[int, tuple[int, ...]], list[Node]] = {}
    for node in graph.nodes:
        if node.parents and not node.loose:
            same.setdefault((node.course, node.parents), []).append(node)
    for nodes in same.values():
        for node in nodes:
            node.sharers = len(nodes)
            if len(nodes) >= FAN:
                node.width *= FAN_ROOM


def natural_width(graph: Graph, course: int, seam: float) -> float:
    """Natural length of a course: the room its nodes take (levelling stitches lie past its end and take none)."""
    nodes = graph.nodes
    return seam + sum(nodes[n].width for n in graph.courses[course] if nodes[n].role is not Role.EXTRA)


def mean_rise(graph: Graph, course: int) -> float:
    """Mean height of the stitches of a course; a course of chains rises by a little."""
    nodes = [graph.nodes[n] for n in graph.courses[course]]
    tall = [n.height for n in nodes if n.sort in (Sort.STITCH, Sort.COLUMN) and not n.loose]
    return sum(tall) / len(tall) if tall else 0.6


def families(graph: Graph, course: int) -> list[tuple[list[int], tuple[int, ...]]]:
    """Nodes of a course that stand on exactly the same place, with that place's nodes."""
    found: list[tuple[list[int], tuple[int, ...]]] = []
    for n in graph.courses[course]:
        node = graph.nodes[n]
        if not node.parents or node.loose:
            continue
        if found and found[-1][1] == node.parents:
            found[-1][0].append(n)
        else:
            found.append(([n], node.parents))
    return found

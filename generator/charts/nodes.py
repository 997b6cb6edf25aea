"""The stitches of a part as the layout sees them: one node for every place that needs room.

A stitch is a node. A chain space is one node however many chains it has, because it moves as one arch; chains that
are worked into singly (foundations, cords) are nodes of their own. Turning and beginning chains stand upright as one
column. Joins, picots and travelling slip stitches need no room: they hang on the node they touch.
"""

import itertools
from dataclasses import dataclass, field
from enum import StrEnum
from functools import cache

from generator.fabric.model import Into, Role, Stitch
from generator.notation.tree import Loop
from generator.vocabulary.load import is_stitch, stitch


class Sort(StrEnum):
    """What kind of place a node is."""

    STITCH = "stitch"
    SPACE = "space"
    CHAIN = "chain"
    COLUMN = "column"
    POINT = "point"
    """the root of chains that stand out, with stitches worked back along them"""


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
    own: int = -1
    """The course it was written in, where that differs: levelling stitches lie past the end of the round before."""
    under: bool = False
    """A cross that keeps its height: under a shell that begins with chains, or one of many along an arch."""
    fan: bool = False
    """It stands in a fan, closer than single stitches do."""
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
    points: dict[int, tuple[int, ...]] = field(default_factory=dict)
    """Root of every point, and the nodes that ride on it; these are in no course's list."""
    closers: dict[int, int] = field(default_factory=dict)
    """Arch of chains that a stitch closes, and the node of that stitch, which rides on it and is in no course's list."""
    covered: dict[int, int] = field(default_factory=dict)
    """Node of a stitch that a levelling stitch lies on, and the node of that levelling stitch."""

    @property
    def knots(self) -> frozenset[int]:
        """Nodes on which a picot hangs."""
        return frozenset(hanger.node for hanger in self.hangers if hanger.sort == "picot")

    def in_line(self, course: int) -> list[int]:
        """Nodes of a course that take room on it: without beginning chains that only stand beside their first stitch."""
        nodes = self.nodes
        return [n for n in self.courses[course] if nodes[n].width > 0] or self.courses[course]

    def beside(self) -> list[tuple[int, int]]:
        """Beginning chains that take no room, each with the node it stands beside."""
        return [(a, b) for row in self.courses for a, b in itertools.pairwise(row) if self.nodes[a].width <= 0]

    def plain(self, course: int) -> list[int]:
        """Nodes of a course without the levelling stitches past its end."""
        nodes, extra = self.nodes, Role.EXTRA
        return [n for n in self.courses[course] if nodes[n].role is not extra]


SC_HEIGHT = 1.15  # a little air between the rounds of crosses, as engravers leave it
SLIP_HEIGHT = 0.55
FAN = 4
HALF_FAN = 3
FAN_ROOM = 0.67
"""Four or more in one place make a fan, which stands a little closer than single stitches do; beside fans, three are half
a one."""
LOW = 1.6
"""Stitches lower than this are drawn as crosses, widest in the middle."""
LOW_FAN_ROOM = 0.95
"""Crosses are as wide at their feet as at their heads, so a fan of them cannot close up."""
CHAIN = 0.82  # length of one chain's oval, with its gap


@cache
def rise(kind: str) -> float:
    """How far a stitch lifts the edge in the drawing, in chart units: the trade's height table, a little air added."""
    if kind == "ch" or not is_stitch(kind):
        return 0.0
    record = stitch(kind)
    if record.family in ("slip", "chain"):
        return SLIP_HEIGHT
    return max(record.height, 1.0) * (SC_HEIGHT if record.height <= 1.5 else 1.0)


_ROOM = {"cluster": 1.15, "puff": 1.15, "bobble": 1.35, "popcorn": 1.45, "picot": 0.6, "slip": 0.7}


@cache
def room(kind: str) -> float:
    """How much of the edge a stitch takes up in the drawing, in chart units."""
    if not is_stitch(kind):
        return 1.0
    record = stitch(kind)
    return _ROOM.get(record.family, 1.0)


def arch_room(chains: int) -> float:
    """Room a chain space of that many chains takes: short ones lie flat, long ones bulge."""
    return CHAIN * min(chains, 2) + 0.5 * max(chains - 2, 0)


def natural_width(graph: Graph, course: int, seam: float) -> float:
    """Natural length of a course: the room its nodes take (levelling stitches lie past its end and take none)."""
    return seam + sum(graph.nodes[n].width for n in graph.plain(course))


def mean_rise(graph: Graph, course: int) -> float:
    """Mean height of the stitches of a course; a course of chains rises by a little."""
    nodes = [graph.nodes[n] for n in graph.plain(course)]
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

"""The ring chart: rounds from the middle outward, as the maker sees them from the right side.

Work that closes again (a ball, a mitten's tip) is drawn as two discs, as a map draws two hemispheres: the rounds up
to the widest from the first pole outward, the rest from the rim inward to the second.
"""

import math
from collections.abc import Sequence
from dataclasses import replace

from generator.charts.arrange import arrange
from generator.charts.compose import (
    arrow,
    box_round,
    course_group,
    drawn_rows,
    fold_label,
    inks_of,
    key_of,
    zones,
)
from generator.charts.corners import find_corners
from generator.charts.folds import Fold, find_folds, fold
from generator.charts.foundations import fold_into_ring, oval_frame
from generator.charts.frames import Circle, Frame, Inward, Polygon, Stadium
from generator.charts.layout import RING, Layout
from generator.charts.marks import (
    Area,
    Bow,
    CourseGroup,
    Drawing,
    Line,
    Mark,
    Oval,
    Piece,
    Point,
    Sign,
    Stroke,
    Text,
    shifted,
)
from generator.charts.nodes import Graph, Sort, mean_rise, natural_width
from generator.charts.options import ChartOptions
from generator.charts.poles import second_pole
from generator.charts.repeats import repeats_of
from generator.charts.seams import SLIVER, beginnings_take, seam_of, size_of_numbers, stand_under_last_arch
from generator.charts.seats import Seats
from generator.charts.starts import add_starts
from generator.charts.symbols import CHAIN_OVAL
from generator.charts.weave import build_graph
from generator.fabric.model import Make, Part, Role

BAND = 1.25
"""Height of a folded run's band."""
OPEN = 1.5
"""Where the first round stands further than this from the ring it is worked into, it goes round an opening."""
TURN = 48
"""Pieces of straight line that one turn of a spiral is drawn with."""
BETWEEN = 1.2
"""Distance between the two discs of a closed piece."""


def draw(part: Part, options: ChartOptions) -> Drawing:
    """The ring chart of a part."""
    inks = inks_of(part, options)
    discs = [Disc(layout, folds, options, len(inks) > 1) for layout, folds in lay_out(part, options.fold)]
    first = discs[0]
    ground, groups, front = list(first.ground), list(first.groups), list(first.front)
    for other in discs[1:]:
        here, there = box_round(_all(ground, groups, front)), box_round(other.pieces())
        dx = here[0] + here[2] / 2 - there[0] - there[2] / 2
        dy = here[1] + here[3] - there[1] + BETWEEN - 1.6
        ground += [shifted(p, dx, dy) for p in other.ground]
        front += [shifted(p, dx, dy) for p in other.front]
        groups += [replace(g, pieces=tuple(shifted(p, dx, dy) for p in g.pieces)) for g in other.groups]
    box = box_round(_all(ground, groups, front))
    return Drawing("ring", box, tuple(ground), tuple(groups), tuple(front), key_of(groups, options, front),
                   options.title, options.description, inks)  # fmt: skip


def _all(ground: Sequence[Piece], groups: Sequence[CourseGroup], front: Sequence[Piece]) -> list[Piece]:
    return [*ground, *front, *(p for g in groups for p in g.pieces)]


def lay_out(part: Part, folded: bool = True) -> list[tuple[Layout, tuple[Fold, ...]]]:
    """Frame, folds and places: one layout, or two where the work closes again."""
    graph = build_graph(part)
    into_chain = fold_into_ring(graph, part)
    folds = find_folds(graph, part) if folded else ()
    fold(graph, folds)
    hidden = {c for one in folds for c in range(one.first, one.last + 1)}
    shown = tuple(c for c in range(1 if into_chain else 0, len(part.courses)) if c not in hidden and graph.courses[c])
    frame = _frame(graph, part)
    if isinstance(frame, Polygon) or repeats_of(part) > 2:
        beginnings_take(graph, SLIVER if isinstance(frame, Polygon) else 0.0)
    elif isinstance(frame, Circle):
        stand_under_last_arch(graph)
    rim = second_pole(part, shown) if isinstance(frame, Circle) else None
    near = shown if rim is None else shown[: shown.index(rim) + 1]
    near_folds = tuple(one for one in folds if one.shown in near)
    layout = _arranged(graph, part, frame, near, near_folds)
    if isinstance(frame, Stadium) and (base := _base_of_wall(layout)):
        layout = _arranged(graph, part, replace(frame, base=base), near, near_folds)
    found = [(layout, near_folds)]
    if rim is not None:
        found.append(_far_side(part, folds, shown[shown.index(rim) :]))
    return found


def _arranged(graph: Graph, part: Part, frame: Frame, shown: tuple[int, ...], folds: tuple[Fold, ...]) -> Layout:
    lift = {shown[i + 1]: BAND for one in folds for i in [shown.index(one.shown)] if i + 1 < len(shown)}
    even = repeats_of(part) > 2
    large = size_of_numbers(graph, shown)
    seams = [0.0 if even else seam_of(graph, part, c, frame) for c in range(len(part.courses))]
    out = 0.0
    for (
        c
    ) in shown:  # wide charts are shown small, so their numbers are larger and need more room, from the fifth unit out
        out += mean_rise(graph, c)
        seams[c] *= min(large, max(1.0, out / 5))
    return arrange(graph, part, frame, shown, seams, lift)


def _base_of_wall(layout: Layout) -> float:
    """Level of the last round that grows, when at least two more stand on it; 0 otherwise."""
    courses = layout.part.courses
    grown = [c for c in layout.shown if courses[c].live > courses[c].below]
    last = grown[0] if grown else 0
    for c in grown:  # a later widening (a handle) does not make the wall a base
        last = c if c - last <= 2 else last
    return layout.level[last] if layout.shown[-1] - last > 2 else 0.0


def _far_side(part: Part, folds: tuple[Fold, ...], shown: tuple[int, ...]) -> tuple[Layout, tuple[Fold, ...]]:
    """The rounds after the widest, from the rim (drawn as a ghost) inward."""
    graph = build_graph(part)
    fold(graph, folds)
    rim = shown[0]
    graph.courses[rim] = [n for n in graph.courses[rim] if not graph.nodes[n].loose]
    graph.hangers = [h for h in graph.hangers if h.course != rim]
    for n in graph.courses[rim]:
        graph.nodes[n].parents, graph.nodes[n].height = (), 0.0
    mine = tuple(one for one in folds if one.shown in shown[1:])
    tall = sum(mean_rise(graph, c) for c in shown[1:]) + BAND * len(mine)
    last = max(natural_width(graph, shown[-1], 0.75) * 0.82 / (2 * math.pi), 0.9)
    frame = Inward(max(tall + last, natural_width(graph, rim, 0.75) * 1.0 / (2 * math.pi)))
    return _arranged(graph, part, frame, shown, mine), mine


def _frame(graph: Graph, part: Part) -> Frame:
    return oval_frame(graph, part) or find_corners(graph, part) or Circle()


class Disc:
    """The pieces of one layout."""

    def __init__(self, layout: Layout, folds: tuple[Fold, ...], options: ChartOptions, coloured: bool) -> None:
        self.layout, self.options, self.coloured = layout, options, coloured
        self.seats = Seats(layout, options.sc_sign)
        far = isinstance(layout.frame, Inward)
        drawn = layout.shown[1:] if far else layout.shown
        rows = drawn_rows(layout, self.seats, drawn)
        add_starts(layout, rows, larger=size_of_numbers(layout.graph, layout.shown))
        self.ground: list[Piece] = [a for c in reversed(drawn) for a in zones(layout, c)] if coloured else []
        self.groups: list[CourseGroup] = []
        for c, pieces in rows:
            apart = c in layout.lift or (far and c == drawn[0])
            self.groups.append(course_group(layout.part, c, pieces, options, apart))
            self.groups += [self._band(one) for one in folds if one.shown == c]
        self.front: list[Piece] = [
            *(self._ghosts() if far else self._middle()),
            *direction(layout, any(one.shown == layout.shown[-1] for one in folds)),
        ]

    def pieces(self) -> list[Piece]:
        """Everything."""
        return _all(self.ground, self.groups, self.front)

    def _band(self, one: Fold) -> CourseGroup:
        """A folded run as a ring with its line of words."""
        layout, part, c = self.layout, self.layout.part, one.shown
        low = layout.level[c] + 0.22
        inner, outer = sorted(math.hypot(*layout.frame.spot(0.0, r)) for r in (low, low + BAND - 0.4))
        edges = self._spiral(c) if part.courses[c].make is Make.SPIRAL and isinstance(layout.frame, Circle) else ()
        label = fold_label(part, one, self.options)
        courses = tuple(range(one.first, one.last + 1))
        text = "; ".join(dict.fromkeys(filter(None, (self.options.course_texts.get(i, "") for i in courses)))) or label
        strokes: list[Stroke] = [Line(edge) for edge in edges] or [Oval((0, 0), r, r) for r in (inner, outer)]
        pieces: list[Piece] = [Mark(stroke, "fold") for stroke in strokes]
        if self.coloured:
            yarn = layout.graph.nodes[layout.graph.courses[c][0]].yarn
            self.ground.insert(0, Area((_circle(outer + 0.2), _circle(inner - 0.22)[::-1]), yarn))
        for i in range(3 if inner > 9 else 1):
            a = 2 * math.pi * i / 3
            mid = sum(_reach(edge, a) for edge in edges) / 2 if edges else (inner + outer) / 2
            pieces.append(Text(mid * math.sin(a), -mid * math.cos(a), label, 0.74, ring=mid))
        return CourseGroup(courses, label, text, tuple(pieces), sum(part.courses[i].size for i in courses))

    def _spiral(self, c: int) -> tuple[tuple[Point, ...], ...]:
        """Both edges of the band on a spiral round: they climb as the stitches below and above it do."""
        layout = self.layout
        inner = self._slope(c, 0.22)
        above = layout.shown.index(c) + 1
        if above == len(layout.shown):
            outer = tuple((z, r + BAND - 0.4) for z, r in inner)
        else:
            outer = self._slope(layout.shown[above], -mean_rise(layout.graph, layout.shown[above]) - 0.1)
        return tuple(tuple(layout.frame.spot(z, r) for z, r in edge) for edge in (inner, outer))

    def _slope(self, c: int, off: float) -> tuple[tuple[float, float], ...]:
        """A line `off` beyond the heads of a spiral round, at the round's own slope: stitches differ in height, it does not."""
        layout = self.layout
        row = [n for n in layout.graph.courses[c] if layout.graph.nodes[n].role is not Role.EXTRA]
        first, last = row[0], row[-1]
        z, r = (float(layout.z[last] - layout.z[first]), float(layout.r[last] - layout.r[first]))
        parts = [i / TURN for i in range(TURN + 1)]
        return tuple((float(layout.z[first]) + z * part, float(layout.r[first]) + r * part + off) for part in parts)

    def _ghosts(self) -> list[Piece]:
        """The rim, which the first closing round stands on."""
        r = self.layout.frame.girth(0.0) / (2 * math.pi)
        return [Mark(Oval((0, 0), r, r), "ghost")]

    def _middle(self) -> list[Piece]:
        """What the first round is worked into: an adjustable ring with its tail, a ring of chains, or one chain."""
        layout = self.layout
        if isinstance(layout.frame, Stadium) or layout.part.courses[layout.shown[0]].make is Make.FOUNDATION:
            return []
        chains = self.seats.chain_ring()
        if layout.hub > OPEN + math.hypot(*((chains[0].x, chains[0].y) if chains else (RING, 0.0))):
            r = layout.hub - 0.3
            return [Mark(Oval((0, 0), r, r), "ghost"), *(shifted(sign, 0.0, 0.0) for sign in chains)]
        if chains:
            n = sum(sign.kind == "ch" for sign in chains)
            return [*chains, *([Text(0, 0, str(n), 0.6)] if n > 4 else [])]
        if layout.shown[0] > 0:
            numbers = [s for n in layout.graph.courses[0] for s in layout.graph.nodes[n].stitches]
            return [
                Sign(CHAIN_OVAL, 0.0, 0.3 - 0.42 * i, 90.0, (s,), (), "ch", role="ring") for i, s in enumerate(numbers)
            ]
        return [
            Mark(Oval((0, 0), RING, RING), "ring"),
            Mark(Bow((RING * 0.1, RING * 0.99), (RING * 0.2, 0.1), (-0.12, 0.12)), "ring"),
        ]


def _circle(r: float) -> tuple[tuple[float, float], ...]:
    return tuple((r * math.cos(2 * math.pi * i / 96), r * math.sin(2 * math.pi * i / 96)) for i in range(97))


def _reach(line: Sequence[Point], angle: float) -> float:
    """How far out a line round the middle runs at an angle, clockwise from the top."""
    ahead = max(line, key=lambda p: (p[0] * math.sin(angle) - p[1] * math.cos(angle)) / math.hypot(*p))
    return math.hypot(*ahead)


def direction(layout: Layout, banded: bool = False) -> list[Piece]:
    """A curved arrow beside the last round (the first closing one), from its start in the direction of work."""
    far = isinstance(layout.frame, Inward)
    c = layout.shown[1] if far else layout.shown[-1]
    if layout.part.courses[c].make is Make.FOUNDATION:
        return []
    row = layout.graph.courses[c]
    tops = [float(layout.r[n]) + _stands_out(layout, n) for n in row[: max(4, len(row) // 6)]]
    r = -0.75 if far else max(tops) + 0.75 + BAND * banded
    z = float(layout.z[row[0]])
    step = layout.direction[c] * 0.9 / layout.frame.stretch(z, r)
    start, middle, tip = (layout.frame.spot(z + step * k, r) for k in (0.3, 1.3, 2.3))
    over = (2 * middle[0] - (start[0] + tip[0]) / 2, 2 * middle[1] - (start[1] + tip[1]) / 2)
    return list(arrow(start, over, tip))


def _stands_out(layout: Layout, n: int) -> float:
    """How far a point stands out from its root; 0 for any other node."""
    return layout.graph.nodes[n].height if layout.graph.nodes[n].sort is Sort.POINT else 0.0

"""From signs to a drawing: groups, numbers, zones and the key. Shared by the kinds that draw stitches."""

import math
from collections.abc import Sequence
from itertools import groupby

from generator.charts.folds import Fold
from generator.charts.frames import Point, Polygon
from generator.charts.free import ink, reach_of
from generator.charts.layout import Layout
from generator.charts.marks import Area, CourseGroup, KeyEntry, Line, Mark, Piece, Sign, Text, extent
from generator.charts.nodes import Sort
from generator.charts.options import ChartOptions, Ink
from generator.charts.seats import Seats
from generator.charts.symbols import sample
from generator.fabric.model import Part, Role
from generator.notation.tree import Loop

UNDER = 0.45
"""How far a course's ground reaches under that of the course below, which is painted over it: no slits between."""
GREY = "#8a8f90"


def signs_of(layout: Layout, seats: Seats, course: int) -> list[Sign]:
    """All symbols of a course, in order of working, then what hangs on it."""
    found = [sign for n in layout.graph.plain(course) for sign in seats.signs(n)]
    return [*found, *seats.hanging(course)]


def extras_of(layout: Layout, seats: Seats, course: int) -> list[tuple[int, list[Piece]]]:
    """Levelling stitches past the end of a course, under the course they were written in."""
    found: dict[int, list[Piece]] = {}
    for n in layout.graph.courses[course]:
        if layout.graph.nodes[n].role is Role.EXTRA:
            found.setdefault(layout.graph.nodes[n].own, []).extend(seats.signs(n))
    return list(found.items())


def drawn_rows(layout: Layout, seats: Seats, courses: Sequence[int]) -> list[tuple[int, list[Piece]]]:
    """The symbols course by course; levelling stitches as a row of their own after the round they level."""
    rows: list[tuple[int, list[Piece]]] = []
    for c in courses:
        rows.append((c, list(signs_of(layout, seats, c))))
        rows += extras_of(layout, seats, c)
    return rows


def inks_of(part: Part, options: ChartOptions) -> tuple[tuple[str, Ink], ...]:
    """The yarns a part uses, in order of first use."""
    keys = dict.fromkeys(run.yarn for course in part.courses for run in course.runs)
    if len(keys) > 1 and "" in keys and all(run.kind == "ch" for c in part.courses for run in c.runs if not run.yarn):
        del keys[""]
    return tuple((k, options.inks.get(k) or Ink(k, GREY, i)) for i, k in enumerate(keys))


def zones(layout: Layout, course: int) -> list[Area]:
    """The ground under a course, one area for every run of stitches in one yarn: from their feet to their heads."""
    nodes = layout.graph.nodes
    plain = [n for n in layout.graph.plain(course) if not nodes[n].loose]
    extra = [n for n in layout.graph.courses[course] if nodes[n].role is Role.EXTRA]
    runs = [list(run) for row in (plain, extra) for _, run in groupby(row, key=lambda n: nodes[n].yarn)]
    return [_zone(layout, run, course, layout.frame.closed and run == plain) for run in runs]


def _zone(layout: Layout, row: Sequence[int], course: int, whole: bool) -> Area:
    """One area; that of a whole round closes under the number at its start."""
    turn = layout.direction[course]
    z = [float(layout.z[n]) for n in row]
    scale = layout.scale.get(course, 1.0)
    halves = [
        layout.graph.nodes[n].width * scale / 2 / layout.frame.stretch(float(layout.z[n]), float(layout.r[n]))
        for n in row
    ]
    begin, end = z[0] - turn * halves[0], z[-1] + turn * halves[-1]
    if whole:
        end = begin + (0.0 if isinstance(layout.frame, Polygon) else turn * layout.frame.period())
    spots = [(begin, row[0]), *zip(z, row, strict=True), (end, row[-1])]
    outer = [layout.frame.spot(at, float(layout.r[n])) for at, n in spots]
    under = UNDER if layout.below(course) is not None else 0.0
    inner = [layout.frame.spot(at, _base_under(layout, n) - under) for at, n in spots]
    return Area(((*outer, *reversed(inner)),), layout.graph.nodes[row[0]].yarn)


def _base_under(layout: Layout, n: int) -> float:
    node = layout.graph.nodes[n]
    below = [p for p in node.parents if layout.graph.nodes[p].course != node.course]
    if below:
        return float(sum(layout.r[p] for p in below)) / len(below)
    base = layout.foot_level(n)
    return base if node.sort is not Sort.SPACE else min(base, float(layout.r[n]))


def course_group(
    part: Part, course: int, pieces: Sequence[Piece], options: ChartOptions, apart: bool = False
) -> CourseGroup:
    """The group of one drawn course."""
    number = part.courses[course].number
    label = "" if number is None else str(number)
    return CourseGroup((course,), label, options.course_texts.get(course, label), tuple(pieces), apart=apart)


def fold_label(part: Part, one: Fold, options: ChartOptions) -> str:
    """`9–15: 18 sc`."""
    first, last, course = part.courses[one.first], part.courses[one.last], part.courses[one.shown]
    numbers = (
        f"{first.number}–{last.number}"
        if first.number is not None and last.number is not None
        else f"× {one.last - one.first + 1}"
    )
    kinds = [(kind, n) for kind, n in course.kinds if not kind.startswith("sp:")]
    words = ", ".join(f"{n} {options.short.get(kind, kind)}" for kind, n in kinds)
    return f"{numbers}: {words or course.live}"


def key_of(groups: Sequence[CourseGroup], options: ChartOptions, extra: Sequence[Piece] = ()) -> tuple[KeyEntry, ...]:
    """The symbols of a drawing with their words, in order of first use."""
    found: dict[str, KeyEntry] = {}
    for piece in [*extra, *(p for g in groups for p in g.pieces)]:
        if isinstance(piece, Sign) and piece.kind and piece.kind not in found:
            shape = sample(piece.kind, Loop.BOTH, options.sc_sign)
            found[piece.kind] = KeyEntry(shape, options.names.get(piece.kind, piece.kind), piece.kind)
        if (
            isinstance(piece, Sign)
            and piece.loop is not Loop.BOTH
            and (own := f"{piece.kind} {piece.loop}") not in found
        ):
            words = ", ".join(options.names.get(each, each) for each in (piece.kind, piece.loop.value))
            found[own] = KeyEntry(sample(piece.kind, piece.loop, options.sc_sign), words, own)
    return tuple(found.values())


def box_round(pieces: Sequence[Piece], margin: float = 0.8) -> tuple[float, float, float, float]:
    """A box (left, top, width, height) round all ink and words."""
    points: list[Point] = []
    for piece in pieces:
        if isinstance(piece, Text) and not piece.ring:
            wide = 0.3 * len(piece.words) * piece.size
            points += [(piece.x - wide, piece.y - piece.size), (piece.x + wide, piece.y + piece.size)]
        elif isinstance(piece, Area):
            points += [p for line in piece.outlines for p in line]
        elif isinstance(piece, Mark):
            points += ink(piece, 1.0)
    points += _outermost([piece for piece in pieces if isinstance(piece, Sign)])
    left, top, right, bottom = extent(points)
    return (left - margin, top - margin, right - left + 2 * margin, bottom - top + 2 * margin)


def _outermost(signs: Sequence[Sign]) -> list[Point]:
    """The ink of the symbols that may reach the edge of the drawing."""
    left, top, right, bottom = extent((sign.x, sign.y) for sign in signs)
    found: list[Point] = []
    for sign in signs:
        far = reach_of(sign.shape)
        if sign.x - far < left or sign.x + far > right or sign.y - far < top or sign.y + far > bottom:
            found += ink(sign, 1.0)
    return found


def arrow(start: Point, over: Point, tip: Point) -> list[Mark]:
    """A curved arrow: where to begin and which way to go."""
    from generator.charts.marks import Bow

    dx, dy = tip[0] - over[0], tip[1] - over[1]
    far = math.hypot(dx, dy) or 1.0
    ux, uy = dx / far, dy / far
    wings = (
        (tip[0] - ux * 0.4 - uy * 0.17, tip[1] - uy * 0.4 + ux * 0.17),
        tip,
        (tip[0] - ux * 0.4 + uy * 0.17, tip[1] - uy * 0.4 - ux * 0.17),
    )
    return [Mark(Bow(start, over, tip), "arrow"), Mark(Line((wings[0], wings[1], wings[2]), filled=True), "arrow")]

"""Where rounds begin and yarns end: numbers and the sign for a cut yarn, each in a free place near where it belongs."""

import math
from collections.abc import Sequence

from generator.charts.frames import Point
from generator.charts.free import Ink, free_spot, nearest_free
from generator.charts.layout import Layout
from generator.charts.marks import Line, Mark, Piece, Sign, Text
from generator.charts.nodes import Sort

SIZES = (0.7, 0.6, 0.5, 0.42)
Rows = list[tuple[int, list[Piece]]]
"""Course index and its pieces, in order of working."""


def add_starts(layout: Layout, rows: Rows, reach: float = 1.6, larger: float = 1.0) -> dict[int, Text]:
    """Adds round numbers and cut signs to the pieces of their courses; returns the numbers by course."""
    courses = layout.part.courses
    wanted = [(c, number_spot(layout, c)) for c, _ in rows if courses[c].number is not None and layout.graph.courses[c]]
    cuts = [(c, *_end(layout, c)) for c, _ in rows if courses[c].cut and _last(layout, c) >= 0]
    used = _ink_near(rows, [spot for _, spot in wanted] + [spot for _, spot, _ in cuts], reach + 4)
    sizes = (*(SIZES[0] * s for s in (1.5, 1.25, 1.12) if s <= larger + 0.01), *SIZES)
    numbers: dict[int, Text] = {}
    for c, spot in wanted:
        words = str(courses[c].number)
        numbers[c] = nearest_free(used, spot, words, sizes, reach) or Text(*spot, words, SIZES[-1])
        used.add(numbers[c])
    pieces = dict(rows)
    for c, text in numbers.items():
        pieces[c].append(text)
    for c, head, out in cuts:
        ideal = (head[0] + out[0] * 0.45, head[1] + out[1] * 0.45)
        pieces[c].append(triangle(free_spot(used, ideal, 0.2, 1.4) or ideal, head, True))
    return numbers


def _ink_near(rows: Rows, spots: Sequence[Point], reach: float) -> Ink:
    """The ink within reach of any of the spots, by squares of that size so that most symbols are passed over."""
    near = {(math.floor(x / reach) + i, math.floor(y / reach) + j) for x, y in spots for i in _BESIDE for j in _BESIDE}
    signs = (piece for _, pieces in rows for piece in pieces if isinstance(piece, Sign))
    return Ink(
        sign
        for sign in signs
        if (math.floor(sign.x / reach), math.floor(sign.y / reach)) in near
        and any(abs(sign.x - x) < reach and abs(sign.y - y) < reach for x, y in spots)
    )


_BESIDE = (-1, 0, 1)


def _last(layout: Layout, c: int) -> int:
    """The last node written in a course; -1 when it has none."""
    return max((n.index for n in layout.graph.nodes if n.own == c and not n.loose), default=-1)


def _end(layout: Layout, c: int) -> tuple[Point, Point]:
    """Head of a course's last stitch and the way outward there."""
    n = _last(layout, c)
    return layout.head(n), layout.outward(n)


def number_spot(layout: Layout, course: int) -> Point:
    """Where a course's number would best stand: just before its first stitch, half way up."""
    row = layout.graph.courses[course]
    first = row[0]
    node = layout.graph.nodes[first]
    turn = layout.direction[course]
    z = float(layout.z[first]) - turn * (node.width / 2 + 0.42) / layout.frame.stretch(
        float(layout.z[first]), float(layout.r[first])
    )
    low = layout.foot_level(first)
    r = float(layout.r[first]) if layout.graph.nodes[first].sort is not Sort.SPACE else layout.level[course]
    tall = max(r - low, 0.5)
    return layout.frame.spot(z, r - tall / 2)


def triangle(at: Point, towards: Point, filled: bool) -> Mark:
    """The yarn's signs: an open triangle where it is joined, a filled one where it is cut, pointing at the stitch."""
    dx, dy = towards[0] - at[0], towards[1] - at[1]
    far = math.hypot(dx, dy) or 1.0
    ux, uy = dx / far * 0.22, dy / far * 0.22
    points = (
        (at[0] + ux, at[1] + uy),
        (at[0] - ux - uy * 0.8, at[1] - uy + ux * 0.8),
        (at[0] - ux + uy * 0.8, at[1] - uy - ux * 0.8),
    )
    return Mark(Line((*points, points[0]), filled=filled), "cut" if filled else "join")

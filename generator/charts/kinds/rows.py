"""The row chart: flat work from the foundation up, every row numbered at the side where it begins."""

from collections.abc import Sequence

from generator.charts.arrange import arrange
from generator.charts.compose import box_round, course_group, drawn_rows, fold_label, inks_of, key_of, zones
from generator.charts.folds import Fold, find_folds, fold
from generator.charts.frames import Rows
from generator.charts.layout import Layout
from generator.charts.marks import Area, CourseGroup, Drawing, Line, Mark, Oval, Piece, Text, shifted
from generator.charts.nodes import natural_width
from generator.charts.options import ChartOptions
from generator.charts.seats import Seats
from generator.charts.starts import SIZES, add_starts
from generator.charts.weave import build_graph
from generator.fabric.model import Into, Make, Part

BAND = 1.3
WIDE, WIDE_NUMBERS = 30, 1.5
"""Charts wider than this many stitches are shown small, so their numbers are set larger by this."""


def draw(part: Part, options: ChartOptions) -> Drawing:
    """The row chart of a part."""
    return draw_flat(part, options, "rows")


def lay_out(part: Part, folded: bool = True) -> tuple[Layout, tuple[Fold, ...]]:
    """Places on a plain; runs of like rounds (never rows) are folded."""
    graph = build_graph(part)
    folds = find_folds(graph, part) if folded else ()
    fold(graph, folds)
    hidden = {c for one in folds for c in range(one.first, one.last + 1)}
    shown = tuple(c for c in range(len(part.courses)) if c not in hidden and graph.courses[c])
    lift = {shown[i + 1]: BAND for one in folds for i in [shown.index(one.shown)] if i + 1 < len(shown)}
    return arrange(graph, part, Rows(), shown, [0.0] * len(part.courses), lift), folds


def draw_flat(part: Part, options: ChartOptions, kind: str) -> Drawing:
    """Rows, or rounds unrolled."""
    inks = inks_of(part, options)
    layout, folds = lay_out(part, options.fold)
    seats = Seats(layout, options.sc_sign)
    rows = drawn_rows(layout, seats, layout.shown)
    wide = max(natural_width(layout.graph, c, 0.0) for c in layout.shown)
    numbers = add_starts(layout, rows, reach=2.4, larger=WIDE_NUMBERS if wide > WIDE else 1.0)
    ground: list[Piece] = [a for c in reversed(layout.shown) for a in zones(layout, c)] if len(inks) > 1 else []
    groups: list[CourseGroup] = []
    for c, pieces in rows:
        if c in numbers:
            pieces += _way(layout, c, numbers[c])
        groups.append(course_group(part, c, pieces, options, c in layout.lift))
        groups += [_band(layout, one, options, len(inks) > 1) for one in folds if one.shown == c]
    front = _ring(layout, seats)
    box = box_round([*ground, *front, *(p for g in groups for p in g.pieces)])
    return Drawing(
        kind,
        box,
        tuple(ground),
        tuple(groups),
        tuple(front),
        key_of(groups, options),
        options.title,
        options.description,
        inks,
    )


def _ring(layout: Layout, seats: Seats) -> list[Piece]:
    """The ring that a first row, or an unrolled first round, was worked into, under its middle."""
    chains = seats.chain_ring()
    (x, y), radius = seats.ring_under_row()
    if chains:
        return [shifted(sign, x, y) for sign in chains]
    first = [layout.graph.nodes[n] for n in layout.graph.courses[layout.shown[0]]]
    if layout.part.courses[layout.shown[0]].make is not Make.ROW or not any(n.into is Into.RING for n in first):
        return []
    return [Mark(Oval((x, y), radius, radius), "ring")]


def _way(layout: Layout, c: int, number: Text) -> Sequence[Piece]:
    """A small arrow beside the number, in the direction of work."""
    if layout.part.courses[c].make is Make.FOUNDATION:
        return ()
    turn, grown = layout.direction[c], max(number.size / SIZES[0], 1.0)
    tail = number.x - turn * (0.34 * len(number.words) * number.size + 0.95 * grown)
    tip = (tail + turn * 0.62 * grown, number.y)
    back = tip[0] - turn * 0.3 * grown
    head = ((back, tip[1] - 0.13 * grown), tip, (back, tip[1] + 0.13 * grown))
    return (Mark(Line(((tail, number.y), tip)), "arrow"), Mark(Line((*head, head[0]), filled=True), "arrow"))


def _band(layout: Layout, one: Fold, options: ChartOptions, coloured: bool) -> CourseGroup:
    """A folded run as a strip with its line of words."""
    part, c = layout.part, one.shown
    xs = [float(layout.z[n]) for n in layout.graph.courses[c]]
    left, right = min(xs) - 0.5, max(xs) + 0.5
    low, high = -layout.level[c] - 0.2, -layout.level[c] - BAND + 0.15
    label = fold_label(part, one, options)
    pieces: list[Piece] = [Mark(Line(((left, y), (right, y))), "fold") for y in (low, high)]
    if coloured:
        yarn = layout.graph.nodes[layout.graph.courses[c][0]].yarn
        box = ((left, low + 0.2), (right, low + 0.2), (right, high - 0.15), (left, high - 0.15))
        pieces.insert(0, Area((box,), yarn))
    pieces.append(
        Text((left + right) / 2, (low + high) / 2, label, min(0.78, 1.8 * (right - left) / max(len(label), 1)))
    )
    courses = tuple(range(one.first, one.last + 1))
    text = "; ".join(dict.fromkeys(filter(None, (options.course_texts.get(i, "") for i in courses)))) or label
    return CourseGroup(courses, label, text, tuple(pieces), sum(part.courses[i].size for i in courses))

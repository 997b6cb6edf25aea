"""Several pieces told in one block: each is drawn by itself, one under the other, in the order they are worked.

A course belongs to a piece when its stitches stand on those of the piece. A chain or a ring from which something new
grows, and which nothing joins to what was made before, begins a piece of its own.
"""

import bisect
from collections.abc import Sequence
from dataclasses import replace

from generator.charts.compose import box_round
from generator.charts.marks import CourseGroup, Drawing, KeyEntry, Piece, Sign, shifted
from generator.charts.options import ChartOptions
from generator.fabric.model import Course, Part, Role, Run

BETWEEN = 1.6
"""Distance between two pieces, in chart units."""


def pieces_of(part: Part) -> tuple[tuple[int, int], ...]:
    """Half-open ranges of courses, one for every piece; one range where all hangs together."""
    firsts = [course.first for course in part.courses if course.runs]
    indices = [i for i, course in enumerate(part.courses) if course.runs]
    begins = list(range(len(indices)))  # for every course, the first course of the piece it belongs to
    for at, c in enumerate(indices):
        stood_on = [bisect.bisect_right(firsts, run.parent) - 1 for run in part.courses[c].runs if run.parent >= 0]
        low = at if gathers(part.courses[c]) else min((begins[k] for k in stood_on if k < at), default=at)
        begins[low : at + 1] = [min(low, b) for b in begins[low : at + 1]]
    starts = [0, *(indices[k] for k in range(1, len(indices)) if begins[k] == k and _grows(begins, k))]
    return tuple(zip(starts, [*starts[1:], len(part.courses)], strict=True))


def gathers(course: Course) -> bool:
    """Whether a course is worked round pieces made before (`sc in 14 sts of leg 1, sc in 14 sts of leg 2`).

    Where its stitches stand is not told one by one: most of them are noted on one another.
    """
    loose = sum(
        run.n for run in course.runs if course.first <= run.parent and run.kind != "ch" and run.role is Role.STITCH
    )
    return loose * 2 > course.size


def _grows(begins: Sequence[int], k: int) -> bool:
    """Whether anything stands on a course that begins by itself: a lone cord stays with what it follows."""
    return begins.count(k) > 1


def alone(part: Part, first: int, last: int) -> Part:
    """One piece as a part of its own, its stitches numbered from 0."""
    courses = part.courses[first:last]
    base = next(course.first for course in courses if course.runs)
    free = next((c.first + c.size for c in courses if c.runs and gathers(c)), base)

    def moved(run: Run) -> Run:
        stands = run.parent >= base and (run.first >= free or run.role is not Role.STITCH)
        return run._replace(first=run.first - base, parent=run.parent - base if stands else -1)

    own = (
        replace(
            course,
            runs=tuple(moved(run) for run in course.runs),
            edge=tuple(live._replace(first=live.first - base) for live in course.edge),
        )
        for course in courses
    )
    return replace(part, courses=tuple(own), _stitches=[])


def options_of(options: ChartOptions, first: int, last: int) -> ChartOptions:
    """The caller's options, told of a piece's courses as the piece counts them."""
    texts = {i - first: text for i, text in options.course_texts.items() if first <= i < last}
    return replace(options, course_texts=texts, left_handed=False)


def numbered_on(drawing: Drawing, courses: int, stitches: int) -> Drawing:
    """The drawing of one piece with courses and stitches numbered as in the whole part."""

    def counted(piece: Piece) -> Piece:
        return (
            replace(piece, stitches=tuple(s + stitches for s in piece.stitches)) if isinstance(piece, Sign) else piece
        )

    groups = tuple(
        replace(g, courses=tuple(c + courses for c in g.courses), pieces=tuple(counted(p) for p in g.pieces))
        for g in drawing.groups
    )
    return replace(drawing, groups=groups, front=tuple(counted(p) for p in drawing.front))


def one_under_another(kind: str, drawings: Sequence[Drawing], options: ChartOptions) -> Drawing:
    """The pieces in one drawing, the first at the top, their middles above each other."""
    ground: list[Piece] = []
    front: list[Piece] = []
    groups: list[CourseGroup] = []
    below = 0.0
    for drawing in drawings:
        left, top, width, height = drawing.box
        dx, dy = -left - width / 2, below - top
        ground += [shifted(p, dx, dy) for p in drawing.ground]
        front += [shifted(p, dx, dy) for p in drawing.front]
        groups += [replace(g, pieces=tuple(shifted(p, dx, dy) for p in g.pieces)) for g in drawing.groups]
        below += height + BETWEEN - 1.6
    keys: dict[str, KeyEntry] = {}
    for drawing in drawings:
        keys |= {entry.identity: entry for entry in drawing.key if entry.identity not in keys}
    inks = dict(ink for drawing in drawings for ink in drawing.inks)
    box = box_round([*ground, *front, *(p for g in groups for p in g.pieces)])
    return Drawing(kind, box, tuple(ground), tuple(groups), tuple(front), tuple(keys.values()),
                   options.title, options.description, tuple(inks.items()))  # fmt: skip

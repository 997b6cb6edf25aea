"""The form of one part: its shape, its outline course by course, its sizes, and how it lies."""

from collections.abc import Sequence
from statistics import median

from generator.fabric.model import Make, Part
from generator.measures.course import CourseSize, sizes
from generator.measures.gauge import Scale
from generator.measures.measured import Basis, CourseForm, Form, Lie, Profile, ProfilePoint, Shape
from generator.measures.ripple import lean
from generator.measures.rounds import form_in_rounds


def form(part: Part, scale: Scale, stuffed: bool | None = None) -> Form:
    """Measures one piece of a part.

    Args:
        stuffed: as the header says; None to see for oneself (a remark about stuffing, or a ball).
    """
    courses = sizes(part, scale)
    if not courses or scale.basis is Basis.NONE or not any(c.around for c in courses):
        return _nothing(scale)
    rounds = [c for c in courses if c.in_round]
    rows = [c for c in courses if not c.in_round]
    if not rounds:
        return _rows(part, courses, scale)
    if len([c for c in rows if part.courses[c.index].make is Make.ROW]) > len(rounds):
        return _rows(part, courses, scale)
    return form_in_rounds(part, courses, scale, stuffed)


def _nothing(scale: Scale) -> Form:
    return Form(
        Shape.NOTHING, scale.basis, (), 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, Lie.FLAT, None, 0, False, Profile(())
    )


def _rows(part: Part, courses: Sequence[CourseSize], scale: Scale) -> Form:
    """A flat piece; rounds at its end are a border, which widens it on both sides."""
    worked = [c for c in courses if part.courses[c.index].make is Make.ROW]
    border = sum(c.height for c in courses if c.in_round)
    if not worked:
        length = max(c.around for c in courses) if courses[0].stitches == 0 else courses[0].around
        chains = sum(run.n for run in part.courses[0].runs if run.kind == "ch")
        length = chains * scale.free_chain() if chains else length
        return _flat_piece(Shape.CORD, scale, courses, length, scale.width_mm / 2, (), length * scale.width_mm / 2)
    slope = median(lean(part.courses[c.index], scale) for c in worked)
    width, height = max(c.around for c in worked) * slope + 2 * border, 2 * border
    points, forms = [ProfilePoint(0.0, worked[0].around * slope / 2, worked[0].yarn, -1)], []
    level = 0.0
    for c in worked:
        level += c.height / slope
        half = c.around * slope / 2
        points.append(ProfilePoint(level, half, c.yarn, c.index))
        forms.append(CourseForm(c.index, 2 * half, half, c.height, level, Lie.FLAT, c.yarn))
    height += level
    fabric = sum(c.around * c.height for c in worked) + border * 2 * (width + height)
    shape = Shape.CORD if len(worked) == 1 and width > 8 * height else Shape.ROWS
    return _flat_piece(shape, scale, forms, width, height, tuple(points), fabric)


def _flat_piece(
    shape: Shape, scale: Scale, courses: Sequence[CourseForm | CourseSize], width: float, height: float,
    points: tuple[ProfilePoint, ...], fabric: float,
) -> Form:  # fmt: skip
    forms = tuple(c for c in courses if isinstance(c, CourseForm))
    return Form(
        shape, scale.basis, forms, width, width, height, 0.0, 0.0, fabric, 0.0, Lie.FLAT, None, 0, False,
        Profile(points, flat=shape is Shape.CORD),
    )  # fmt: skip

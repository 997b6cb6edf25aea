"""Lines that begin and work in one breath: `Row 1: Ch 6, sc in 2nd ch from hook ...`.

The fabric keeps one course for one line. A chart needs the chain as a course of its own under the first row, so it is
parted here, and the drawing's groups are given the fabric's own numbers back.
"""

from dataclasses import replace

from generator.charts.foundations import one_chain_for_all
from generator.charts.marks import CourseGroup, Drawing
from generator.charts.options import ChartOptions
from generator.fabric.model import Course, Make, Part, Role


def parted(part: Part) -> Part:
    """The part with its foundation chain as a first course of its own; the same part where there is nothing to part."""
    if not part.courses or part.courses[0].make is Make.FOUNDATION or len(part.courses[0].runs) < 2:
        return part
    first = part.courses[0]
    chain, rest = first.runs[0], first.runs[1:]
    made = range(chain.first, chain.first + chain.n)
    places = {run.parent for run in rest if run.parent in made}
    along = len(places) > 1 or any(run.n > run.share and run.parent in made for run in rest)
    if (
        chain.kind != "ch"
        or chain.role is not Role.FOUNDATION
        or not along
        or one_chain_for_all(part, part.stitches()) >= 0
    ):
        return part
    ground = Course(None, first.line, Make.FOUNDATION, True, "", (chain,), (), 0, 0, 0, (), 0)
    courses = (ground, replace(first, runs=rest), *part.courses[1:])
    return replace(part, courses=courses, _stitches=[])


def asked_of(options: ChartOptions) -> ChartOptions:
    """The caller's options, told of courses as they are counted after parting."""
    texts = {index + 1: text for index, text in options.course_texts.items()}
    return replace(options, course_texts=texts, course=None if options.course is None else options.course + 1)


def numbered_back(drawing: Drawing) -> Drawing:
    """The drawing's groups under the fabric's own course numbers; the chain belongs to the line it was told in."""

    def back(group: CourseGroup) -> CourseGroup:
        return replace(group, courses=tuple(dict.fromkeys(max(c - 1, 0) for c in group.courses)))

    return replace(drawing, groups=tuple(back(group) for group in drawing.groups))

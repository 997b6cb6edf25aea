"""The colour-zone strip: rounds from left to right against yarns from top to bottom.

Which lane a cell lies in says which yarn it is, so nothing depends on seeing the colour.
"""

from generator.charts.compose import inks_of
from generator.charts.marks import Area, CourseGroup, Drawing, Line, Mark, Piece, Text
from generator.charts.options import ChartOptions
from generator.fabric.model import Course, Part

LANE = 1.15
GAP = 0.2
WIDEST = 1.1
LONG = 30.0
"""Length of the strip in chart units, at most."""


def draw(part: Part, options: ChartOptions) -> Drawing:
    """The strip of a part."""
    inks = inks_of(part, options)
    courses = [(i, c) for i, c in enumerate(part.courses) if c.runs]
    cell = min(WIDEST, LONG / max(len(courses), 1))
    lane = {key: i for i, (key, _) in enumerate(inks)}
    groups = [_group(place, i, course, cell, lane, options) for place, (i, course) in enumerate(courses)]
    long = cell * len(courses)
    names: list[Piece] = [
        Text(-0.5, (i + 0.5) * (LANE + GAP), ink.name, 0.66, "word", "end") for i, (_, ink) in enumerate(inks)
    ]
    names += [
        Mark(Line(((0.0, y), (long, y))), "guide") for y in ((i + 1) * (LANE + GAP) - GAP / 2 for i in range(len(inks)))
    ]
    wide = max((0.4 * len(ink.name) for _, ink in inks), default=0.0) + 1.0
    tall = len(inks) * (LANE + GAP) + 1.2
    return Drawing("strip", (-wide, -0.3, wide + long + 0.6, tall + 0.4), (), tuple(groups), tuple(names), (),
                   options.title, options.description, inks)  # fmt: skip


def _group(
    place: int, index: int, course: Course, cell: float, lane: dict[str, int], options: ChartOptions
) -> CourseGroup:
    x = place * cell
    pieces: list[Piece] = []
    for yarn in dict.fromkeys(run.yarn for run in course.runs):
        if yarn in lane:
            y = lane[yarn] * (LANE + GAP) + GAP / 2
            box = ((x, y), (x + cell, y), (x + cell, y + LANE), (x, y + LANE))
            pieces += [Area((box,), yarn), Mark(Line((*box, box[0])), "swatch")]
    label = "" if course.number is None else str(course.number)
    step = 1 if cell > 0.85 else 5
    if label and (course.number == 1 or (course.number or 0) % step == 0):
        pieces.append(Text(x + cell / 2, len(lane) * (LANE + GAP) + 0.45, label, 0.55))
    return CourseGroup((index,), label, options.course_texts.get(index, label), tuple(pieces), course.size)

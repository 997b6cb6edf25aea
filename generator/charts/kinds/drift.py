"""How the start of the round creeps in spiral work, round by round.

In continuous single crochet every first stitch sits half a stitch beside the one below, so the seam leans by
180 / n degrees a round of n stitches (half of 360 / n): against the direction of work, to the right for the right
hand. Levelling stitches move the start on with the work by as many whole stitches. The half stitch is told by
stitchesnscraps.com/tutorial-why-continuous-rounds-shift; the degrees follow by arithmetic. It is a model, not a
measurement.
"""

import math

from generator.charts.compose import box_round, inks_of
from generator.charts.marks import CourseGroup, Drawing, Line, Mark, Oval, Piece, Point, Text
from generator.charts.options import ChartOptions
from generator.fabric.model import Make, Part

RING = 0.62
"""Distance of the rounds in the drawing."""


def seam_angles(part: Part) -> tuple[tuple[int, float], ...]:
    """(course index, degrees the start has moved in the direction of work) for every round; below 0 is backward."""
    found: list[tuple[int, float]] = []
    angle = 0.0
    for i, course in enumerate(part.courses):
        if course.make not in (Make.SPIRAL, Make.JOINED) or not course.live:
            continue
        n = max(course.live, 1)
        if course.shift:
            angle += 360.0 * course.shift / n
        if course.make is Make.SPIRAL and not course.extra and found:
            angle -= 180.0 / n
        found.append((i, angle))
    return tuple(found)


def draw(part: Part, options: ChartOptions) -> Drawing:
    """Rounds as rings, the start of each as a dot, the seam as the line through them."""
    seam = seam_angles(part)
    groups: list[CourseGroup] = []
    spots: list[Point] = []
    for k, (index, angle) in enumerate(seam):
        r = 1.0 + RING * k
        x, y = _spot(angle, r)
        spots.append((x, y))
        course = part.courses[index]
        label = "" if course.number is None else str(course.number)
        pieces: list[Piece] = [
            Mark(Oval((0.0, 0.0), r, r), "guide"),
            Mark(Oval((x, y), 0.14, 0.14, filled=True), "arrow"),
        ]
        if label and ((course.number or 0) % 5 == 0 or k == len(seam) - 1):
            pieces.append(Text(*_spot(angle - 38 / max(r, 1.0), r), label, 0.55))
        groups.append(CourseGroup((index,), label, options.course_texts.get(index, label), tuple(pieces), course.size))
    front: list[Piece] = [Mark(Line(tuple(spots)), "outline")] if len(spots) > 1 else []
    if seam:
        last = seam[-1][1]
        front.append(Text(0.0, 1.0 + RING * len(seam) + 0.4, f"{last:+.0f}°".replace("-", "−"), 0.8, "number bold"))
        front.append(Mark(Line(((0.0, -0.5), (0.0, -1.0 - RING * len(seam)))), "fold"))
    box = box_round([*front, *(p for g in groups for p in g.pieces)])
    return Drawing(
        "drift", box, (), tuple(groups), tuple(front), (), options.title, options.description, inks_of(part, options)
    )


def _spot(degrees: float, r: float) -> Point:
    """Anticlockwise from the top, as rounds are worked."""
    a = math.radians(degrees)
    return (-r * math.sin(a), -r * math.cos(a))

"""The silhouette: what the piece looks like from the side, round by round.

`options.profile` holds the radii and heights that the measures worked out, in millimetres; without it the shape is
estimated from counts and heights (common practice, no source), which is enough to tell a cone from a ball.
"""

import math

from generator.charts.compose import inks_of
from generator.charts.marks import Area, CourseGroup, Drawing, Line, Mark, Piece, Point, Text
from generator.charts.nodes import SC_HEIGHT, rise
from generator.charts.options import ChartOptions
from generator.fabric.model import Part

WIDE = 20.0
"""Longest side of the silhouette, in chart units."""


def draw(part: Part, options: ChartOptions) -> Drawing:
    """The silhouette of a part."""
    profile = options.profile or estimated(part)
    most = max([2 * r for r, _ in profile] + [abs(h) for _, h in profile] + [1e-6])
    scale = WIDE / most
    points = [(r * scale, -h * scale) for r, h in profile]
    inks = inks_of(part, options)
    courses = list(options.profile_courses[1:]) or [i for i, c in enumerate(part.courses) if c.live]
    matched = len(points) == len(courses) + 1
    groups = [_slice(part, c, points[i], points[i + 1], options) for i, c in enumerate(courses)] if matched else []
    outline: list[Piece] = [
        Mark(Line(tuple((side * x, y) for x, y in points)), "outline") for side in (1, -1)
    ]  # fmt: skip
    outline += [Mark(Line(((-x, y), (x, y))), "outline") for x, y in (points[0], points[-1]) if x > 0]
    right, top, bottom = max(x for x, _ in points), min(y for _, y in points), max(y for _, y in points)
    words = options.profile_words
    if words.get("width"):
        outline += [
            Text(0.0, bottom + 1.5, words["width"], 0.8, "word"),
            *_measure((-right, bottom + 0.8), (right, bottom + 0.8)),
        ]
    if words.get("height"):
        outline += [
            Text(right + 1.3, (top + bottom) / 2, words["height"], 0.8, "word", "start"),
            *_measure((right + 0.9, top), (right + 0.9, bottom)),
        ]
    side = right + (1.6 + 0.45 * len(words.get("height", "")) if words.get("height") else 0.6)
    box = (-right - 0.6, top - 0.6, right + 0.6 + side, bottom - top + 1.2 + (1.6 if words.get("width") else 0.0))
    return Drawing("silhouette", box, (), tuple(groups), tuple(outline), (), options.title, options.description, inks)


def estimated(part: Part) -> tuple[tuple[float, float], ...]:
    """(radius, height) after every counted course, in stitch widths: as far up as the growth of the girth leaves."""
    radius, height = 0.0, 0.0
    found = [(0.0, 0.0)]
    for course in part.courses:
        if not course.live:
            continue
        tall = max((_tall(run.kind) for run in course.runs), default=0.95)
        grown = course.live / (2 * math.pi)
        out = max(-tall, min(tall, grown - radius))
        height += math.sqrt(max(tall * tall - out * out, 0.0))
        radius = radius + out
        found.append((radius, height))
    return tuple(found)


def _tall(kind: str) -> float:
    """Height of a worked stitch in its own widths: one and a bit for each chain of height after the first."""
    return 0.95 + 0.5 * max(rise(kind) - SC_HEIGHT, 0.0)


def _slice(part: Part, c: int, low: Point, high: Point, options: ChartOptions) -> CourseGroup:
    course = part.courses[c]
    box = ((-low[0], low[1]), (low[0], low[1]), (high[0], high[1]), (-high[0], high[1]))
    label = "" if course.number is None else str(course.number)
    pieces = (Area((box,), course.runs[0].yarn), Mark(Line(((-high[0], high[1]), high)), "guide"))
    return CourseGroup((c,), label, options.course_texts.get(c, label), pieces, course.size)


def _measure(a: Point, b: Point) -> list[Piece]:
    """A line with a short stroke at either end."""
    dx, dy = (0.0, 0.25) if a[1] == b[1] else (0.25, 0.0)
    ends = [Mark(Line(((p[0] - dx, p[1] - dy), (p[0] + dx, p[1] + dy))), "arrow") for p in (a, b)]
    return [Mark(Line((a, b)), "arrow"), *ends]

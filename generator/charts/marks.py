"""Plain geometry: what a chart is made of before anybody decides how it looks.

Lengths are in chart units: 1 is the length of one chain in the drawing. x grows to the right and y downwards, angles
are degrees and turn clockwise. Colours, dashes and fonts belong to `svg`; marks only carry class names.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace

from generator.charts.options import Ink
from generator.notation.tree import Loop

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Line:
    """A polyline; `filled` ones are closed and inked whole."""

    points: tuple[Point, ...]
    filled: bool = False
    thin: bool = False


@dataclass(frozen=True, slots=True)
class Bow:
    """A quadratic curve from `start` to `end`, drawn towards `over`."""

    start: Point
    over: Point
    end: Point
    thin: bool = False


@dataclass(frozen=True, slots=True)
class Oval:
    """An ellipse, upright or turned by `turn` degrees; outlined or filled."""

    centre: Point
    rx: float
    ry: float
    turn: float = 0.0
    filled: bool = False
    thin: bool = False


Stroke = Line | Bow | Oval
Shape = tuple[Stroke, ...]
"""A symbol in its own frame: the head at (0, 0), the work growing upwards, so the foot lies at y > 0."""


@dataclass(frozen=True, slots=True)
class Sign:
    """One symbol, set with its head at (x, y) and turned by `turn` degrees.

    `feet` are where its legs stand, in chart units, for the audit; `stitches` the numbers of the stitches it draws.
    """

    shape: Shape
    x: float
    y: float
    turn: float
    stitches: tuple[int, ...]
    feet: tuple[Point, ...] = ()
    kind: str = ""
    yarn: str = ""
    role: str = ""
    loop: Loop = Loop.BOTH
    """Which part of the stitch below it takes up."""


@dataclass(frozen=True, slots=True)
class Mark:
    """A stroke set directly in chart units, styled by its class (`ring`, `arrow`, `guide`, `bracket` ...)."""

    stroke: Stroke
    style: str


@dataclass(frozen=True, slots=True)
class Area:
    """A closed outline filled with a yarn's tint and pattern; further outlines are holes."""

    outlines: tuple[tuple[Point, ...], ...]
    yarn: str
    style: str = "zone"


@dataclass(frozen=True, slots=True)
class Text:
    """Words set with their middle at (x, y). `anchor` is `middle`, `start` or `end`; `size` in chart units."""

    x: float
    y: float
    words: str
    size: float
    style: str = "number"
    anchor: str = "middle"
    ring: float = 0.0
    """Radius of the circle it is set along, read from outside; 0 for straight words."""
    about: Point = (0.0, 0.0)
    """Middle of that circle."""


Piece = Sign | Mark | Area | Text


@dataclass(frozen=True, slots=True)
class CourseGroup:
    """What belongs to one round or row, or to a folded run of them: lit together and read out together."""

    courses: tuple[int, ...]
    """Indices of the courses in the part."""
    label: str
    text: str
    pieces: tuple[Piece, ...]
    folded: int = 0
    """Stitches that stand in the drawing as a label, not as symbols."""
    apart: bool = False
    """It stands on a folded band or on the ghost of a rim, not on symbols."""


@dataclass(frozen=True, slots=True)
class KeyEntry:
    """One line of the key: a sample symbol and its word."""

    shape: Shape
    word: str
    identity: str


@dataclass(frozen=True, slots=True)
class Drawing:
    """A finished chart: its box (left, top, width, height), its groups in order of working, and its key."""

    kind: str
    box: tuple[float, float, float, float]
    ground: tuple[Piece, ...]
    groups: tuple[CourseGroup, ...]
    front: tuple[Piece, ...]
    key: tuple[KeyEntry, ...]
    title: str
    description: str
    inks: tuple[tuple[str, Ink], ...] = ()
    """The yarns it uses, by key, in order of first use."""
    left_handed: bool = False


def turned(point: Point, degrees: float) -> Point:
    """The point turned clockwise (as seen, y downwards) about the origin."""
    a = math.radians(degrees)
    c, s = math.cos(a), math.sin(a)
    return (point[0] * c - point[1] * s, point[0] * s + point[1] * c)


def placed(sign: Sign, point: Point) -> Point:
    """A point of a sign's own frame, in chart units."""
    x, y = turned(point, sign.turn)
    return (sign.x + x, sign.y + y)


def trace(stroke: Stroke, steps: int = 8) -> tuple[Point, ...]:
    """The stroke as a polyline, for measuring ink."""
    if isinstance(stroke, Line):
        return (*stroke.points, stroke.points[0]) if stroke.filled else stroke.points
    if isinstance(stroke, Bow):
        return tuple(_on_bow(stroke, i / steps) for i in range(steps + 1))
    ring = []
    for i in range(steps + 5):
        a = 2 * math.pi * i / (steps + 4)
        x, y = turned((stroke.rx * math.cos(a), stroke.ry * math.sin(a)), stroke.turn)
        ring.append((stroke.centre[0] + x, stroke.centre[1] + y))
    return tuple(ring)


def _on_bow(bow: Bow, t: float) -> Point:
    a, b, c = (1 - t) ** 2, 2 * t * (1 - t), t * t
    return (
        a * bow.start[0] + b * bow.over[0] + c * bow.end[0],
        a * bow.start[1] + b * bow.over[1] + c * bow.end[1],
    )


def extent(points: Iterable[Point]) -> tuple[float, float, float, float]:
    """The box (left, top, right, bottom) round the points; all zero when there are none."""
    xs, ys = zip(*points, strict=True) if (points := tuple(points)) else ((0.0,), (0.0,))
    return (min(xs), min(ys), max(xs), max(ys))


def _flip(point: Point) -> Point:
    return (-point[0], point[1])


def mirrored_stroke(stroke: Stroke) -> Stroke:
    """The stroke seen in a mirror that stands upright at x = 0."""
    if isinstance(stroke, Line):
        return replace(stroke, points=tuple(_flip(p) for p in stroke.points))
    if isinstance(stroke, Bow):
        return replace(stroke, start=_flip(stroke.start), over=_flip(stroke.over), end=_flip(stroke.end))
    return replace(stroke, centre=_flip(stroke.centre), turn=-stroke.turn)


_SIDES = {"start": "end", "end": "start", "middle": "middle"}


def mirrored(piece: Piece) -> Piece:
    """The piece for the other hand: places and shapes reflected, words left readable."""
    if isinstance(piece, Sign):
        shape = tuple(mirrored_stroke(s) for s in piece.shape)
        return replace(piece, shape=shape, x=-piece.x, turn=-piece.turn, feet=tuple(_flip(p) for p in piece.feet))
    if isinstance(piece, Mark):
        return replace(piece, stroke=mirrored_stroke(piece.stroke))
    if isinstance(piece, Area):
        return replace(piece, outlines=tuple(tuple(_flip(p) for p in line) for line in piece.outlines))
    return replace(piece, x=-piece.x, anchor=_SIDES[piece.anchor], about=_flip(piece.about))


def _shift(point: Point, dx: float, dy: float) -> Point:
    return (point[0] + dx, point[1] + dy)


def _shifted_stroke(stroke: Stroke, dx: float, dy: float) -> Stroke:
    if isinstance(stroke, Line):
        return replace(stroke, points=tuple(_shift(p, dx, dy) for p in stroke.points))
    if isinstance(stroke, Bow):
        return replace(
            stroke, start=_shift(stroke.start, dx, dy), over=_shift(stroke.over, dx, dy), end=_shift(stroke.end, dx, dy)
        )
    return replace(stroke, centre=_shift(stroke.centre, dx, dy))


def shifted(piece: Piece, dx: float, dy: float) -> Piece:
    """The piece moved."""
    if isinstance(piece, Sign):
        return replace(piece, x=piece.x + dx, y=piece.y + dy, feet=tuple(_shift(p, dx, dy) for p in piece.feet))
    if isinstance(piece, Mark):
        return replace(piece, stroke=_shifted_stroke(piece.stroke, dx, dy))
    if isinstance(piece, Area):
        return replace(piece, outlines=tuple(tuple(_shift(p, dx, dy) for p in line) for line in piece.outlines))
    return replace(piece, x=piece.x + dx, y=piece.y + dy, about=_shift(piece.about, dx, dy))

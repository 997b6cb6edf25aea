"""Strokes as path data, and the one way numbers are written. Every coordinate is in units of 1/32 chain."""

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise

from generator.charts.marks import Bow, Line, Oval, Point, Shape, Stroke

UNIT = 32


def number(value: float, places: int = 0) -> str:
    """The one way numbers are written: rounded, no trailing zeros, no minus zero."""
    if not places:
        return str(round(value))
    text = f"{value:.{places}f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def whole(value: float) -> str:
    """A length in chart units, to the unit of the finished text."""
    return number(value * UNIT)


def fine(value: float) -> str:
    """A length in chart units, to a tenth of a unit."""
    return number(value * UNIT, 1)


def pair(point: Point) -> str:
    """Two coordinates."""
    return f"{fine(point[0])} {fine(point[1])}"


def path_of(stroke: Stroke) -> str:
    """The stroke as path data."""
    if isinstance(stroke, Line):
        return "M" + "L".join(pair(p) for p in stroke.points) + ("Z" if stroke.filled else "")
    if isinstance(stroke, Bow):
        return f"M{pair(stroke.start)}Q{pair(stroke.over)} {pair(stroke.end)}"
    a = math.radians(stroke.turn)
    dx, dy = stroke.rx * math.cos(a), stroke.rx * math.sin(a)
    cx, cy = stroke.centre
    arc = f"A{fine(stroke.rx)} {fine(stroke.ry)} {number(stroke.turn, 1)} 1 1 "
    return f"M{pair((cx - dx, cy - dy))}{arc}{pair((cx + dx, cy + dy))}{arc}{pair((cx - dx, cy - dy))}"


def is_filled(stroke: Stroke) -> bool:
    """Whether a stroke is inked whole."""
    return isinstance(stroke, Line | Oval) and stroke.filled


def shape_paths(shape: Shape) -> str:
    """The inside of a symbol: one path for plain strokes, one for thin ones, one for filled ones."""
    plain = "".join(path_of(s) for s in shape if not is_filled(s) and not s.thin)
    thin = "".join(path_of(s) for s in shape if not is_filled(s) and s.thin)
    filled = "".join(path_of(s) for s in shape if is_filled(s))
    return "".join(
        f'<path{extra} d="{data}"/>'
        for data, extra in ((plain, ""), (thin, ' stroke-width="2"'), (filled, ' fill="currentColor"'))
        if data
    )


def outlines(lines: Iterable[Sequence[Point]]) -> str:
    """Closed outlines as path data: whole units, each corner told as a step from the last."""
    return "".join(_outline(line) for line in lines if line)


def _outline(line: Sequence[Point]) -> str:
    at = [(round(x * UNIT), round(y * UNIT)) for x, y in line]
    steps = [(c - a, d - b) for (a, b), (c, d) in pairwise(at) if (a, b) != (c, d)]
    told = "".join(f"{after(x)}{after(y)}" for x, y in ((str(x), str(y)) for x, y in steps)).lstrip()
    return f"M{at[0][0]}{after(str(at[0][1]))}" + (f"l{told}" if told else "") + "Z"


def after(value: str) -> str:
    """A number that follows another: a minus sign parts them as well as a space."""
    return value if value[0] == "-" else f" {value}"

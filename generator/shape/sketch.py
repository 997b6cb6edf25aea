"""An outline drawn by hand: an SVG path as points (radius, level).

The grammar of path data is that of SVG 2 (w3.org/TR/SVG2/paths.html, section 9.3); arcs are turned into points by the
conversion to centre parameters of its appendix B.2. y runs down in SVG and up here.
"""

import itertools
import re
from collections.abc import Iterator
from math import atan2, cos, hypot, pi, radians, sin, sqrt

from generator.shape.profile import Point

PIECES = 24
"""Straight pieces a curve is cut into."""
LONGEST = 2000
"""Most numbers in a path."""

_TOKEN = re.compile(
    r"\s*,?\s*(?:(?P<command>[MmLlHhVvCcSsQqTtAaZz])|(?P<number>[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?))"
)
_TAKES = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2, "A": 7, "Z": 0}


class SketchError(Exception):
    """A path that can't be read; its message is a finding's. Never leaves this package."""


def sketch(data: str) -> tuple[Point, ...]:
    """The path as points: the leftmost x becomes the axis, the lowest point level 0; no unit is implied."""
    traced = list(_trace(data))
    if len(traced) < 2:
        raise SketchError("the path has fewer than two points")
    left, low = min(x for x, _ in traced), max(y for _, y in traced)
    points: list[Point] = []
    for x, y in traced:
        point = (round(x - left, 9), round(low - y, 9))
        if not points or points[-1] != point:
            points.append(point)
    return tuple(points)


def _trace(data: str) -> Iterator[Point]:
    here, start, handle = (0.0, 0.0), (0.0, 0.0), (0.0, 0.0)
    before, begun = "", False
    for letter, numbers in _commands(data):
        kind, relative = letter.upper(), letter.islower()
        if kind == "M" and begun:
            raise SketchError("the path lifts the pen; an outline is one line")
        if not begun and kind != "M":
            raise SketchError("the path does not begin with `M`")
        if kind == "Z":
            raise SketchError("the path closes with `Z`; an outline is half a section and stays open")
        numbers = _absolute(kind, numbers, here) if relative else numbers
        mirrored = _mirror(here, handle) if before in _SMOOTH.get(kind, "") else here
        curve, handle = _piece(kind, numbers, here, mirrored)
        yield from curve
        here = curve[-1]
        start, begun, before = (here if kind == "M" else start), True, kind


_SMOOTH = {"S": "CS", "T": "QT"}


def _commands(data: str) -> Iterator[tuple[str, list[float]]]:
    """Commands with their numbers; a command whose numbers go on is repeated (`M` goes on as `L`)."""
    at, letter = 0, ""
    numbers: list[float] = []
    parsed: list[tuple[str, list[float]]] = []
    while at < len(data.rstrip()):
        match = _TOKEN.match(data, at)
        if match is None:
            raise SketchError(f"`{data[at : at + 12].strip()}` is not part of an SVG path")
        at = match.end()
        if match["command"]:
            letter, numbers = match["command"], []
            parsed.append((letter, numbers))
        elif not parsed:
            raise SketchError("the path does not begin with `M`")
        else:
            numbers.append(float(match["number"]))
    if sum(len(numbers) for _, numbers in parsed) > LONGEST:
        raise SketchError(f"the path has more than {LONGEST} numbers")
    for letter, numbers in parsed:
        takes = _TAKES[letter.upper()]
        if takes == 0 or not numbers or len(numbers) % takes:
            if takes or numbers:
                raise SketchError(f"`{letter}` has {len(numbers)} numbers, it takes {takes} or a multiple")
            yield letter, []
            continue
        for i in range(0, len(numbers), takes):
            yield ({"M": "L", "m": "l"}.get(letter, letter) if i else letter), numbers[i : i + takes]


def _absolute(kind: str, numbers: list[float], here: Point) -> list[float]:
    if kind == "H":
        return [numbers[0] + here[0]]
    if kind == "V":
        return [numbers[0] + here[1]]
    if kind == "A":
        return [*numbers[:5], numbers[5] + here[0], numbers[6] + here[1]]
    return [number + here[i % 2] for i, number in enumerate(numbers)]


def _mirror(here: Point, handle: Point) -> Point:
    return 2 * here[0] - handle[0], 2 * here[1] - handle[1]


def _piece(kind: str, n: list[float], here: Point, mirrored: Point) -> tuple[list[Point], Point]:
    """The points of one command, and the handle a smooth command after it mirrors."""
    if kind in "ML":
        return [(n[0], n[1])], (n[0], n[1])
    if kind == "H":
        return [(n[0], here[1])], (n[0], here[1])
    if kind == "V":
        return [(here[0], n[0])], (here[0], n[0])
    if kind in "CS":
        first = (n[0], n[1]) if kind == "C" else mirrored
        second, end = (n[-4], n[-3]), (n[-2], n[-1])
        return list(_bezier((here, first, second, end))), second
    if kind in "QT":
        handle = (n[0], n[1]) if kind == "Q" else mirrored
        return list(_bezier((here, handle, (n[-2], n[-1])))), handle
    return list(_arc(here, n)), (n[5], n[6])


def _bezier(corners: tuple[Point, ...]) -> Iterator[Point]:
    for i in range(1, PIECES + 1):
        t, line = i / PIECES, list(corners)
        while len(line) > 1:  # de Casteljau
            line = [(a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t) for a, b in itertools.pairwise(line)]
        yield line[0]


def _arc(here: Point, n: list[float]) -> Iterator[Point]:
    rx, ry, turn, end = abs(n[0]), abs(n[1]), radians(n[2]), (n[5], n[6])
    if not rx or not ry or here == end:
        yield end
        return
    c, s = cos(turn), sin(turn)
    dx, dy = (here[0] - end[0]) / 2, (here[1] - end[1]) / 2
    x, y = c * dx + s * dy, -s * dx + c * dy
    grow = max(1.0, hypot(x / rx, y / ry))
    rx, ry = rx * grow, ry * grow
    under = max(0.0, (rx * ry) ** 2 - (rx * y) ** 2 - (ry * x) ** 2) / ((rx * y) ** 2 + (ry * x) ** 2)
    k = sqrt(under) * (-1 if bool(n[3]) == bool(n[4]) else 1)
    cx, cy = k * rx * y / ry, -k * ry * x / rx
    a = atan2((y - cy) / ry, (x - cx) / rx)
    sweep = atan2((-y - cy) / ry, (-x - cx) / rx) - a
    if n[4] and sweep < 0:
        sweep += 2 * pi
    if not n[4] and sweep > 0:
        sweep -= 2 * pi
    mx, my = (here[0] + end[0]) / 2, (here[1] + end[1]) / 2
    for i in range(1, PIECES + 1):
        u, v = cx + rx * cos(a + sweep * i / PIECES), cy + ry * sin(a + sweep * i / PIECES)
        yield c * u - s * v + mx, s * u + c * v + my

"""Free places for words and small signs: never on a symbol."""

import itertools
import math
from collections import defaultdict
from collections.abc import Iterable, Iterator
from functools import cache

from generator.charts.marks import Mark, Piece, Point, Shape, Sign, Text, trace

CELL = 1.0


def ink(piece: Piece, step: float = 0.09) -> Iterator[Point]:
    """Points along the ink of a piece, no further apart than `step`."""
    if isinstance(piece, Sign):
        a = math.radians(piece.turn)
        c, s, left, top = math.cos(a), math.sin(a), piece.x, piece.y
        yield from [(left + x * c - y * s, top + x * s + y * c) for x, y in ink_of(piece.shape, step)]
    elif isinstance(piece, Mark):
        yield from _along(list(trace(piece.stroke)), step)


@cache
def ink_of(shape: Shape, step: float) -> tuple[Point, ...]:
    """Points along the ink of a symbol in its own frame."""
    return tuple(point for stroke in shape for point in _along(list(trace(stroke)), step))


@cache
def reach_of(shape: Shape) -> float:
    """How far the ink of a symbol goes from its head, at most."""
    return max((math.hypot(x, y) for x, y in ink_of(shape, 1.0)), default=0.0)


def _along(points: list[Point], step: float) -> Iterator[Point]:
    for (ax, ay), (bx, by) in itertools.pairwise(points):
        n = max(1, math.ceil(math.hypot(bx - ax, by - ay) / step))
        for i in range(n):
            yield (ax + (bx - ax) * i / n, ay + (by - ay) * i / n)
    if points:
        yield points[-1]


def box_of(text: Text) -> tuple[float, float, float, float]:
    """Half width and half height about the middle of straight words: (left, top, right, bottom)."""
    wide, tall = 0.54 * text.size * max(len(text.words), 1), 0.74 * text.size
    left = {"middle": text.x - wide / 2, "start": text.x, "end": text.x - wide}[text.anchor]
    return (left, text.y - tall / 2, left + wide, text.y + tall / 2)


class Ink:
    """Where ink is, asked by box."""

    def __init__(self, pieces: Iterable[Piece] = ()) -> None:
        self._cells: defaultdict[tuple[int, int], list[Point]] = defaultdict(list)
        for piece in pieces:
            self.add(piece)

    def add(self, piece: Piece) -> None:
        """Ink of one more piece; words count as their box."""
        if isinstance(piece, Text):
            left, top, right, bottom = box_of(piece)
            points: Iterable[Point] = _along(
                [(left, top), (right, top), (right, bottom), (left, bottom), (left, top)], 0.15
            )
        else:
            points = ink(piece)
        cells, floor = self._cells, math.floor
        for x, y in points:
            cells[floor(x / CELL), floor(y / CELL)].append((x, y))

    def free(self, box: tuple[float, float, float, float], air: float = 0.1) -> bool:
        """Whether a box, with some air round it, holds no ink."""
        left, top, right, bottom = box[0] - air, box[1] - air, box[2] + air, box[3] + air
        for i in range(math.floor(left / CELL), math.floor(right / CELL) + 1):
            for j in range(math.floor(top / CELL), math.floor(bottom / CELL) + 1):
                if any(left <= x <= right and top <= y <= bottom for x, y in self._cells.get((i, j), ())):
                    return False
        return True


def nearest_free(ink_there: Ink, ideal: Point, words: str, sizes: tuple[float, ...], reach: float) -> Text | None:
    """The words set as near to the ideal place as there is room for, in the largest size that fits."""
    for size in sizes:
        left, top, right, bottom = box_of(Text(*ideal, words, size))
        for dx, dy in _steps(0.12, reach):
            if math.hypot(dx, dy) <= reach and ink_there.free((left + dx, top + dy, right + dx, bottom + dy)):
                return Text(ideal[0] + dx, ideal[1] + dy, words, size)
    return None


def free_spot(ink_there: Ink, ideal: Point, half: float, reach: float) -> Point | None:
    """The free place nearest to the ideal one for a small sign of `half` its size."""
    for dx, dy in _steps(0.1, reach):
        x, y = ideal[0] + dx, ideal[1] + dy
        if ink_there.free((x - half, y - half, x + half, y + half), 0.05):
            return (x, y)
    return None


@cache
def _steps(wide: float, reach: float) -> tuple[Point, ...]:
    """Steps in both directions, the nearest first."""
    some = range(-int(reach / wide), int(reach / wide) + 1)
    return tuple(sorted(((i * wide, j * wide) for i in some for j in some), key=_far))


def _far(d: Point) -> tuple[float, Point]:
    return (round(d[0] ** 2 + d[1] ** 2, 4), d)

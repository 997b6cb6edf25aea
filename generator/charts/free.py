"""Free places for words and small signs: never on a symbol."""

import itertools
import math
from collections.abc import Iterable, Iterator

from generator.charts.marks import Mark, Piece, Point, Sign, Text, placed, trace

CELL = 1.0


def ink(piece: Piece, step: float = 0.09) -> Iterator[Point]:
    """Points along the ink of a piece, no further apart than `step`."""
    if isinstance(piece, Sign):
        for stroke in piece.shape:
            yield from _along([placed(piece, p) for p in trace(stroke)], step)
    elif isinstance(piece, Mark):
        yield from _along(list(trace(piece.stroke)), step)


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
        self._cells: dict[tuple[int, int], list[Point]] = {}
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
        for x, y in points:
            self._cells.setdefault((math.floor(x / CELL), math.floor(y / CELL)), []).append((x, y))

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
    spots = sorted(
        ((dx * 0.12, dy * 0.12) for dx in range(-int(reach / 0.12), int(reach / 0.12) + 1)
         for dy in range(-int(reach / 0.12), int(reach / 0.12) + 1)),
        key=lambda d: (round(d[0] ** 2 + d[1] ** 2, 4), d),
    )  # fmt: skip
    for size in sizes:
        for dx, dy in spots:
            if math.hypot(dx, dy) <= reach:
                text = Text(ideal[0] + dx, ideal[1] + dy, words, size)
                if ink_there.free(box_of(text)):
                    return text
    return None


def free_spot(ink_there: Ink, ideal: Point, half: float, reach: float) -> Point | None:
    """The free place nearest to the ideal one for a small sign of `half` its size."""
    steps = int(reach / 0.1)
    for dx, dy in sorted(
        ((i * 0.1, j * 0.1) for i in range(-steps, steps + 1) for j in range(-steps, steps + 1)), key=_far
    ):
        x, y = ideal[0] + dx, ideal[1] + dy
        if ink_there.free((x - half, y - half, x + half, y + half), 0.05):
            return (x, y)
    return None


def _far(d: Point) -> tuple[float, Point]:
    return (round(d[0] ** 2 + d[1] ** 2, 4), d)

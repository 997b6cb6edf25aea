"""Symbols once, `<use>` after: which id each symbol has, and how a sign is placed."""

import math
from collections import Counter
from collections.abc import Iterable

from generator.charts.marks import Shape, Sign
from generator.charts.paths import UNIT, after, number, shape_paths

_TURNS = tuple(0.5 / math.tan(math.radians(a) / 2) if a else 0.0 for a in range(360))
"""Half the cotangent of half of every whole number of degrees."""

FINE = 90
"""A turn of so many degrees and more carries the rounding of its middle on, up to twofold; it is told to a tenth."""


def letters(i: int) -> str:
    """Short ids: a..z, aa.."""
    text = ""
    i += 1
    while i:
        i, rest = divmod(i - 1, 26)
        text = chr(97 + rest) + text
    return text


class Book:
    """Symbols and the ids they were given: the shortest to those that are used most."""

    def __init__(self, prefix: str, signs: Iterable[Sign]) -> None:
        self.prefix = prefix
        self.ids: dict[Shape, str] = {}
        self._known: dict[int, str] = {}  # by identity: most signs share their shape's very object
        for shape, _ in Counter(sign.shape for sign in signs).most_common():
            self.id_of(shape)

    def id_of(self, shape: Shape) -> str:
        """The id of a symbol; a new one gets the next."""
        key = self._known.get(id(shape))
        if key is None:
            key = self.ids.setdefault(shape, self.prefix + letters(len(self.ids)))
            self._known[id(shape)] = key
        return key

    def use(self, shape: Shape, x: float, y: float, turn: float) -> str:
        """One `<use>`. To move and to turn is to turn about another point, which is told in a third fewer letters."""
        a, x, y = round(turn) % 360, x * UNIT, y * UNIT
        if not a:
            return f'<use href="#{self.id_of(shape)}" x="{round(x)}" y="{round(y)}"/>'
        half, places = _TURNS[a], 1 if FINE <= a <= 360 - FINE else 0
        about = number(x / 2 - half * y, places) + after(number(y / 2 + half * x, places))
        return f'<use href="#{self.id_of(shape)}" transform="rotate({a if a <= 260 else a - 360} {about})"/>'

    def defs(self) -> str:
        """Definitions of all symbols used."""
        return "".join(f'<g id="{key}">{shape_paths(shape)}</g>' for shape, key in self.ids.items())

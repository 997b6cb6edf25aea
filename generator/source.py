"""Texts and places in them: the ground everything else points back to.

Offsets count characters of the decoded text. Lines and columns are 1-based, as editors show them.
"""

from bisect import bisect_right
from dataclasses import dataclass, field
from itertools import accumulate
from typing import NamedTuple


class Span(NamedTuple):
    """A stretch of a source text: `start` is its first character's offset, `end` the offset just past its last.

    A tuple, because every step of every line has one and it is made three times as fast as a frozen class.
    """

    start: int
    end: int

    def cover(self, other: "Span") -> "Span":
        """The smallest span that holds both."""
        return Span(min(self.start, other.start), max(self.end, other.end))


NOWHERE = Span(0, 0)
named = tuple.__new__
"""Makes a named tuple from the tuple of all its values; half the time of calling its class."""


@dataclass(frozen=True, slots=True)
class Source:
    """One text with the name it is known by (a path relative to the studio's folder, or `<stdin>`)."""

    path: str
    text: str
    _lines: tuple[int, ...] = field(default=(), init=False, repr=False, compare=False)
    """Where lines begin; found when first asked for, since most texts of a large studio are only passed along."""

    @property
    def _starts(self) -> tuple[int, ...]:
        if not self._lines:
            lengths = (len(line) + 1 for line in self.text.split("\n"))
            object.__setattr__(self, "_lines", tuple(accumulate(lengths, initial=0))[:-1])
        return self._lines

    def place(self, offset: int) -> tuple[int, int]:
        """Line and column (both 1-based) of an offset."""
        starts = self._starts
        line = bisect_right(starts, offset)
        return line, offset - starts[line - 1] + 1

    def line(self, number: int) -> str:
        """The text of line `number` (1-based) without its line end; empty past the end."""
        if not 1 <= number <= len(self._starts):
            return ""
        start = self._starts[number - 1]
        end = self._starts[number] - 1 if number < len(self._starts) else len(self.text)
        return self.text[start:end].rstrip("\r")

    def line_span(self, number: int) -> Span:
        """The span of line `number` (1-based) without its line end."""
        start = self._starts[number - 1]
        return Span(start, start + len(self.line(number)))

    def words(self, span: Span) -> str:
        """The author's own words at a span."""
        return self.text[span.start : span.end]

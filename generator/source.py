"""Texts and places in them: the ground everything else points back to.

Offsets count characters of the decoded text. Lines and columns are 1-based, as editors show them.
"""

from bisect import bisect_right
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Span:
    """A stretch of a source text: `start` is its first character's offset, `end` the offset just past its last."""

    start: int
    end: int

    def cover(self, other: "Span") -> "Span":
        """The smallest span that holds both."""
        return Span(min(self.start, other.start), max(self.end, other.end))


NOWHERE = Span(0, 0)


@dataclass(frozen=True, slots=True)
class Source:
    """One text with the name it is known by (a path relative to the studio's folder, or `<stdin>`)."""

    path: str
    text: str
    _starts: tuple[int, ...] = field(default=(), repr=False, compare=False)

    def __post_init__(self) -> None:
        starts = [0]
        starts.extend(i + 1 for i, character in enumerate(self.text) if character == "\n")
        object.__setattr__(self, "_starts", tuple(starts))

    def place(self, offset: int) -> tuple[int, int]:
        """Line and column (both 1-based) of an offset."""
        line = bisect_right(self._starts, offset)
        return line, offset - self._starts[line - 1] + 1

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

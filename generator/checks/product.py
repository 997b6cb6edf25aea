"""The finished product the rules look at, with the few walks through it that most rules need.

A rule sees everything at once: the file as read, the fabric as worked, the measures. It changes nothing.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from generator.fabric.model import Course, Fabric, Part, Problem, Status, WorkedLine
from generator.notation.pattern import Header, Pattern, Prose
from generator.notation.tree import Label, Line, Piece, Word
from generator.source import Source, Span

if TYPE_CHECKING:
    from generator.measures.measured import Measured


@dataclass(frozen=True, slots=True)
class At:
    """One worked line with its surroundings."""

    part: Part
    part_index: int
    index: int
    """Index of the line in its part."""
    worked: WorkedLine
    line: Line
    """The line as written."""
    label: Label
    """What the line calls itself."""
    span: Span
    """The whole line."""
    courses: tuple[Course, ...]
    """The courses it made, in order; empty for a remark."""
    problem: Problem | None
    """What went wrong in working it."""

    @property
    def below(self) -> Course | None:
        """The course that lay below its first course; None for a beginning."""
        start = self.worked.courses[0]
        return self.part.courses[start - 1] if 0 < start <= len(self.part.courses) else None


@dataclass(frozen=True, slots=True)
class Product:
    """A pattern read, worked and measured. `bare` is a pasted text without header: only its lines are judged.

    `terms` is the dialect the text turned out to be in (`US`, `UK` or empty); the header's word goes first.
    """

    pattern: Pattern
    fabric: Fabric
    measured: "Measured | None" = None
    bare: bool = False
    terms: str = ""
    _lines: list[tuple[At, ...]] = field(default_factory=list, repr=False, compare=False)
    memo: dict[str, Any] = field(default_factory=dict, repr=False, compare=False)
    """What rules have worked out together, by name."""
    spent: list[int] = field(default_factory=lambda: [0], repr=False, compare=False)
    """Readings worked so far to prove fixes (see `proving`); keeps one run of the rules within bounds."""

    @property
    def header(self) -> Header:
        """The structured facts."""
        return self.pattern.header

    @property
    def source(self) -> Source:
        """The text."""
        return self.pattern.source

    @property
    def dialect(self) -> str:
        """`US` or `UK`, as far as anybody knows; US when nobody does."""
        return self.header.terms or self.terms or "US"

    def words(self, span: Span) -> str:
        """The author's own words at a span."""
        return self.source.words(span)

    def pieces(self) -> tuple[Piece, ...]:
        """The parts as written."""
        return self.pattern.pieces()

    def lines(self) -> tuple[At, ...]:
        """Every worked line of every part, in order."""
        if not self._lines:
            self._lines.append(tuple(at for p in range(len(self.fabric.parts)) for at in self.in_part(p)))
        return self._lines[0]

    def in_part(self, part_index: int) -> tuple[At, ...]:
        """The worked lines of one part."""
        key = f"part {part_index}"
        if key not in self.memo:
            part = self.fabric.parts[part_index]
            self.memo[key] = tuple([_at(part, part_index, i) for i in range(len(part.lines))])
        lines: tuple[At, ...] = self.memo[key]
        return lines

    def parts(self) -> Iterator[tuple[Part, tuple[At, ...]]]:
        """Every part with its lines."""
        for p, part in enumerate(self.fabric.parts):
            yield part, self.in_part(p)

    def before(self, at: At) -> At | None:
        """The nearest earlier line of the part that made a course."""
        lines = self.in_part(at.part_index)
        return next((lines[i] for i in range(at.index - 1, -1, -1) if lines[i].courses), None)

    def after(self, at: At) -> At | None:
        """The next line of the part that made a course."""
        lines = self.in_part(at.part_index)
        return next((lines[i] for i in range(at.index + 1, len(lines)) if lines[i].courses), None)

    def prose(self) -> tuple[Prose, ...]:
        """The Markdown between the working blocks."""
        return tuple(block for block in self.pattern.blocks if isinstance(block, Prose))

    def place(self, *keys: str) -> Span:
        """Where the first of these header values that is there stands; the file's beginning when none is.

        A key that isn't there itself stands for what holds it: `yarns.A.weight` for `yarns.A`.
        """
        for key in keys:
            while key:
                if key in self.header.spans:
                    return self.header.spans[key]
                key = key.rpartition(".")[0]
        return Span(0, 0)

    def first_span(self) -> Span:
        """The first working line, else the file's beginning."""
        return next((at.span for at in self.lines()), Span(0, 0))


def _at(part: Part, part_index: int, index: int) -> At:
    worked = part.lines[index]
    line, first, past = worked.line, *worked.courses
    return At(part, part_index, index, worked, line, line.label, line.span, part.courses[first:past], worked.problem)


def understood(at: At) -> bool:
    """Whether every word of the line was read."""
    return at.worked.status is not Status.NOT_UNDERSTOOD


def working(at: At) -> bool:
    """Whether the line makes a round or a row (rather than setting up, noting or finishing)."""
    return at.label.word is not Word.NONE or bool(at.courses)

"""A finding put in its place: line, column, and the piece of the line to show. Shared by all ways of showing it."""

import unicodedata
from dataclasses import dataclass

from generator.diagnostics.record import Finding
from generator.source import Source, Span

WINDOW = 110
"""Characters of a long line that are shown round the place."""


@dataclass(frozen=True, slots=True)
class Excerpt:
    """One line of the source, cut into what stands before, at and after the place; fit to be printed."""

    line: int
    column: int
    before: str
    marked: str
    after: str


def printable(text: str) -> str:
    """The text without anything that could move a cursor or turn the writing direction: each such character is `·`."""
    return "".join(
        " " if c == "\t" else "·" if unicodedata.category(c) in ("Cc", "Cf", "Cs", "Co", "Cn") else c for c in text
    )


def excerpt(source: Source, span: Span) -> Excerpt:
    """The line a span begins on. A span over several lines is shown up to the end of its first."""
    start = min(span.start, len(source.text))
    line, column = source.place(start)
    text = source.line(line)
    end = min(column - 1 + max(span.end - span.start, 0), len(text))
    begin = min(column - 1, len(text))
    left, right = max(0, min(begin - WINDOW // 3, len(text) - WINDOW)), len(text)
    if len(text) > WINDOW:
        right = min(len(text), left + WINDOW)
        end = min(end, right)
    before = ("…" if left else "") + printable(text[left:begin])
    after = printable(text[end:right]) + ("…" if right < len(text) else "")
    return Excerpt(line, column, before, printable(text[begin:end]), after)


def ordered(findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """Findings in the order of the text; of those at one place, in the order they were found."""
    return tuple(sorted(findings, key=lambda finding: finding.span.start))


def title(rule: str) -> str:
    """A rule's name in words: `count differs`."""
    return rule.replace("-", " ")

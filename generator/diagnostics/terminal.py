"""Findings for a person at a terminal: the line, the words underlined, what would fit."""

import unicodedata
from collections.abc import Mapping

from generator.diagnostics.placing import Excerpt, excerpt, printable, title
from generator.diagnostics.record import Finding, Severity
from generator.source import Source, Span

_COLOURS: Mapping[Severity, str] = {Severity.ERROR: "31", Severity.WARNING: "33", Severity.NOTE: "36"}


def wants_colour(is_terminal: bool, environment: Mapping[str, str]) -> bool:
    """Colour only for a terminal that can show it and a reader who wants it (the NO_COLOR convention)."""
    return is_terminal and not environment.get("NO_COLOR") and environment.get("TERM") != "dumb"


def render(source: Source, finding: Finding, colour: bool = False) -> str:
    """One finding as a block of lines, without a line end after the last."""
    paint = _paint(_COLOURS[finding.severity], colour)
    place = excerpt(source, finding.span)
    name = printable(source.path)
    lines = [f"{name}:{place.line}:{place.column}  {paint(title(finding.rule))}   {printable(finding.message)}"]
    gutter = len(str(max([place.line, *(source.place(label.span.start)[0] for label in finding.labels)])))
    if source.text.strip():
        lines.extend(_shown(place, gutter, "^", paint))
    for label in finding.labels:
        lines.extend(_labelled(source, label.span, label.message, gutter))
    if finding.fits:
        lines.append("    " + _paint("32", colour)("fits: ") + printable(finding.fits))
    return "\n".join(lines)


def _paint(code: str, colour: bool) -> "_Painter":
    return _Painter(code if colour else "")


class _Painter:
    """Wraps words in a colour, or leaves them as they are."""

    def __init__(self, code: str) -> None:
        self.code = code

    def __call__(self, words: str) -> str:
        return f"\x1b[{self.code}m{words}\x1b[0m" if self.code else words


def _shown(place: Excerpt, gutter: int, sign: str, paint: _Painter) -> list[str]:
    under = sign * max(1, width(place.marked))
    return [
        f"    {place.line:>{gutter}} | {place.before}{place.marked}{place.after}",
        f"    {'':>{gutter}} | {' ' * width(place.before)}{paint(under)}",
    ]


def _labelled(source: Source, span: Span, message: str, gutter: int) -> list[str]:
    line, under = _shown(excerpt(source, span), gutter, "-", _Painter(""))
    return [line, f"{under} {printable(message)}"]


def width(text: str) -> int:
    """Columns a text takes on a terminal: two for wide letters, none for combining marks."""
    total = 0
    for character in text:
        if unicodedata.combining(character):
            continue
        total += 2 if unicodedata.east_asian_width(character) in "WF" else 1
    return total

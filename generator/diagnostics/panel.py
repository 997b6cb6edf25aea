"""Findings for the margin of the preview: records whose text is already safe to set into a page."""

import re
from dataclasses import dataclass
from html import escape

from generator.diagnostics.placing import excerpt, printable, title
from generator.diagnostics.record import Finding
from generator.source import Source


@dataclass(frozen=True, slots=True)
class Slip:
    """One finding for the margin. Every string is HTML text, escaped, with the author's words in `code` elements."""

    severity: str
    rule: str
    title: str
    line: int
    column: int
    message: str
    before: str
    marked: str
    after: str
    fits: str
    file: str = ""
    """Which text it is in; empty beside that text's own page."""


def slip(source: Source, finding: Finding, named: bool = False) -> Slip:
    """The record of one finding, `named` with the file it is in."""
    place = excerpt(source, finding.span)
    return Slip(
        severity=str(finding.severity),
        rule=escape(finding.rule),
        title=escape(title(finding.rule)),
        line=place.line,
        column=place.column,
        message=_words(finding.message),
        before=escape(place.before),
        marked=escape(place.marked),
        after=escape(place.after),
        fits=_words(finding.fits),
        file=escape(printable(source.path)) if named else "",
    )


def _words(text: str) -> str:
    return re.sub(r"`([^`]+)`", r"<code>\1</code>", escape(printable(text)))

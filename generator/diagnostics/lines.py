"""Findings one a line, for editors, logs and `grep`: `path:line:column: severity: message [rule]`."""

from generator.diagnostics.placing import printable
from generator.diagnostics.record import Finding
from generator.source import Source


def render(source: Source, finding: Finding) -> str:
    """One finding in one line."""
    line, column = source.place(min(finding.span.start, len(source.text)))
    fits = f"; fits: {finding.fits}" if finding.fits else ""
    text = f"{source.path}:{line}:{column}: {finding.severity}: {finding.message}{fits} [{finding.rule}]"
    return printable(text.replace("\n", " "))

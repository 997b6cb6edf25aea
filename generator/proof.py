"""A proof for other programs: one object per source, version 1. `proof.schema.json` describes it exactly.

The shape is kept stable; whoever needs another makes it version 2 and leaves this one standing.
"""

from collections.abc import Iterable
from typing import Any

from generator.checks.run import Override
from generator.diagnostics.placing import ordered
from generator.diagnostics.record import Finding
from generator.fabric.model import Part, WorkedLine
from generator.notation.tree import Stated
from generator.pipeline import Compiled
from generator.source import Source, Span
from generator.vocabulary.load import is_stitch, stitch

SCHEMA = "spiralbound-proof/1"


def proof(sources: Iterable[dict[str, Any]]) -> dict[str, Any]:
    """The whole proof: `sources` as `of_pattern` and `of_text` make them, in order."""
    return {"schema": SCHEMA, "sources": list(sources)}


def of_pattern(compiled: Compiled, findings: tuple[Finding, ...]) -> dict[str, Any]:
    """What was proved of one pattern. `findings` are all there are, those of the disk included."""
    source = compiled.source
    return {
        "path": source.path,
        "terms": compiled.pattern.header.terms,
        "parts": [_part(compiled, part) for part in compiled.fabric.parts],
        "findings": [_finding(source, finding) for finding in ordered(findings)],
        "intended": [_answer(source, answer) for answer in compiled.answers],
    }


def _answer(source: Source, answer: Override) -> dict[str, Any]:
    line, _column = source.place(min(answer.span.start, len(source.text)))
    return {"rule": answer.rule, "reason": answer.reason, "line": line, "silences": answer.used}


def of_text(source: Source, findings: tuple[Finding, ...]) -> dict[str, Any]:
    """A text that was not read as a pattern: only what there is to say of it."""
    return {"path": source.path, "terms": "", "parts": [], "findings": [_finding(source, f) for f in ordered(findings)]}


def _part(compiled: Compiled, part: Part) -> dict[str, Any]:
    return {"name": part.name, "rounds": [_round(compiled, line) for line in part.lines]}


def _round(compiled: Compiled, worked: WorkedLine) -> dict[str, Any]:
    line = worked.line
    stated = line.stated
    span = compiled.origin.span(line.span) if compiled.origin else line.span
    return {
        "line": compiled.source.place(span.start)[0],
        "label": label(compiled.pattern.source, worked),
        "numbers": list(line.label.numbers),
        "stated": stated_total(stated),
        "stated_kinds": dict(stated.kinds) if stated else {},
        "made": worked.made,
        "used": worked.used,
        "live": worked.live,
        "kinds": dict(worked.kinds),
        "status": str(worked.status),
        "reading": worked.reading,
        "alternatives": worked.alternatives,
    }


def label(source: Source, worked: WorkedLine) -> str:
    """What the author called the line, without its colon: `Rnd 3`, `Foundation`; empty for a line without a label."""
    return " ".join(source.words(worked.line.label.span).split()).strip(" :.;-–—")


def stated_total(stated: Stated | None) -> int | None:
    """The count as printed. Where it names kinds only, those that are stitches, together; chains and spaces are not."""
    if stated is None:
        return None
    if stated.total is not None:
        return stated.total
    counted = [n for kind, n in stated.kinds if is_stitch(kind) and stitch(kind).counts]
    return sum(counted) if counted else None


def _finding(source: Source, finding: Finding) -> dict[str, Any]:
    line, column = source.place(min(finding.span.start, len(source.text)))
    return {
        "rule": finding.rule,
        "severity": str(finding.severity),
        "line": line,
        "column": column,
        "end_column": _end_column(source, finding.span, line, column),
        "message": finding.message,
        "fits": finding.fits,
    }


def _end_column(source: Source, span: Span, line: int, column: int) -> int:
    """The column after the last character marked, on the line where the finding begins."""
    return max(column, min(column + span.end - span.start, len(source.line(line)) + 1))

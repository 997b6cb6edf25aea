"""The pre-edit sheet for a technical editor: what a program has proved, what was overridden and why, what nobody checked.

It saves the editor's paid hours for what needs a person. Private `why:` notes are not on it; reasons given with
`intended:` are, for they are answers to a checker.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from generator.diagnostics.record import Finding, Severity
from generator.fabric.model import Status, WorkedLine
from generator.pages.booklet import Paper, frame, template
from generator.pages.leaflet import Entry, Leaflet
from generator.pages.typesetting import Printed, typeset
from generator.pipeline import Compiled

SHEET = Paper("A4 and US Letter", 210, 279.4, 16, 10)

NOT_CHECKED = (
    "the prose: sense, tone, order, spelling",
    "whether the finishing instructions can be followed",
    "whether photos and film show what the words say",
    "fit, drape, firmness, and whether the piece is pleasant to make",
    "yarn, hook and gauge against a piece actually made, unless a test report says so",
    "rights in names, pictures and stitch patterns",
)
"""What no program here looks at."""

_STATUS = {
    Status.PROVED: "proved",
    Status.WORKED: "worked, no count printed",
    Status.DIFFERS: "count differs",
    Status.DOES_NOT_CLOSE: "does not close",
    Status.NOT_UNDERSTOOD: "not understood",
    Status.REMARK: "remark",
}


@dataclass(frozen=True, slots=True)
class Row:
    """One line for the editor."""

    source_line: int
    """Line number in the source file."""
    part: str
    label: str
    stated: str
    below: int
    used: int
    made: int
    live: int
    status: str
    reading: str

    def cells(self) -> tuple[str, ...]:
        """As a row of a table."""
        numbers = (self.below, self.used, self.made, self.live)
        result = f"{self.status}; {self.reading}" if self.reading else self.status
        return str(self.source_line), self.part, self.label, self.stated, *map(str, numbers), result


@dataclass(frozen=True, slots=True)
class PreEdit:
    """The whole sheet."""

    title: str
    path: str
    rows: tuple[Row, ...]
    overridden: tuple[tuple[str, str], ...]
    """(where, rule and reason) of every `intended`."""
    open: tuple[str, ...]
    """Errors and warnings that stand."""
    notes: tuple[str, ...]
    summary: str


def pre_edit(compiled: Compiled, leaflet: Leaflet) -> PreEdit:
    """The sheet of a pattern; `leaflet` gives the labels as readers see them."""
    source = compiled.pattern.source
    entries = {(entry.part, entry.line): entry for entry in leaflet.entries()}
    rows = tuple(
        _row(source.place(worked.line.span.start)[0], part.name, worked, entries.get((p, i)))
        for p, part in enumerate(compiled.fabric.parts)
        for i, worked in enumerate(part.lines)
        if worked.status is not Status.REMARK
    )
    proved = sum(row.status == "proved" for row in rows)
    return PreEdit(
        title=leaflet.title,
        path=source.path,
        rows=rows,
        overridden=tuple(_overridden(compiled)),
        open=tuple(_said(compiled, f) for f in compiled.findings if f.severity is not Severity.NOTE),
        notes=tuple(_said(compiled, f) for f in compiled.findings if f.severity is Severity.NOTE),
        summary=f"{len(rows)} working lines, {proved} with a printed count that was proved",
    )


def _row(number: int, part: str, worked: WorkedLine, entry: Entry | None) -> Row:
    stated = worked.line.stated
    kinds = ", ".join(f"{n} {kind}" for kind, n in stated.kinds) if stated else ""
    said = str(stated.total) if stated and stated.total is not None else kinds
    label = entry.label if entry else ""
    return Row(
        number, part, label, said, worked.below, worked.used, worked.made, worked.live,
        _STATUS[worked.status], worked.reading or worked.ambiguous,
    )  # fmt: skip


def _overridden(compiled: Compiled) -> Iterator[tuple[str, str]]:
    for rule, reason in sorted(compiled.pattern.header.intended.items()):
        yield "whole pattern", f"{rule}: {reason}"
    for part in compiled.fabric.parts:
        for worked in part.lines:
            for said in worked.line.intended:
                rule, _, reason = said.partition("=")
                line = compiled.pattern.source.place(worked.line.span.start)[0]
                yield f"line {line}", f"{rule}: {reason}" if reason else rule


def _said(compiled: Compiled, finding: Finding) -> str:
    line = compiled.pattern.source.place(finding.span.start)[0]
    return f"line {line}, {finding.rule}: {finding.message}"


def pre_edit_text(sheet: PreEdit) -> str:
    """The sheet in Markdown."""
    lines = [f"# Pre-edit sheet: {sheet.title}", "", f"{sheet.path}: {sheet.summary}", ""]
    for heading, said in _sections(sheet):
        lines += [f"## {heading}", "", *(f"- {line}" for line in said), ""]
    lines += ["## Every working line", "", "| line | part | label | stated | below | used | made | live | result |"]
    lines += ["|---:|---|---|---|---:|---:|---:|---:|---|"]
    for row in sheet.rows:
        lines.append("| " + " | ".join(cell.replace("|", "\\|") for cell in row.cells()) + " |")
    return "\n".join(lines) + "\n"


def _sections(sheet: PreEdit) -> Iterator[tuple[str, tuple[str, ...]]]:
    yield "Overridden, and why", tuple(f"{where}, {what}" for where, what in sheet.overridden) or ("Nothing.",)
    yield "Still open", sheet.open or ("Nothing.",)
    yield "Notes", sheet.notes or ("None.",)
    yield "Not checked by the program", NOT_CHECKED


def pre_edit_print(sheet: PreEdit, leaflet: Leaflet, templates: Mapping[str, str], accent: str = "") -> Printed:
    """The sheet as PDF, with room to sign."""
    data: dict[str, Any] = {
        **frame(f"Pre-edit sheet: {sheet.title}", leaflet, SHEET, accent),
        "summary": f"{sheet.path}: {sheet.summary}",
        "sections": [[heading, list(said)] for heading, said in _sections(sheet)],
        "table-title": "Every working line",
        "columns": [0, 0, 0, 0, 0, 0, 0, 0, 1],
        "right": [0, 4, 5, 6, 7],
        "roomy": False,
        "sign": "Looked over by",
        "head": ["Line", "Part", "Round", "Stated", "Below", "Used", "Made", "Live", "Result"],
        "rows": [list(row.cells()) for row in sheet.rows],
    }
    return typeset(template(templates, "sheet"), data)

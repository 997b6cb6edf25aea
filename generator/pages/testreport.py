"""Filled test sheets, merged: where testers stumbled, grams per colour, hours, and what they said.

A sheet that can't be used wholly is used as far as it goes; what was wrong with it is told, nothing is written back.
"""

import csv
import io
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from generator.diagnostics.record import Checked, Finding, Severity
from generator.pages.testsheet import COLUMNS, Question
from generator.source import Span

ENOUGH = 2
"""Testers that must stumble over a round before it is named."""

_YES = re.compile(r"(?i)\s*(x|×|✗|✓|yes|y|1|true|ja|oui|si)\s*[.!]?\s*")
_NUMBER = re.compile(r"\d+(?:[.,]\d+)?")


@dataclass(frozen=True, slots=True)
class Stumble:
    """One round (or number) that testers stumbled over: who, what they counted, what they said."""

    id: str
    part: str
    what: str
    printed: str
    testers: tuple[str, ...]
    counted: tuple[str, ...]
    remarks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Spread:
    """A number several testers gave: least, middle and most; `n` gave one."""

    name: str
    n: int
    low: float
    middle: float
    high: float


@dataclass(frozen=True, slots=True)
class Report:
    """What a test brought."""

    testers: tuple[str, ...]
    stumbles: tuple[Stumble, ...]
    """Rounds where two or more stumbled, in working order."""
    single: tuple[Stumble, ...]
    """Rounds where one did."""
    grams: tuple[Spread, ...]
    """Per yarn key."""
    hours: Spread | None
    answers: tuple[tuple[str, str, str], ...]
    """(what was asked, tester, answer) of the open questions."""


@dataclass(frozen=True, slots=True)
class _Sheet:
    name: str
    tester: str
    cells: Mapping[str, tuple[str, str, str]]
    """yours, stumbled and remark by question id."""


def merge(asked: Sequence[Question], sheets: Sequence[tuple[str, bytes]]) -> Checked[Report]:
    """Merge filled sheets.

    Args:
        asked: the questions of the pattern's sheet (`testsheet.questions`).
        sheets: file name and content of each filled sheet.

    Gives `test-sheet-twice`, `test-sheet-not-readable`, `test-sheet-empty`, `test-sheet-columns`, `test-sheet-foreign-row`, `test-sheet-missing-rows` and
    `test-sheet-not-a-number`; each message names its file.
    """
    findings: list[Finding] = []
    filled = tuple(
        sheet for name, content in _once(sheets, findings) if (sheet := _read(asked, name, content, findings))
    )
    stumbled = tuple(found for question in asked if (found := _stumble(question, filled)))
    keys = [question.id.split(".")[1] for question in asked if question.id.endswith(".before")]
    grams = tuple(spread for key in keys if (spread := _grams(key, filled, findings)))
    report = Report(
        testers=tuple(sheet.tester for sheet in filled),
        stumbles=tuple(found for found in stumbled if len(found.testers) >= ENOUGH),
        single=tuple(found for found in stumbled if len(found.testers) < ENOUGH),
        grams=grams,
        hours=_spread("hours", [n for sheet in filled if (n := _number(sheet, "about.hours", findings)) is not None]),
        answers=tuple(_answers(asked, filled)),
    )
    return Checked(report, tuple(findings))


def _once(sheets: Sequence[tuple[str, bytes]], findings: list[Finding]) -> Iterator[tuple[str, bytes]]:
    """The sheets without those that say word for word what an earlier one does: the same file saved twice."""
    seen: dict[bytes, str] = {}
    for name, content in sheets:
        if content in seen:
            _say(findings, "test-sheet-twice", name, f"says the same as `{seen[content]}`", "each tester's sheet once")
            continue
        seen[content] = name
        yield name, content


def _read(asked: Sequence[Question], name: str, content: bytes, findings: list[Finding]) -> _Sheet | None:
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        text = content.decode("cp1252", "replace")
    first = text.split("\n", 1)[0]
    mark = max(",;\t", key=first.count)
    try:
        rows = list(csv.reader(io.StringIO(text, newline=""), delimiter=mark))
    except csv.Error:
        rows = []
    head = [cell.strip().casefold() for cell in rows[0]] if rows else []
    if not {"id", "yours"} <= set(head):
        _say(findings, "test-sheet-not-readable", name, "has no columns `id` and `yours`", "the sheet as it was sent")
        return None
    missing = [column for column in COLUMNS if column not in head]
    foreign = [cell for cell in head if cell and cell not in COLUMNS]
    if missing or foreign:
        said = [f"lacks {_list(missing)}"] * bool(missing) + [f"has {_list(foreign)} besides"] * bool(foreign)
        _say(findings, "test-sheet-columns", name, " and ".join(said), "columns " + ", ".join(COLUMNS))
    cells = {}
    for row in rows[1:]:
        found = dict(zip(head, (cell.strip() for cell in row), strict=False))
        if found.get("id"):
            cells[found["id"].lstrip("'")] = (found.get("yours", ""), found.get("stumbled", ""),
                                              found.get("remark", ""))  # fmt: skip
    known = {question.id for question in asked}
    strange = [key for key in cells if key not in known]
    if strange:
        fits = "rows of this pattern's sheet; was it a sheet of another pattern or of an older edition?"
        _say(findings, "test-sheet-foreign-row", name, f"has rows the sheet doesn't have: {_list(strange)}", fits)
    absent = [question.what for question in asked if question.id not in cells]
    if absent:
        _say(findings, "test-sheet-missing-rows", name, f"lacks {len(absent)} rows: {_list(absent)}", "")
    if not any(any(cell) for cell in cells.values()):
        _say(findings, "test-sheet-empty", name, "has nothing filled in", "the sheet as the tester saved it")
        return None
    tester = cells.get("about.tester", ("", "", ""))[0] or name.rpartition("/")[2].rpartition(".")[0]
    return _Sheet(name, tester, cells)


def _stumble(question: Question, filled: Sequence[_Sheet]) -> Stumble | None:
    """Who stumbled: a cross, or another number than the printed one in a round's row."""
    if not question.id.startswith("round."):
        return None
    hits = []
    for sheet in filled:
        yours, cross, remark = sheet.cells.get(question.id, ("", "", ""))
        if _YES.fullmatch(cross) or _differs(question.printed, yours):
            hits.append((sheet.tester, yours, remark))
    if not hits:
        return None
    testers, counted, remarks = zip(*hits, strict=True)
    return Stumble(question.id, question.part, question.what, question.printed, testers,
                   tuple(filter(None, counted)), tuple(filter(None, remarks)))  # fmt: skip


def _differs(printed: str, yours: str) -> bool:
    mine, theirs = _NUMBER.findall(printed), _NUMBER.findall(yours)
    return bool(mine and theirs) and mine[: len(theirs)] != theirs


def _grams(key: str, filled: Sequence[_Sheet], findings: list[Finding]) -> Spread | None:
    used = []
    for sheet in filled:
        before, after = (_number(sheet, f"yarn.{key}.{moment}", findings) for moment in ("before", "after"))
        if before is None or after is None:
            continue
        if after > before:
            said = f"has more of yarn {key} left over ({after:g} g) than there was ({before:g} g)"
            _say(findings, "test-sheet-not-a-number", sheet.name, said, "grams before, then grams left")
            continue
        used.append(before - after)
    return _spread(key, used)


def _number(sheet: _Sheet, key: str, findings: list[Finding]) -> float | None:
    said = sheet.cells.get(key, ("", "", ""))[0]
    if not said:
        return None
    match = _NUMBER.search(said)
    if not match:
        _say(findings, "test-sheet-not-a-number", sheet.name, f"says `{said}` where a number belongs (`{key}`)", "12.5")
        return None
    return float(match[0].replace(",", "."))


def _spread(name: str, numbers: Sequence[float]) -> Spread | None:
    if not numbers:
        return None
    ordered = sorted(numbers)
    half = len(ordered) // 2
    middle = ordered[half] if len(ordered) % 2 else (ordered[half - 1] + ordered[half]) / 2
    return Spread(name, len(ordered), ordered[0], middle, ordered[-1])


def _answers(asked: Sequence[Question], filled: Sequence[_Sheet]) -> list[tuple[str, str, str]]:
    return [
        (question.what, sheet.tester, answer)
        for question in asked
        if question.id.startswith(("after.", "fact.")) or question.id.endswith(".used")
        for sheet in filled
        if (answer := " · ".join(filter(None, (sheet.cells.get(question.id, ("", "", ""))[i] for i in (0, 2)))))
    ]


def _list(names: Sequence[str]) -> str:
    shown = ", ".join(f"`{name}`" for name in names[:4])
    return shown + (f" and {len(names) - 4} more" if len(names) > 4 else "")


def _say(findings: list[Finding], rule: str, name: str, said: str, fits: str) -> None:
    findings.append(Finding(rule, Severity.WARNING, f"the sheet `{name}` {said}", Span(0, 0), fits))


def report_text(title: str, report: Report) -> str:
    """The report in Markdown, to read or to keep beside the pattern."""
    many = f"{len(report.testers)} tester{'' if len(report.testers) == 1 else 's'}"
    lines = [f"# Test of {title}", "", f"{many}: {', '.join(report.testers) or 'none'}", ""]
    for heading, stumbles in (("Two or more stumbled", report.stumbles), ("One stumbled", report.single)):
        lines += [f"## {heading}", ""]
        for found in stumbles:
            said = f"- {found.part}, {found.what} (printed {found.printed or 'no count'}): {', '.join(found.testers)}"
            if found.counted:
                said += f"; counted {', '.join(found.counted)}"
            lines.append("; ".join((said, *(f"“{remark}”" for remark in found.remarks))))
        lines += [] if stumbles else ["Nowhere."]
        lines.append("")
    lines += ["## Yarn used, in grams", ""]
    lines += [_spread_line(f"Yarn {spread.name}", spread) for spread in report.grams] or ["No weights given."]
    lines += ["", "## Hours", "", _spread_line("Hours", report.hours) if report.hours else "None given.", ""]
    lines += ["## What they said", ""]
    lines += [f"- {what} {tester}: {answer}" for what, tester, answer in report.answers] or ["Nothing."]
    return "\n".join(lines) + "\n"


def _spread_line(name: str, spread: Spread) -> str:
    if spread.n == 1:
        return f"- {name}: {spread.middle:g} (from one tester)"
    return f"- {name}: {spread.low:g} to {spread.high:g}, middle {spread.middle:g} (from {spread.n})"

"""Test packs: the sheet, and filled sheets merged."""

import csv
import io

import pytest
from leaflets import leaflet

from generator.pages.testreport import merge, report_text
from generator.pages.testsheet import COLUMNS, questions, sheet

ASKED = questions(leaflet(6))


def filled(answers: dict[str, tuple[str, str, str]], delimiter: str = ",", encoding: str = "utf-8") -> bytes:
    """The empty sheet with some cells filled in, as a spreadsheet saves it."""
    rows = list(csv.reader(io.StringIO(sheet(leaflet(6)).decode("utf-8-sig"), newline="")))
    out = io.StringIO()
    writer = csv.writer(out, delimiter=delimiter)
    for row in rows:
        writer.writerow([*row[:4], *answers.get(row[0], ("", "", ""))] if row[0] != "id" else row)
    return out.getvalue().encode(encoding)


def answers(
    name: str, grams: tuple[str, str] = ("50", "30"), **more: tuple[str, str, str]
) -> dict[str, tuple[str, str, str]]:
    return {
        "about.tester": (name, "", ""),
        "about.hours": ("2.5", "", ""),
        "yarn.A.before": (grams[0], "", ""),
        "yarn.A.after": (grams[1], "", ""),
    } | {f"round.base-{key}": value for key, value in more.items()}


def test_the_sheet_asks_for_every_round_and_every_number() -> None:
    rows = list(csv.DictReader(io.StringIO(sheet(leaflet(6)).decode("utf-8-sig"), newline="")))
    assert tuple(rows[0]) == COLUMNS
    ids = [row["id"] for row in rows]
    assert len(ids) == len(set(ids))
    said = leaflet(6)
    for entry in said.entries():
        assert [row["printed"] for row in rows if row["id"] == f"round.{entry.anchor}"] == [entry.count]
    for _, value in said.facts:
        assert value in [row["printed"] for row in rows]


def test_no_cell_begins_like_a_formula() -> None:
    from dataclasses import replace

    said = leaflet(1)
    bad = replace(said, facts=(("=HYPERLINK(1)", "+1"), ("@x", "-2")))
    rows = list(csv.reader(io.StringIO(sheet(bad).decode("utf-8-sig"), newline="")))
    assert not [cell for row in rows for cell in row if cell[:1] in "=+-@" and cell]


def test_rounds_where_two_stumbled_are_named() -> None:
    sheets = [
        ("ada.csv", filled(answers("Ada", r3=("17 sts", "", "one short"), r5=("30", "x", "")))),
        ("bo.csv", filled(answers("Bo", ("48", "20,5"), r3=("", "yes", "where does it begin?"), r4=("24", "", "")))),
        ("cy.csv", filled(answers("Cy", ("60", "35")))),
    ]
    found = merge(ASKED, sheets)
    assert not found.findings
    report = found.value
    assert report.testers == ("Ada", "Bo", "Cy")
    assert [(s.what, s.testers, s.counted) for s in report.stumbles] == [("Rnd 3", ("Ada", "Bo"), ("17 sts",))]
    assert [(s.what, s.testers) for s in report.single] == [("Rnd 5", ("Ada",))]
    assert [(g.name, g.n, g.low, g.middle, g.high) for g in report.grams] == [("A", 3, 20.0, 25.0, 27.5)]
    assert report.hours and report.hours.middle == 2.5
    text = report_text("Sedge basket", report)
    assert "Rnd 3 (printed 18 sts): Ada, Bo; counted 17 sts; “one short”; “where does it begin?”" in text
    assert "Yarn A: 20 to 27.5, middle 25 (from 3)" in text


@pytest.mark.parametrize(("delimiter", "encoding"), [(";", "utf-8-sig"), ("\t", "utf-8"), (";", "cp1252")])
def test_sheets_of_other_spreadsheets_are_read(delimiter: str, encoding: str) -> None:
    found = merge(ASKED, [("é.csv", filled(answers("Zoé", r2=("12", "x", "")), delimiter, encoding))])
    assert not found.findings
    assert found.value.testers == ("Zoé",)
    assert "1 tester: Zoé" in report_text("x", found.value)
    assert [s.what for s in found.value.single] == ["Rnd 2"]


def test_bad_sheets_give_one_finding_each_and_lose_nothing_else() -> None:
    good = ("good.csv", filled(answers("Ada", r2=("", "x", ""))))
    for content, rule in (
        (b"", "test-sheet-not-readable"),
        (sheet(leaflet(6)), "test-sheet-empty"),
        (b"name,colour\r\nx,y\r\n", "test-sheet-not-readable"),
        (b"\x00\x01\x02", "test-sheet-not-readable"),
        (filled(answers("Bo")).replace(b"stumbled", b"fun", 1), "test-sheet-columns"),
        (filled(answers("Bo")) + b"round.other-r9,,,,,x,\r\n", "test-sheet-foreign-row"),
        (b"\r\n".join(filled(answers("Bo")).splitlines()[:-4]), "test-sheet-missing-rows"),
        (filled(answers("Bo", ("much", "1"))), "test-sheet-not-a-number"),
        (filled(answers("Bo", ("10", "30"))), "test-sheet-not-a-number"),
    ):
        found = merge(ASKED, [good, ("bad.csv", content)])
        assert [finding.rule for finding in found.findings] == [rule], content[:40]
        assert "bad.csv" in found.findings[0].message
        assert [s.what for s in found.value.single] == ["Rnd 2"]


def test_a_sheet_sent_twice_counts_once() -> None:
    content = filled(answers("Ada", r2=("", "x", "")))
    found = merge(ASKED, [("ada.csv", content), ("ada (1).csv", content)])
    assert [finding.rule for finding in found.findings] == ["test-sheet-twice"]
    assert found.value.testers == ("Ada",) and not found.value.stumbles


def test_no_sheets_make_an_empty_report() -> None:
    report = merge(ASKED, []).value
    assert report.testers == () and report.hours is None
    assert "Nowhere." in report_text("x", report)

"""Publishing compares with what was published before."""

from datetime import date
from pathlib import Path

import pytest

from generator.bindery import LEDGER, filled_sheets
from generator.pages.editions import bind_all
from generator.pages.studio import Studio
from generator.pipeline import compile_pattern
from generator.publish import publish
from generator.publish.record import Report
from generator.source import Source
from generator.wording.voice import Style

TEXT = """---
title: Sedge mat
published: 2026-09-01
terms: US
level: easy
summary: A small round mat.
hook: 4 mm
gauge: 18 sc x 20 rounds = 10 cm
yarns:
  A: {colour: sedge, swatch: "#6b7f3a", weight: 4, fibre: cotton}
rounds: spiral
%s---

A mat.

## Mat

```rounds
With A
Rnd 1: 6 sc in magic ring. (6)
Why: nobody but me needs to know this
Rnd 2: 2 sc in each st around. (12)
Rnd 3: %s
Fasten off
```
"""
THREE = "*Sc in next st, 2 sc in next st; rep from * around. (18)"
OTHER = "*2 sc in next st, sc in next st; rep from * around. (18)"
SAID = 'revisions:\n  - {date: 2026-09-20, note: "The increase comes first.", rounds: [3]}\n'


@pytest.fixture
def studio(tmp_path: Path) -> Path:
    (tmp_path / "content" / "patterns" / "mat").mkdir(parents=True)
    (tmp_path / "content" / "studio.toml").write_text('title = "Marsh"\naddress = "https://marsh.example/"\n')
    return tmp_path


def publish_as(studio: Path, three: str = THREE, header: str = "") -> Report:
    (studio / "content" / "patterns" / "mat" / "mat.md").write_text(TEXT % (header, three))
    return publish(studio / "content", studio / "site", today=date(2026, 11, 1), jobs=1, editions=False, pictures=False)


def rules(report: Report) -> list[str]:
    return [finding.rule for _, finding in report.findings if "silence" in finding.rule or "ledger" in finding.rule]


def test_a_silent_change_is_told_until_a_revision_answers_for_it(studio: Path) -> None:
    assert rules(publish_as(studio)) == []
    before = (studio / "content" / LEDGER).read_text()
    assert "nobody but me" not in before
    for _ in range(2):
        assert rules(publish_as(studio, OTHER)) == ["rounds-changed-in-silence"]
        assert (studio / "content" / LEDGER).read_text() == before
    assert rules(publish_as(studio, OTHER, SAID)) == []
    assert (studio / "content" / LEDGER).read_text() != before
    page = (studio / "site" / "corrections.html").read_text()
    assert "The increase comes first." in page
    assert "If you printed it before September 20, 2026" in page
    assert rules(publish_as(studio, OTHER, SAID)) == []
    assert "The increase comes first." in (studio / "site" / "corrections.html").read_text(), "kept patterns too"


def test_without_corrections_the_page_says_so(studio: Path) -> None:
    publish_as(studio)
    assert "No correction so far." in (studio / "site" / "corrections.html").read_text()


def test_a_damaged_ledger_is_told_and_left_alone(studio: Path) -> None:
    (studio / "content" / LEDGER).write_text('{"version": 99, "patterns": {}}')
    report = publish_as(studio)
    assert rules(report) == ["ledger-newer"] and report.swapped
    assert (studio / "content" / LEDGER).read_text() == '{"version": 99, "patterns": {}}'


def test_filled_filled_sheets_beside_a_pattern_are_counted_on_its_page(studio: Path) -> None:
    publish_as(studio)
    folder = studio / "content" / "patterns" / "mat"
    head = "id,part,what,printed,yours,stumbled,remark\r\n"
    for name, grams in (("ada", "12"), ("bo", "15")):
        rows = f"about.tester,,,,{name},,\r\nyarn.A.before,,,,{grams},,\r\nyarn.A.after,,,,2,,\r\n"
        (folder / f"mat-test-{name}.csv").write_text(head + rows)
    (folder / "other.csv").write_text("not a sheet")
    report = publish_as(studio)
    assert report.swapped
    page = studio / "site" / "patterns" / "sedge-mat" / "index.html"
    page = page if page.exists() else studio / "site" / "patterns" / "mat" / "index.html"
    assert "Made by 2 testers from the written pattern." in page.read_text()
    source = Source("content/patterns/mat/mat.md", (folder / "mat.md").read_text())
    bound = bind_all(compile_pattern(source), Studio(), filled_sheets(folder / "mat.md"))
    leaflet = bound.leaflets["us", Style.SHORT]
    assert "testers used 10–13" in leaflet.threads[0].amount
    assert leaflet.checked[-1] == "Made by 2 testers from the written pattern."
    assert {finding.rule for finding in bound.findings} == {"test-sheet-missing-rows"}


def test_a_private_note_is_nowhere_in_the_site(studio: Path) -> None:
    publish_as(studio)
    files = [path for path in (studio / "site").rglob("*") if path.is_file()]
    assert files
    assert not [path for path in files if b"nobody but me" in path.read_bytes()]

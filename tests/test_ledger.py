"""The ledger: what was published is remembered, and a silent change is told."""

import json
from dataclasses import replace
from datetime import date

import pytest
from round_parts import part_of

from generator.bindery import LEDGER, load_ledger, save_ledger
from generator.fabric.model import Fabric, Status, WorkedLine
from generator.ledger import VERSION, Ledger, Record, changes, compare, read_ledger, record, write_ledger
from generator.notation.pattern import Header, Revision
from generator.notation.tree import Label, Line, Word
from generator.pages.errata import errata, errata_text, updated
from generator.source import Source, Span

HEADER = Header(title="Mat", slug="mat", published=date(2026, 9, 1))


def fabric(counts: list[int], kind: str = "sc") -> Fabric:
    lines = tuple(
        WorkedLine(Line(Span(10 * i, 10 * i + 9), Label(Word.ROUND, (i + 1,))), (), (i, i + 1), Status.PROVED)
        for i in range(len(counts))
    )
    return Fabric((replace(part_of(counts, kind), lines=lines),))


def texts(counts: list[int], word: str = "sc") -> dict[tuple[int, int], tuple[str, str]]:
    return {(0, i): (f"Rnd {i + 1}", f"{word} around. ({n} sts)") for i, n in enumerate(counts)}


def published(counts: list[int], header: Header = HEADER, word: str = "sc", kind: str = "sc") -> Record:
    return record(header, fabric(counts, kind), texts(counts, word))


def revised(*rounds: int, work: bool = True) -> Header:
    said = Revision(date(2026, 9, 20), "It is 19.", rounds=rounds, changes_work=work)
    return replace(HEADER, revisions=(said,))


def test_a_ledger_reads_back_as_it_was_written() -> None:
    ledger = Ledger().keeping(published([6, 12, 18])).keeping(replace(published([6]), slug="a"))
    text = write_ledger(ledger)
    assert read_ledger(Source("l", text)).value == ledger
    assert write_ledger(read_ledger(Source("l", text)).value or Ledger()) == text
    assert list(json.loads(text)["patterns"]) == ["a", "mat"]


def test_the_first_time_nothing_is_compared() -> None:
    found = compare(None, published([6]), HEADER)
    assert found.value == published([6]) and not found.findings


def test_a_changed_round_without_a_revision_is_told_and_the_old_record_stays() -> None:
    old, new = published([6, 12, 18]), published([6, 12, 19])
    found = compare(old, new, HEADER)
    assert [finding.rule for finding in found.findings] == ["rounds-changed-in-silence"]
    finding = found.findings[0]
    assert finding.message == "`Rnd 3` has changed since publication, and `revisions` says nothing"
    assert 'was: "sc around. (18 sts)", now: "sc around. (19 sts)"' in finding.fits
    assert finding.span == Span(20, 29)
    assert found.value == old


def test_only_the_round_that_changed_is_named() -> None:
    """An earlier round with more stitches moves the numbers of all later stitches, not their work."""
    old, new = published([6, 12, 12, 12]), published([6, 14, 12, 12])
    named = [change.kept.label for change in changes(old, new)]
    assert named == ["Rnd 2"]


def test_a_new_wording_of_the_same_work_is_no_change() -> None:
    assert not compare(published([6, 12]), published([6, 12], word="single crochet"), HEADER).findings


@pytest.mark.parametrize(
    ("header", "told"),
    [(revised(3), True), (revised(), True), (revised(2), False), (revised(3, work=False), False)],
)
def test_a_revision_answers_for_the_rounds_it_names(header: Header, told: bool) -> None:
    old, new = published([6, 12, 18]), published([6, 12, 19], header)
    found = compare(old, new, header)
    assert bool(found.findings) is not told
    assert found.value == (new if told else old)


def test_an_old_revision_does_not_answer_for_a_new_change() -> None:
    header = revised(3)
    old = published([6, 12, 18], header)
    assert compare(old, published([6, 12, 19], header), header).findings


def test_rounds_that_are_new_or_gone_are_changes() -> None:
    assert "`Rnd 3`" in compare(published([6, 12]), published([6, 12, 18]), HEADER).findings[0].message
    assert "(gone: Rnd 3)" in compare(published([6, 12, 18]), published([6, 12]), HEADER).findings[0].message


@pytest.mark.parametrize(
    ("text", "rule"),
    [
        ("{", "ledger-damaged"),
        ("[]", "ledger-damaged"),
        ('{"version": 1}', "ledger-damaged"),
        ('{"version": 1, "patterns": {"mat": {"rounds": 3}}}', "ledger-damaged"),
        ("[" * 100_000, "ledger-damaged"),
        (f'{{"version": {VERSION + 1}, "patterns": {{}}}}', "ledger-newer"),
    ],
)
def test_a_ledger_that_cannot_be_used_gives_one_finding_and_is_left_alone(text: str, rule: str) -> None:
    found = read_ledger(Source("l", text))
    assert found.value is None
    assert [finding.rule for finding in found.findings] == [rule]


def test_the_ledger_on_disk(tmp_path) -> None:  # type: ignore[no-untyped-def]
    assert load_ledger(tmp_path)[1].value == Ledger()
    ledger = Ledger().keeping(published([6, 12]))
    assert save_ledger(tmp_path, ledger) == ()
    assert load_ledger(tmp_path)[1].value == ledger
    assert [path.name for path in tmp_path.iterdir()] == [LEDGER]
    (tmp_path / LEDGER).write_bytes(b"\xff\xfe\x00")
    assert load_ledger(tmp_path)[1].value is None
    assert (tmp_path / LEDGER).read_bytes() == b"\xff\xfe\x00"
    blocked = tmp_path / "file"
    blocked.write_text("x")
    assert [finding.rule for finding in save_ledger(blocked / "under", ledger)] == ["ledger-not-written"]


def test_corrections_are_listed_newest_first() -> None:
    first = replace(revised(3), title="Mat")
    later = Revision(date(2026, 10, 4), "A slip of spelling.", changes_work=False)
    other = replace(HEADER, title="Net", slug="net", revisions=(later,))
    found = errata((h.slug, h.title, h.revisions) for h in (first, other))
    assert [(entry.title, entry.day, entry.where) for entry in found] == [
        ("Net", "October 4, 2026", ""),
        ("Mat", "September 20, 2026", "Rnd 3"),
    ]
    assert found[1].warning == "If you printed it before September 20, 2026, please look at this."
    assert found[0].warning == ""
    assert "Rnd 3: It is 19." in errata_text(found)
    assert updated(first) == date(2026, 9, 20)
    assert updated(other) == date(2026, 9, 1), "a spelling does not move the feed"
    assert len({entry.identity for entry in found}) == 2

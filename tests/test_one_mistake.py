"""Whole texts with one mistake get one finding; right texts get none.

Each case under cases/checks is a text as a designer might have typed it, a line of `=`, and what she is told.
The forty numbered ones are the faults a technical editor looks for (common practice, no source).
"""

import re
from pathlib import Path

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from products import applied, findings_of
from strategies import working_texts

from generator.diagnostics import lines
from generator.diagnostics.record import Severity
from generator.source import Source

CASES = sorted((Path(__file__).parent / "cases" / "checks").glob("*.txt"))
DIVIDER = "=" * 20 + "\n"


@pytest.mark.parametrize("case", CASES, ids=[case.stem for case in CASES])
def test_what_is_said(case: Path, update: bool) -> None:
    text, _, expected = case.read_text(encoding="utf-8").partition(DIVIDER)
    source = Source("heron.md", text)
    found = "".join(lines.render(source, finding) + "\n" for finding in findings_of(text))
    if update:
        case.write_text(text + DIVIDER + found, encoding="utf-8")
    assert found == expected


def errors(text: str) -> list[tuple[int, str]]:
    """Line and rule of every error."""
    source = Source("heron.md", text)
    return [(source.place(f.span.start)[0], f.rule) for f in findings_of(text) if f.severity is Severity.ERROR]


@settings(max_examples=25)
@given(working_texts())
def test_right_texts_get_no_error(text: str) -> None:
    assert errors(text) == []


@settings(max_examples=25)
@given(working_texts(), st.data())
def test_one_wrong_count_gets_one_error(text: str, data: st.DataObject) -> None:
    rows = text.split("\n")
    counted = [i for i, row in enumerate(rows) if re.search(r"\(\d+\)$", row)]
    assume(counted)
    at = data.draw(st.sampled_from(counted))
    wrong = data.draw(st.sampled_from([-2, -1, 1, 2, 3]))
    number = int(re.findall(r"\d+", rows[at])[-1])
    assume(number + wrong > 0)
    rows[at] = re.sub(r"\(\d+\)$", f"({number + wrong})", rows[at])
    faulty = "\n".join(rows)
    found = [f for f in findings_of(faulty) if f.severity is not Severity.NOTE]
    places = {Source("", faulty).place(f.span.start)[0] for f in found}
    assert len(found) == 1 and places <= {at + 1, at + 2}


@settings(max_examples=25)
@given(working_texts(), st.data())
def test_offered_fixes_mend(text: str, data: st.DataObject) -> None:
    spots = list(re.finditer(r"(?<=next )\d+(?= sts)|\d+(?= times)|\d+(?=\)$)", text, re.MULTILINE))
    assume(spots)
    spot = data.draw(st.sampled_from(spots))
    faulty = text[: spot.start()] + str(int(spot[0]) + data.draw(st.sampled_from([-1, 1, 2]))) + text[spot.end() :]
    before = errors(faulty)
    for finding in findings_of(faulty):
        if finding.fix and finding.severity is Severity.ERROR:
            after = errors(applied(faulty, finding.fix))
            line = Source("", faulty).place(finding.span.start)[0]
            assert (line, finding.rule) not in after
            assert len(after) <= len(before)

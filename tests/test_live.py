"""Passages whose lines print no count, or print it of something else: what is live after each was worked by hand.

Each file in `cases/live` is bare working text; behind ` => ` stands how many stitches are live when the line is worked.
Every line must be understood and must close. The passages are invented for this project in the forms of old leaflets
and manuals.
"""

from pathlib import Path

import pytest

from generator.diagnostics.record import Severity
from generator.fabric.model import Status
from generator.pipeline import compile_bare
from generator.source import Source

CASES = sorted((Path(__file__).parent / "cases" / "live").glob("*.txt"))


@pytest.mark.parametrize("case", CASES, ids=lambda path: path.stem)
def test_what_is_live_is_what_was_worked_by_hand(case: Path) -> None:
    written = [line.partition(" => ") for line in case.read_text(encoding="utf-8").strip().split("\n")]
    compiled = compile_bare(Source(case.name, "\n".join(text for text, _, _ in written)))
    lines = [line for part in compiled.fabric.parts for line in part.lines]
    assert len(lines) == len(written)
    assert [f.message for f in compiled.findings if f.severity is Severity.ERROR] == []
    for (text, _, live), line in zip(written, lines, strict=True):
        assert line.status in (Status.PROVED, Status.WORKED, Status.REMARK), text
        if live:
            assert line.live == int(live), text

"""The reader and the worker on whole passages a designer could have written.

Each file in `cases/work` is bare working text. A line with a printed count must be proved; one that ends in `!!` has a
wrong count (put in on purpose) and must be caught; every other line must be understood and must close. The passages
are invented for this project in the forms of published patterns; their counts were worked by hand.
"""

from pathlib import Path

import pytest

from generator.diagnostics.record import Severity
from generator.fabric.model import Status, WorkedLine
from generator.fabric.state import MOST_COURSES
from generator.pipeline import Compiled, compile_bare
from generator.source import Source

CASES = sorted((Path(__file__).parent / "cases" / "work").glob("*.txt"))
WRONG = " !!"


def worked(text: str) -> tuple[Compiled, list[WorkedLine]]:
    """A bare text compiled, with its lines."""
    compiled = compile_bare(Source("<case>", text))
    return compiled, [line for part in compiled.fabric.parts for line in part.lines]


def lines_of(text: str) -> list[WorkedLine]:
    """Only the lines."""
    return worked(text)[1]


@pytest.mark.parametrize("case", CASES, ids=lambda path: path.stem)
def test_every_line_comes_out_as_it_should(case: Path) -> None:
    written = case.read_text(encoding="utf-8").strip().split("\n")
    source = Source(case.name, "\n".join(line.removesuffix(WRONG) for line in written))
    compiled, lines = worked(source.text)
    errors = {source.place(f.span.start)[0] for f in compiled.findings if f.severity is Severity.ERROR}
    assert len(lines) == len(written)
    for number, (text, line) in enumerate(zip(written, lines, strict=True), start=1):
        stated = line.line.stated
        counted = stated is not None and (stated.total is not None or bool(stated.kinds))
        if text.endswith(WRONG):
            assert line.status in (Status.DIFFERS, Status.DOES_NOT_CLOSE), text
            assert number in errors, text
        else:
            assert number not in errors, text
            assert line.status in ((Status.PROVED,) if counted else (Status.WORKED, Status.REMARK, Status.PROVED)), text


def test_three_numbers_of_a_levelled_round() -> None:
    """Levelling stitches and the slip stitch that finishes are made, not live (common practice, no source)."""
    text = "Rnd 1: 6 sc in magic ring\nRnd 2: 2 sc in each st around\nRnd 3: Sc in each st around, sc in next 2 sts, sl st in next st, fasten off. (12)"
    last = lines_of(text)[-1]
    assert (last.made, last.used, last.live, last.status) == (15, 12, 12, Status.PROVED)


def test_a_levelling_line_of_its_own_leaves_the_count() -> None:
    text = (
        "Rnd 1: 6 sc in magic ring\nRnd 2: 2 sc in each st around (12)\nTo level the step: sl st in next st, fasten off"
    )
    last = lines_of(text)[-1]
    assert (last.live, last.status) == (12, Status.WORKED)


@pytest.mark.parametrize(
    ("start", "count"),
    [
        # The same words mean 5 more where that gives the printed count, and 5 in all where only that does. Both uses
        # are found in print: in US leaflets n means n more, one UK maker means n in all.
        (24, 30),
        (20, 25),
    ],
)
def test_the_count_decides_how_often(start: int, count: int) -> None:
    text = f"Ch {start}, join with sl st to form a ring\nRnd 1: 1 sc in each ch around ({start})\nRnd 2: *Sc in next 3 sts, inc; rep from * 5 times. ({count})"
    last = lines_of(text)[-1]
    assert (last.status, last.live) == (Status.PROVED, count)


def test_three_in_one_or_three_along() -> None:
    """`3 sc` is three in one stitch where only that gives the count, and said so."""
    text = "Rnd 1: 16 sc in magic ring\nRnd 2: (3 sc, sc in next 3 sts) 4 times. (24)"
    last = lines_of(text)[-1]
    assert last.status is Status.PROVED
    assert last.unusual and "3 in one stitch" in last.reading
    plain = lines_of("Rnd 1: 6 sc in magic ring\nRnd 2: 2 sc in each st (12)\nRnd 3: (3 sc, inc) 3 times (15)")[-1]
    assert plain.status is Status.PROVED and not plain.unusual


def test_a_mistake_leaves_the_next_rounds_provable() -> None:
    text = "Rnd 1: 6 sc in magic ring (6)\nRnd 2: 2 sc in each st (13)\nRnd 3: sc in each st (13)"
    statuses = [line.status for line in lines_of(text)]
    assert statuses == [Status.PROVED, Status.DIFFERS, Status.PROVED]


def test_a_wrong_count_may_be_a_slip_of_the_pen_only() -> None:
    """Where the next round leads on from what was made, not from what was printed, it is proved all the same."""
    text = "R1: 8 sc in magic ring (8)\nR2: 2 sc in each st (16)\nR3: *sc, inc; rep from * (24)\nR4: *sc 2, inc; rep from * around (30)\nR5: *sc in next 3 sts, inc; rep from * around (40)"
    assert [line.status for line in lines_of(text)][-2:] == [Status.DIFFERS, Status.PROVED]


def test_dialect_from_evidence_and_from_chains() -> None:
    """A chain of three lifts to a UK treble and a US double: turning-chain lists at hooksandneedles68.blogspot.com (UK)."""
    uk = lines_of("Ch 4, join with sl st to form ring\nRnd 1: 3 ch (= 1 tr), 11 tr in ring, join (12 tr)")[-1]
    assert uk.status is Status.PROVED and dict(uk.kinds) == {"dc": 12}
    us = lines_of("Ch 4, join with sl st to form ring\nRnd 1: Ch 3 (counts as dc), 11 dc in ring, join (12 dc)")[-1]
    assert us.status is Status.PROVED and dict(us.kinds) == {"dc": 12}


def test_a_plain_round_costs_no_more_when_it_is_long() -> None:
    """Counting is by runs: one run for a round, whatever its length."""
    text = "Ch 10000, join with sl st to form ring\nRnd 1: sc in each ch around (10000)\nRnds 2-40: sc in each st around (10000)"
    compiled, lines = worked(text)
    assert lines[-1].status is Status.PROVED
    assert all(len(course.runs) <= 2 for course in compiled.fabric.parts[0].courses)


def test_limits_are_findings_not_hangs() -> None:
    text = "Rnd 1: 6 sc in magic ring\nRnd 2: 9999999 sc in next st\nRnds 3-999999: sc in each st around"
    compiled, lines = worked(text)
    assert all(line.status is not Status.PROVED for line in lines[1:])
    assert len(compiled.fabric.parts[0].courses) <= MOST_COURSES + 2


@pytest.mark.parametrize(
    "text",
    [
        "",
        "\n\n",
        "***",
        "(((",
        "rep from * 99 times",
        "Rnd 1:",
        "]",
        "ch",
        "Rnd 0-0: sc",
        "*" * 400,
        "(" * 400,
        "x " * 3000,
        "½ ¼",
        "Rnd 1: sc in in in in next next",
    ],
)
def test_no_text_makes_it_fall_over(text: str) -> None:
    compiled = compile_bare(Source("<case>", text))
    assert compiled.fabric is not None


def test_shaping_left_to_the_maker_proves_no_count() -> None:
    """Nobody can say how many `narrowing as usual` leaves, so no count of such a round is proved or held to be wrong."""
    text = "Chain 6, join.\n1. 24 doubles in ring.\n2. A double in each double, narrowing as usual at the toe. ({n})"
    for n in (18, 24):
        assert lines_of(text.format(n=n))[-1].status is Status.WORKED

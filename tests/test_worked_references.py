"""Published counts and sizes, worked stitch by stitch from their words; the source stands beside each check."""

import csv
import json
from dataclasses import replace
from math import pi
from pathlib import Path

import pytest
from hypothesis import given

from generator.fabric.model import Part, Status
from generator.measures.form import form
from generator.measures.gauge import Scale, width_from_hook
from generator.measures.measure import measure
from generator.measures.measured import Basis, Lie, Shape
from generator.measures.summary import plain
from generator.notation.pattern import Gauge, Header, YarnSpec
from generator.pipeline import compile_bare
from generator.source import Source
from tests.strategies import working_texts

FILE = Path(__file__).parent / "reference" / "check-values.csv"
ROWS = {
    int(row["number"]): row
    for row in csv.DictReader(line for line in FILE.read_text().splitlines() if not line.startswith("#"))
}


def worked(*lines: str, terms: str = "US") -> Part:
    """The one part of a few working lines, every one of which must prove."""
    part = compile_bare(Source("<test>", "\n".join(lines)), terms).fabric.parts[0]
    assert all(line.status in (Status.PROVED, Status.WORKED, Status.REMARK) for line in part.lines), part.lines
    return part


def lives(part: Part) -> list[int]:
    return [course.live for course in part.courses if course.number is not None]


def printed(number: int) -> list[int]:
    return [int(float(word)) for word in ROWS[number]["expected"].split()]


def disc(kind: str, base: int, rounds: int) -> list[str]:
    lines = [f"Rnd 1: {base} {kind} in magic ring ({base})", f"Rnd 2: 2 {kind} in each st around ({2 * base})"]
    for k in range(3, rounds + 1):
        plain = f"{kind} in next {k - 2} sts" if k > 3 else f"{kind} in next st"
        lines.append(f"Rnd {k}: *{plain}, 2 {kind} in next st; rep from * around ({base * k})")
    return lines


@pytest.mark.parametrize(
    ("number", "kind", "base", "rounds"), [(11, "sc", 6, 5), (12, "hdc", 8, 5), (13, "dc", 12, 5), (14, "sc", 8, 8)]
)
def test_flat_circles(number: int, kind: str, base: int, rounds: int) -> None:
    """Check values 11 to 14 (garturstitchfarmshop.com; andshelaughsblog.com)."""
    assert lives(worked(*disc(kind, base, rounds))) == printed(number)


def test_staggered_rounds_by_split_groups() -> None:
    """Check value 15 (monkeyhousefull.blogspot.com/2010/03)."""
    lines = disc("sc", 6, 6)
    lines[3] = "Rnd 4: 1 sc, (inc, 2 sc) x 5, inc, 1 sc (24)"
    lines[5] = "Rnd 6: 2 sc, (inc, 4 sc) x 5, inc, 2 sc (36)"
    found = lives(worked(*lines))
    assert [found[3], found[5]] == printed(15)


def test_staggered_rounds_by_shift() -> None:
    """Check value 16 (geekandyarn.com/how-to-stagger-increases)."""
    lines = disc("sc", 6, 8)
    lines[5] = "Rnd 6: 1 sc, inc, (4 sc, inc) x 5, 3 sc (36)"
    lines[7] = "Rnd 8: 2 sc, inc, (6 sc, inc) x 5, 4 sc (48)"
    found = lives(worked(*lines))
    assert [found[5], found[7]] == printed(16)


def test_classic_granny() -> None:
    """Check value 55: clusters of 3 dc, 12n in round n (clubcrochet.com, how to crochet a granny square)."""
    part = worked(
        "Ch 4, join with sl st to form ring",
        "Rnd 1: Ch 3 (counts as dc), 2 dc in ring, ch 2, *3 dc in ring, ch 2; rep from * 2 more times, join with sl st to top of ch 3 (12)",
        "Rnd 2: Sl st in next 2 dc, sl st in ch-2 sp, ch 3 (counts as dc), (2 dc, ch 2, 3 dc) in same sp, ch 1, *(3 dc, ch 2, 3 dc) in next ch-2 sp, ch 1; rep from * 2 more times, join with sl st to top of ch 3 (24)",
    )
    assert lives(part) == printed(55)[:2]
    made = form(part, Scale(6.0, Basis.STITCHES))
    assert (made.shape, made.corners, made.lie) == (Shape.POLYGON, 4, Lie.FLAT)


@pytest.mark.parametrize(("rounds", "at"), [(8, 0), (12, 1)])
def test_disc_graph(rounds: int, at: int) -> None:
    """Check values 100 and 101: stitches 3R(R + 1); edges one to the parent after round 1, one round to the next."""
    part = worked(*disc("sc", 6, rounds))
    stitches = part.stitches()
    assert len(stitches) == printed(100)[at]
    parents = sum(len(stitch.parents) for stitch in stitches if stitch.course)
    assert parents + len(stitches) == printed(101)[at]


def test_uk_words_are_one_step_up() -> None:
    """theloveofmaking.blogspot.com/2017/05 (check value 47) is in UK terms: its dc is the US sc."""
    part = worked(
        "Ch 7",
        "Rnd 1: Dc in 2nd ch from hook, dc in next 4 ch, 3 dc in last ch, working along other side of chain dc in next 4 ch, 2 dc in next ch (14)",
        terms="UK",
    )
    assert {kind for course in part.courses[1:] for kind, _ in course.kinds} == {"sc"}
    assert lives(part)[0] == printed(47)[0]


def test_printed_ripple() -> None:
    """sc, medium yarn, 6.5 mm: a repeat of 13 is 2.75 in wide, 11 rows are 4 in (allfreecrochet.com,
    traditional chevron blanket, 158033). Width within 10 %; its rows, half of them in back loops, within 20 %.
    """
    row = "Ch 1, turn, 2 sc in first st, sc in next 5 sts, skip next 2 sts, sc in next 5 sts, *3 sc in next st, sc in next 5 sts, skip next 2 sts, sc in next 5 sts; rep from * across to last st, 2 sc in last st (27)"
    part = worked(
        "Ch 28",
        "Row 1: 2 sc in 2nd ch from hook, sc in next 5 chs, skip next 2 chs, sc in next 5 chs, 3 sc in next ch, sc in next 5 chs, skip next 2 chs, sc in next 5 chs, 2 sc in last ch (27)",
        *(f"Row {n}: {row}" for n in range(2, 12)),
    )
    made = form(part, Scale(width_from_hook(6.5, 4), Basis.HOOK))
    assert made.shape is Shape.ROWS
    assert made.width_mm / (27 / 13) == pytest.approx(2.75 * 25.4, rel=0.10)
    assert made.height_mm == pytest.approx(4 * 25.4, rel=0.20)


def test_printed_hat_crown() -> None:
    """A crown of C/π across for a way round of C (hookthatyarn.wordpress.com/2016/06/09): 84 sc at 4 to the inch make
    21 in (mamas2hands.com/2017/03/04), so a flat crown of 14 rounds of six is 6.69 in across, within 5 %."""
    made = form(worked(*disc("sc", 6, 14)), Scale(25.4 / 4, Basis.STITCHES))
    assert made.lie is Lie.FLAT
    assert made.width_mm / 25.4 == pytest.approx(6.69, rel=0.05)
    assert made.circumference_mm / pi == pytest.approx(made.width_mm)


HEADER = Header(
    hooks_mm=(4.0,),
    gauge=Gauge(18, 20, 100, "sc", True),
    yarns=(YarnSpec("A", "reed", weight=4), YarnSpec("B", "peat", weight=4)),
)


@given(working_texts())
def test_anything_worked_can_be_measured(text: str) -> None:
    compiled = compile_bare(Source("<test>", text), "US")
    found = measure(replace(compiled.pattern, header=HEADER), compiled.fabric)
    json.dumps(plain(found), allow_nan=False)
    for part, made in zip(compiled.fabric.parts, found.parts, strict=True):
        worked_courses = {course.index for course in made.form.courses}
        assert worked_courses <= set(range(len(part.courses)))
        assert made.form.width_mm >= 0
        assert made.form.height_mm <= sum(course.slant_mm for course in made.form.courses) * 2 + 1
    stitches = sum(part.count() for part in compiled.fabric.parts)
    assert all(yarn.metres < 1 + stitches * 0.5 for yarn in found.yarns)


@pytest.mark.parametrize(
    ("lines", "shape"),
    [
        (["Ch 30, join with sl st to form ring", "Rnd 1: Ch 1, sc in each ch around, join with sl st to first sc (30)",
          "Rnds 2-10: Ch 1, sc in each st around, join with sl st to first sc (30)"], Shape.TUBE),
        (["Ch 21", "Row 1: Sc in 2nd ch from hook, sc in each ch across (20)", "Rows 2-20: Ch 1, turn, sc in each st across (20)"],
         Shape.ROWS),
        (["Ch 100, fasten off"], Shape.CORD),
        (["Rnd 1: Ch 2, 6 sc in 2nd ch from hook (6)", "Rnd 2: 2 sc in each st around (12)"], Shape.DISC),
    ],
)  # fmt: skip
def test_beginnings_decide_the_shape(lines: list[str], shape: Shape) -> None:
    assert form(worked(*lines), Scale(5.0, Basis.STITCHES)).shape is shape


def test_tube_of_thirty_is_as_wide_as_its_chain() -> None:
    lines = [
        "Ch 30, join with sl st to form ring",
        "Rnds 1-10: Ch 1, sc in each st around, join with sl st to first sc (30)",
    ]
    lines[1:] = [
        "Rnd 1: Ch 1, sc in each ch around, join with sl st to first sc (30)",
        lines[1].replace("Rnds 1-10", "Rnds 2-11"),
    ]
    made = form(worked(*lines), Scale(5.0, Basis.GAUGE, "sc", 5.0))
    assert made.opening_mm == made.circumference_mm == pytest.approx(150.0)
    assert made.height_mm == pytest.approx(55.0)


def test_petals_on_arches_lie_flat() -> None:
    """A flower of shells in chain spaces stands out, it does not ruffle: common practice, no source."""
    part = worked(
        "Ch 5, join with sl st to form ring",
        "Rnd 1: Ch 1, 12 sc in ring, join with sl st to first sc. (12)",
        "Rnd 2: Ch 1, sc in same st, ch 3, skip next st, *sc in next st, ch 3, skip next st; rep from * 4 more times, join with sl st to first sc. (6 sc, 6 ch-3 sps)",
        "Rnd 3: *(Sc, hdc, 3 dc, hdc, sc) in next ch-3 sp; rep from * around, join with sl st to first sc. Fasten off. (12 sc, 12 hdc, 18 dc)",
    )
    assert form(part, Scale(5.0, Basis.STITCHES)).lie is Lie.FLAT

"""Shape blocks: read, refused with what is possible, written so that they prove clean, drawn, rescaled."""

import io
import re
import tomllib
from datetime import date
from pathlib import Path
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator import cli
from generator.commands.console import Console
from generator.diagnostics.record import Severity
from generator.fabric.model import Part, Role, Status
from generator.notation.document import read_document
from generator.notation.pattern import Gauge
from generator.pipeline import compile_pattern
from generator.preview.desk import Desk
from generator.shape.describe import EXAMPLE, markdown
from generator.shape.design import Design, design, expand
from generator.shape.draw import draw
from generator.shape.hand import Hand
from generator.shape.plan import plan
from generator.shape.profile import Profile
from generator.shape.request import FIELDS
from generator.shape.rescale import rescale
from generator.shape.rounds import spread, worked_round
from generator.shape.sketch import SketchError, sketch
from generator.shape.solids import FORMS as SOLIDS
from generator.shape.source import comparisons, written_out
from generator.shape.write import Manner, write
from generator.source import Source

SC = Gauge(22, 23, 100)
GAUGES = {"sc": SC, "hdc": Gauge(13.5, 10.5, 100, "hdc"), "dc": Gauge(16, 8.5, 100, "dc")}
FORMS = {
    "ball": "width: 7 cm",
    "egg": "height: 7 cm\nfrom: top",
    "capsule": "width: 5 cm\nheight: 12 cm",
    "cone": "width: 6 cm\nheight: 10 cm\nbands: A to 4 cm, B",
    "tube": "width: 8 cm\nheight: 6 cm\nbands: A to 2 cm, B to 4 cm, C",
    "disc": "width: 12 cm\ncorners: stacked",
    "bowl": "width: 12 cm",
    "ring": "width: 14 cm\nthickness: 4 cm",
    "bell": "width: 12 cm\nheight: 12 cm\nbands: A to 4 cm, B",
    "hat": "circumference: 50 cm",
    "frill": "height: 6 cm\ngrow: 3",
    "profile": "points: 0 x 0, 3 x 0, 4.5 x 2, 3 x 6, 4 x 8",
}


def made(text: str, gauge: Gauge | None = SC) -> Design:
    found = design(Source("x", text), gauge)
    assert found.value is not None, found.findings
    return found.value


def pattern(lines: str, stitch: str = "sc") -> Source:
    gauge = GAUGES[stitch]
    yarns = "\n".join(
        f"  {key}: {{colour: {name}, weight: 3}}" for key, name in (("A", "ash"), ("B", "bay"), ("C", "clay"))
    )
    return Source(
        "x.md",
        f"---\ntitle: Thing\nterms: US\nlevel: complex\ngauge: {gauge.stitches:g} {stitch} x {gauge.rows:g} rounds = 10 cm\n"
        f"yarns:\n{yarns}\n---\n\n## Body\n\n```rounds\n{lines}```\n",
    )


def live(part: Part) -> tuple[int, ...]:
    return tuple(c.live for c in part.courses if any(r.role in (Role.STITCH, Role.START) for r in c.runs) and c.number)


@pytest.mark.parametrize("rounds", ["spiral", "joined"])
@pytest.mark.parametrize("stitch", ["sc", "hdc", "dc"])
@pytest.mark.parametrize("form", FORMS)
def test_what_is_planned_proves_clean(form: str, stitch: str, rounds: str) -> None:
    block = made(f"form: {form}\n{FORMS[form]}\nstitch: {stitch}\nrounds: {rounds}\n", GAUGES[stitch])
    compiled = compile_pattern(pattern(block.lines, stitch))
    (part,) = compiled.fabric.parts
    assert live(part) == block.plan.counts
    assert all(line.status in (Status.PROVED, Status.WORKED, Status.REMARK) for line in part.lines)
    wrong = [finding.message for finding in compiled.findings if finding.severity is Severity.ERROR]
    assert wrong == []


@pytest.mark.parametrize("rounds", ["spiral", "joined"])
def test_an_oval_proves_clean(rounds: str) -> None:
    block = made(f"form: box\nlength: 14 cm\nwidth: 9 cm\nheight: 5 cm\nrounds: {rounds}\n")
    compiled = compile_pattern(pattern(block.lines))
    (part,) = compiled.fabric.parts
    assert live(part) == tuple(count + 2 * block.plan.straight for count in block.plan.counts)
    assert not [finding for finding in compiled.findings if finding.severity is Severity.ERROR]


STAGGERED = tomllib.loads((Path(__file__).parent / "reference" / "shape-counts.toml").read_text(encoding="utf-8"))[
    "stagger"
]


@pytest.mark.parametrize("row", STAGGERED, ids=lambda row: str(row["want"]))
def test_staggered_as_published(row: dict[str, object]) -> None:
    # source: monkeyhousefull.blogspot.com/2010/03, `1 sc, inc, (2 sc, inc) x 5, 1 sc`
    first, around, last = (int(n) for n in re.findall(r"(\d+) sc", str(row["words"])))
    words = worked_round("sc", int(str(row["have"])), int(str(row["want"])), shift=True)
    plain = re.findall(r"(?<!2 )sc in next (?:(\d+) sts|st\b)", words, re.IGNORECASE)
    assert [int(n or 1) for n in plain] == [first, around, last]
    assert "4 more times" in words


@given(st.integers(3, 300), st.integers(0, 300), st.booleans(), st.sampled_from(["sc", "hdc", "dc"]))
@settings(max_examples=60)
def test_every_round_works_out(have: int, change: int, shift: bool, stitch: str) -> None:
    want = min(2 * have, have + change) if shift or change % 2 else max(-(-have // 2), have - change)
    lines = (
        f"Do not join rounds\nCh {have}, join with sl st to form ring\nRnd 1: {stitch} in each ch around. ({have})\n"
    )
    lines += f"Rnd 2: {worked_round(stitch, have, want, shift)}. ({want})\n"
    (part,) = compile_pattern(pattern(lines, stitch)).fabric.parts
    assert live(part) == (have, want)
    assert part.lines[-1].status is Status.PROVED


@given(st.integers(0, 500), st.integers(1, 120))
def test_gaps_are_as_even_as_whole_numbers_allow(plain: int, shapings: int) -> None:
    gaps = spread(plain, shapings)
    assert sum(gaps) == plain and len(gaps) == shapings and max(gaps) - min(gaps) <= 1


BAD = {
    "width: 4 cm": ("shape-without-form", "width: 4 cm"),
    "form: blal\nwidth: 4 cm": ("header-wrong-value", "blal"),
    "form: ball": ("shape-size-missing", "ball"),
    "form: ball\nwidth: -3 cm": ("header-wrong-value", "-3 cm"),
    "form: ball\nwidth: 0 cm": ("header-wrong-value", "0 cm"),
    "form: ball\nwidth: 7": ("header-wrong-value", "7"),
    "form: ball\nwidht: 7 cm\nheight: 7 cm": ("header-unknown-key", "widht"),
    "form: ball\nwidth: 3 mm": ("shape-impossible", "3 mm"),
    "form: ball\nwidth: 250 cm": ("shape-impossible", "250 cm"),
    "form: capsule\nwidth: 9 cm\nheight: 4 cm": ("shape-impossible", "4 cm"),
    "form: ring\nwidth: 10 cm\nthickness: 6 cm": ("shape-impossible", "6 cm"),
    "form: hat\ncircumference: 50 cm\nheight: 5 cm": ("shape-impossible", "5 cm"),
    "form: box\nlength: 5 cm\nwidth: 9 cm\nheight: 4 cm": ("shape-impossible", "5 cm"),
    "form: box\nlength: 15 cm\nwidth: 9 cm\nheight: 4 cm\nstitch: dc": ("shape-impossible", "dc"),
    "points: 0 x 0, 3 x 0, 0 x 3, 2 x 4": ("shape-impossible", "0 x 0, 3 x 0, 0 x 3, 2 x 4"),
    "points: 0 x 0, 4 x 0, 4 x 4, 2 x 4, 2 x 1, 6 x 1 cm": (
        "shape-crosses-itself",
        "0 x 0, 4 x 0, 4 x 4, 2 x 4, 2 x 1, 6 x 1 cm",
    ),
    "points: 0 x 0, -4 x 2": ("header-wrong-value", "-4 x 2"),
    "points: 3 x 1": ("header-wrong-value", "3 x 1"),
    "form: profile": ("shape-size-missing", "profile"),
    "path: M 0 90 L q": ("header-wrong-value", "M 0 90 L q"),
    "path: M 0 0 L 3 3 M 5 5 L 6 6": ("header-wrong-value", "M 0 0 L 3 3 M 5 5 L 6 6"),
    "form: tube\nwidth: 8 cm\nheight: 5 cm\nbands: B to 4 cm, A to 2 cm, C": ("header-wrong-value", "A to 2 cm"),
    "form: ball\nwidth: 7 cm\ngauge: 0 sc x 3 rounds = 10 cm": ("header-wrong-value", "0 sc x 3 rounds = 10 cm"),
    "form ball": ("header-not-readable", "form ball"),
}


@pytest.mark.parametrize("text", BAD)
def test_one_mistake_one_finding(text: str) -> None:
    found = design(Source("x", text), SC)
    rule, words = BAD[text]
    assert [finding.rule for finding in found.findings] == [rule]
    assert text[found.findings[0].span.start : found.findings[0].span.end] == words
    assert found.findings[0].fits
    assert found.value is None


def test_without_a_gauge() -> None:
    found = expand("form: ball\nwidth: 7 cm", None)
    assert found.value == "" and [finding.rule for finding in found.findings] == ["shape-without-gauge"]


def test_hook_and_yarn_instead_of_a_gauge() -> None:
    found = expand("form: ball\nwidth: 7 cm\nhook: 3.5 mm\nweight: 3", None)
    assert not found.findings and found.value.count("Rnd") > 10


def test_a_turn_too_sharp_is_a_warning_with_rounds() -> None:
    text = (
        "points: 0 x 0, 12 x 0, 12 x 1, 10 x 1, 10 x 1.6, 12 x 1.6, 12 x 2.2, 10 x 2.2, 10 x 3, 12 x 3 cm\nstitch: dc"
    )
    found = design(Source("x", text), GAUGES["dc"])
    assert found.value is not None
    assert [(finding.rule, finding.severity) for finding in found.findings] == [
        ("shape-out-of-reach", Severity.WARNING)
    ]


@given(st.text(alphabet="form: balegtubcwidh7 3cm\nxMLCZ0.-,{}[]#&*\"'", max_size=80))
def test_no_text_breaks_it(text: str) -> None:
    found = expand(text, SC)
    assert bool(found.value) or bool(found.findings)


@given(st.text(alphabet="MmLlHhVvCcSsQqTtAaZz0123456789.,- e", max_size=60))
def test_no_path_breaks_it(data: str) -> None:
    try:
        points = sketch(data)
    except SketchError as error:
        assert str(error)
    else:
        assert min(x for x, _ in points) == 0.0 and min(y for _, y in points) == 0.0


def test_an_arc_of_a_path_is_a_circle() -> None:
    # SVG 2 section 9.3 and its appendix on arcs: a half circle of radius 30
    points = sketch("M 0 60 A 30 30 0 0 0 0 0")
    assert all(abs((x**2 + (y - 30) ** 2) ** 0.5 - 30) < 1e-6 for x, y in points)


def test_a_path_and_points_are_the_same_outline() -> None:
    drawn = made("path: M 0 60 H 40 V 0\nheight: 6 cm")
    told = made("points: 0 x 0, 4 x 0, 4 x 6 cm")
    assert drawn.plan.counts == told.plan.counts


def test_bands_follow_the_finished_piece() -> None:
    up = made("form: egg\nheight: 7 cm\nbands: A to 2 cm, B")
    down = made("form: egg\nheight: 7 cm\nbands: A to 2 cm, B\nfrom: top")
    assert up.yarns[0] == "A" and up.yarns[-1] == "B"
    assert down.yarns[0] == "B" and down.yarns[-1] == "A"
    assert abs(up.yarns.count("A") - down.yarns.count("A")) <= 1


def test_uk_terms_are_kept() -> None:
    text = pattern("").text.replace("```rounds\n```", "```shape\nform: ball\nwidth: 7 cm\nstitch: dc\n```")
    text = text.replace("terms: US", "terms: UK").replace("22 sc", "22 dc")
    compiled = compile_pattern(Source("x.md", text))
    assert "Rnd 1: 6 dc in magic ring. (6)" in compiled.pattern.source.text
    assert {kind for course in compiled.fabric.parts[0].courses for kind, _ in course.kinds} <= {"sc", "sc2tog"}
    wrong = expand("form: ball\nwidth: 7 cm\nstitch: sc", SC, "UK")
    assert [finding.rule for finding in wrong.findings] == ["header-wrong-value"]


def test_a_source_is_written_out() -> None:
    text = pattern("").text.replace("```rounds\n```", "```shape\nform: ball\nwidth: 7 cm\n```")
    document = read_document(Source("x.md", text)).value
    out = written_out(document)
    assert not out.findings and "```shape" not in out.value and "```rounds\nWork in a spiral" in out.value
    assert compile_pattern(Source("x.md", text)).fabric.parts[0].courses[-1].live == 6
    (shown,) = comparisons(document)
    assert shown.part == "Body" and "worked rounds" in shown.caption


def test_findings_of_a_block_stand_in_the_source() -> None:
    text = pattern("").text.replace("```rounds\n```", "```shape\nform: ball\nwidth: wide\n```")
    document = read_document(Source("x.md", text)).value
    (finding,) = written_out(document).findings
    assert document.source.words(finding.span) == "wide"
    assert written_out(document).value == text


def test_drawing_is_sound_and_steady() -> None:
    block = made("form: egg\nheight: 7 cm\nbands: A to 3 cm, B")
    svg = draw(block.plan, block.yarns, {"A": "#336699"})
    root = ElementTree.fromstring(svg)
    strips = [element for element in root.iter() if element.get("data-round")]
    assert len(strips) == len(block.plan.counts) + 1  # the tip, drawn shut
    assert svg == draw(block.plan, block.yarns, {"A": "#336699"})
    assert root.get("aria-label") and "#336699" in svg


def test_rescaled_by_a_half_more() -> None:
    lines = write(
        plan(made("form: ball\nwidth: 7 cm").plan.profile, Hand("sc", 100 / 22, 100 / 23)), Manner(yarns=("A",) * 99)
    )
    compiled = compile_pattern(pattern(lines))
    found = rescale(compiled.pattern, compiled.fabric, 1.5)
    (change,) = found.value.changes
    assert max(change.after) == pytest.approx(1.5 * max(change.before), rel=0.05)
    assert len(change.after) == pytest.approx(1.5 * len(change.before), rel=0.08)
    again = compile_pattern(Source("x.md", found.value.text))
    assert not [finding for finding in again.findings if finding.severity is Severity.ERROR]
    assert live(again.fabric.parts[0]) == change.after


def test_rescaled_to_its_own_size_it_stays_what_it_was() -> None:
    block = made("form: tube\nwidth: 8 cm\nheight: 6 cm\nbottom: closed")
    compiled = compile_pattern(pattern(block.lines))
    (change,) = rescale(compiled.pattern, compiled.fabric, 1.0).value.changes
    assert max(abs(a - b) for a, b in zip(change.before, change.after, strict=True)) <= 3


def test_another_gauge_keeps_zones() -> None:
    block = made("form: tube\nwidth: 8 cm\nheight: 6 cm\nbottom: closed\nbands: A to 3 cm, B")
    compiled = compile_pattern(pattern(block.lines))
    found = rescale(compiled.pattern, compiled.fabric, 1.0, Gauge(16, 17, 100)).value
    assert "gauge: 16 sc x 17 rounds = 10 cm" in found.text
    again = compile_pattern(Source("x.md", found.text))
    first = next(i for i, c in enumerate(again.fabric.parts[0].courses) if c.runs and c.runs[-1].yarn == "B")
    share = first / len(again.fabric.parts[0].courses)
    assert share == pytest.approx(block.yarns.index("B") / len(block.yarns), abs=0.08)


KEPT = {
    "Ch 5, join with sl st to form ring\nRnd 1: Ch 1, 12 sc in ring, join with sl st to first sc. (12)\n": "not plain",
    "Foundation: Ch 11\nRow 1: Sc in 2nd ch from hook, sc in each ch across, turn. (10)\n": "rows",
    "Do not join rounds\nRnd 1: 8 sc in magic ring. (8)\nRnd 2: 2 sc in each st around. (16)\n"
    "Rnd 3: 2 sc in each st around. (32)\n": "ruffles",
    "Rnd 1: Ch 3 (counts as dc), 11 dc in magic ring, join with sl st to top of beg ch-3. (12)\n"
    "Rnd 2: Ch 3, dc in same st, 2 dc in each st around, join with sl st to top of beg ch-3. (24)\n": "starting chains",
}


@pytest.mark.parametrize("lines", KEPT)
def test_what_can_t_be_planned_is_left_alone(lines: str) -> None:
    compiled = compile_pattern(pattern(lines))
    found = rescale(compiled.pattern, compiled.fabric, 2.0).value
    assert found.text == compiled.pattern.source.text and KEPT[lines] in found.changes[0].kept


WINDOWED = """Work in a spiral; do not join rounds
With A
Rnd 1: 6 sc in magic ring. (6)
Rnd 2: 2 sc in each st around. (12)
Rnd 3: *Sc in next st, 2 sc in next st; rep from * around. (18)
Rnd 4: *Sc in next 2 sts, 2 sc in next st; rep from * around. (24)
Rnds 5-9: Sc in each st around. (24)
To level the step: sc in next st, sl st in next st, fasten off
With B
Rnd 10: Standing sc in any st, sc in each st around. (24)
Rnd 11: *Sc in next 2 sts, ch 2, skip next 2 sts; rep from * around. (12 sc, 6 ch-2 sps)
Rnd 12: *Sc in next 2 sts, 2 sc in next ch-2 sp; rep from * around. (24)
Rnd 13: Sc in each st around. (24)
Fasten off
"""


@pytest.mark.parametrize("factor", [0.7, 1.0, 1.3, 2.0, 3.1])
def test_windows_come_out_at_any_size(factor: float) -> None:
    compiled = compile_pattern(pattern(WINDOWED))
    found = rescale(compiled.pattern, compiled.fabric, factor).value
    (change,) = found.changes
    again = compile_pattern(Source("x.md", found.text))
    assert not [finding for finding in again.findings if finding.severity is Severity.ERROR]
    assert live(again.fabric.parts[0]) == change.after
    assert change.after[-1] % 4 == 0 and abs(change.after[-1] - 24 * factor) <= 4
    assert "Standing sc" in found.text and "ch-2 sps)" in found.text
    if factor == 1.0:
        assert change.after == change.before


def test_what_is_said_between_rounds_stays_and_follows() -> None:
    lines = WINDOWED.replace("Rnds 5-9", "Embroider a star between Rnds 2 and 3\nRnds 5-9")
    source = pattern(lines)
    text = source.text + "\nSew a button to Rnd 13.\n\n## Cord\n\n```rounds\nWith A\nCh 50, fasten off\n```\n"
    compiled = compile_pattern(Source("x.md", text))
    found = rescale(compiled.pattern, compiled.fabric, 2.0).value
    assert "Embroider a star between Rnds 4 and 6" in found.text and "Ch 100, fasten off" in found.text
    assert f"Sew a button to Rnd {len(found.changes[0].after)}." in found.text
    again = compile_pattern(Source("x.md", found.text))
    assert not [finding for finding in again.findings if finding.severity is Severity.ERROR]


@pytest.mark.parametrize("factor", [0.0, -1.0, 50.0])
def test_factors_beyond_reach(factor: float) -> None:
    compiled = compile_pattern(pattern("Rnd 1: 6 sc in magic ring, do not join. (6)\n"))
    found = rescale(compiled.pattern, compiled.fabric, factor)
    assert [finding.rule for finding in found.findings] == ["rescale-out-of-reach"]


def run(*arguments: str) -> tuple[int, str, str]:
    out, err = io.StringIO(), io.StringIO()
    status = cli.main(["shape", *arguments], Console(out, err, io.BytesIO()))
    return status, out.getvalue(), err.getvalue()


def test_command_plans(tmp_path: Path) -> None:
    status, out, _ = run(
        "ball", "--width", "7 cm", "--gauge", "22 sc x 23 rounds = 10 cm", "--svg", str(tmp_path / "a.svg")
    )
    assert status == 0 and "Rnd 1: 6 sc in magic ring. (6)" in out and "uneven rounds" in out and "yarn" in out
    ElementTree.parse(tmp_path / "a.svg")


def test_written_rounds_held_against_a_wish(tmp_path: Path) -> None:
    file = tmp_path / "x.md"
    file.write_text(pattern(made("form: ball\nwidth: 7 cm").lines).text)
    status, out, _ = run("ball", "--width", "7 cm", "--of", str(file), "--svg", str(tmp_path / "a.svg"))
    assert status == 0 and float(re.findall(r"([0-9.]+) mm", out)[0]) < SC.over_mm / SC.rows / 2
    _, other, _ = run("ball", "--width", "9 cm", "--of", str(file))
    assert float(re.findall(r"([0-9.]+) mm", other)[0]) > 8.0  # a ball of 9 cm is 1 cm further out
    assert run("ball", "--width", "9 cm", "--of", str(file), "--part", "Leg")[0] == 1


def test_command_fits_a_count() -> None:
    status, out, _ = run("--fit", "31", "42", "3")
    assert status == 0 and out.count("Rnd") == 3 and "(42)" in out
    assert run("--fit", "6", "49", "3")[0] == 1


def test_command_writes_into_a_source(tmp_path: Path) -> None:
    file = tmp_path / "x.md"
    file.write_text(pattern("").text.replace("```rounds\n```", "```shape\nform: ball\nwidth: 7 cm\n```"))
    assert run("--write", str(file))[0] == 0
    assert "```shape" not in file.read_text() and "Rnd 1: 6 sc in magic ring. (6)" in file.read_text()
    assert run("--write", str(file))[1].endswith("has no shape block\n")


def test_command_rescales(tmp_path: Path) -> None:
    file = tmp_path / "x.md"
    file.write_text(pattern(made("form: ball\nwidth: 7 cm").lines).text)
    status, out, err = run("--rescale", str(file), "--by", "150 %")
    assert status == 0 and out.startswith("---\ntitle: Thing") and "rounds up to" in err


@pytest.mark.parametrize("arguments", [(), ("--rescale", "nowhere.md"), ("--write", "nowhere.md")])
def test_command_used_wrongly(arguments: tuple[str, ...]) -> None:
    status, _, err = run(*arguments)
    assert status == 2 and err and "Traceback" not in err


def test_the_help_page_tells_what_is_read() -> None:
    page = markdown()
    assert not expand(EXAMPLE, SC).findings and EXAMPLE in page
    told = {name for row in re.findall(r"^- `([a-z, ]+)`:", page, re.MULTILINE) for name in row.split(", ")}
    other_names = {"diameter", "across", "tall", "profile", "colours", "hook", "weight", "note"}
    assert told == set(FIELDS) - other_names | set(SOLIDS)


def test_the_preview_shows_the_wish(tmp_path: Path) -> None:
    folder = tmp_path / "content" / "patterns" / "x"
    folder.mkdir(parents=True)
    text = pattern("").text.replace("```rounds\n```", "```shape\nform: ball\nwidth: 7 cm\n```")
    (folder / "x.md").write_text(text)
    desk = Desk(tmp_path / "content", tmp_path / "site", date(2026, 11, 1))
    before = desk.state("patterns/x/index.html")["drawings"]
    (folder / "x.md").write_text(text.replace("7 cm", "9 cm"))
    desk.changed([folder / "x.md"])
    after = desk.state("patterns/x/index.html")["drawings"]
    assert isinstance(before, list) and isinstance(after, list)
    assert before[0]["svg"].startswith("<svg") and before[0]["caption"] != after[0]["caption"]


def test_turned_over_twice_is_as_before() -> None:
    profile = Profile(((0.0, 0.0), (3.0, 0.0), (4.0, 5.0)))
    assert profile.turned().turned().points == profile.points

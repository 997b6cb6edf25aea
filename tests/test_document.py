"""Headers and blocks: what a file's text becomes, and what is said of a faulty one.

Each case under cases/document is a source as a designer might have left it, a line of `=`, and what she is told.
"""

from datetime import date
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.diagnostics import lines
from generator.notation.document import LONGEST, read_document
from generator.notation.pattern import Film, FilmMark, Gauge, Photo, Prose, ShapeBlock, Swatch, Tie, Working
from generator.source import Source

CASES = sorted((Path(__file__).parent / "cases" / "document").glob("*.md"))
DIVIDER = "=" * 20 + "\n"

HEADER_RULES = ("header", "block", "empty", "not-text", "too-long", "no-working")


def told(source: Source) -> str:
    findings = [f for f in read_document(source).findings if f.rule.startswith(HEADER_RULES)]
    return "".join(lines.render(source, finding) + "\n" for finding in findings)


@pytest.mark.parametrize("case", CASES, ids=[case.stem for case in CASES])
def test_what_is_said(case: Path, update: bool) -> None:
    text, _, expected = case.read_text(encoding="utf-8").partition(DIVIDER)
    found = told(Source("heron.md", text))
    if update:
        case.write_text(text + DIVIDER + found, encoding="utf-8")
    assert found == expected


FULL = """---
title: Reed-bed lantern cover
slug: lantern
published: 2026-09-04
draft: yes
terms: uk
level: Easy
summary: A cover for a jar,
  worked in one spiral.
tags: [jar, light]
photo: {file: lantern.jpg, alt: "Jar: green"}
photos:
  - {file: round-3.jpg, alt: Round three, round: 3}
hook: [4 mm (US G-6), 3,5 mm]
gauge: 18 dc x 20 rounds = 4 in
swatch: 20 dc x 20 rows = 7.2 g
yarns:
  A: {colour: reed green, swatch: "#6B7F3A", weight: 4, fibre: cotton, ball: 50 g = 85 m, needs: 40 g}
  MC:
    colour: peat brown
    swatch: "#432"
    weight: DK
    strands: 2
notions: [stitch marker, "jar, 8 cm"]
ties: [chain cord of 70 cm, {name: hanger, length: 12 in, loop: yes}]
rounds: spiral
start-chain: does not count
for: under 3
kind: cover
size: {width: 12 cm, circumference: 38 cm}
fits: Woman
hours: 2½ to 3
stuffed: no
film: {address: film, length: 12:30, marks: ["0:00 Start", {at: 1:20, title: Rnd 3}]}
stitches:
  bead: {abbreviation: bd, worked: "4 htr in next st", counts: 1}
revisions:
  - {date: 2026-09-20, note: "Round 14 said 24; it is 30.", rounds: 14-15, was: "24", now: "30", changes work: yes}
intended: {colour-jog: I like the step}
---

Prose.

```rounds
Rnd 1: 6 dc in magic ring (6)
```
"""


def test_every_field_arrives() -> None:
    checked = read_document(
        Source("content/patterns/x/x.md", FULL.replace("[4 mm (US G-6), 3,5 mm]", "4 mm (US G-6) and 3,5 mm"))
    )
    header = checked.value.header
    assert [finding.rule for finding in checked.findings] == []
    assert (header.title, header.slug, header.published) == ("Reed-bed lantern cover", "lantern", date(2026, 9, 4))
    assert (header.draft, header.terms, header.level) == (True, "UK", "easy")
    assert header.summary == "A cover for a jar, worked in one spiral."
    assert header.photos == (Photo("lantern.jpg", "Jar: green"), Photo("round-3.jpg", "Round three", 3))
    assert (header.hooks_mm, header.hook_label) == ((4.0, 3.5), "US G-6")
    # UK double crochet is US single crochet, in which identities are kept.
    assert header.gauge == Gauge(18.0, 20.0, pytest.approx(101.6), "sc", True)
    assert header.swatch == Swatch(20, 20, "sc", None, 7.2)
    assert [(y.key, y.colour, y.swatch, y.weight, y.strands) for y in header.yarns] == [
        ("A", "reed green", "#6b7f3a", 4, 1), ("MC", "peat brown", "#443322", 3, 2),
    ]  # fmt: skip
    assert (header.yarns[0].grams_per_ball, header.yarns[0].metres_per_ball, header.yarns[0].stated_grams) == (
        50,
        85,
        40,
    )
    assert header.ties == (Tie("chain cord", 700.0), Tie("hanger", pytest.approx(304.8), True))
    assert (header.rounds, header.start_chain, header.audience) == ("spiral", "does not count", "under-3")
    assert header.size is not None and (header.size.width_mm, header.size.circumference_mm) == (120.0, 380.0)
    assert (header.fits, header.hours, header.stuffed) == ("Woman", (2.5, 3.0), False)
    assert header.film == Film("film", 750, (FilmMark(0, "Start"), FilmMark(80, "Rnd 3")))
    assert [(s.key, s.abbreviation, s.worked) for s in header.stitches] == [("bead", "bd", "4 htr in next st")]
    assert [(r.date, r.rounds, r.was, r.now) for r in header.revisions] == [(date(2026, 9, 20), (14, 15), "24", "30")]
    assert header.intended == {"colour-jog": "I like the step"}


@pytest.mark.parametrize(
    ("path", "words"),
    [
        ("title", "Reed-bed lantern cover"),
        ("photo.alt", '"Jar: green"'),
        ("yarns.A.weight", "4"),
        ("revisions.0.date", "2026-09-20"),
        ("film.marks.1.at", "1:20"),
        ("intended.colour-jog", "colour-jog"),
    ],
)
def test_every_value_knows_its_place(path: str, words: str) -> None:
    source = Source("x.md", FULL)
    assert source.words(read_document(source).value.header.spans[path]) == words


@pytest.mark.parametrize(
    ("written", "expected"),
    [
        ("18 sc x 20 rounds = 10 cm", Gauge(18, 20, 100, "sc", True)),
        ("18 sts x 20 rows = 10 cm", Gauge(18, 20, 100, "sc", False)),
        ("18 sts and 20 rows = 10cm in sc", Gauge(18, 20, 100, "sc", False)),
        ("16.5 hdc × 12 rnds over 10 cm", Gauge(16.5, 12, 100, "hdc", True)),
        ("4½ dc = 1 in", Gauge(4.5, 0, 25.4, "dc", False)),
        ("14 half double crochet by 11 rows to 10 cm square", Gauge(14, 11, 100, "hdc", False)),
        ("20 sts, 22 rounds = 100 mm", Gauge(20, 22, 100, "sc", True)),
    ],
)
def test_gauge_as_it_is_written(written: str, expected: Gauge) -> None:
    source = Source("x.md", f"---\ntitle: x\nterms: US\ngauge: {written}\n---\n```rounds\n```\n")
    checked = read_document(source)
    gauge = checked.value.header.gauge
    assert checked.findings == ()
    assert gauge is not None
    assert (gauge.stitches, gauge.rows, gauge.stitch, gauge.in_round) == (
        expected.stitches, expected.rows, expected.stitch, expected.in_round,
    )  # fmt: skip
    assert gauge.over_mm == pytest.approx(expected.over_mm)


@pytest.mark.parametrize(
    ("written", "sizes", "label"),
    [
        ("4 mm", (4.0,), ""),
        ("4.0mm", (4.0,), ""),
        ("3,5 mm", (3.5,), ""),
        ("4 mm (US G-6)", (4.0,), "US G-6"),
        ("US H/8 (5 mm)", (5.0,), "US H/8"),
        ("[4 mm, 3.5 mm]", (4.0, 3.5), ""),
        ("4 mm and 3.5 mm", (4.0, 3.5), ""),
        ("size 12, 2.5 MM", (2.5,), "size 12"),
    ],
)
def test_hooks_as_they_are_written(written: str, sizes: tuple[float, ...], label: str) -> None:
    checked = read_document(Source("x.md", f"---\ntitle: x\nhook: {written}\n---\n```rounds\n```\n"))
    assert checked.findings == ()
    assert (checked.value.header.hooks_mm, checked.value.header.hook_label) == (sizes, label)


BODY = """---
title: Chick
---
# Chick

Before.

## Head (make 2)

```rounds
Rnd 1: 6 sc in magic ring (6)
```

A photo goes here.

~~~ rounds
Rnd 2: 2 sc in each st around (12)
~~~

```text
Rnd 9: not a working block
```

## Strap, 3.5 mm hook
```rows
Row 1: sc in 2nd ch from hook
```
## Body x2
```shape
sphere: 7 cm
```
"""


def test_blocks_take_the_name_of_the_nearest_heading() -> None:
    pattern = read_document(Source("chick.md", BODY)).value
    kinds = [type(block) for block in pattern.blocks]
    assert kinds == [Prose, Working, Prose, Working, Prose, Working, Prose, ShapeBlock]
    pieces = pattern.pieces()
    assert [(piece.name, piece.make, piece.hook_mm) for piece in pieces] == [("Head", 2, 0.0), ("Strap", 1, 3.5)]
    assert [block.part for block in pattern.blocks if isinstance(block, Working)] == [0, 0, 1]
    shape = pattern.blocks[-1]
    assert isinstance(shape, ShapeBlock)
    assert (shape.part, shape.text) == ("Body", "sphere: 7 cm\n")


def test_a_part_may_go_on_in_a_second_block() -> None:
    head = read_document(Source("chick.md", BODY)).value.pieces()[0]
    assert [line.label.numbers for line in head.lines] == [(1,), (2,)]


def test_prose_keeps_every_character_outside_the_blocks() -> None:
    source = Source("chick.md", BODY)
    pattern = read_document(source).value
    prose = "".join(block.text for block in pattern.blocks if isinstance(block, Prose))
    assert "A photo goes here." in prose
    assert "```text\nRnd 9: not a working block\n```" in prose
    assert "6 sc in magic ring" not in prose


def test_an_unclosed_block_ends_before_the_next_heading() -> None:
    text = "---\ntitle: x\n---\n## Ear\n```rounds\nRnd 1: 6 sc in magic ring (6)\n\n## Tail\n```rounds\nRnd 1: 4 sc in magic ring (4)\n```\n"
    checked = read_document(Source("x.md", text))
    assert [finding.rule for finding in checked.findings] == ["block-not-closed"]
    assert [piece.name for piece in checked.value.pieces()] == ["Ear", "Tail"]


@pytest.mark.parametrize(
    ("path", "slug"),
    [
        ("content/patterns/a/Reed bed No. 2.md", "reed-bed-no-2"),
        ("content/patterns/b/Schilfhütte.md", "schilfhütte"),
        ("content/patterns/c/かご.md", "かご"),
        ("C:\\studio\\hat.md", "hat"),
        ("...md", "pattern"),
    ],
)
def test_a_slug_comes_from_the_file_name(path: str, slug: str) -> None:
    assert read_document(Source(path, FULL.replace("slug: lantern\n", ""))).value.header.slug == slug


@pytest.mark.parametrize("slug", ["Reed_Bed-2", "日本の編み物", "v1.2", "x" * 100])
def test_a_slug_the_author_gives_stands_as_it_is(slug: str) -> None:
    read = read_document(Source("heron.md", FULL.replace("slug: lantern", f"slug: '{slug}'")))
    assert read.value.header.slug == slug and not [f for f in read.findings if "slug" in f.message]


@pytest.mark.parametrize(
    ("slug", "fits"),
    [
        ("../../out", "out"),
        ("/etc", "etc"),
        ("..", "pattern"),
        (".hidden", "hidden"),
        ("a/b", "a-b"),
        ("a\\b", "a-b"),
        ("what? now", "what-now"),
        ("a%2fb", "a-2fb"),
        ("x" * 101, "x" * 100),
        ("針" * 40, "針" * 33),
    ],
)
def test_a_slug_that_leads_elsewhere_is_told(slug: str, fits: str) -> None:
    read = read_document(Source("heron.md", FULL.replace("slug: lantern", f"slug: '{slug}'")))
    assert read.value.header.slug == "heron"
    assert [f.fits for f in read.findings if "can't stand in an address" in f.message] == [fits]


def test_a_source_has_a_limit() -> None:
    assert [f.rule for f in read_document(Source("x.md", "x" * (LONGEST + 1))).findings] == ["too-long"]


def test_binary_and_empty_files_give_one_finding() -> None:
    assert [f.rule for f in read_document(Source("x.md", "\0\1\2")).findings] == ["not-text"]
    assert [f.rule for f in read_document(Source("x.md", " \n\t\n")).findings] == ["empty-file"]


LINES = st.sampled_from(
    ["---", "title: x", "\thook: 4 mm", "hook: 4", "yarns:", "  A: {colour: x", "- a", "a: &b [*b]", "'", '"x', "[", "}",
     "```rounds", "```", "~~~", "## Ear (make 999)", "Rnd 1: 6 sc in magic ring (6)", "x: | ", "? ", "!!binary x", "\x07", "é: 1",
     "title:", "gauge: 18 sc x 0 rounds = 10 cm", "hook: 0/0 mm", "size: 1/0 cm", "published: 0000-00-00", "<<: *x", "%YAML 9"]
)  # fmt: skip


@given(st.lists(LINES | st.text(max_size=20), max_size=25), st.sampled_from(["\n", "\r\n"]))
def test_property_no_text_makes_it_raise_and_every_place_is_in_the_text(parts: list[str], end: str) -> None:
    source = Source("x.md", "---\n" + end.join(parts))
    for finding in read_document(source).findings:
        assert 0 <= finding.span.start <= finding.span.end <= len(source.text)
        assert finding.message == finding.message.strip().removesuffix(".")

"""Whole parts written in every dialect and style, beside the text they come from: `pytest --update` writes them anew."""

import re
from pathlib import Path

import pytest

from generator.fabric.model import Fabric, Part, Status
from generator.fabric.state import Settings
from generator.fabric.work import work
from generator.notation.document import read_document
from generator.notation.parse import Context, read_lines
from generator.notation.tree import Piece
from generator.pages.help import glossary
from generator.source import Source, Span
from generator.vocabulary.load import language
from generator.vocabulary.records import Language
from generator.wording.instructions import Style, Written, write_part
from generator.wording.reference import abbreviations, own_stitches, signs, unnamed

CASES = sorted((Path(__file__).parent / "cases" / "wording").glob("*.txt"))
PATTERNS = sorted((Path(__file__).parents[1] / "content" / "patterns").glob("*/*.md"))
YARNS = {"A": "reed green", "B": "peat brown"}


def worked(path: Path) -> tuple[Part, str]:
    text = path.read_text(encoding="utf-8")
    terms = "UK" if "uk-terms" in path.stem else "US"
    context = Context(terms=terms, yarns=tuple(YARNS.items()))
    lines = read_lines(Source(path.name, text), Span(0, len(text)), context).value
    return work((Piece(lines=lines),), Settings()).parts[0], terms


def printed(fabric: Fabric, words: Language, style: Style = Style.SHORT) -> list[Written]:
    return [line for part in fabric.parts for line in write_part(part, words, style)]


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_whole_parts(path: Path, update: bool) -> None:
    part, terms = worked(path)
    assert {line.status for line in part.lines} <= {Status.PROVED, Status.WORKED, Status.REMARK}
    author = language("en-GB" if terms == "UK" else "en-US")
    found: list[str] = []
    for code in ("en-US", "en-GB"):
        for style in Style:
            lines = write_part(part, language(code), style, YARNS, author=author)
            found.append(f"== {language(code).title}, {style} ==\n" + "\n".join(line.whole for line in lines) + "\n")
    expected = path.with_suffix(".expected")
    if update:
        expected.write_text("\n".join(found), encoding="utf-8")
    assert "\n".join(found) == expected.read_text(encoding="utf-8")


@pytest.mark.parametrize("code", ["en-US", "en-GB"])
@pytest.mark.parametrize("path", PATTERNS, ids=lambda path: path.stem)
def test_spelled_out_text_has_no_abbreviation_left(path: Path, code: str) -> None:
    read = read_document(Source(path.name, path.read_text(encoding="utf-8"))).value
    author = language("en-GB" if read.header.terms == "UK" else "en-US")
    short = {word for pair, _ in glossary(language(code)) for word in pair.split()}
    short = {word for word in short if not word.isupper() or len(word) > 1} - {"work", "even", "straight"}
    yarns = {yarn.key: yarn.colour for yarn in read.header.yarns}
    for part in work(read.pieces(), Settings(read.header.rounds, read.header.start_chain)).parts:
        for line in write_part(part, language(code), Style.SPELLED, yarns, author=author):
            words = set(re.findall(r"[A-Za-z0-9]+", line.whole))
            assert not words & short, line.whole


@pytest.mark.parametrize("path", PATTERNS, ids=lambda path: path.stem)
def test_steps_are_the_text_one_instruction_each(path: Path) -> None:
    read = read_document(Source(path.name, path.read_text(encoding="utf-8"))).value
    for part in work(read.pieces(), Settings(read.header.rounds, read.header.start_chain)).parts:
        lines = write_part(part, language("en-US"), Style.STEPS)
        for line in lines:
            assert line.steps and len(line.numbers) <= 1
            assert not any(" times" in step or "rep from" in step for step in line.steps), line.steps
        rounds = [n for line in lines for n in line.numbers]
        assert rounds == [n for line in part.lines for n in line.line.label.numbers]


@pytest.mark.parametrize("path", PATTERNS, ids=lambda path: path.stem)
def test_the_abbreviation_list_is_the_texts_own(path: Path) -> None:
    read = read_document(Source(path.name, path.read_text(encoding="utf-8"))).value
    fabric = work(read.pieces(), Settings(read.header.rounds, read.header.start_chain))
    words = language("en-US")
    text = " ".join(line.whole for part in fabric.parts for line in write_part(part, words))
    listed = dict(abbreviations(fabric, words, unnamed(printed(fabric, words), words, {})))
    for short in listed:
        assert re.search(rf"\b{re.escape(short)}s?\b", text, re.IGNORECASE), short
    basic = {entry.abbreviation for entry in words.stitches.values() if entry.abbreviation != entry.name}
    spoken = set(re.findall(r"(?<![\w-])(?:sc|hdc|dc|tr|ch|sl st|inv dec|sc2tog|FPdc|BPdc)(?![\w])", text))
    assert spoken & basic <= set(listed)


def test_names_of_yarns_are_no_abbreviations() -> None:
    text = "With A\nRnd 1: 6 sc in magic ring (6)"
    yarns = {"A": "plum tr"}
    lines = read_lines(Source("x", text), Span(0, len(text)), Context(terms="US", yarns=tuple(yarns.items()))).value
    fabric, words = work((Piece(lines=lines),), Settings()), language("en-US")
    said = write_part(fabric.parts[0], words, yarns=yarns)
    assert "plum tr" in said[0].whole
    assert [short for short, _ in abbreviations(fabric, words, unnamed(said, words, yarns))] == ["rnd", "sc", "st"]


def test_private_notes_are_never_written() -> None:
    text = "Rnd 1: 6 sc in magic ring (6)\nWhy: the tide was out\nRnd 2: sc in each st around (6)"
    lines = read_lines(Source("x", text), Span(0, len(text)), Context(terms="US")).value
    part = work((Piece(lines=lines),), Settings()).parts[0]
    for style in Style:
        assert "tide" not in " ".join(line.whole for line in write_part(part, language("en-US"), style))


def test_signs_are_explained_where_they_are_used() -> None:
    text = "Rnd 1: 6 sc in magic ring (6)\nRnd 2: (2 sc in next st) 6 times (12)\nRnd 3: *3 sc, inc; rep from * around (15)"
    lines = read_lines(Source("x", text), Span(0, len(text)), Context(terms="US")).value
    fabric = work((Piece(lines=lines),), Settings())
    assert [
        sample for sample, _ in signs(language("en-US"), [line.whole for line in printed(fabric, language("en-US"))])
    ] == [
        "(18 sts)",
        "(…) 6 times",
        "*…; rep from * around",
    ]
    assert [
        sample
        for sample, _ in signs(
            language("en-GB"), [line.whole for line in printed(fabric, language("en-GB"), Style.TERSE)], Style.TERSE
        )
    ] == ["(18)", "(…) × 6", "3 dc"]


OWN = """\
---
title: Bead rim
terms: US
stitches:
  bead: {abbreviation: bd, worked: "4 hdc in same st"}
  fanlet: {name: little fan, abbreviation: lf, worked: "2 dc, ch 1, 2 dc"}
---

```rounds
Rnd 1: 12 sc in magic ring (12)
Rnd 2: *sc in next st, bead in next st; rep from * around (30)
Rnd 3: *sc in next 4 sts, lf in next st; rep from * around (24 sc, 24 dc, 6 ch-1 sps)
```
"""


def test_corners_of_an_edging_are_not_worked_around_twice() -> None:
    text = "Ch 5\nRow 1: sc in 2nd ch from hook and in each ch across, turn (4)\nEdging: sc evenly around, working 3 sc in each corner, join with sl st"
    piece = Piece(lines=read_lines(Source("x", text), Span(0, 999), Context("US", bare=True)).value)
    edging = write_part(work((piece,), Settings()).parts[0], language("en-US"))[-1]
    assert (edging.label, edging.text) == (
        "Edging",
        "Sc evenly around, 3 sc in each corner, join with sl st to first st.",
    )


def test_picots_that_are_only_named_are_explained() -> None:
    text = "Ch 6, join with sl st to form ring\nRnd 1: Ch 1, *sc in ring, {}; rep from * 5 more times, join (6 sc)"
    said = {}
    for picot in ("picot", "ch-4 picot", "ch 4, sl st in first ch of these 4"):
        piece = Piece(lines=read_lines(Source("x", text.format(picot)), Span(0, 999), Context("US", bare=True)).value)
        said[picot] = own_stitches(work((piece,), Settings()), language("en-GB"), {})
    assert said["picot"] == (("picot", "usually ch 3, sl st in first of these ch"),)
    assert said["ch-4 picot"] == (("ch-4 picot", "usually ch 4, sl st in first of these ch"),)
    assert said["ch 4, sl st in first ch of these 4"] == ()  # written out where it stands


def test_the_patterns_own_stitches_keep_their_names_and_are_explained() -> None:
    read = read_document(Source("own.md", OWN)).value
    fabric = work(read.pieces(), Settings())
    assert [line.status for line in fabric.parts[0].lines] == [Status.PROVED] * 3
    own = {special.key: special.name for special in read.header.stitches}
    written = write_part(fabric.parts[0], language("en-GB"), author=language("en-US"), own=own)
    assert written[1].text == "*dc in next st, bead in next st; rep from * around."
    assert written[2].text == "*dc in next 4 sts, little fan in next st; rep from * around."
    assert own_stitches(fabric, language("en-GB"), own) == (
        ("bead", "4 htr, all in one place"),
        ("little fan", "2 tr, ch 1, 2 tr, all in one place"),
    )

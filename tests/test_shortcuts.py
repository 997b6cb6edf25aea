"""What is remembered or laid again is what would have been read or worked.

The reader remembers bodies of lines, the worker what a line came to on an edge of the same make, and it lays the passes
of a repeat along a run of like stitches. All are compared, over all passages of the cases, with the long way round.
"""

import re
from collections.abc import Iterator
from dataclasses import fields
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from strategies import jumbled_texts, working_texts

from generator.checks import texts
from generator.checks.run import RULES
from generator.fabric import repeating
from generator.fabric import work as working
from generator.fabric.edge import Item
from generator.fabric.ground import Ground
from generator.fabric.model import Course, Fabric, WorkedLine
from generator.fabric.recalling import shelf
from generator.fabric.recurring import Courses
from generator.fabric.state import Settings
from generator.fabric.work import work
from generator.notation import parse
from generator.notation.bodies import remembered
from generator.notation.parse import Context, read_lines
from generator.notation.tree import Line, Piece
from generator.pipeline import compile_bare, compile_pattern
from generator.source import Source, Span

CASES = sorted(path for kind in ("work", "live") for path in (Path(__file__).parent / "cases" / kind).glob("*.txt"))
PASSAGES = {path.stem: path.read_text(encoding="utf-8").replace(" !!", "") for path in CASES}
_SPAN = re.compile(r"Span\(start=(\d+), end=(\d+)\)")


def read(text: str) -> tuple[Line, ...]:
    return read_lines(Source("<case>", text), Span(0, len(text)), Context()).value


def with_words(text: str, lines: tuple[Line, ...]) -> str:
    """The lines printed, every place as the words that stand there."""
    return _SPAN.sub(lambda found: repr(text[int(found[1]) : int(found[2])]), repr(lines))


@pytest.mark.parametrize("name", PASSAGES)
def test_a_line_remembered_is_the_line_read(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    text = PASSAGES[name]
    remembered.cache_clear()
    first = read(text)
    later = "\n" * 7 + text
    assert with_words(later, read(later)) == with_words(text, first)
    monkeypatch.setattr(parse, "LONG_BODY", -1)  # nothing is remembered
    assert read(text) == first


def test_what_a_body_means_depends_on_the_lines_before() -> None:
    """`inc` is made of the stitch last worked, whatever the same words meant before."""
    lines = read("Rnd 1: 6 sc in magic ring\nRnd 2: inc around\nRnd 3: dc in each st around\nRnd 4: inc around")
    assert "stitch='sc'" in repr(lines[1].steps)
    assert "stitch='dc'" in repr(lines[3].steps)


def test_a_stitch_named_in_a_line_belongs_to_its_own_passage() -> None:
    taught = "Row 1: (2 dc, ch 1, 2 dc) in next st (shell made)\nRow 2: Shell in next st"
    other = "Row 1: (3 tr) in next st (shell made)\nRow 2: Shell in next st"
    assert "stitch='dc'" in repr(read(taught)[1].steps)
    assert "stitch='tr'" in repr(read(other)[1].steps)


def worked(*texts: str) -> Fabric:
    return work(tuple(Piece(lines=read(text)) for text in texts), Settings())


def nothing_recalled(patch: pytest.MonkeyPatch) -> None:
    patch.setattr(working, "circumstances", lambda *known: None)
    patch.setattr(Courses, "again", lambda *course: None)


@pytest.mark.parametrize("name", PASSAGES)
def test_a_line_laid_again_is_the_line_worked(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """The same passage further down a text, and once more in the same part behind another piece."""
    text = PASSAGES[name]
    ball = "Rnd 1: 6 sc in magic ring\nRnd 2: inc around\n" + "sc around\n" * 9 + "Fasten off\n"
    shelf.cache_clear()
    first = worked(text)
    laid = worked(text, "\n" * 7 + text, ball + text, text + "\n" + text)
    nothing_recalled(monkeypatch)
    assert worked(text) == first
    assert worked(text, "\n" * 7 + text, ball + text, text + "\n" + text) == laid


@pytest.mark.parametrize(
    ("kind", "known"),
    [
        (Ground, "ring ring_first ring_chains foundation foundation_first ends foot open claimed"),
        (Item, "kind first n step counted group start closing"),
        (Course, "number line make forward side runs edge made used live kinds below extra shift turned cut"),
        (
            WorkedLine,
            "line steps courses status made used live kinds below problem reading unusual ambiguous alternatives",
        ),
    ],
)
def test_whoever_lays_work_again_knows_all_it_holds(kind: Any, known: str) -> None:
    """A field more: does it hold numbers or places that move (`fabric.moving`), does it decide what a line comes to?"""
    assert " ".join(field.name for field in fields(kind)) == known


def test_a_line_laid_again_minds_what_its_place_says() -> None:
    """The number in front and the stitches below decide, not the words alone."""
    lines = "Rnd 1: 6 sc in magic ring\nRnd 2: inc around\nRnd 3: inc around\nRnd 4: sc around\nRnds 5-6: sc around"
    courses = worked(lines).parts[0].courses
    assert [(course.number, course.live) for course in courses] == [(1, 6), (2, 12), (3, 24), (4, 24), (5, 24), (6, 24)]
    assert [course.first for course in courses] == [0, 6, 18, 42, 66, 90]


def blanket(rows: int) -> str:
    """Rows with an edging along both sides and the foot."""
    return (
        f"Ch 11\nRow 1: Sc in 2nd ch from hook and in each ch across, turn (10)\nRows 2-{rows}: Ch 1, sc in each st across, "
        "turn (10)\nRnd 1: Ch 1, sc in each st across, sc in each row end, sc in each ch across, sc in each row end\n"
    )


def test_a_side_has_as_many_row_ends_as_there_are_rows(monkeypatch: pytest.MonkeyPatch) -> None:
    """Rows alike are laid again however many there are; what goes along their ends is worked for each piece."""
    laid = worked(*(blanket(rows) for rows in (6, 9, 40, 6)))
    assert [part.courses[-1].live for part in laid.parts] == [2 * 10 + 2 * rows for rows in (6, 9, 40, 6)]
    nothing_recalled(monkeypatch)
    assert worked(*(blanket(rows) for rows in (6, 9, 40, 6))) == laid


@pytest.mark.parametrize("name", PASSAGES)
def test_passes_laid_again_are_the_passes_worked(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    pieces = (Piece(lines=read(PASSAGES[name])),)
    nothing_recalled(monkeypatch)
    laid = work(pieces, Settings())
    monkeypatch.setattr(repeating, "retraceable", lambda steps: False)
    assert work(pieces, Settings()) == laid


@pytest.mark.parametrize("name", [rule.name for rule in RULES])
def test_the_words_asked_for_first_lose_no_finding(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    module = next(rule.module for rule in RULES if rule.name == name)
    sources = [
        Source("<case>", text.upper() if loud else text) for text in (module.BAD, module.GOOD) for loud in (0, 1)
    ]
    asked = [make(source).findings for make in (compile_bare, compile_pattern) for source in sources]
    monkeypatch.setattr(texts, "_found", lambda told, pattern, words: _searched(told, pattern))
    assert [make(source).findings for make in (compile_bare, compile_pattern) for source in sources] == asked


def _searched(told: Any, pattern: "re.Pattern[str]") -> Iterator[tuple[Any, "re.Match[str]"]]:
    for of, text, _small in told[0]:
        for match in pattern.finditer(text):
            yield of, match


@settings(max_examples=150, deadline=None)
@given(working_texts() | jumbled_texts())
def test_property_the_long_way_round_comes_to_the_same(text: str) -> None:
    read(text)
    worked(text)
    lines = read(text)
    laid = work((Piece(lines=lines),), Settings())
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(parse, "LONG_BODY", -1)
        patch.setattr(repeating, "retraceable", lambda steps: False)
        nothing_recalled(patch)
        assert read(text) == lines
        assert work((Piece(lines=lines),), Settings()) == laid

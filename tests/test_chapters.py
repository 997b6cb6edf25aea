"""Chapters of a film, against the form a video site accepts (see the module for its source)."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.notation.pattern import Film, FilmMark
from generator.pages.chapters import SHORTEST, chapters
from generator.source import Span
from generator.wording.numbers import film_time


def film(*marks: tuple[int, str], seconds: int = 600) -> Film:
    return Film("https://film.example/x", seconds, tuple(FilmMark(at, title) for at, title in marks))


GOOD = ((0, "Start"), (90, "Rnd 3"), (200, "Rnd 9"), (400, "Making up"))


def test_good_marks_become_chapters() -> None:
    found = chapters(film(*GOOD))
    assert not found.findings
    assert [chapter.line() for chapter in found.value] == ["0:00 Start", "1:30 Rnd 3", "3:20 Rnd 9", "6:40 Making up"]


def test_a_first_chapter_is_put_at_the_beginning() -> None:
    found = chapters(film(*GOOD[1:]))
    assert [chapter.seconds for chapter in found.value] == [0, 90, 200, 400]
    assert not found.findings


@pytest.mark.parametrize(
    ("marks", "rule", "said"),
    [
        ((*GOOD, (700, "After")), "film-time-past-end", "`After` is set at 11:40, the film ends at 10:00"),
        ((*GOOD[:2], (60, "Back"), *GOOD[2:]), "film-time-not-rising", "`Back` is set at 1:00, after a mark at 1:30"),
        ((*GOOD[:2], (95, "Soon"), *GOOD[2:]), "film-chapter-short", "leaves the chapter before it 5 seconds of 10"),
        ((*GOOD, (595, "End")), "film-chapter-short", "lasts 5 seconds to the end, 10 are needed"),
        ((*GOOD[:2], (150, "x" * 60), *GOOD[2:]), "film-title-long", "has 60 letters, 49 are shown"),
        (GOOD[:1], "film-chapters-few", "has 1 (2 too few)"),
    ],
)
def test_one_fault_gives_one_finding(marks: tuple[tuple[int, str], ...], rule: str, said: str) -> None:
    found = chapters(film(*marks), {"film": Span(4, 9)})
    assert [finding.rule for finding in found.findings] == [rule]
    assert said in found.findings[0].message
    assert found.findings[0].span == Span(4, 9)


def test_no_film_has_no_chapters() -> None:
    assert chapters(None).value == ()
    assert chapters(Film("https://film.example/x")).value == ()


@given(st.lists(st.integers(0, 4000), max_size=12), st.integers(0, 4000))
def test_whatever_the_marks_the_list_obeys_the_rules(times: list[int], seconds: int) -> None:
    found = chapters(film(*((at, f"Rnd {at}") for at in times), seconds=seconds)).value
    if found:
        assert found[0].seconds == 0
        assert len(found) >= 3
        gaps = [b.seconds - a.seconds for a, b in pairwise(found)]
        assert all(gap >= SHORTEST for gap in gaps)
        assert not seconds or seconds - found[-1].seconds >= SHORTEST


def test_clock() -> None:
    assert [film_time(n) for n in (0, 59, 60, 3600, 3725)] == ["0:00", "0:59", "1:00", "1:00:00", "1:02:05"]

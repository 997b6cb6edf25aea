"""Chapters of a film: from the times in the source to the list a video site reads.

The usual form: the first chapter at 0:00, at least three, each ten seconds or longer, rising; titles of up to 49
characters stay whole in listings. Source: support pages of two video channels as gathered in the project's study of the
trade (9to5google.com/2020/05/28/youtube-video-chapters, support.vevo.com/hc/en-us/articles/6945557784347).
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from generator.diagnostics.record import Checked, Finding, Severity
from generator.notation.pattern import Film, FilmMark
from generator.source import NOWHERE, Span
from generator.wording.numbers import film_time

FEWEST = 3
SHORTEST = 10
"""Seconds a chapter has to last."""
TITLE = 49
"""Characters of a title that are shown whole."""
OPENING = "What you need"
"""Title of the chapter put at 0:00 where the source names none."""


@dataclass(frozen=True, slots=True)
class Chapter:
    """One chapter; `seconds` from the film's beginning."""

    seconds: int
    title: str

    def line(self) -> str:
        """As it is pasted: `1:20 Rnd 3`."""
        return f"{film_time(self.seconds)} {self.title}"


def chapters(film: Film | None, spans: Mapping[str, Span] | None = None) -> Checked[tuple[Chapter, ...]]:
    """The chapters of a film in the form a video site accepts; empty when there are too few for it.

    Gives `film-time-not-rising`, `film-time-past-end`, `film-chapter-short`, `film-chapters-few` and
    `film-title-long`. A mark that breaks a rule is left out of the list, never moved.
    """
    if film is None or not film.marks:
        return Checked(())
    places = spans or {}
    findings: list[Finding] = []
    kept = list(_sound(film, places, findings))
    if kept and kept[0].seconds > 0:
        if kept[0].seconds < SHORTEST:
            kept[0] = Chapter(0, kept[0].title)
        else:
            kept.insert(0, Chapter(0, OPENING))
    if 0 < len(kept) < FEWEST:
        message = f"a film needs {FEWEST} chapters to show any, this one has {len(kept)} ({FEWEST - len(kept)} too few)"
        findings.append(Finding("film-chapters-few", Severity.NOTE, message, _place(places, "film"), "a time a round"))
        kept = []
    return Checked(tuple(kept), tuple(findings))


def _sound(film: Film, places: Mapping[str, Span], findings: list[Finding]) -> Iterator[Chapter]:
    """The marks that obey the rules, in order; what is wrong with the others is put into `findings`."""
    last = -1
    for index, mark in enumerate(film.marks):
        fault = _fault(mark, last, film.seconds)
        if fault:
            findings.append(
                Finding(*fault[:3], _place(places, f"film.marks.{index}", f"film.{index}", "film"), fault[3])
            )
            continue
        if len(mark.title) > TITLE:
            message = f"the chapter title at {film_time(mark.seconds)} has {len(mark.title)} letters, {TITLE} are shown"
            findings.append(Finding("film-title-long", Severity.NOTE, message, _place(places, f"film.marks.{index}")))
        last = mark.seconds
        yield Chapter(mark.seconds, mark.title)


def _fault(mark: FilmMark, last: int, length: int) -> tuple[str, Severity, str, str] | None:
    at = film_time(mark.seconds)
    if length and mark.seconds >= length:
        message = f"`{mark.title}` is set at {at}, the film ends at {film_time(length)}"
        return "film-time-past-end", Severity.WARNING, message, f"a time before {film_time(length)}"
    if last >= 0 and mark.seconds <= last:
        message = f"`{mark.title}` is set at {at}, after a mark at {film_time(last)}"
        return "film-time-not-rising", Severity.WARNING, message, f"a time after {film_time(last)}"
    end = last + SHORTEST
    if last >= 0 and mark.seconds < end:
        message = f"`{mark.title}` at {at} leaves the chapter before it {mark.seconds - last} seconds of {SHORTEST}"
        return "film-chapter-short", Severity.WARNING, message, f"{film_time(end)} or later, or one mark for both"
    if length and length - mark.seconds < SHORTEST:
        message = f"`{mark.title}` at {at} lasts {length - mark.seconds} seconds to the end, {SHORTEST} are needed"
        return "film-chapter-short", Severity.WARNING, message, f"{film_time(max(0, length - SHORTEST))} or earlier"
    return None


def _place(places: Mapping[str, Span], *names: str) -> Span:
    return next((places[name] for name in (*names, "film") if name in places), NOWHERE)

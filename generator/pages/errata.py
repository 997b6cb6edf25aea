"""Corrections of all patterns, newest first: what the errata page, the feed and the booklets say of them."""

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from generator.notation.pattern import Header, Revision
from generator.wording.numbers import day, number_list


@dataclass(frozen=True, slots=True)
class Erratum:
    """One correction of one pattern."""

    slug: str
    title: str
    date: date
    day: str
    where: str
    note: str
    was: str
    now: str
    changes_work: bool

    @property
    def warning(self) -> str:
        """What a reader with an older print has to know; empty when the work is the same."""
        return f"If you printed it before {self.day}, please look at this." if self.changes_work else ""

    @property
    def identity(self) -> str:
        """Stable name for a feed entry: pattern, date and place."""
        place = "-".join(self.where.casefold().replace(",", "").split()) or "whole"
        return f"{self.slug}/corrections/{self.date.isoformat()}/{place}"


def errata(patterns: Iterable[tuple[str, str, Sequence[Revision]]], code: str = "en-US") -> tuple[Erratum, ...]:
    """All corrections, newest first, then by title. `patterns` are slug, title and revisions."""
    found = [entry for slug, title, revisions in patterns for entry in _of(slug, title, revisions, code)]
    return tuple(sorted(found, key=lambda entry: (-entry.date.toordinal(), entry.title, entry.where)))


def _of(slug: str, title: str, revisions: Sequence[Revision], code: str) -> Iterator[Erratum]:
    for revision in revisions:
        where = revision.part
        if revision.rounds:
            word = "Rnd" if len(revision.rounds) == 1 else "Rnds"
            where = f"{where}, {word} {number_list(revision.rounds)}".lstrip(", ")
        yield Erratum(
            slug, title, revision.date, day(revision.date, code), where,
            revision.note, revision.was, revision.now, revision.changes_work,
        )  # fmt: skip


def updated(header: Header) -> date | None:
    """The day the work last changed: what a feed entry's `updated` says. A corrected spelling does not move it."""
    days = [revision.date for revision in header.revisions if revision.changes_work]
    return max([*days, header.published] if header.published else days, default=None)


def errata_text(entries: Sequence[Erratum], address: str = "patterns/{slug}/index.html") -> str:
    """The errata page in Markdown, without its title. `address` is where a pattern's page is."""
    lines: list[str] = []
    if not entries:
        return "No correction so far.\n"
    for entry in entries:
        said = f"{entry.where}: {entry.note}" if entry.where else entry.note
        lines += [f"## {_plain(entry.title)}, {entry.day}", "", _plain(said), ""]
        if entry.was and entry.now:
            lines += [f"- Printed: {_plain(entry.was)}", f"- Should be: {_plain(entry.now)}", ""]
        link = f"[{_plain(entry.title)}](<{address.format(slug=entry.slug)}>)"
        lines += [f"{entry.warning or 'The work does not change.'} {link}", ""]
    return "\n".join(lines)


def _plain(text: str) -> str:
    """Words that Markdown leaves alone: a working line is full of asterisks and brackets."""
    return re.sub(r"([\\`*_\[\]<>#|~])", r"\\\1", text)

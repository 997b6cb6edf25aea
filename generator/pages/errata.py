"""Corrections of all patterns, newest first: what the errata page, the feed and the booklets say of them."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from generator.diagnostics.record import Finding, Severity
from generator.notation.pattern import Header
from generator.pages.binding import newest_first
from generator.source import NOWHERE
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


def errata(headers: Iterable[Header], code: str = "en-US") -> tuple[Erratum, ...]:
    """All corrections, newest first, then by title; drafts have none."""
    found = [entry for header in headers if not header.draft for entry in _of(header, code)]
    return tuple(sorted(found, key=lambda entry: (-entry.date.toordinal(), entry.title, entry.where)))


def _of(header: Header, code: str) -> Iterator[Erratum]:
    for revision in newest_first(header.revisions):
        where = revision.part
        if revision.rounds:
            word = "Rnd" if len(revision.rounds) == 1 else "Rnds"
            where = f"{where}, {word} {number_list(revision.rounds)}".lstrip(", ")
        yield Erratum(
            header.slug, header.title, revision.date, day(revision.date, code), where,
            revision.note, revision.was, revision.now, revision.changes_work,
        )  # fmt: skip


def updated(header: Header) -> date | None:
    """The day the work last changed: what a feed entry's `updated` says. A corrected spelling does not move it."""
    days = [revision.date for revision in header.revisions if revision.changes_work]
    return max([*days, header.published] if header.published else days, default=None)


def check_revisions(header: Header) -> tuple[Finding, ...]:
    """Gives `revision-before-publication`: a correction dated before the pattern was out."""
    if header.published is None:
        return ()
    return tuple(
        Finding(
            "revision-before-publication",
            Severity.WARNING,
            f"this correction is dated {revision.date.isoformat()}, the pattern was published"
            f" {header.published.isoformat()} ({(header.published - revision.date).days} days later)",
            header.spans.get(f"revisions.{index}.date", header.spans.get(f"revisions.{index}", NOWHERE)),
            "a date after publication; what changed before it needs no correction",
        )
        for index, revision in enumerate(header.revisions)
        if revision.date < header.published
    )


def errata_text(entries: Sequence[Erratum]) -> str:
    """The errata page in Markdown."""
    lines = ["# Corrections", ""]
    if not entries:
        return "\n".join([*lines, "None so far."]) + "\n"
    for entry in entries:
        head = f"## {entry.title}, {entry.day}"
        said = f"{entry.where}: {entry.note}" if entry.where else entry.note
        lines += [head, "", said, ""]
        if entry.was and entry.now:
            lines += [f"Printed: {entry.was}", "", f"Should be: {entry.now}", ""]
        if entry.warning:
            lines += [entry.warning, ""]
    return "\n".join(lines)

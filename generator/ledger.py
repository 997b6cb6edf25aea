"""What was published, remembered: a fingerprint of every round, so that a correction cannot be forgotten.

Pure: `publish` reads and writes the file. A round counts as changed only when both its words and its stitches differ
from those published; a new way of writing the same work, or a new version of this tool, changes one of them at most.
As long as rounds have changed and no revision says so, the old record stays, and the warning comes again.
"""

import hashlib
import json
from bisect import bisect_right
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass, field, replace
from datetime import date
from itertools import accumulate
from typing import Any

from generator.diagnostics.record import Checked, Finding, Label, Severity
from generator.fabric.model import Course, Fabric, Part, Run, WorkedLine
from generator.notation.pattern import Header, Revision
from generator.source import NOWHERE, Source, Span

VERSION = 1


@dataclass(frozen=True, slots=True)
class Kept:
    """One published round or row (or a range of like ones)."""

    part: str
    label: str
    numbers: tuple[int, ...]
    text: str
    """As readers saw it: house words in US terms, with the count."""
    work: str
    """Fingerprint of its stitches."""
    span: Span = field(default=NOWHERE, compare=False)
    """Where it stands in the source today; not written down."""


@dataclass(frozen=True, slots=True)
class Record:
    """One published pattern."""

    slug: str
    published: str
    """ISO date from the header."""
    rounds: tuple[Kept, ...]
    revisions: tuple[Revision, ...]
    """Revisions that were known then; the errata page is made from them."""
    title: str = ""


@dataclass(frozen=True, slots=True)
class Ledger:
    """All published patterns, by slug."""

    records: Mapping[str, Record] = field(default_factory=dict)

    def keeping(self, record: Record) -> "Ledger":
        """The ledger with one record put in or replaced."""
        return Ledger({**self.records, record.slug: record})


def read_ledger(source: Source) -> Checked[Ledger | None]:
    """The ledger from its file's text; an empty text is a new ledger. None means: leave that file alone.

    Gives `ledger-damaged` and `ledger-newer`.
    """
    if not source.text.strip():
        return Checked(Ledger())
    whole = Span(0, len(source.line(1)))
    try:
        data = json.loads(source.text)
        version = data["version"]
        if isinstance(version, int) and version > VERSION:
            message = f"the ledger has version {version}, this tool writes {VERSION}; it is left as it is"
            return Checked(None, (Finding("ledger-newer", Severity.WARNING, message, whole, "a newer Spiralbound"),))
        if version != VERSION:
            raise ValueError(version)
        return Checked(Ledger({slug: _record(slug, entry) for slug, entry in data["patterns"].items()}))
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError):
        message = "the ledger of published patterns can't be read; it is left as it is, and no round is compared"
        fits = "an earlier copy of the file, or none, to begin a new ledger"
        return Checked(None, (Finding("ledger-damaged", Severity.WARNING, message, whole, fits),))


def write_ledger(ledger: Ledger) -> str:
    """The ledger's text: sorted, a round a line, so that a version control shows well what changed."""
    patterns = ",\n".join(f" {_said(slug)}: {_entry(ledger.records[slug])}" for slug in sorted(ledger.records))
    return f'{{"version": {VERSION}, "patterns": {{\n{patterns}\n}}}}\n'


def _entry(one: Record) -> str:
    rounds = [
        {"part": kept.part, "label": kept.label, "numbers": kept.numbers, "text": kept.text, "work": kept.work}
        for kept in one.rounds
    ]
    revisions = [{**asdict(revision), "date": revision.date.isoformat()} for revision in one.revisions]
    head = f'"title": {_said(one.title)}, "published": {_said(one.published)}'
    return f'{{{head}, "revisions": [{_lines(revisions)}], "rounds": [{_lines(rounds)}]}}'


def _lines(values: Sequence[object]) -> str:
    return "".join(f"\n  {_said(value)}{',' if value is not values[-1] else ''}" for value in values)


def _said(value: object) -> str:
    return json.dumps(value, ensure_ascii=False)


def record(header: Header, fabric: Fabric, texts: Mapping[tuple[int, int], tuple[str, str]]) -> Record:
    """The record of a pattern as it is now.

    Args:
        header: its header.
        fabric: its parts, worked.
        texts: label and words with count, by (index of the part, index of the line); lines without are left out.
    """
    rounds = tuple(
        Kept(
            part.name, texts[p, i][0], line.line.label.numbers, texts[p, i][1], _fingerprint(part, line), line.line.span
        )
        for p, part in enumerate(fabric.parts)
        for i, line in enumerate(part.lines)
        if (p, i) in texts and line.courses[1] > line.courses[0]
    )
    published = header.published.isoformat() if header.published else ""
    return Record(header.slug, published, rounds, header.revisions, header.title)


def compare(old: Record | None, new: Record, header: Header) -> Checked[Record]:
    """The record to keep, and a warning where published rounds changed and `revisions` says nothing.

    Gives `rounds-changed-in-silence`.
    """
    if old is None:
        return Checked(new)
    known = {_key(revision) for revision in old.revisions}
    fresh = tuple(revision for revision in header.revisions if _key(revision) not in known)
    silent = tuple(change for change in changes(old, new) if not _told(change, fresh))
    if not silent:
        return Checked(new)
    return Checked(replace(old, title=new.title), (_silence(silent, header),))


@dataclass(frozen=True, slots=True)
class Changed:
    """One round that is not what was published; `was` or `now` is None when it is new or gone."""

    was: Kept | None
    now: Kept | None

    @property
    def kept(self) -> Kept:
        """What names it."""
        found = self.now or self.was
        assert found is not None
        return found


def changes(old: Record, new: Record) -> tuple[Changed, ...]:
    """Rounds whose words and stitches both differ, rounds that are new, rounds that are gone; in working order."""
    before = _by_label(old)
    after = _by_label(new)
    found = [
        Changed(before.get(key), now)
        for key, now in after.items()
        if key not in before or (before[key].text != now.text and before[key].work != now.work)
    ]
    found.extend(Changed(was, None) for key, was in before.items() if key not in after)
    return tuple(found)


def _by_label(whole: Record) -> dict[tuple[str, str, int], Kept]:
    """Rounds by part, label and how often that label came before in the part."""
    found: dict[tuple[str, str, int], Kept] = {}
    for kept in whole.rounds:
        turn = 0
        while (kept.part, kept.label, turn) in found:
            turn += 1
        found[kept.part, kept.label, turn] = kept
    return found


def _told(change: Changed, fresh: tuple[Revision, ...]) -> bool:
    """Whether a new revision speaks of that round: it names it, or names none at all."""
    kept = change.kept
    return any(
        revision.changes_work
        and (not revision.part or revision.part.casefold() == kept.part.casefold())
        and (not revision.rounds or not kept.numbers or bool(set(revision.rounds) & set(kept.numbers)))
        for revision in fresh
    )


def _silence(silent: tuple[Changed, ...], header: Header) -> Finding:
    first = silent[0].kept
    names = ", ".join(dict.fromkeys(f"`{change.kept.label}`" for change in silent[:6]))
    more = f" and {len(silent) - 6} more" if len(silent) > 6 else ""
    verb = "has" if len(silent) == 1 else "have"
    message = f"{names}{more} {verb} changed since publication, and `revisions` says nothing"
    numbers = sorted({number for change in silent for number in change.kept.numbers})
    was, now = silent[0].was, silent[0].now
    fits = f"a line under `revisions`: - {{date: DATE, rounds: {numbers}, note: ..."
    if was and now:
        fits += f', was: "{was.text}", now: "{now.text}"'
    labels = tuple(
        Label(change.now.span, f"published as `{change.was.text}`" if change.was else "not there when published")
        for change in silent[1:]
        if change.now
    )
    gone = tuple(change.kept.label for change in silent if not change.now)
    if gone:
        message += f" (gone: {', '.join(gone)})"
    place = first.span if silent[0].now else header.spans.get("published", NOWHERE)
    return Finding("rounds-changed-in-silence", Severity.WARNING, message, place, fits + "}", labels)


def _key(revision: Revision) -> str:
    return f"{revision.date.isoformat()} {revision.note}".strip()


def _record(slug: str, entry: Mapping[str, Any]) -> Record:
    rounds = tuple(
        Kept(str(r["part"]), str(r["label"]), tuple(int(n) for n in r["numbers"]), str(r["text"]), str(r["work"]))
        for r in entry["rounds"]
    )
    revisions = tuple(
        Revision(
            date.fromisoformat(r["date"]), str(r["note"]), str(r["part"]), tuple(int(n) for n in r["rounds"]),
            str(r["was"]), str(r["now"]), bool(r["changes_work"]),
        )
        for r in entry["revisions"]
    )  # fmt: skip
    return Record(slug, str(entry["published"]), rounds, revisions, str(entry["title"]))


def _fingerprint(part: Part, line: WorkedLine) -> str:
    """Twelve hexadecimal digits that change when the line's stitches do, and not when only an earlier line's do."""
    starts = list(accumulate((course.first for course in part.courses), max))
    said = [
        repr(tuple(_run(run, course, index, starts) for run in course.runs))
        for index, course in enumerate(part.courses[slice(*line.courses)], line.courses[0])
    ]
    return hashlib.sha256("\n".join(said).encode()).hexdigest()[:12]


def _run(run: Run, course: Course, index: int, starts: list[int]) -> tuple[object, ...]:
    """What a run does, its parents counted from the beginning of their own course."""
    parent: tuple[int, int] = (0, -1)
    if run.parent >= 0:
        below = max(bisect_right(starts, run.parent) - 1, 0)
        parent = (index - below, run.parent - starts[below])
    return (
        run.n, run.kind, run.yarn, parent, run.takes, run.share, run.step,
        run.into.value, run.loop.value, run.role.value, run.below, course.turned,
    )  # fmt: skip

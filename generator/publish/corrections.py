"""What was published before, compared with what is published now; and the page of all corrections."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from pathlib import Path

from generator import bindery
from generator.ledger import Ledger, Record, compare, record
from generator.notation.pattern import Header
from generator.pages.errata import errata, errata_text
from generator.pages.studio import Post, Studio
from generator.pipeline import Compiled
from generator.publish.record import Said
from generator.source import Source
from generator.vocabulary.load import language
from generator.wording.instructions import write_part

SLUG = "corrections"
PLACE = Post(SLUG, "Corrections", "")
"""Stands for the page in the menu before it can be written."""


@dataclass(frozen=True, slots=True)
class Now:
    """One pattern as it is published this time."""

    path: str
    source: Source
    """The text that was worked: in it a shape block has been written out."""
    header: Header
    record: Record


@dataclass(frozen=True, slots=True)
class Remembered:
    """The ledger to be kept (None: leave the file alone), what there is to say, and whose rounds changed in silence."""

    ledger: Ledger | None
    said: tuple[Said, ...]
    silent: frozenset[str]
    """Paths of sources."""
    page: Post


def of_pattern(compiled: Compiled) -> Record:
    """The record of a pattern, in house words and US terms whatever it is written in."""
    texts = {
        (index, line.line): (line.label, f"{line.text} ({line.count})" if line.count else line.text)
        for index, part in enumerate(compiled.fabric.parts)
        for line in write_part(part, language("en-US"))
    }
    return record(compiled.pattern.header, compiled.fabric, texts)


def remember(content: Path, studio: Studio, made: Sequence[Now], slugs: Collection[str]) -> Remembered:
    """Compare every pattern made with the ledger. `slugs` are those of all patterns in the site, made or kept."""
    source, read = bindery.load_ledger(content)
    said = [Said(source, read.findings)] if read.findings else []
    ledger = read.value or Ledger()
    shown = {slug: (one.title, one.revisions) for slug, one in ledger.records.items() if slug in slugs}
    silent = set()
    for now in made:
        found = compare(ledger.records.get(now.record.slug), now.record, now.header)
        if found.findings:
            silent.add(now.path)
            said.append(Said(now.source, found.findings))
        if now.header.published and found.value != ledger.records.get(now.record.slug):
            ledger = ledger.keeping(found.value)
        shown[now.record.slug] = (now.header.title, now.header.revisions)
    code = "en-GB" if studio.terms == "UK" else "en-US"
    text = errata_text(errata(((slug, title, told) for slug, (title, told) in shown.items()), code))
    page = Post(
        SLUG,
        "Corrections",
        text,
        summary="What was wrong in a published pattern, and what it should say. Every round named is mended.",
    )
    nothing_new = read.value is None or (ledger is read.value and bool(source.text))
    return Remembered(None if nothing_new else ledger, tuple(said), frozenset(silent), page)

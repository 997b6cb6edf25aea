"""What a site was made from, kept inside it (`.spiralbound.json`), so that it travels with the swap.

An entry holds, for every step, the fingerprint of everything it was made from and its files with their sizes; and the
card that lists and feed need. So an unchanged pattern is neither worked, drawn nor printed again. Nothing private is in it.
"""

import json
from collections.abc import Mapping
from dataclasses import dataclass, field, fields, replace
from pathlib import Path
from typing import Any

from generator.diagnostics.record import Finding, Severity
from generator.pages.amounts import Both
from generator.pages.records import Card, Picture
from generator.publish import folders
from generator.publish.steps import Step
from generator.source import Source

FILE = ".spiralbound.json"
VERSION = 2


@dataclass(frozen=True, slots=True)
class Entry:
    """One pattern's folder, one text's pictures, or the pages about all of them."""

    slug: str
    title: str
    steps: Mapping[str, Step]
    card: Card | None = None
    pictures: Mapping[str, Picture] = field(default_factory=dict)

    @property
    def files(self) -> dict[str, int]:
        """Path relative to the site's top, with its size in bytes."""
        return {path: size for step in self.steps.values() for path, size in step.files.items()}

    def doubtful(self) -> "Entry":
        """The same to be made again next time."""
        return replace(self, steps={name: replace(step, key="") for name, step in self.steps.items()})


@dataclass(frozen=True, slots=True)
class Said:
    """Findings about one source."""

    source: Source
    findings: tuple[Finding, ...]


@dataclass(slots=True)
class Report:
    """What a build did."""

    said: list[Said] = field(default_factory=list)
    made: int = 0
    """Pattern pages made."""
    kept: int = 0
    """Pattern pages taken over from the last build."""
    held: int = 0
    """Drafts and patterns dated in the future."""
    removed: int = 0
    """Files of the last site that are gone."""
    swapped: bool = False
    """Whether the site on disk is the new one."""

    @property
    def findings(self) -> tuple[tuple[Source, Finding], ...]:
        """Every finding with its source."""
        return tuple((said.source, finding) for said in self.said for finding in said.findings)

    @property
    def ok(self) -> bool:
        """Whether the site is new and nothing was wrong."""
        return self.swapped and not any(finding.severity is Severity.ERROR for _, finding in self.findings)


def read(site: Path) -> dict[str, Entry]:
    """Entries of the last build by source path; none when there was none, or it can't be read."""
    try:
        data = json.loads((site / FILE).read_text(encoding="utf-8"))
        if data["version"] != VERSION:
            return {}
        return {path: _entry(value) for path, value in data["entries"].items()}
    except (OSError, ValueError, KeyError, TypeError, AttributeError):
        return {}


def ours(site: Path) -> bool:
    """Whether a folder may be replaced: it is missing, empty, or a site this tool made."""
    if not site.exists():
        return True
    names = {place.name for place in site.iterdir()}
    return FILE in names or names <= {
        *folders.KEPT,
        *(folders.beside(site, one).name for one in (folders.NEW, folders.OLD)),
    }


def write(site: Path, entries: Mapping[str, Entry]) -> None:
    """Keep the entries in a site."""
    data = {"version": VERSION, "entries": {path: entries[path] for path in sorted(entries)}}
    text = json.dumps(data, ensure_ascii=False, separators=(",", ":"), default=_values)
    (site / FILE).write_text(text + "\n", encoding="utf-8")


def _values(record: Any) -> dict[str, Any]:
    """A record's values by name, as they are: they are written at once, so nothing need be copied."""
    return {one.name: getattr(record, one.name) for one in fields(record)}


def _entry(data: Mapping[str, Any]) -> Entry:
    card = _card(data["card"]) if data["card"] else None
    pictures = {name: _picture(value) for name, value in data["pictures"].items()}
    steps = {name: Step(str(step["key"]), dict(step["files"])) for name, step in data["steps"].items()}
    return Entry(data["slug"], data["title"], steps, card, pictures)


def _card(data: Mapping[str, Any]) -> Card:
    values = {one.name: data[one.name] for one in fields(Card)}
    for name in ("tags", "weights", "stitches"):
        values[name] = tuple(values[name])
    for name in ("yarns", "corrections"):
        values[name] = tuple(tuple(pair) for pair in values[name])
    for name in ("length", "size"):
        values[name] = Both(**values[name])
    return Card(**values)


def _picture(data: Mapping[str, Any]) -> Picture:
    return Picture(**{**data, "sources": tuple(tuple(pair) for pair in data["sources"])})

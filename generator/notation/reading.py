"""Takes values out of the header's facts one by one: each wrong value is told once, at its own place, and left out.

`Desk` gathers findings and places while the header is read; nothing of it leaves `read_header`.
"""

import re
import unicodedata
from collections.abc import Callable, Collection, Iterable, Mapping
from datetime import date
from difflib import get_close_matches
from typing import Any, TypeVar

from generator.diagnostics.record import Finding, Severity
from generator.notation.addresses import slug, stands
from generator.notation.facts import NOTHING, Fact, Items, Table, Words, plain_key
from generator.source import Span

V = TypeVar("V")

Take = Callable[["Desk", str, Fact], Any]
"""Reads one fact; None means that it said why not."""


class Desk:
    """Where findings and the places of values are put down while reading."""

    def __init__(self) -> None:
        self.findings: list[Finding] = []
        self.spans: dict[str, Span] = {}
        self.keys: dict[str, str] = {}
        """Path of a value to the key the author wrote for it."""

    def wrong(self, path: str, fact: Fact, message: str, fits: str = "") -> V | None:
        """A value that can't be used. Gives None back, so that a reader ends with `return desk.wrong(...)`."""
        self.spans.setdefault(path, fact.span)
        self.findings.append(Finding("header-wrong-value", Severity.ERROR, message, fact.span, fits))
        return None

    def key(self, path: str) -> str:
        """The key a value stands under, as written; `photo.0` is told as `photo`."""
        while path not in self.keys and "." in path:
            path = path.rpartition(".")[0]
        return self.keys.get(path, path)

    def unknown(self, key: str, span: Span, known: Iterable[str], place: str) -> str:
        """A key nobody reads. Gives the one that was probably meant, or nothing."""
        near = meant(plain_key(key), list(known))
        where = f" in `{place}`" if place else " in the header"
        fits = near or "one of " + ", ".join(sorted(known))
        self.findings.append(Finding("header-unknown-key", Severity.ERROR, f"`{key}` is not known{where}", span, fits))
        return near

    def table(
        self, path: str, table: Table, fields: Mapping[str, tuple[str, Take]], bare: Collection[str] = ()
    ) -> dict[str, Any]:
        """All known values of a table: `fields` maps a plain key to the name it is kept under and its reader.

        An empty one is told here, but for the names in `bare`: of those somebody else has more to say.
        """
        found: dict[str, Any] = {}
        for entry in table.entries:
            if plain_key(entry.key) not in fields:
                if near := self.unknown(entry.key, entry.key_span, fields, path):
                    # Its value is not missing as well: one mistake, one finding.
                    self.spans.setdefault(f"{path}.{fields[near][0]}" if path else fields[near][0], entry.key_span)
                continue
            name, take = fields[plain_key(entry.key)]
            inner = f"{path}.{name}" if path else name
            self.keys[inner] = entry.key
            self.spans[inner] = entry.fact.span if entry.fact.span.end > entry.fact.span.start else entry.key_span
            if nothing(entry.fact):
                continue
            if isinstance(entry.fact, Words) and not entry.fact.text:
                if name not in bare:
                    self.empty(entry.key, entry.key_span)
                continue
            value = take(self, inner, entry.fact)
            if value is not None:
                found[name] = value
        return found

    def empty(self, key: str, span: Span) -> None:
        """A key with nothing behind it; an unquoted `#` starts a remark and is the usual cause."""
        message, fits = f"`{key}` is empty", "a value, or no line at all"
        if plain_key(key) in ("swatch", "colour", "color"):
            message, fits = f"`{key}` is empty, as what follows `#` is taken for a remark", '"#6b7f3a" in quotes'
        self.findings.append(Finding("header-wrong-value", Severity.ERROR, message, span, fits))


_ELSEWHERE: Mapping[str, str] = {
    "date": "published", "day": "published", "name": "title", "description": "summary", "difficulty": "level",
    "skill": "level", "materials": "notions", "supplies": "notions", "tools": "notions", "wool": "yarns",
    "colours": "yarns", "colors": "yarns", "measurements": "size", "dimensions": "size", "picture": "photo",
    "image": "photo", "images": "photos", "pictures": "photos", "time": "hours", "video": "film", "type": "kind",
    "audience": "for", "errata": "revisions", "corrections": "revisions", "language": "terms", "dialect": "terms",
    "abbreviations": "stitches", "turning chain": "start chain", "amount": "needs", "quantity": "needs",
}  # fmt: skip
"""What writers call things elsewhere. They are not read, as two names for one thing make texts hard to compare."""


def meant(key: str, known: Collection[str]) -> str:
    """The known key that an unknown one stands for, or nothing."""
    if _ELSEWHERE.get(key) in known:
        return _ELSEWHERE[key]
    near = get_close_matches(key, list(known), n=1, cutoff=0.6)
    return near[0] if near else ""


def nothing(fact: Fact) -> bool:
    """Whether a value was left out on purpose, or could not be read and has been told already."""
    return isinstance(fact, Words) and fact.text == NOTHING


def shown(fact: Fact) -> str:
    """How a finding names a value."""
    if isinstance(fact, Words):
        text = " ".join(fact.text.split())
        return f"`{text[:57]}...`" if len(text) > 60 else f"`{text}`"
    return "a list" if isinstance(fact, Items) else "a group of names and values"


def text(desk: Desk, path: str, fact: Fact) -> str | None:
    """Any words."""
    if isinstance(fact, Words):
        return " ".join(fact.text.split())
    return desk.wrong(path, fact, f"`{desk.key(path)}` is {shown(fact)}, where words belong")


def address(desk: Desk, path: str, fact: Fact) -> str | None:
    """A name that stands in an address."""
    value = text(desk, path, fact)
    if value is None or stands(value):
        return value and unicodedata.normalize("NFC", value)
    return desk.wrong(path, fact, f"`{desk.key(path)}` is {shown(fact)}, which can't stand in an address", slug(value))


def texts(desk: Desk, path: str, fact: Fact) -> tuple[str, ...] | None:
    """A list of words; a single value is a list of one."""
    if isinstance(fact, Table):
        return desk.wrong(path, fact, f"`{desk.key(path)}` is {shown(fact)}, where a list belongs", "[one, two]")
    facts = fact.facts if isinstance(fact, Items) else (fact,)
    return tuple(value for item in facts if (value := text(desk, path, item)))


def choice(**words: str) -> Take:
    """One of a few words. `words` maps what is accepted (in lower case, `_` for a blank) to what is kept."""
    accepted = {plain_key(key): value for key, value in words.items()}
    kept = list(dict.fromkeys(accepted.values()))

    def take(desk: Desk, path: str, fact: Fact) -> str | None:
        if isinstance(fact, Words) and plain_key(fact.text) in accepted:
            return accepted[plain_key(fact.text)]
        return desk.wrong(path, fact, f"`{desk.key(path)}` can't be {shown(fact)}", "one of " + ", ".join(kept))

    return take


_TRUTH = {"yes": True, "true": True, "on": True, "no": False, "false": False, "off": False}


def flag(desk: Desk, path: str, fact: Fact) -> bool | None:
    """Yes or no."""
    if isinstance(fact, Words) and fact.text.lower() in _TRUTH:
        return _TRUTH[fact.text.lower()]
    return desk.wrong(path, fact, f"`{desk.key(path)}` is {shown(fact)}, where yes or no belongs", "yes or no")


def day(desk: Desk, path: str, fact: Fact) -> date | None:
    """A date, year first."""
    if isinstance(fact, Words) and re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", fact.text):
        try:
            return date.fromisoformat(fact.text)
        except ValueError:
            return desk.wrong(
                path, fact, f"`{desk.key(path)}` is {shown(fact)}, which is no day of the calendar", "2026-09-04"
            )
    return desk.wrong(
        path, fact, f"`{desk.key(path)}` is {shown(fact)}, where a date belongs", "year-month-day, as 2026-09-04"
    )


def measure(read: Callable[[str], Any], example: str, least: float = 0.0, most: float = 1e9) -> Take:
    """A quantity with its unit, more than `least` and at most `most` in the unit `read` gives."""

    def take(desk: Desk, path: str, fact: Fact) -> Any:
        value = read(fact.text) if isinstance(fact, Words) else None
        if value is None:
            return desk.wrong(path, fact, f"`{desk.key(path)}` is {shown(fact)}, where a measure belongs", example)
        if isinstance(value, float) and not least < value <= most:
            return desk.wrong(path, fact, f"`{desk.key(path)}` is {shown(fact)}, which is out of reach", example)
        return value

    return take


def whole(least: int = 0, most: int = 1_000_000) -> Take:
    """A whole number from `least` to `most`."""

    def take(desk: Desk, path: str, fact: Fact) -> int | None:
        if isinstance(fact, Words) and fact.text.isascii() and fact.text.isdigit() and len(fact.text) < 10:
            value = int(fact.text)
            if least <= value <= most:
                return value
        limits = f"a whole number from {least} to {most}"
        return desk.wrong(path, fact, f"`{desk.key(path)}` is {shown(fact)}, where {limits} belongs", limits)

    return take


def one_or_many(take: Take) -> Take:
    """Reads one fact, or each of a list of them, into a tuple."""

    def take_all(desk: Desk, path: str, fact: Fact) -> tuple[Any, ...]:
        facts = fact.facts if isinstance(fact, Items) else (fact,)
        found = []
        for index, item in enumerate(facts):
            inner = f"{path}.{index}" if isinstance(fact, Items) else path
            desk.spans[inner] = item.span
            if not nothing(item) and (value := take(desk, inner, item)) is not None:
                found.append(value)
        return tuple(found)

    return take_all

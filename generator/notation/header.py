"""The header's fields: which there are, what each may hold, and how it is written.

A value that can't be used is told once at its own place and left out, so the rest of the header still counts. What a
pattern *ought* to state is no matter of reading; `checks` asks for it.
"""

from collections.abc import Mapping
from typing import Any

from generator.diagnostics.record import Checked, Finding, Severity
from generator.notation import quantities
from generator.notation.facts import Fact, Items, Table, Words, read_facts
from generator.notation.gauge import gauge, named_in, swatch
from generator.notation.pattern import Film, FilmMark, Header, Photo, Revision, Size, Special, Tie
from generator.notation.reading import (
    Desk,
    Take,
    address,
    choice,
    day,
    flag,
    measure,
    nothing,
    one_or_many,
    shown,
    text,
    texts,
    whole,
)  # fmt: skip
from generator.notation.stash import hooks, yarns
from generator.source import Source, Span


def read_header(source: Source, span: Span) -> Checked[Header]:
    """The header between its two `---` lines (`span` excludes them).

    Gives `header-not-readable`, `header-tab`, `header-repeated-key`, `header-unknown-key`, `header-wrong-value`
    and `header-without-title`.
    """
    facts = read_facts(source, span)
    desk = Desk()
    found = desk.table("", facts.value, FIELDS)
    if "hook" in found:
        found["hooks_mm"], found["hook_label"] = found.pop("hook")
    if "photo" in found:
        found["photos"] = found.pop("photo") + found.pop("photos", ())
    for name in {"gauge", "swatch"} & found.keys():
        found[name] = named_in(desk, name, found[name], found.get("terms", ""))
    header = Header(**found, spans=desk.spans)
    findings = (*facts.findings, *desk.findings)
    if "title" not in desk.spans and not facts.findings:
        place = Span(max(span.start - 1, 0), max(span.start - 1, 0))
        message = "the header has no title"
        findings += (Finding("header-without-title", Severity.ERROR, message, place, "title: Reed-bed lantern cover"),)
    return Checked(header, findings)


_LENGTH = measure(quantities.millimetres, "70 cm, or 28 in", most=100_000.0)
_SECONDS = measure(quantities.seconds, '"12:30", minutes and seconds')


def file_name(desk: Desk, path: str, fact: Fact) -> str | None:
    """A file beside the source: a relative name that stays there."""
    name = text(desk, path, fact)
    if name is None:
        return None
    parts = name.replace("\\", "/").split("/")
    if parts[0] == "" or ".." in parts or ":" in parts[0] or any(ord(c) < 32 for c in name):
        return desk.wrong(path, fact, f"`{name}` is not beside the pattern", "a file name, such as lantern.jpg")
    return "/".join(parts)


_PHOTO: Mapping[str, tuple[str, Take]] = {
    "file": ("file", file_name), "alt": ("alt", text), "round": ("round", whole()),
}  # fmt: skip


def photo(desk: Desk, path: str, fact: Fact) -> Photo | None:
    """A picture: `{file: lantern.jpg, alt: "..."}`, or only its file name."""
    if isinstance(fact, Items):
        return desk.wrong(
            path, fact, f"`{desk.key(path)}` is {shown(fact)}", '{file: lantern.jpg, alt: "What it shows"}'
        )
    if isinstance(fact, Words):
        name = file_name(desk, path, fact)
        return None if name is None else Photo(name, "")
    found = desk.table(path, fact, _PHOTO, bare=("alt",))
    if "file" not in found:
        if f"{path}.file" not in desk.spans:
            desk.wrong(path, fact, f"`{desk.key(path)}` names no file", "file: lantern.jpg")
        return None
    return Photo(found["file"], found.get("alt", ""), found.get("round"))


_TIE: Mapping[str, tuple[str, Take]] = {"name": ("name", text), "length": ("length", _LENGTH), "loop": ("loop", flag)}


def tie(desk: Desk, path: str, fact: Fact) -> Tie | None:
    """A cord: `{name: chain cord, length: 70 cm, loop: no}`, or `chain cord of 70 cm`."""
    if isinstance(fact, Words) and " of " in fact.text:
        name, _, length = fact.text.rpartition(" of ")
        mm = quantities.millimetres(length)
        return Tie(name, mm) if mm else desk.wrong(path, fact, f"no length in {shown(fact)}", "chain cord of 70 cm")
    if not isinstance(fact, Table):
        return desk.wrong(path, fact, f"no length in {shown(fact)}", "chain cord of 70 cm")
    found = desk.table(path, fact, _TIE)
    if not ("length" in found and "name" in found):
        missing = [name for name in ("name", "length") if f"{path}.{name}" not in desk.spans]
        return (
            desk.wrong(path, fact, f"`{desk.key(path)}` has no {missing[0]}", "chain cord of 70 cm")
            if missing
            else None
        )
    return Tie(found["name"], found["length"], found.get("loop", False))


_SIZE = {
    "width": ("width_mm", _LENGTH), "across": ("width_mm", _LENGTH), "diameter": ("width_mm", _LENGTH),
    "height": ("height_mm", _LENGTH), "length": ("height_mm", _LENGTH), "circumference": ("circumference_mm", _LENGTH),
    "round": ("circumference_mm", _LENGTH), "opening": ("opening_mm", _LENGTH),
}  # fmt: skip


def size(desk: Desk, path: str, fact: Fact) -> Size | None:
    """A finished size: `{width: 12 cm, height: 10 cm}`, or `12 cm across`, `12 x 10 cm`, `12 cm x 10 cm`."""
    if isinstance(fact, Table):
        return Size(**desk.table(path, fact, _SIZE))
    if isinstance(fact, Words):
        words = fact.text.replace("×", "x").replace(" by ", " x ")
        for ending in (" across", " in diameter", " wide", " square"):
            words = words.removesuffix(ending)
        lengths = [part.strip() for part in words.split(" x ")] if " x " in words else [words]
        unit = lengths[-1].lstrip("0123456789.,/ ½⅓⅔¼¾⅛⅜⅝⅞")
        found = [quantities.millimetres(part) or quantities.millimetres(part + " " + unit) for part in lengths]
        if len(found) in (1, 2) and (width := found[0]) and (height := found[-1]):
            square = len(found) == 2 or fact.text.endswith("square")
            return Size(width_mm=width, height_mm=height if square else 0.0)
    return desk.wrong(
        path, fact, f"`{desk.key(path)}` is {shown(fact)}, where a size belongs", "{width: 12 cm, height: 10 cm}"
    )


_MARK: Mapping[str, tuple[str, Take]] = {
    "at": ("at", _SECONDS), "title": ("title", text), "shows": ("title", text), "round": ("title", text),
}  # fmt: skip


def mark(desk: Desk, path: str, fact: Fact) -> FilmMark | None:
    """A moment of the film: `{at: "1:20", title: Rnd 3}` or `1:20 Rnd 3`."""
    if isinstance(fact, Table):
        found = desk.table(path, fact, _MARK)
        if "at" in found and "title" in found:
            return FilmMark(found["at"], found["title"])
    if isinstance(fact, Words):
        moment, _, title = fact.text.partition(" ")
        at = quantities.seconds(moment)
        if at is not None and title:
            return FilmMark(at, title.strip())
    return desk.wrong(
        path, fact, f"`{desk.key(path)}` is {shown(fact)}, where a moment of the film belongs", '"1:20 Rnd 3"'
    )


_FILM: Mapping[str, tuple[str, Take]] = {
    "address": ("address", text), "length": ("seconds", _SECONDS), "marks": ("marks", one_or_many(mark)),
}  # fmt: skip


def film(desk: Desk, path: str, fact: Fact) -> Film | None:
    """The demonstration: its address, its length and its moments."""
    if isinstance(fact, Table):
        return Film(**desk.table(path, fact, _FILM))
    address = text(desk, path, fact)
    return None if address is None else Film(address)


_SPECIAL: Mapping[str, tuple[str, Take]] = {
    "name": ("name", text), "abbreviation": ("abbreviation", text), "worked": ("worked", text),
    "symbol": ("symbol", text), "counts": ("counts", whole(0, 100)),
}  # fmt: skip


def specials(desk: Desk, path: str, fact: Fact) -> tuple[Special, ...] | None:
    """Stitches of the pattern's own: `bead: {abbreviation: bd, worked: "4 hdc in next st"}`."""
    if not isinstance(fact, Table):
        return desk.wrong(
            path,
            fact,
            f"`{desk.key(path)}` is {shown(fact)}, where stitches belong",
            'bead: {abbreviation: bd, worked: "4 hdc in next st"}',
        )
    found = []
    for entry in fact.entries:
        inner = f"{path}.{entry.key}"
        desk.spans[inner] = entry.key_span
        if nothing(entry.fact):
            continue
        given: dict[str, Any] | None = (
            {"worked": text(desk, inner, entry.fact)} if isinstance(entry.fact, Words) else None
        )
        if isinstance(entry.fact, Table):
            given = desk.table(inner, entry.fact, _SPECIAL)
        if not given or not given.get("worked"):
            desk.wrong(inner, entry.fact, f"`{entry.key}` does not say how it is worked", 'worked: "4 hdc in next st"')
            continue
        names = {"name": entry.key, "abbreviation": entry.key}
        found.append(Special(entry.key, **(names | given)))
    return tuple(found)


def rounds(desk: Desk, path: str, fact: Fact) -> tuple[int, ...] | None:
    """One round, several, or a range: `14`, `[14, 15]`, `4-8`."""
    numbers: list[int] = []
    for piece in texts(desk, path, fact) or ():
        first, _, last = piece.replace("–", "-").partition("-")
        if not first.strip().isdecimal() or not (last or first).strip().isdecimal() or int(last or first) > 10_000:
            return desk.wrong(
                path, fact, f"`{desk.key(path)}` is `{piece}`, where a round's number belongs", "14, or 4-8"
            )
        numbers.extend(range(int(first), int(last or first) + 1))
    return tuple(numbers)


_REVISION: Mapping[str, tuple[str, Take]] = {
    "date": ("date", day), "note": ("note", text), "part": ("part", text), "round": ("rounds", rounds),
    "rounds": ("rounds", rounds), "was": ("was", text), "now": ("now", text), "changes work": ("changes_work", flag),
}  # fmt: skip


def revision(desk: Desk, path: str, fact: Fact) -> Revision | None:
    """One open correction with its date and what it says."""
    fits = '{date: 2026-09-20, note: "Round 14 said 24; it is 30."}'
    if not isinstance(fact, Table):
        return desk.wrong(path, fact, f"`{desk.key(path)}` is {shown(fact)}, where a correction belongs", fits)
    found = desk.table(path, fact, _REVISION)
    missing = [name for name in ("date", "note") if name not in found and f"{path}.{name}" not in desk.spans]
    if missing:
        return desk.wrong(path, fact, f"a correction without {missing[0]}", fits)
    return Revision(**found) if "date" in found and "note" in found else None


def intended(desk: Desk, path: str, fact: Fact) -> dict[str, str] | None:
    """Rules answered for the whole pattern, each with the author's reason."""
    if not isinstance(fact, Table):
        return desk.wrong(
            path,
            fact,
            f"`{desk.key(path)}` is {shown(fact)}, where rules belong",
            "the rule's name, a colon, your reason",
        )
    reasons = {entry.key: text(desk, f"{path}.{entry.key}", entry.fact) for entry in fact.entries}
    desk.spans.update({f"{path}.{entry.key}": entry.key_span for entry in fact.entries})
    return {rule: reason for rule, reason in reasons.items() if reason is not None}


_TERMS = {"us": "US", "us_terms": "US", "american": "US", "uk": "UK", "uk_terms": "UK", "british": "UK"}
_AUDIENCE = {
    "adult": "adult", "adults": "adult", "child": "child", "children": "child", "under_3": "under-3", "baby": "baby",
    "babies": "baby", "pet": "pet", "pets": "pet", "home": "home",
}  # fmt: skip

_LEVEL = choice(basic="basic", easy="easy", intermediate="intermediate", complex="complex")

FIELDS: Mapping[str, tuple[str, Take]] = {
    "title": ("title", text),
    "slug": ("slug", address),
    "published": ("published", day),
    "draft": ("draft", flag),
    "terms": ("terms", choice(**_TERMS)),
    "level": ("level", _LEVEL),
    "skill level": ("level", _LEVEL),
    "summary": ("summary", text),
    "tags": ("tags", texts),
    "photo": ("photo", one_or_many(photo)),
    "photos": ("photos", one_or_many(photo)),
    "hook": ("hook", hooks),
    "hooks": ("hook", hooks),
    "hook size": ("hook", hooks),
    "gauge": ("gauge", gauge),
    "tension": ("gauge", gauge),
    "swatch": ("swatch", swatch),
    "yarn": ("yarns", yarns),
    "yarns": ("yarns", yarns),
    "notions": ("notions", texts),
    "ties": ("ties", one_or_many(tie)),
    "rounds": ("rounds", choice(spiral="spiral", joined="joined")),
    "start chain": ("start_chain", choice(counts="counts", does_not_count="does not count")),
    "for": ("audience", choice(**_AUDIENCE)),
    "kind": ("kind", text),
    "size": ("size", size),
    "finished size": ("size", size),
    "fits": ("fits", text),
    "hours": ("hours", measure(quantities.hours, "2-3, in hours")),
    "stuffed": ("stuffed", flag),
    "film": ("film", film),
    "stitches": ("stitches", specials),
    "special stitches": ("stitches", specials),
    "revisions": ("revisions", one_or_many(revision)),
    "intended": ("intended", intended),
}
"""Every key of a header, the field it fills and its reader. DEVELOPERS.md lists what each may hold."""

"""The studio's own texts, read: `studio.toml`, journal entries and pages. Patterns are read by `notation`."""

import re
import tomllib
from collections.abc import Callable, Mapping
from difflib import get_close_matches
from typing import Any

from generator.diagnostics.record import Checked, Finding, Severity
from generator.notation.addresses import slug
from generator.notation.document import find_header, unreadable
from generator.notation.facts import read_facts
from generator.notation.header import photo
from generator.notation.reading import Desk, Take, address, day, flag, text, texts
from generator.pages.studio import Post, Studio
from generator.source import Source, Span

_COLOURS = ("paper", "ink", "accent", "quiet", "rule")


def read_studio(source: Source, templates: Mapping[str, str]) -> Checked[Studio]:
    """The studio's facts; what can't be used is told at its own line and keeps its default.

    Gives `studio-not-readable`, `studio-unknown-key` and `studio-wrong-value`.
    """
    try:
        data = tomllib.loads(source.text)
    except tomllib.TOMLDecodeError as error:
        return Checked(Studio(templates=templates), (_not_toml(source, str(error)),))
    spans = _places(source)
    findings: list[Finding] = []
    values: dict[str, Any] = {}
    for key, value in data.items():
        span = spans.get(key, Span(0, 0))
        if key not in _FIELDS:
            near = get_close_matches(key, list(_FIELDS), n=1, cutoff=0.6)
            fits = near[0] if near else "one of " + ", ".join(sorted(_FIELDS))
            message = f"`{key}` is not known in studio.toml"
            findings.append(Finding("studio-unknown-key", Severity.ERROR, message, span, fits))
            continue
        take, fits = _FIELDS[key]
        taken = take(value)
        if taken is None:
            shown = str(value) if len(str(value)) <= 60 else str(value)[:57] + "..."
            message = f"`{key}` can't be `{shown}`"
            findings.append(Finding("studio-wrong-value", Severity.ERROR, message, span, fits))
        else:
            values[key] = taken
    return Checked(Studio(**values, templates=templates, spans=spans), tuple(findings))


def _not_toml(source: Source, message: str) -> Finding:
    where = re.search(r"\(at line (\d+), column (\d+)\)", message)
    last = source.place(len(source.text.rstrip()))[0]
    line = min(int(where[1]), last) if where else last
    reason = message.partition(" (at ")[0]
    fits = 'one `name = "value"` a line, words in quotes'
    message = f"studio.toml can't be read from here: {reason[:1].lower()}{reason[1:]}"
    return Finding("studio-not-readable", Severity.ERROR, message, source.line_span(line), fits)


def _places(source: Source) -> dict[str, Span]:
    """Where keys stand. TOML readers give no places; keys at the beginning of a line are enough to point at."""
    found: dict[str, Span] = {}
    table = ""
    for match in re.finditer(r"(?m)^[ \t]*(?:\[+(?P<table>[\w.\" -]+)\]+|(?P<key>[\w-]+)[ \t]*=.*)$", source.text):
        start = match.start() + len(match[0]) - len(match[0].lstrip())
        span = Span(start, match.start() + len(match[0].rstrip()))
        if match["table"]:
            table = match["table"].strip() + "."
            found.setdefault(table[:-1], span)
        else:
            found.setdefault(table + match["key"], span)
    return found


def _words(value: object) -> str | None:
    return value.strip() if isinstance(value, str) and "\n" not in value.strip() else None


def _address(value: object) -> str | None:
    if value == "":
        return ""
    good = isinstance(value, str) and re.fullmatch(r"https?://[^\s/?#\"'<>]+(?:/[^\s?#\"'<>]*)?", value)
    return str(value).rstrip("/") + "/" if good else None


def _language(value: object) -> str | None:
    good = isinstance(value, str) and re.fullmatch(r"[A-Za-z]{2,3}(?:-[A-Za-z0-9]{2,8})*", value)
    return str(value) if good else None


def _name(value: object) -> str | None:
    return value if isinstance(value, str) and re.fullmatch(r"[\w][\w -]*", value) else None


def _one_of(*allowed: str) -> Callable[[object], str | None]:
    return lambda value: str(value) if value in allowed else None


def _colours(value: object) -> dict[str, str] | None:
    names = {*_COLOURS, *(f"{name}-dark" for name in _COLOURS)}
    if not isinstance(value, dict) or not set(value) <= names:
        return None
    good = all(isinstance(colour, str) and re.fullmatch(r"#[0-9a-fA-F]{6}", colour) for colour in value.values())
    return {name: colour.lower() for name, colour in value.items()} if good else None


def _links(value: object) -> tuple[tuple[str, str], ...] | None:
    pairs = list(value.items()) if isinstance(value, dict) else value
    if not isinstance(pairs, list):
        return None
    found = []
    for pair in pairs:
        if isinstance(pair, dict):
            pair = (pair.get("label"), pair.get("address"))
        if not (isinstance(pair, list | tuple) and len(pair) == 2 and all(isinstance(half, str) for half in pair)):
            return None
        if re.match(r"(?i)\s*(?:javascript|data|vbscript):", pair[1]):
            return None
        found.append((pair[0], pair[1]))
    return tuple(found)


def _flag(value: object) -> bool | None:
    return value if isinstance(value, bool) else None


_FIELDS: Mapping[str, tuple[Callable[[object], object], str]] = {
    "title": (_words, 'title = "The name of the studio"'),
    "tagline": (_words, 'tagline = "One line about it"'),
    "address": (_address, 'address = "https://studio.example/"'),
    "author": (_words, 'author = "Your name"'),
    "language": (_language, 'language = "en"'),
    "theme": (_name, 'theme = "quire"'),
    "colours": (
        _colours,
        '[colours], then accent = "#2f6272"; known are ' + ", ".join(_COLOURS) + ", each also with -dark",
    ),
    "sc_sign": (_one_of("+", "x"), 'sc_sign = "+", or "x"'),
    "terms": (_one_of("US", "UK"), 'terms = "US", or "UK"'),
    "units": (_one_of("metric", "imperial"), 'units = "metric", or "imperial"'),
    "links": (_links, 'links = [["Label", "https://studio.example/"]]'),
    "howto": (_flag, "howto = false"),
}

_POST: Mapping[str, tuple[str, Take]] = {
    "title": ("title", text), "slug": ("slug", address), "published": ("published", day), "summary": ("summary", text),
    "tags": ("tags", texts), "photo": ("photo", photo), "draft": ("draft", flag),
}  # fmt: skip


def read_post(source: Source) -> Checked[Post]:
    """A journal entry or a page: a small header, then Markdown. A date before the name of its file is not in its slug."""
    stem = source.path.replace("\\", "/").rpartition("/")[2].rpartition(".")[0]
    name = slug(re.sub(r"^\d{4}-\d{2}-\d{2}[ _-]+", "", stem))
    if fault := unreadable(source):
        return Checked(Post(name, name, "", path=source.path), (fault,))
    opening = find_header(source)
    desk = Desk()
    findings: tuple[Finding, ...] = (opening.fault,) if opening.fault else ()
    found: dict[str, Any] = {}
    if opening.inside and not opening.fault:
        facts = read_facts(source, opening.inside)
        found = desk.table("", facts.value, _POST)
        findings = (*facts.findings, *desk.findings)
    found = {"slug": name, "title": name} | found
    span = Span(opening.body, len(source.text))
    return Checked(Post(**found, body=source.words(span).lstrip("\n"), path=source.path, span=span), findings)

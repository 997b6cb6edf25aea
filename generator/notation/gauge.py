"""Gauge and swatch as they are written: `18 sc x 20 rounds = 10 cm`, `20 sc x 20 rows = 7.2 g`."""

import re
from dataclasses import replace
from functools import cache
from typing import TypeVar

from generator.notation.facts import Fact, Table, Words
from generator.notation.pattern import Gauge, Swatch
from generator.notation.quantities import NUMBER, grams, metres, millimetres, number
from generator.notation.reading import Desk, measure, shown, text, whole
from generator.vocabulary.load import language

Counted = TypeVar("Counted", Gauge, Swatch)


GAUGE_FITS = "18 sc x 20 rounds = 10 cm"
SWATCH_FITS = "20 sc x 20 rows = 7.2 g"

_COUNTS = re.compile(
    rf"""\s*(?P<stitches>{NUMBER})\s*(?P<stitch>[^\W\d][\w ]*?)?\.?
    (?:\s*(?:x|×|\bby\b|\band\b|&|,|/)\s*(?P<rows>{NUMBER})\s*(?P<rowword>rows?|rounds?|rnds?|r)?\.?)?
    \s*(?:=|\bover\b|\bto\b|\bper\b|\bin\b|\bused?\b|\buses\b|\btakes\b|\btook\b|\bweighs\b|:)\s*(?P<rest>.+?)\s*""",
    re.VERBOSE | re.IGNORECASE,
)
_SQUARE = re.compile(r"(?i)\s*(?:square|sq\.?|each way)$")
_IN_STITCH = re.compile(r"(?i)^(?P<length>.+?)\s+(?:in|of|worked in)\s+(?P<stitch>[^\d]+)$")
_ANY = ("", "st", "sts", "stitch", "stitches")


def _stitch(words: str) -> str:
    """The stitch as written, less the count's own noun; identities are settled when the pattern's terms are known."""
    words = " ".join(words.split()).lower()
    words = re.sub(r"\s*\b(?:sts?|stitch(?:es)?)$", "", words)
    return "" if words in _ANY else words


@cache
def _identities(terms: str) -> dict[str, str]:
    """Stitch words of a dialect, in lower case, to identities."""
    found: dict[str, str] = {}
    for identity, words in language("en-GB" if terms == "UK" else "en-US").stitches.items():
        for form in (words.abbreviation, words.name, words.plural, *words.also):
            found.setdefault(form.lower(), identity)
    return found


def named_in(desk: Desk, path: str, counted: Counted, terms: str) -> Counted:
    """The gauge or swatch with its stitch as an identity; `pattern` stays a word, single crochet is meant when unsaid."""
    if counted.stitch in ("", "pattern", "pattern stitch"):
        return replace(counted, stitch=counted.stitch or "sc")
    known = _identities(terms)
    if counted.stitch in known or counted.stitch.removesuffix("s") in known:
        return replace(counted, stitch=known.get(counted.stitch) or known[counted.stitch.removesuffix("s")])
    place = Words(counted.stitch, desk.spans.get(f"{path}.stitch", desk.spans[path]))
    message = f"`{counted.stitch}` is no stitch in {terms or 'US'} terms"
    desk.wrong(path, place, message, GAUGE_FITS if path == "gauge" else SWATCH_FITS)
    return replace(counted, stitch="sc")


def gauge(desk: Desk, path: str, fact: Fact) -> Gauge | None:
    """`18 sc x 20 rounds = 10 cm`; `20 sts and 22 rows over 4 in in sc`; the rows may be left out.

    Over is what both counts are measured on, as the trade prints it (10 cm or 4 in square).
    """
    if not isinstance(fact, Words):
        return desk.wrong(path, fact, f"`{desk.key(path)}` is {shown(fact)}, where a gauge belongs", GAUGE_FITS)
    match = _COUNTS.fullmatch(fact.text)
    if not match:
        return desk.wrong(path, fact, f"{shown(fact)} is no gauge", GAUGE_FITS)
    length, named = _SQUARE.sub("", match["rest"]), match["stitch"] or ""
    if inner := _IN_STITCH.match(length):
        length, named = _SQUARE.sub("", inner["length"]), inner["stitch"]
    over, stitches, rows = millimetres(length), number(match["stitches"]), number(match["rows"] or "0")
    if over is None:
        return desk.wrong(path, fact, f"{shown(fact)} does not say over what length", GAUGE_FITS)
    if not stitches or rows is None or (match["rows"] and not rows) or not 1 <= over <= 10_000:
        return desk.wrong(path, fact, f"{shown(fact)} is out of reach", GAUGE_FITS)
    in_round = (match["rowword"] or "").lower().startswith(("rou", "rn"))
    return Gauge(stitches, rows, over, _stitch(named), in_round)


_SWATCH = {
    "stitches": ("stitches", whole(1, 10_000)), "rows": ("rows", whole(1, 10_000)), "rounds": ("rows", whole(1, 10_000)),
    "stitch": ("stitch", text), "grams": ("grams", measure(grams, "7.2 g", most=10_000.0)),
    "weighs": ("grams", measure(grams, "7.2 g", most=10_000.0)), "metres": ("metres", measure(metres, "11 m", most=10_000.0)),
    "used": ("metres", measure(metres, "11 m", most=10_000.0)),
}  # fmt: skip


def swatch(desk: Desk, path: str, fact: Fact) -> Swatch | None:
    """A swatch that was weighed or measured: `20 sc x 20 rows = 7.2 g`, `20 sts x 20 rows used 16.5 m`, or `{stitches: 20, rows: 20, weighs: 7.2 g}`."""
    if isinstance(fact, Table):
        found = desk.table(path, fact, _SWATCH)
        if "stitches" in found and "rows" in found and ("grams" in found or "metres" in found):
            return Swatch(**found)
        complete = all(f"{path}.{name}" in desk.spans for name in ("stitches", "rows"))
        return (
            None if complete and desk.findings else desk.wrong(path, fact, "a swatch that lacks a count", SWATCH_FITS)
        )
    match = _COUNTS.fullmatch(fact.text) if isinstance(fact, Words) else None
    if match and match["rows"]:
        mass, length = grams(match["rest"]), metres(match["rest"])
        stitches, rows = number(match["stitches"]), number(match["rows"])
        if (mass or length) and stitches and rows and stitches == int(stitches) and rows == int(rows):
            return Swatch(int(stitches), int(rows), _stitch(match["stitch"] or ""), length, mass)
    return desk.wrong(path, fact, f"{shown(fact)} is no swatch", SWATCH_FITS)

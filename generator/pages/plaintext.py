"""The edition for screen readers and braille displays: plain text, spelled out, one round a line.

No tables, no drawing, no character that a display has no cell for or a voice reads as noise; the order is that of the
booklet. Nothing here needs an eye.
"""

import re
from collections.abc import Iterator

from generator.pages.leaflet import Leaflet, Passage, Section

_UNITS = {
    "mm": ("millimetre", "millimetres"), "cm": ("centimetre", "centimetres"), "m": ("metre", "metres"),
    "g": ("gram", "grams"), "in": ("inch", "inches"), "yd": ("yard", "yards"), "oz": ("ounce", "ounces"),
}  # fmt: skip
_MEASURE = re.compile(r"(?P<n>[\d.,]*[\d¼½¾⅛⅜⅝⅞])(?:\u00a0(?P<tied>mm|cm|m|g|in|yd|oz)|\s(?P<loose>mm|cm))\b")
_PARTS = {
    "¼": "a quarter", "½": "a half", "¾": "three quarters",
    "⅛": "one eighth", "⅜": "three eighths", "⅝": "five eighths", "⅞": "seven eighths",
}  # fmt: skip
_SAID = {
    "\u00a0": " ", "\u202f": " ", "×": " by ", "−": "minus ", "“": '"', "”": '"', "’": "'", "‘": "'", "…": "...",
    "—": ", ", "·": ",",
}  # fmt: skip


def plain_text(leaflet: Leaflet) -> str:
    """The whole pattern as text; give it a leaflet in the spelled-out style."""
    return "\n".join(_lines(leaflet)).strip() + "\n"


def spoken(text: str) -> str:
    """A text with its signs in words: `4–8` is `4 to 8`, `4 mm` is `4 millimetres`, `1½` is `1 and a half`."""
    text = _MEASURE.sub(_unit, text)
    text = re.sub(r"(?<=[\w½¼¾])–(?=\w)", " to ", text).replace("–", ", ")
    text = re.sub(
        "[" + "".join(_PARTS) + "]",
        lambda m: (" and " if text[: m.start()][-1:].isdigit() else "") + _PARTS[m[0]],
        text,
    )
    for sign, word in _SAID.items():
        text = text.replace(sign, word)
    return " ".join(text.split())


def _unit(match: re.Match[str]) -> str:
    one, many = _UNITS[match["tied"] or match["loose"]]
    return f"{match['n']} {one if match['n'] in ('1', '½', '¼', '¾') else many}"


def _lines(leaflet: Leaflet) -> Iterator[str]:
    yield from _head(leaflet)
    for section in leaflet.sections:
        yield from _section(section)
    if leaflet.changes:
        yield from ("", "CORRECTIONS", "")
        for change in leaflet.changes:
            where = f"{change.where}: " if change.where else ""
            was = f" It was: {change.was}. It is now: {change.now}." if change.was and change.now else ""
            yield spoken(f"{change.day}. {where}{change.note}{was}")
    if leaflet.checked:
        yield from ("", "HOW THIS WAS CHECKED", "")
        yield from map(spoken, leaflet.checked)
    if leaflet.about:
        yield from ("", "ABOUT THIS PIECE", "")
        yield from _prose(leaflet.about)
    yield ""
    yield "End of the pattern."


def _head(leaflet: Leaflet) -> Iterator[str]:
    yield spoken(leaflet.title).upper()
    by = f" by {leaflet.author}" if leaflet.author else ""
    yield f"A crochet pattern{by}, {leaflet.studio}."
    yield f"Written in {leaflet.terms}, without abbreviations. One round or row a line."
    if leaflet.published:
        yield f"First published {leaflet.published}." + (f" Corrected {leaflet.revised}." if leaflet.revised else "")
    if leaflet.warning():
        yield leaflet.warning()
    yield ""
    yield spoken(leaflet.summary)
    yield from ("", "BEFORE YOU BEGIN", "")
    for name, value in leaflet.facts:
        yield f"{name}: {spoken(value)}."
    for thread in leaflet.threads:
        detail = ", ".join(part for part in (thread.colour, thread.detail, thread.amount) if part)
        yield f"Yarn {thread.key}: {spoken(detail)}."
    if leaflet.notions:
        yield "Also needed: " + spoken("; ".join(leaflet.notions)) + "."
    for title, text in leaflet.cautions:
        yield f"Take care. {title}. {spoken(text)}"


def _section(section: Section) -> Iterator[str]:
    if section.name or section.lines:
        times = f", make {section.make}" if section.make > 1 else ""
        yield from ("", (spoken(section.name) or "The work").upper() + times, "")
    for entry in section.lines:
        corrected = f" ({entry.corrected})" if entry.corrected else ""
        yield spoken(entry.whole) + corrected
    if section.prose:
        yield ""
        yield from _prose(section.prose)


def _prose(blocks: tuple[Passage, ...]) -> Iterator[str]:
    for block in blocks:
        text = spoken(block.plain())
        yield text.upper() if block.kind == "heading" else f"{block.number}. {text}" if block.number else text

"""The edition for screen readers and braille displays: plain text, spelled out, one round a line.

No tables, no drawing, no character that a display has no cell for or a voice reads as noise; the order is that of the
booklet. Nothing here needs an eye.
"""

from collections.abc import Iterator

from generator.pages.leaflet import Entry, Leaflet, Passage, Section
from generator.pages.listening import spoken, spoken_work


def plain_text(leaflet: Leaflet) -> str:
    """The whole pattern as text; give it a leaflet in the spelled-out style."""
    return "\n".join(_lines(leaflet)).strip() + "\n"


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
    yield from ("", spoken(leaflet.summary)) if leaflet.summary else ()
    yield from ("", "BEFORE YOU BEGIN", "")
    for name, value in leaflet.facts:
        yield f"{name}: {spoken(value)}."
    for thread in leaflet.threads:
        detail = ", ".join(part for part in (thread.colour, thread.detail, thread.amount) if part)
        yield f"Yarn {thread.key}: {spoken(detail)}."
    if leaflet.notions:
        yield "Also needed: " + spoken("; ".join(leaflet.notions)) + "."
    for name, worked in leaflet.abbreviations:
        yield f"{spoken(name).capitalize()}: {spoken_work(worked)}."
    for title, text in leaflet.cautions:
        yield f"Take care. {title}. {spoken(text)}"


def _section(section: Section) -> Iterator[str]:
    if section.name or (section.lines and not section.goes_on):
        times = f", make {section.make}" if section.make > 1 else ""
        yield from ("", (spoken(section.name) or "The work").upper() + times, "")
    yield from (_entry(entry) for entry in section.lines)
    if section.prose:
        yield ""
        yield from _prose(section.prose)


def _entry(entry: Entry) -> str:
    """One line: label, work, count. The count is said as a sentence."""
    label = f"{spoken(entry.label)}: " if entry.label else ""
    count = f" Count, {spoken(entry.count)}." if entry.count else ""
    corrected = f" {entry.corrected[0].upper()}{entry.corrected[1:]}." if entry.corrected else ""
    return label + spoken_work(entry.text) + count + corrected


def _prose(blocks: tuple[Passage, ...]) -> Iterator[str]:
    for block in blocks:
        text = spoken(block.plain())
        yield text.upper() if block.kind == "heading" else f"{block.number}. {text}" if block.number else text

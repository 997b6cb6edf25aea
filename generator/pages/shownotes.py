"""Show notes: plain text to paste under a film, with what is needed, the rounds, the chapters and the way to the page.

Description boxes hold about 5,000 characters (from memory); where all of it would be longer, the rounds keep only
their labels and counts, and then go altogether, for the page has them.
"""

from collections.abc import Iterator, Sequence

from generator.pages.chapters import Chapter
from generator.pages.leaflet import Leaflet

ROOM = 5000
"""Characters."""


def show_notes(leaflet: Leaflet, chapters: Sequence[Chapter], room: int = ROOM) -> str:
    """The text, no longer than `room` unless even without rounds it is."""
    text = ""
    for detail in ("whole", "counts", "none"):
        text = "\n".join(_lines(leaflet, chapters, detail)).strip() + "\n"
        if len(text) <= room:
            break
    return text


def _lines(leaflet: Leaflet, chapters: Sequence[Chapter], detail: str) -> Iterator[str]:
    yield leaflet.title
    yield from ("", leaflet.summary) if leaflet.summary else ()
    if leaflet.address:
        yield from ("", f"Written pattern, charts and corrections: {leaflet.address}")
    if leaflet.warning():
        yield leaflet.warning()
    if chapters:
        yield from ("", "CHAPTERS", *(chapter.line() for chapter in chapters))
    yield from ("", "YOU NEED")
    for thread in leaflet.threads:
        yield ", ".join(part for part in (f"Yarn {thread.key}", thread.colour, thread.detail, thread.amount) if part)
    yield from (f"{name}: {value}" for name, value in leaflet.facts)
    if leaflet.notions:
        yield "Also: " + ", ".join(leaflet.notions)
    if leaflet.cautions:
        yield from ("", "TAKE CARE", *(f"{title}. {text}" for title, text in leaflet.cautions))
    if detail != "none":
        yield from ("", f"THE ROUNDS, in {leaflet.terms}")
        yield from _rounds(leaflet, detail)
    if leaflet.abbreviations and detail == "whole":
        yield from ("", "ABBREVIATIONS", "; ".join(f"{short} = {long}" for short, long in leaflet.abbreviations))
    yield from ("", f"{leaflet.studio}, {leaflet.terms}." if leaflet.studio else leaflet.terms)


def _rounds(leaflet: Leaflet, detail: str) -> Iterator[str]:
    for section in leaflet.sections:
        if not section.lines:
            continue
        if section.name:
            yield f"{section.name}{f' (make {section.make})' if section.make > 1 else ''}:"
        for entry in section.lines:
            if detail == "whole":
                yield entry.whole
            elif entry.boxes:
                yield f"{entry.label} ({entry.count})" if entry.count else entry.label

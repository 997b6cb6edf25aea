"""The Atom feed: RFC 4287. New patterns, journal entries and corrections that change the work, newest first.

`updated` of a pattern moves only when a correction changes the work; the RFC leaves spelling fixes to the publisher
(section 4.2.15). Dates have no time of day in the sources, so midnight UTC stands for it. Without an address of the
site entries are named by a tag URI (RFC 4151) made from the studio's title, so that readers still tell them apart.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from urllib.parse import quote
from xml.sax.saxutils import escape, quoteattr

from generator.pages.prose import anchor
from generator.pages.studio import Studio

MOST = 60
"""Entries in a feed; readers keep older ones themselves."""


@dataclass(frozen=True, slots=True)
class Entry:
    """One entry. `path` is its page, relative to the top; `part` tells several entries of one page apart."""

    title: str
    path: str
    published: str
    updated: str
    summary: str = ""
    html: str = ""
    part: str = ""


def atom(studio: Studio, entries: Sequence[Entry]) -> bytes:
    """The feed of a studio."""
    ordered = sorted(entries, key=lambda entry: (entry.updated, entry.published, entry.path, entry.part), reverse=True)[
        :MOST
    ]
    updated = ordered[0].updated if ordered else "1970-01-01"
    lines = [
        '<?xml version="1.0" encoding="utf-8"?>',
        f'<feed xmlns="http://www.w3.org/2005/Atom" xml:lang={quoteattr(studio.language)}>',
        f"<id>{escape(identity(studio, 'index.html'))}</id>",
        f"<title>{escape(studio.title)}</title>",
    ]
    if studio.tagline:
        lines.append(f"<subtitle>{escape(studio.tagline)}</subtitle>")
    lines += [
        f"<updated>{updated}T00:00:00Z</updated>",
        f'<link rel="self" type="application/atom+xml" href={quoteattr(studio.address + "feed.xml")}/>',
        f'<link rel="alternate" type="text/html" href={quoteattr(studio.address + "index.html")}/>',
        f"<author><name>{escape(studio.author or studio.title)}</name></author>",
        "<generator>Spiralbound</generator>",
    ]
    lines += [_entry(entry, studio) for entry in ordered]
    return ("\n".join(lines) + "\n</feed>\n").encode()


def identity(studio: Studio, path: str) -> str:
    """The lasting name of a page."""
    if studio.address:
        return studio.address + quote(path)
    return f"tag:{quote(anchor(studio.title))}.invalid,2026:{quote(path)}"


def _entry(entry: Entry, studio: Studio) -> str:
    name = identity(studio, entry.path) + (f"#{quote(entry.part)}" if entry.part else "")
    link = studio.address + quote(entry.path)
    text = f'<content type="html">{escape(entry.html)}</content>' if entry.html else ""
    summary = f"<summary>{escape(entry.summary)}</summary>" if entry.summary or not entry.html else ""
    return (
        f"<entry><id>{escape(name)}</id><title>{escape(entry.title)}</title>"
        f'<link rel="alternate" type="text/html" href={quoteattr(link)}/>'
        f"<published>{entry.published}T00:00:00Z</published><updated>{entry.updated}T00:00:00Z</updated>"
        f"{summary}{text}</entry>"
    )

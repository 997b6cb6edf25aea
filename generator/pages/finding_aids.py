"""What leads readers and robots to pages: search index, sitemap, robots.txt."""

import json
from collections.abc import Mapping, Sequence
from urllib.parse import quote
from xml.sax.saxutils import escape

from generator.pages.records import Card
from generator.pages.studio import Post, Studio
from generator.vocabulary.load import language
from generator.wording.voice import words_for


def stitch_words(identities: Sequence[str]) -> str:
    """Names of stitches in both dialects, for search: who looks for `treble` finds it under either."""
    words: dict[str, None] = {}
    for identity in identities:
        for code in ("en-US", "en-GB"):
            known = words_for(identity, language(code))
            words.update(dict.fromkeys((known.abbreviation, known.name)))
    return " ".join(words)


def index_script(cards: Sequence[Card], posts: Sequence[Post]) -> bytes:
    """The small index as a script, since a page opened from a folder may load scripts but not data.

    Keys: t title, u address, g tags, s stitches, d summary.
    """
    entries: list[Mapping[str, str]] = [
        {
            "t": card.title,
            "u": quote(f"patterns/{card.slug}/index.html"),
            "g": " ".join((*card.tags, card.level, card.kind, *(name for name, _ in card.yarns))).strip(),
            "s": stitch_words(card.stitches),
            "d": card.summary,
        }
        for card in cards
    ]
    entries += [
        {"t": post.title, "u": quote(f"journal/{post.slug}.html"), "g": " ".join(post.tags), "s": "", "d": post.summary}
        for post in posts
    ]
    text = json.dumps(entries, ensure_ascii=False, separators=(",", ":")).replace("<", "\\u003c")
    return f"window.spiralboundIndex={text};\n".encode()


def sitemap(studio: Studio, pages: Sequence[tuple[str, str]]) -> bytes:
    """All pages with their dates (sitemaps.org protocol 0.9). Without an address of the site there is none to give."""
    rows = [
        f"<url><loc>{escape(studio.address + quote(path))}</loc>{f'<lastmod>{date}</lastmod>' if date else ''}</url>"
        for path, date in sorted(pages)
    ]
    head = '<?xml version="1.0" encoding="UTF-8"?>\n<urlset xmlns="http://www.sitemaps.org/schemas/sitemap/0.9">\n'
    return (head + "\n".join(rows) + "\n</urlset>\n").encode()


def robots(studio: Studio) -> bytes:
    """Everybody is welcome (RFC 9309)."""
    where = f"Sitemap: {studio.address}sitemap.xml\n" if studio.address else ""
    return f"User-agent: *\nAllow: /\n{where}".encode()

"""Release day: the texts and pictures for post, newsletter and pin, made from the same pattern, with no network call.

Lengths: a short post of 280 characters, a pin's title of 100 and description of 500 (from memory); pictures 1200 by 630
(the common sharing shape), 1000 by 1500 (2:3; what is taller than 1:2.1 is cut) and square. Source of the shapes:
ogp.me and a pin-size guide (webbannerexperts.com/pinterest-pin-size-the-1000x1500-guide), read in stored copies.
"""

import re
from collections.abc import Mapping, Sequence

from generator.pages.cards import sharing
from generator.pages.chapters import Chapter
from generator.pages.leaflet import Leaflet
from generator.pages.records import Card
from generator.pages.studio import Studio
from generator.pages.typesetting import picture

POST, PIN_TITLE, PIN = 280, 100, 500
"""Characters."""
SQUARE = 1080
"""Pixels."""


def release_texts(leaflet: Leaflet, tags: Sequence[str], chapters: Sequence[Chapter], alt: str) -> dict[str, bytes]:
    """Text blocks by file name. `alt` describes the pictures for those who don't see them."""
    texts = {
        "post.txt": post(leaflet, tags),
        "newsletter.txt": newsletter(leaflet, chapters),
        "pin.txt": pin(leaflet),
        "picture-alternative.txt": alt + "\n",
        "list-for-the-day.txt": day_list(leaflet, bool(chapters)),
    }
    return {name: text.encode() for name, text in texts.items()}


def release_pictures(card: Card, cover: str, ground: str, studio: Studio) -> Mapping[str, bytes]:
    """Pictures by file name. `cover` is the drawn cover (an SVG document) on a ground of one colour."""
    made = sharing(card, cover, ground, studio)
    return {
        "picture-1200x630.png": made.wide,
        "picture-1000x1500.png": made.tall,
        f"picture-{SQUARE}x{SQUARE}.png": picture(cover, SQUARE, SQUARE, ground),
    }


def post(leaflet: Leaflet, tags: Sequence[str]) -> str:
    """A short post: what it is, where it is, and as many tags as fit."""
    head = f"New pattern: {leaflet.title}."
    tail = f" {leaflet.address}" if leaflet.address else ""
    summary = _cut(leaflet.summary, POST - len(head) - len(tail) - 2)
    text = " ".join(part for part in (head, summary) if part) + tail
    for tag in ("crochet", *tags):
        mark = " #" + "".join(word.capitalize() if i else word for i, word in enumerate(re.findall(r"\w+", tag)))
        if len(text + mark) <= POST:
            text += mark
    return text + "\n"


def pin(leaflet: Leaflet) -> str:
    """Title and description of a pin, each on its own line."""
    title = _cut(f"{leaflet.title}, a crochet pattern", PIN_TITLE)
    facts = ", ".join(f"{name.lower()} {value}" for name, value in leaflet.facts if name in ("Level", "Hook", "Hooks"))
    said = f"{leaflet.summary} {facts[:1].upper()}{facts[1:]}. Written in US and UK terms, with charts."
    return f"{title}\n\n{_cut(said, PIN)}\n\n{leaflet.address}\n"


def newsletter(leaflet: Leaflet, chapters: Sequence[Chapter]) -> str:
    """A letter to readers: the piece, what it needs, where to find it."""
    lines = [leaflet.title, "", leaflet.summary, ""]
    story = next((passage.plain() for passage in leaflet.about if passage.kind == "paragraph"), "")
    if story:
        lines += [story, ""]
    lines += ["You need:"]
    lines += [f"- {', '.join(part for part in (t.colour, t.detail, t.amount) if part)}" for t in leaflet.threads]
    lines += [f"- {name.lower()}: {value}" for name, value in leaflet.facts]
    lines += [f"- {notion}" for notion in leaflet.notions]
    for title, text in leaflet.cautions:
        lines += ["", f"{title}: {text}"]
    lines += [
        "",
        "The page has the rounds in US and UK terms, the charts, booklets to print, large print and plain text.",
    ]
    if chapters:
        lines += ["There is a film to go with it."]
    lines += ["", leaflet.address, "", leaflet.author or leaflet.studio]
    return "\n".join(lines).strip() + "\n"


def day_list(leaflet: Leaflet, film: bool) -> str:
    """What is to be done on the day, in order, to tick off."""
    tasks = [
        "read the page once on a phone",
        "print one page of the booklet",
        "publish the site and open the page from another device",
        *(["paste the show notes under the film and open one chapter"] if film else []),
        "post, with picture and its alternative text",
        "pin, with the tall picture",
        "send the newsletter",
        "answer the first questions; write what was unclear into the pattern",
        "in a week: look for corrections, and write them into `revisions`",
    ]
    return f"{leaflet.title}\n\n" + "".join(f"[ ] {task}\n" for task in tasks)


def _cut(text: str, room: int) -> str:
    """At most `room` characters, cut at a word."""
    if len(text) <= room:
        return text
    return text[: max(room - 1, 0)].rsplit(" ", 1)[0].rstrip(",;:. ") + "…"

"""The pages that are about all patterns: contents, tags, journal, glossary, search, feed and the rest.

Made from cards only, so that a changed pattern needs no other pattern again.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from hashlib import sha256
from typing import Any
from urllib.parse import urlsplit

from jinja2 import Environment
from markupsafe import Markup

from generator.pages import feed, finding_aids, jsonld, materials, palette
from generator.pages.glossary import glossary
from generator.pages.html import Theme, render
from generator.pages.page import SEARCH_POLICY, Page, head, with_menu
from generator.pages.particulars import shown
from generator.pages.prose import anchor, to_html
from generator.pages.records import Card, Picture, Tag
from generator.pages.studio import Post, Studio

LEVELS = ("basic", "easy", "intermediate", "complex")
CORE = (
    "index.html",
    "404.html",
    "search.html",
    "search-index.js",
    "assets/ground.css",
    "assets/theme.css",
    "assets/studio.css",
)


@dataclass(frozen=True, slots=True)
class Entry:
    """A journal entry or page, ready to print."""

    slug: str
    title: str
    date: str
    shown_date: str
    summary: str
    html: Markup
    picture: Picture | None = None


@dataclass(frozen=True, slots=True)
class Whole:
    """Everything the site's pages are made from. Cards and posts come in any order."""

    studio: Studio
    theme: Theme
    cards: tuple[Card, ...]
    posts: tuple[Post, ...] = ()
    prose: tuple[Post, ...] = ()
    pictures: Mapping[str, Picture] | None = None
    """Photos of journal and pages by address in the source, already made ready."""
    manual: tuple[Post, ...] = ()
    """The designer's help pages, under `help/`."""


def menu_extras(prose: Sequence[Post]) -> tuple[tuple[str, str, str], ...]:
    """The studio's own pages, for the menu."""
    return tuple((_short(post.title), f"{post.slug}.html", post.slug) for post in prose)


def _short(title: str) -> str:
    return "About" if title.lower().startswith("about") else title


def site_pages(whole: Whole, env: Environment) -> dict[str, bytes]:
    """All pages, styles, scripts and aids that are not a pattern's own."""
    made: dict[str, bytes] = {}
    for page, template, values in _all(whole):
        root = _fixed_root(whole.studio) if page.kind == "missing" else "../" * page.path.count("/")
        made[page.path] = render(env, template, page.path, page=page, root=root, **values)
    made["feed.xml"] = feed.atom(whole.studio, _feed_entries(whole))
    made["robots.txt"] = finding_aids.robots(whole.studio)
    if whole.studio.address:
        listed = [(page, "") for page in made if page.endswith(".html") and page not in ("404.html", "search.html")]
        listed += [(f"patterns/{card.slug}/index.html", card.updated) for card in whole.cards]
        made["sitemap.xml"] = finding_aids.sitemap(whole.studio, listed)
    made["search-index.js"] = finding_aids.index_script(_newest(whole.cards), whole.posts)
    made.update(assets(whole))
    made["worker.js"] = _worker(whole.theme, made)
    return made


def _fixed_root(studio: Studio) -> str:
    """The 404 page is shown under any address, so its links start at the host."""
    return urlsplit(studio.address).path or "/"


def assets(whole: Whole) -> dict[str, bytes]:
    """Styles, scripts and the site's sign."""
    made = {f"assets/{name}": data for name, data in whole.theme.assets.items() if name != "worker.js"}
    made["assets/studio.css"] = palette.studio_css(whole.studio)
    made["assets/mark.svg"] = _mark(whole)
    return made


def _mark(whole: Whole) -> bytes:
    """The site's small sign: three rounds of six, twelve and eighteen stitches."""
    colour = whole.studio.colours.get("accent", "#8c3321")
    rings = "".join(
        f'<circle cx="32" cy="32" r="{radius}" fill="none" stroke="{colour}" stroke-width="6.4" stroke-dasharray="{math.tau * radius / n * 0.8:.3f} {math.tau * radius / n * 0.2:.3f}"/>'
        for radius, n in ((9, 6), (18, 12), (27, 18))
    )
    return f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 64 64">{rings}</svg>\n'.encode()


def _worker(theme: Theme, made: Mapping[str, bytes]) -> bytes:
    """The service worker, named after what it keeps, so that it changes when they do."""
    digest = sha256()
    for path in CORE:
        digest.update(made.get(path, b""))
    core = "[" + ",".join(f'"{path}"' for path in CORE if path in made or path == "search-index.js") + "]"
    text = theme.assets["worker.js"].decode()
    return (
        text.replace("spiralbound-VERSION", f"spiralbound-{digest.hexdigest()[:12]}")
        .replace("= CORE;", f"= {core};")
        .encode()
    )


def _newest(cards: Sequence[Card]) -> tuple[Card, ...]:
    return tuple(sorted(sorted(cards, key=lambda card: card.slug), key=lambda card: card.published, reverse=True))


def _all(whole: Whole) -> Iterator[tuple[Page, str, dict[str, Any]]]:
    studio, cards = whole.studio, _newest(whole.cards)
    extras = menu_extras(whole.prose)
    posts = tuple(_entry(post, studio, whole.pictures or {}) for post in _by_date(whole.posts))
    techniques = _tags(cards)
    for page, template, values in (
        *_lists(studio, cards, posts, techniques),
        *_reading(whole, posts),
        *_aids(studio, cards),
    ):
        yield with_menu(page, extras), template, values


def _by_date(posts: Sequence[Post]) -> list[Post]:
    return sorted(
        posts, key=lambda post: (post.published.isoformat() if post.published else "", post.slug), reverse=True
    )


def _entry(post: Post, studio: Studio, pictures: Mapping[str, Picture]) -> Entry:
    date = post.published.isoformat() if post.published else ""
    own = {
        name.removeprefix(f"{post.slug}|"): picture
        for name, picture in pictures.items()
        if name.startswith(f"{post.slug}|")
    }
    main = own.get(post.photo.file) if post.photo else None
    return Entry(
        post.slug, post.title, date, shown(post.published, studio), post.summary, to_html(post.body, own), main
    )


def _tags(cards: Sequence[Card]) -> tuple[Tag, ...]:
    """Tags by name; two that differ only in spelling of case share a page."""
    names: dict[str, str] = {}
    for card in cards:
        for tag in card.tags:
            names.setdefault(anchor(tag), tag)
    return tuple(Tag(name, slug) for slug, name in sorted(names.items(), key=lambda pair: pair[1].lower()))


def _lists(
    studio: Studio, cards: tuple[Card, ...], posts: tuple[Entry, ...], techniques: tuple[Tag, ...]
) -> Iterator[tuple[Page, str, dict[str, Any]]]:
    weights = sorted({weight for card in cards for weight in card.weights})
    shared: dict[str, Any] = {
        "levels": [level for level in LEVELS if any(card.level == level for card in cards)],
        "weights": [(weight, materials.weight_name(weight)) for weight in weights],
    }
    page = replace(
        head(studio, "index.html", studio.title, studio.tagline or "Crochet patterns", "index"),
        scripts=("assets/choices.js", "assets/filters.js"),
    )
    yield page, "index.html", {
        **shared, "heading": studio.title, "lead": studio.tagline, "cards": cards, "filtered": True,
        "techniques": techniques, "posts": posts[:3],
    }  # fmt: skip
    for tag in techniques:
        inside = tuple(card for card in cards if tag.slug in {anchor(label) for label in card.tags})
        many = "1 pattern" if len(inside) == 1 else f"{len(inside)} patterns"
        page = head(studio, f"tags/{tag.slug}.html", tag.label, f"{many} with the tag {tag.label}.", "tag")
        yield page, "tag.html", {
            **shared, "heading": tag.label, "lead": many, "cards": inside, "filtered": False, "techniques": (), "posts": (),
        }  # fmt: skip


def _reading(whole: Whole, posts: tuple[Entry, ...]) -> Iterator[tuple[Page, str, dict[str, Any]]]:
    studio = whole.studio
    yield (
        head(studio, "journal/index.html", "Journal", f"Journal of {studio.title}", "journal"),
        "journal.html",
        {"posts": posts},
    )
    for post in posts:
        page = replace(head(studio, f"journal/{post.slug}.html", post.title, post.summary, "post"), og="article")
        data = jsonld.post(post.title, post.summary, post.date, studio, page.canonical) if studio.address else ""
        yield replace(page, data=data), "post.html", {"post": post}
    for prose in whole.prose:
        entry = _entry(prose, studio, whole.pictures or {})
        yield head(studio, f"{prose.slug}.html", prose.title, prose.summary, prose.slug), "post.html", {"post": entry}
    for told in whole.manual:
        at = head(studio, f"help/{told.slug}.html", told.title, told.summary, "help")
        yield at, "post.html", {"post": _entry(told, studio, {})}


def _aids(studio: Studio, cards: tuple[Card, ...]) -> Iterator[tuple[Page, str, dict[str, Any]]]:
    words = "The stitches used here, in US and UK words, with their signs."
    yield (
        head(studio, "glossary.html", "Glossary", words, "glossary"),
        "glossary.html",
        {"rows": glossary(cards, studio)},
    )
    page = head(studio, "search.html", "Search", "Search the patterns and the journal.", "search")
    scripts = ("assets/choices.js", "search-index.js", "assets/search.js")
    yield (
        replace(page, scripts=scripts, hidden=True, policy=SEARCH_POLICY),
        "search.html",
        {"cards": sorted(cards, key=lambda card: card.title.lower())},
    )
    missing = head(studio, "404.html", "Not here", "There is nothing at this address.", "missing")
    yield replace(missing, hidden=True, canonical=""), "missing.html", {}


def _feed_entries(whole: Whole) -> list[feed.Entry]:
    entries = [
        feed.Entry(
            card.title,
            f"patterns/{card.slug}/index.html",
            card.published,
            max(card.updated, card.published),
            card.summary,
        )
        for card in whole.cards
        if card.published
    ]
    for card in whole.cards:
        for n, (date, note) in enumerate(card.corrections):
            title = f"Correction: {card.title}"
            said = f"{note} If you printed it before {date}, please look."
            entries.append(
                feed.Entry(title, f"patterns/{card.slug}/index.html", date, date, said, part=f"correction-{date}-{n}")
            )
    for post in whole.posts:
        if post.published:
            date = post.published.isoformat()
            entries.append(
                feed.Entry(post.title, f"journal/{post.slug}.html", date, date, post.summary, str(to_html(post.body)))
            )
    return entries

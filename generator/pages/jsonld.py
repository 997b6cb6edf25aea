"""Structured data for search engines: schema.org types as JSON-LD, from records only.

`Article` or `BlogPosting`, `BreadcrumbList`, and `VideoObject` where there is a film. `HowTo` is written only when the
studio asks: search engines stopped showing it in 2023. Vocabulary: https://schema.org, as of 2026.
"""

import json
from collections.abc import Sequence
from typing import Any

from markupsafe import Markup

from generator.pages.records import Card, PatternView
from generator.pages.studio import Studio


def script(graph: Sequence[dict[str, Any]]) -> Markup:
    """The data as it may stand inside a script element: no `<` can end it early."""
    data: dict[str, Any] = {"@context": "https://schema.org", "@graph": list(graph)}
    text = json.dumps(data, ensure_ascii=False, separators=(",", ":"))
    return Markup(text.replace("<", "\\u003c").replace(">", "\\u003e").replace("&", "\\u0026"))


def pattern(view: PatternView, studio: Studio, address: str) -> Markup:
    """A pattern's page. `address` is its own, absolute; without one nothing is written that needs it."""
    graph = [
        _article(view.card, studio, address),
        crumbs(studio, (("Patterns", "index.html"), (view.title, _path(address, studio)))),
    ]
    if view.film and view.film.address:
        graph.append(_film(view, studio))
    if studio.howto:
        graph.append(_howto(view))
    return script(graph)


def _path(address: str, studio: Studio) -> str:
    return address.removeprefix(studio.address)


def _article(card: Card, studio: Studio, address: str) -> dict[str, Any]:
    data: dict[str, Any] = {"@type": "Article", "headline": card.title[:110], "description": card.summary}
    data["mainEntityOfPage"] = address
    data["image"] = [studio.address + path for path in (card.card, card.cover) if path]
    if card.published:
        data["datePublished"] = card.published
        data["dateModified"] = max(card.updated, card.published)
    data["author"] = _author(studio)
    data["inLanguage"] = studio.language
    data["keywords"] = ", ".join(card.tags)
    data["about"] = {"@type": "CreativeWork", "name": card.title, "genre": "crochet pattern"}
    return {key: value for key, value in data.items() if value}


def _author(studio: Studio) -> dict[str, str]:
    person = {"@type": "Person" if studio.author else "Organization", "name": studio.author or studio.title}
    if studio.address:
        person["url"] = studio.address + "about.html"
    return person


def post(title: str, summary: str, published: str, studio: Studio, address: str) -> Markup:
    """A journal entry."""
    data: dict[str, Any] = {"@type": "BlogPosting", "headline": title[:110], "description": summary}
    data["mainEntityOfPage"] = address
    if published:
        data["datePublished"] = data["dateModified"] = published
    data["author"] = _author(studio)
    data["inLanguage"] = studio.language
    trail = crumbs(studio, (("Journal", "journal/index.html"), (title, _path(address, studio))))
    return script([{key: value for key, value in data.items() if value}, trail])


def crumbs(studio: Studio, trail: Sequence[tuple[str, str]]) -> dict[str, Any]:
    """The way to a page from the top."""
    items = [
        {"@type": "ListItem", "position": n, "name": name, "item": studio.address + path}
        for n, (name, path) in enumerate(trail, 1)
    ]
    return {"@type": "BreadcrumbList", "itemListElement": items}


def _film(view: PatternView, studio: Studio) -> dict[str, Any]:
    assert view.film is not None
    data: dict[str, Any] = {"@type": "VideoObject", "name": view.title, "description": view.summary or view.title}
    data["contentUrl"] = view.film.address
    data["uploadDate"] = view.published
    data["duration"] = view.film.iso
    data["thumbnailUrl"] = studio.address + (view.card.card or view.card.cover)
    clips = [
        {"@type": "Clip", "name": title, "startOffset": _seconds(time), "url": link}
        for time, title, link in view.film.marks
    ]
    data["hasPart"] = clips
    return {key: value for key, value in data.items() if value}


def _seconds(time: str) -> int:
    total = 0
    for part in time.split(":"):
        total = total * 60 + int(part)
    return total


def _howto(view: PatternView) -> dict[str, Any]:
    steps = [
        {
            "@type": "HowToStep",
            "name": f"{row.word.us} {row.figure}".strip(),
            "text": row.text.us,
            "url": f"#{row.anchor}",
        }
        for section in view.sections
        if section.part
        for row in section.part.rows
        if row.kind == "work"
    ]
    supply = [{"@type": "HowToSupply", "name": f"{yarn.colour}, {yarn.weight}"} for yarn in view.yarns]
    return {"@type": "HowTo", "name": view.title, "supply": supply, "step": steps}

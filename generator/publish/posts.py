"""Journal entries and loose pages of a build, and their photos."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date

from generator import library
from generator.pages.records import Picture
from generator.pages.studio import Post
from generator.pages.wanted import of_post
from generator.publish import shelf
from generator.publish.laying import Laying
from generator.publish.record import Entry, Report, Said
from generator.publish.shots import prepare
from generator.publish.steps import WORK, Step, print_of

PICTURES = "pictures"
"""Folder of the site with the pictures of journal and pages, one folder an entry."""


def due(posts: Sequence[Post], today: date, report: Report) -> tuple[Post, ...]:
    """Journal entries that are out; of two with one name the first."""
    found: dict[str, Post] = {}
    for post in posts:
        if post.draft or (post.published and post.published > today):
            report.held += 1
        else:
            found.setdefault(post.slug, post)
    return tuple(found.values())


def lay_pictures(posts: Sequence[Post], catalogue: library.Catalogue, laying: Laying) -> dict[str, Picture]:
    """Photos of journal and pages, made ready under `pictures/`; by `slug|address`."""
    shown: dict[str, Picture] = {}
    for post in posts:
        if not post.photo and "![" not in post.body:
            continue
        text = library.load_text(catalogue.content.parent / post.path, catalogue.content)
        key = print_of(shelf.tool_print(), laying.text_print(text))
        if old := laying.unchanged(post.path, key):
            laying.entries[post.path] = old
        else:
            laying.entries[post.path] = _photographed(post, text, key, laying)
        shown |= seen_from(post, laying.entries[post.path].pictures)
    return shown


def seen_from(post: Post, pictures: Mapping[str, Picture]) -> dict[str, Picture]:
    """Pictures as the page of an entry names them; by `slug|address`."""
    top = "../" if post.published or "journal" in post.path else ""
    return {f"{post.slug}|{name}": _under(one, f"{top}{PICTURES}/{post.slug}/") for name, one in pictures.items()}


def _photographed(post: Post, text: library.Text, key: str, laying: Laying) -> Entry:
    """The pictures of an entry; those that are missing are looked for again next time."""
    pictures = of_post(post, text.source)
    shown = prepare(pictures, text.folder, laying.setting.content)
    if shown.findings:
        laying.report.said.append(Said(text.source, shown.findings))
    files: dict[str, int] = {}
    for photo in shown.ready.values():
        for name, data in photo.files.items():
            path = f"{PICTURES}/{post.slug}/{name}"
            (laying.folder / path).parent.mkdir(parents=True, exist_ok=True)
            (laying.folder / path).write_bytes(data)
            files[path] = len(data)
    step = Step(key if len(shown.ready) == len(pictures) else "", files)
    return Entry(post.slug, post.title, {WORK: step}, None, {name: one.picture for name, one in shown.ready.items()})


def _under(picture: Picture, base: str) -> Picture:
    """A picture's files as seen from another folder."""
    moved = tuple((kind, ", ".join(base + part for part in srcset.split(", "))) for kind, srcset in picture.sources)
    srcset = ", ".join(base + part for part in picture.srcset.split(", ")) if picture.srcset else ""
    return replace(picture, src=base + picture.src, sources=moved, srcset=srcset)

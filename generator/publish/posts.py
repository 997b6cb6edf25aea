"""Journal entries and loose pages of a build, and their photos."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from generator import library
from generator.pages.prose import pictures_in
from generator.pages.records import Picture
from generator.pages.studio import Post
from generator.publish.build import prepare
from generator.publish.laying import Laying
from generator.publish.record import Entry, Report, Said
from generator.source import Span


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
        if not (wanted := _wanted(post)):
            continue
        text = library.load_text(catalogue.content.parent / post.path, catalogue.content)
        key = laying.key(text)
        if old := laying.unchanged(post.path, key):
            laying.keep(post.path, old)
        else:
            laying.entries[post.path] = _photographed(post, wanted, text, key, laying)
        top = "../" if post.published or "journal" in post.path else ""
        for name, picture in laying.entries[post.path].pictures.items():
            shown[f"{post.slug}|{name}"] = _under(picture, f"{top}pictures/{post.slug}/")
    return shown


def _wanted(post: Post) -> list[tuple[str, str, Span]]:
    """(file, description, where it is named) of all pictures a post shows."""
    wanted = [(post.photo.file, post.photo.alt, post.span)] if post.photo else []
    if "![" in post.body:
        wanted += [(address, alt, post.span) for address, alt in pictures_in(post.body)]
    return wanted


def _photographed(
    post: Post, wanted: list[tuple[str, str, Span]], text: library.Text, key: str, laying: Laying
) -> Entry:
    ready, findings = prepare(wanted, text.folder, laying.setting.content)
    if findings:
        laying.report.said.append(Said(text.source, tuple(findings)))
    files: dict[str, int] = {}
    for photo in ready.values():
        for name, data in photo.files.items():
            path = f"pictures/{post.slug}/{name}"
            (laying.folder / path).parent.mkdir(parents=True, exist_ok=True)
            (laying.folder / path).write_bytes(data)
            files[path] = len(data)
    pictures = {name: one.picture for name, one in ready.items()}
    return Entry("" if findings else key, post.slug, post.title, files, None, pictures)


def _under(picture: Picture, base: str) -> Picture:
    """A picture's files as seen from another folder."""
    moved = tuple((kind, ", ".join(base + part for part in srcset.split(", "))) for kind, srcset in picture.sources)
    srcset = ", ".join(base + part for part in picture.srcset.split(", ")) if picture.srcset else ""
    return replace(picture, src=base + picture.src, sources=moved, srcset=srcset)

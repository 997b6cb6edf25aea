"""The studio's folder on disk, read: texts, photos, templates. Nothing here understands what it reads.

A link is followed only while it stays inside content/. Files that editors leave behind are no patterns.
"""

import os
from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from generator.diagnostics.record import Checked, Finding, Severity
from generator.notation.document import LONGEST
from generator.notation.pattern import Pattern
from generator.pages import wanted
from generator.pages.prose import is_elsewhere
from generator.pages.studio import Post, Studio
from generator.pages.wanted import Wanted
from generator.source import NOWHERE, Source, Span
from generator.studio_text import read_post, read_studio

STUDIO, PATTERNS, JOURNAL, TEMPLATES = "studio.toml", "patterns", "journal", "templates"
OF_THE_JOURNAL = {"index": "the list of the journal"}
OF_THE_SITE = {
    "index": "the list of patterns", "404": "the page for missing addresses", "search": "the search page",
    "glossary": "the glossary",
}  # fmt: skip
"""Addresses of the site's own pages, which no text of the studio can have."""


@dataclass(frozen=True, slots=True)
class Text:
    """One file's text as found: findings tell what kept it from being read."""

    source: Source
    folder: Path
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True)
class Said:
    """Findings about one source, for those who only show them."""

    source: Source
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class Catalogue:
    """Everything under content/, patterns not yet compiled."""

    content: Path
    studio: Studio
    patterns: tuple[Text, ...]
    posts: tuple[Post, ...] = ()
    pages: tuple[Post, ...] = ()
    said: tuple[Said, ...] = ()
    """What there is to say of the studio's own texts, one entry per text with findings."""


def load_catalogue(content: Path) -> Catalogue:
    """Read a whole content/ folder; patterns come as texts, sorted by path."""
    studio, said = _studio(content)
    posts, journal = _posts(content, content / JOURNAL, OF_THE_JOURNAL)
    pages, loose = _posts(content, content, OF_THE_SITE, deep=False)
    return Catalogue(content, studio, load_patterns(content), posts, pages, (*said, *journal, *loose))


def load_studio(content: Path) -> Checked[Studio]:
    """The studio record of a content/ folder; without a studio.toml everything keeps its default."""
    studio, said = _studio(content)
    return Checked(studio, tuple(finding for entry in said for finding in entry.findings))


def load_patterns(content: Path) -> tuple[Text, ...]:
    """All pattern texts under content/patterns, sorted by path."""
    return tuple(load_text(file, content) for file in pattern_files(content))


def pattern_files(content: Path) -> tuple[Path, ...]:
    """Paths of all pattern files, sorted."""
    return tuple(markdown_files(content / PATTERNS, content))


def load_text(file: Path, content: Path | None = None) -> Text:
    """One text file. Its name in messages is relative to the folder above content/, or as given."""
    name = shown_name(file, content)
    try:
        data = _read(file)
    except OSError as error:
        reason = (error.strerror or "it can't be opened").lower()
        fault = Finding("file-not-readable", Severity.ERROR, f"the file can't be read: {reason}", NOWHERE)
        return Text(Source(name, ""), file.parent, (fault,))
    return decode(name, data, file.parent)


def shown_name(file: Path, content: Path | None = None) -> str:
    """How a file is called in messages: with forward slashes, from the studio's folder where it lies in one."""
    name = os.fspath(file)
    if content is not None and str(content.parent) != os.curdir:
        name = name.removeprefix(str(content.parent).rstrip(os.sep) + os.sep)
    return name.replace(os.sep, "/").encode("utf-8", "replace").decode("utf-8")


def _read(file: Path) -> bytes:
    with file.open("rb") as opened:
        return opened.read(LONGEST + 1)


def decode(name: str, data: bytes, folder: Path) -> Text:
    """Bytes as text: UTF-8 with or without a mark, line ends made alike. Gives `not-text` and `not-utf-8`."""
    if len(data) > LONGEST:
        message = f"the file is longer than {LONGEST // 1024} KiB"
        fault = Finding("too-long", Severity.ERROR, message, NOWHERE, "one pattern a file")
        return Text(Source(name, ""), folder, (fault,))
    if b"\0" in data[:4096] and not data.startswith((b"\xff\xfe", b"\xfe\xff")):
        fault = Finding("not-text", Severity.ERROR, "this is not a text file", NOWHERE, "a text file in UTF-8")
        return Text(Source(name, ""), folder, (fault,))
    try:
        encoding = "utf-16" if data.startswith((b"\xff\xfe", b"\xfe\xff")) else "utf-8-sig"
        text = data.decode(encoding)
    except UnicodeDecodeError as error:
        # Old editors save in a one-byte code: read on in it, so that only this is told and every place is right.
        text = _lines(data.decode("cp1252", "replace"))
        at = len(_lines(data[: error.start].decode("cp1252", "replace")))
        fits = "save it again as UTF-8, as the editor's own Save as offers"
        fault = Finding("not-utf-8", Severity.ERROR, "the file is not saved as UTF-8", Span(at, at + 1), fits)
        return Text(Source(name, text), folder, (fault,))
    return Text(Source(name, _lines(text)), folder)


def _lines(text: str) -> str:
    return text.replace("\r\n", "\n").replace("\r", "\n")


def markdown_files(folder: Path, content: Path | None = None, deep: bool = True) -> Iterator[Path]:
    """Markdown files of a folder, sorted, without hidden ones, editors' leavings and links that lead out."""
    yield from map(Path, _markdown(folder, (content or folder).resolve(), deep))


def _markdown(folder: Path | str, root: Path, deep: bool) -> Iterator[str]:
    try:
        entries = sorted(os.scandir(folder), key=lambda entry: entry.name)
    except OSError:
        return
    for entry in entries:
        if entry.name.startswith((".", "#", "~")) or entry.name.endswith("~"):
            continue
        if entry.is_symlink() and not _inside(Path(entry.path), root, Path(folder)):
            continue
        if entry.is_dir():
            if deep:
                yield from _markdown(entry.path, root, deep)
        elif entry.name.lower().endswith((".md", ".markdown")) and entry.is_file():
            yield entry.path


def _inside(link: Path, root: Path, folder: Path) -> bool:
    """Whether a link leads to something inside content/ that is not a folder above itself."""
    try:
        target = link.resolve(strict=True)
    except (OSError, RuntimeError):
        return False
    return target.is_relative_to(root) and not folder.resolve().is_relative_to(target)


def _studio(content: Path) -> tuple[Studio, tuple[Said, ...]]:
    file = content / STUDIO
    templates = dict(_templates(content / TEMPLATES))
    if not file.exists():
        return Studio(templates=templates), ()
    text = load_text(file, content)
    if text.findings:
        return Studio(templates=templates), (Said(text.source, text.findings),)
    checked = read_studio(text.source, templates)
    return checked.value, (Said(text.source, checked.findings),) if checked.findings else ()


def _templates(folder: Path) -> Iterator[tuple[str, str]]:
    if folder.is_dir():
        for file in sorted(folder.rglob("*")):
            if file.is_file() and not file.name.startswith("."):
                yield file.relative_to(folder).as_posix(), decode(file.name, _read(file), folder).source.text


def _posts(
    content: Path, folder: Path, ours: Mapping[str, str], deep: bool = True
) -> tuple[tuple[Post, ...], tuple[Said, ...]]:
    """Entries with an address of their own, and what there is to say; `ours` are the addresses the site has itself."""
    posts, said, taken = [], [], dict(ours)
    for file in markdown_files(folder, content, deep):
        text = load_text(file, content)
        checked = read_post(text.source)
        post, findings = checked.value, text.findings or checked.findings
        if not post.draft and post.slug.casefold() in taken:
            findings = (*findings, _taken(post.slug, taken, taken[post.slug.casefold()]))
        else:
            posts.append(post)
            findings = findings if text.findings else (*findings, *_of_pictures(post, text, content))
            if not post.draft:
                taken[post.slug.casefold()] = post.path
        if findings:
            said.append(Said(text.source, findings))
    return tuple(posts), tuple(said)


def _taken(name: str, taken: Collection[str], by: str) -> Finding:
    message = f"the address `{name}` is already taken by {by}"
    number = next(n for n in range(2, len(taken) + 3) if f"{name}-{n}".casefold() not in taken)
    return Finding("slug-taken", Severity.ERROR, message, NOWHERE, f"slug: {name}-{number}")


def _of_pictures(post: Post, text: Text, content: Path) -> Iterator[Finding]:
    """What there is to say of an entry's pictures; a pattern's are looked at by the checks."""
    pictures = wanted.of_post(post, text.source)
    for one in pictures:
        if not one.alt.strip():
            message = f"the picture `{one.file}` has no text alternative"
            fits = "what it shows, as you would tell it on the telephone"
            yield Finding("picture-without-words", Severity.ERROR, message, one.span, fits)
    yield from find_photos(pictures, text.folder, content).findings


def photo_file(pattern_folder: Path, name: str, content: Path) -> Path | None:
    """The file a pattern's photo names, if it is there and inside content/."""
    file = pattern_folder / name
    try:
        inside = file.resolve(strict=True).is_relative_to(content.resolve())
    except (OSError, RuntimeError, ValueError):
        return None
    return file if inside and file.is_file() else None


def find_photos(pictures: Sequence[Wanted], folder: Path, content: Path) -> Checked[Mapping[str, Path]]:
    """The files of the pictures a text shows, by the name it uses.

    Gives `photo-missing`, a warning, as the page goes out without that picture meanwhile, and `photo-elsewhere`.
    """
    found: dict[str, Path] = {}
    findings = []
    for one in pictures:
        if is_elsewhere(one.file):
            message = f"the picture `{one.file[:60]}` is on another host, and pages ask no other host for anything"
            fits = "the file, beside the text"
            findings.append(Finding("photo-elsewhere", Severity.ERROR, message, one.span, fits))
        elif (file := photo_file(folder, one.file, content)) is not None:
            found[one.file] = file
        else:
            message = f"the photo `{one.file}` is not beside the text"
            fits = _similar(folder, one.file)
            findings.append(Finding("photo-missing", Severity.WARNING, message, one.span, fits))
    return Checked(found, tuple(findings))


def _similar(folder: Path, name: str) -> str:
    try:
        names = sorted(entry.name for entry in os.scandir(folder))
    except OSError:
        return ""
    return next((other for other in names if other.lower() == name.lower()), "the file, or no mention of it")


def twins(patterns: Iterable[Pattern]) -> dict[str, Finding]:
    """`slug-taken` for every pattern whose address an earlier one has, by the path of its source.

    Addresses that differ in capitals alone are one: some disks know no difference.
    """
    first: dict[str, str] = {}
    found: dict[str, Finding] = {}
    listed = list(patterns)
    taken = Counter(pattern.header.slug.casefold() for pattern in listed)
    for pattern in listed:
        name, spans = pattern.header.slug, pattern.header.spans
        if name.casefold() in first:
            span = spans.get("slug", spans.get("title", NOWHERE))
            found[pattern.source.path] = replace(_taken(name, taken, first[name.casefold()]), span=span)
        first.setdefault(name.casefold(), pattern.source.path)
    return found

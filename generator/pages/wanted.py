"""The pictures a text wants shown: one list, for those who look for missing files and those who make them ready."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from generator.notation.pattern import Pattern, Prose
from generator.pages.prose import anchor, pictures_in
from generator.pages.studio import Post
from generator.pipeline import Compiled
from generator.source import NOWHERE, Source, Span


@dataclass(frozen=True, slots=True)
class Wanted:
    """One picture, where the text names it."""

    file: str
    alt: str
    span: Span


def names(pictures: Sequence[Wanted]) -> dict[str, str]:
    """What the files of each picture are named after, by the name the text uses: `front.jpg` and `front.png` are two."""
    taken: set[str] = set()
    found = {}
    for one in pictures:
        stem, dot, ending = one.file.rpartition("/")[2].rpartition(".")
        stem, n, name = (stem or ending), 2, anchor(stem or ending)
        while name in taken:
            name, n = anchor(f"{stem[:60]}-{n}"), n + 1
        taken.add(name)
        found[one.file] = f"{name}{dot}{ending}" if dot else name
    return found


def of_pattern(pattern: Pattern) -> tuple[Wanted, ...]:
    """Those of the header, then those of the prose, each file once."""
    named = [span for path, span in pattern.header.spans.items() if path.startswith("photo")]
    found = [
        Wanted(photo.file, photo.alt, _named(photo.file, named, pattern.source)) for photo in pattern.header.photos
    ]
    for block in pattern.blocks:
        if isinstance(block, Prose):
            found += _shown(block.text, block.span, pattern.source)
    return _once(found)


def of_compiled(compiled: Compiled) -> tuple[Wanted, ...]:
    """Those of a pattern, placed in the file's own text although a shape block may have been written out."""
    found, home = of_pattern(compiled.pattern), compiled.origin
    return tuple(replace(one, span=home.span(one.span)) for one in found) if home else found


def of_post(post: Post, source: Source) -> tuple[Wanted, ...]:
    """The entry's own picture, then those between its words. `source` is the text it was read from."""
    head = Span(0, post.span.start)
    found = [Wanted(post.photo.file, post.photo.alt, _at(post.photo.file, head, source))] if post.photo else []
    return _once([*found, *_shown(post.body, post.span, source)])


def _named(file: str, spans: list[Span], source: Source) -> Span:
    """Where the header names a picture."""
    return next((span for span in spans if source.words(span).strip("\"'") == file), spans[0] if spans else NOWHERE)


def _shown(markdown: str, span: Span, source: Source) -> list[Wanted]:
    found = pictures_in(markdown) if "![" in markdown else ()
    return [Wanted(address, alt, _at(address, span, source)) for address, alt in found]


def _at(file: str, inside: Span, source: Source) -> Span:
    """The file's name in the text; the whole stretch where it is written in another way."""
    at = source.text.find(file, inside.start, inside.end)
    return Span(at, at + len(file)) if at >= 0 else inside


def _once(found: list[Wanted]) -> tuple[Wanted, ...]:
    return tuple({one.file: one for one in reversed(found)}.values())[::-1]

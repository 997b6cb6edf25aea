"""Everything the author wrote in sentences, with its place: prose, notions, notes, working lines."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TypeVar

from generator.checks.product import At, Product
from generator.source import Span


@dataclass(frozen=True, slots=True)
class Passage:
    """A stretch of the author's words."""

    text: str
    span: Span
    kind: str
    """`prose`, `line` or `notion`."""

    def at(self, start: int, end: int) -> Span:
        """The place of a piece of the text."""
        return Span(self.span.start + start, self.span.start + end)


_CODE = re.compile(r"```.*?```|`[^`\n]*`|\]\([^)\n]*\)|<[^>\n]*>", re.DOTALL)


def _blanked(text: str) -> str:
    """Code, addresses and tags replaced by spaces, so that offsets stay."""
    return _CODE.sub(lambda m: " " * len(m.group()), text)


def prose(product: Product) -> Iterator[Passage]:
    """The Markdown passages, without code and addresses."""
    for block in product.prose():
        words = product.words(block.span)
        yield Passage(_blanked(words or block.text), block.span, "prose")


def lines(product: Product) -> Iterator[Passage]:
    """The working lines."""
    for at in product.lines():
        yield Passage(product.words(at.span), at.span, "line")


def in_lines(product: Product, pattern: "re.Pattern[str]", *words: str) -> Iterator[tuple[At, "re.Match[str]"]]:
    """Where a pattern is found in working lines. Whatever it finds has one of `words` (in small letters) in it: they
    are asked for first, since most texts have none of them and a search takes a hundred times as long."""
    if "lines" not in product.memo:
        product.memo["lines"] = _small([(at, product.words(at.span)) for at in product.lines()])
    yield from _found(product.memo["lines"], pattern, words)


def in_passages(product: Product, pattern: "re.Pattern[str]", *words: str) -> Iterator[tuple[Passage, "re.Match[str]"]]:
    """Where a pattern is found in whatever the author wrote; `words` as for lines."""
    if "passages" not in product.memo:
        product.memo["passages"] = _small([(passage, passage.text) for passage in passages(product)])
    yield from _found(product.memo["passages"], pattern, words)


T = TypeVar("T")
_Texts = tuple[list[tuple[T, str, str]], str]
"""Texts with what they belong to, also in small letters; all of them, in small letters."""


def _small(texts: list[tuple[T, str]]) -> _Texts[T]:
    told = [(of, text, text.casefold()) for of, text in texts]
    return told, "\n".join([small for _of, _text, small in told])


def _found(texts: _Texts[T], pattern: "re.Pattern[str]", words: tuple[str, ...]) -> Iterator[tuple[T, "re.Match[str]"]]:
    told, everything = texts
    words = tuple([word for word in words if word in everything])
    for of, text, small in told if words else ():
        if any(word in small for word in words):
            for match in pattern.finditer(text):
                yield of, match


def notions(product: Product) -> Iterator[Passage]:
    """The notions of the header; all stand at the header's own place for them."""
    for number, notion in enumerate(product.header.notions):
        span = product.place(f"notions.{number}")
        inside = product.words(span).find(notion)
        start = span.start + max(inside, 0)
        yield Passage(notion, Span(start, start + len(notion)) if inside >= 0 else span, "notion")


def passages(product: Product) -> Iterator[Passage]:
    """All of them: notions, prose, working lines, in this order."""
    yield from notions(product)
    yield from prose(product)
    yield from lines(product)

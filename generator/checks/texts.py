"""Everything the author wrote in sentences, with its place: prose, notions, notes, working lines."""

import re
from collections.abc import Iterator
from dataclasses import dataclass

from generator.checks.product import Product
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

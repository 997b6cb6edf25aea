"""Prose for paper and for listening: Markdown as plain passages, without HTML and without pictures.

Only what a booklet needs: paragraphs, headings, lists, strong and emphasis. Links keep their words and, where the words
don't show it, their address in brackets, for paper can't be followed.
"""

from collections.abc import Iterator, Sequence
from functools import cache
from typing import TYPE_CHECKING

from generator.pages.leaflet import Passage, Run

if TYPE_CHECKING:
    from markdown_it import MarkdownIt
    from markdown_it.token import Token


def passages(text: str) -> tuple[Passage, ...]:
    """The blocks of a Markdown text, in order. Comments, rules and raw HTML are left out."""
    return tuple(_blocks(_parser().parse(text)))


def without_heading(blocks: tuple[Passage, ...], name: str) -> tuple[Passage, ...]:
    """The same without the last heading, when that heads the part called `name` and nothing follows it."""
    if blocks and blocks[-1].kind == "heading" and name and blocks[-1].plain().casefold().startswith(name.casefold()):
        return blocks[:-1]
    return blocks


@cache
def _parser() -> "MarkdownIt":
    from markdown_it import MarkdownIt

    return MarkdownIt("commonmark", {"html": False}).enable("table")


def _blocks(tokens: Sequence["Token"]) -> Iterator[Passage]:
    lists: list[tuple[str, int]] = []
    kind = "paragraph"
    for token in tokens:
        if token.type in ("bullet_list_open", "ordered_list_open"):
            lists.append(("bullet" if token.type.startswith("bullet") else "numbered", 0))
        elif token.type in ("bullet_list_close", "ordered_list_close"):
            lists.pop()
        elif token.type == "list_item_open":
            lists[-1] = (lists[-1][0], lists[-1][1] + 1)
            kind = lists[-1][0]
        elif token.type == "heading_open":
            kind = "heading"
        elif token.type == "inline" and token.children:
            runs = tuple(_joined(_runs(token.children)))
            if runs:
                yield Passage(kind, runs, lists[-1][1] if kind == "numbered" else 0)
            kind = "paragraph"
        elif token.type in ("fence", "code_block"):
            yield Passage("paragraph", (Run(token.content.strip(), "code"),))


def _runs(tokens: Sequence["Token"]) -> Iterator[Run]:
    marks: list[str] = []
    address = ""
    said = ""
    for token in tokens:
        if token.type in ("strong_open", "em_open"):
            marks.append("strong" if token.type == "strong_open" else "emphasis")
        elif token.type in ("strong_close", "em_close"):
            marks.pop()
        elif token.type == "link_open":
            address, said = str(token.attrs.get("href", "")), ""
        elif token.type == "link_close":
            if "://" in address and said not in (address, ""):
                yield Run(f" ({address})")
            address = ""
        elif token.type in ("softbreak", "hardbreak"):
            yield Run(" ", marks[-1] if marks else "")
        elif token.type in ("text", "code_inline"):
            said += token.content
            yield Run(token.content, marks[-1] if marks else "")


def _joined(runs: Iterator[Run]) -> Iterator[Run]:
    """Neighbours of one mark in one run; empty ones dropped."""
    last: Run | None = None
    for run in runs:
        if not run.text:
            continue
        if last and last.mark == run.mark:
            last = Run(last.text + run.text, run.mark)
            continue
        if last:
            yield last
        last = run
    if last:
        yield last

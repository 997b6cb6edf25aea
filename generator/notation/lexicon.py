"""The reader's dictionary: which words, alone or in a row, mean what, in a dialect.

Built from `words.toml` and the stitch words of a language file. A stitch word gives a `stitch` entry with its
identity; everything else gives its canonical word. Longest match wins.
"""

import re
import tomllib
from dataclasses import dataclass, field
from functools import cache
from importlib import resources
from typing import Any

from generator.vocabulary.load import is_stitch, language

LANGUAGE_OF_TERMS = {"US": "en-US", "UK": "en-GB"}


@dataclass(slots=True)
class Node:
    """A step in the dictionary's tree of words; `entry` is set where a form ends."""

    entry: tuple[str, str] | None = None
    children: dict[str, "Node"] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Lexicon:
    """Forms of one dialect as a tree of lower-case words, and all single words it knows (for typing slips)."""

    root: Node
    words: frozenset[str]
    numbers: dict[str, int]
    ordinals: dict[str, int]


def _file() -> dict[str, Any]:
    return tomllib.loads(resources.files(__package__).joinpath("words.toml").read_text(encoding="utf-8"))


_PIECE = re.compile(r"(?:[^\W\d_]|['’/])+|\d+")


def _pieces(form: str) -> list[str]:
    """A form cut the way the tokens are cut: letters and digits apart, hyphens and stops dropped."""
    return _PIECE.findall(form.lower().replace("’", "'"))


def add_form(root: Node, form: str, entry: tuple[str, str]) -> None:
    """Put one form into the tree. A form that is already there keeps its first meaning."""
    node = root
    for piece in _pieces(form):
        node = node.children.setdefault(piece, Node())
    if node.entry is None:
        node.entry = entry


def _add_stitches(root: Node, code: str) -> None:
    for identity, words in language(code).stitches.items():
        if identity == "ch":
            continue
        for form in (words.abbreviation, words.name, words.plural, *words.also):
            if form:
                add_form(root, form, ("stitch", identity))
                if (len(form) > 3 or form == words.abbreviation) and not form.endswith("s"):
                    add_form(root, form + "s", ("stitch", identity))


def _words_of(node: Node) -> set[str]:
    found = set(node.children)
    for child in node.children.values():
        found |= _words_of(child)
    return found


@cache
def lexicon(terms: str) -> Lexicon:
    """The dictionary for `US` or `UK` terms."""
    data = _file()
    root = Node()
    _add_stitches(root, LANGUAGE_OF_TERMS[terms])
    for identity, forms in data["stitches"][terms].items():
        for form in forms:
            add_form(root, form, ("stitch", identity))
    for name, forms in data["loops"].items():
        for form in forms:
            add_form(root, form, ("loop", name))
    for name, forms in data["words"].items():
        for form in forms:
            add_form(root, form, ("word", name))
    numbers = {form: int(n) for n, forms in data["numbers"].items() for form in forms}
    ordinals = {form: int(n) for n, forms in data["ordinals"].items() for form in forms}
    words = frozenset(_words_of(root) | set(numbers) | set(ordinals))
    return Lexicon(root, words, numbers, ordinals)


def known_stitch(identity: str) -> bool:
    """Whether an identity composed while reading (`dc5tog`) is one the vocabulary can make."""
    return is_stitch(identity)

"""Reads the vocabulary's files once and composes the stitches that are built from others by rule.

A file without a source is refused: that is our own mistake, so it raises `VocabularyError`.
"""

import re
import tomllib
from collections.abc import Mapping
from dataclasses import replace
from functools import cache
from importlib import resources
from typing import Any

from generator.vocabulary.records import Language, Stitch, Table, Words


class VocabularyError(Exception):
    """A vocabulary file of the project itself is wrong. Never caused by a writer's text."""


def _read(folder: str, name: str) -> dict[str, Any]:
    text = resources.files(__package__).joinpath(folder, name + ".toml").read_text(encoding="utf-8")
    data = tomllib.loads(text)
    if not data.get("source"):
        raise VocabularyError(f"{folder}/{name}.toml names no source")
    return data


def _names(folder: str) -> tuple[str, ...]:
    entries = resources.files(__package__).joinpath(folder).iterdir()
    return tuple(sorted(entry.name[:-5] for entry in entries if entry.name.endswith(".toml")))


@cache
def stitches() -> Mapping[str, Stitch]:
    """All stitches that have a file of their own, by identity."""
    found: dict[str, Stitch] = {}
    for name in _names("stitches"):
        data = _read("stitches", name)
        found[name] = Stitch(
            identity=name,
            base=data.get("base", name),
            family=data["family"],
            yarn_overs=data["yarn_overs"],
            consumes=data["consumes"],
            makes=data["makes"],
            counts=data["counts"],
            height=float(data["height"]),
            turning_chain=data["turning_chain"],
            turning_chain_counts=data["turning_chain_counts"],
            yarn=float(data["yarn"]),
            legs=data.get("legs", 1),
            symbol=tuple(data["symbol"]),
            source=data["source"],
        )
    return found


_TOGETHER = re.compile(r"(?P<post>fp|bp)?(?P<base>[a-z]+?)(?P<n>[0-9]+)tog")
_POST = re.compile(r"(?P<post>fp|bp)(?P<base>[a-z]+)")
_BUNCH = re.compile(r"(?P<base>[a-z]+)-(?P<family>cluster|puff|bobble|popcorn)-(?P<n>[0-9]+)")


@cache
def stitch(identity: str) -> Stitch:
    """The stitch of that identity, from its file or composed by rule from its base.

    Raises:
        VocabularyError: no such stitch can be composed.
    """
    known = stitches()
    if identity in known:
        return known[identity]
    if match := _TOGETHER.fullmatch(identity):
        base, n = stitch((match["post"] or "") + match["base"]), int(match["n"])
        return replace(
            base, identity=identity, family="together", consumes=n, legs=n,
            yarn=base.yarn * n * 0.9, symbol=(*base.symbol, f"together:{n}"), source="composed by rule",
        )  # fmt: skip
    if match := _BUNCH.fullmatch(identity):
        base, n, family = stitch(match["base"]), int(match["n"]), match["family"]
        return replace(
            base, identity=identity, family=family, legs=n, yarn=base.yarn * n * 0.9,
            symbol=(*base.symbol, f"{family}:{n}"), source="composed by rule",
        )  # fmt: skip
    if match := _POST.fullmatch(identity):
        base = stitch(match["base"])
        return replace(base, identity=identity, symbol=(*base.symbol, match["post"]), source="composed by rule")
    raise VocabularyError(f"no stitch {identity!r}")


def is_stitch(identity: str) -> bool:
    """Whether `stitch(identity)` would find one."""
    try:
        stitch(identity)
    except VocabularyError:
        return False
    return True


def _words(entry: Mapping[str, Any]) -> Words:
    name = entry["name"]
    return Words(
        abbreviation=entry.get("abbreviation", name),
        name=name,
        plural=entry.get("plural", name),
        also=tuple(entry.get("also", ())),
    )


@cache
def language(code: str) -> Language:
    """The language or dialect of that code (`en-US`, `en-GB`).

    Raises:
        VocabularyError: there is no file for it.
    """
    if code not in languages():
        raise VocabularyError(f"no language {code!r}")
    data = _read("languages", code)
    return Language(
        code=code,
        title=data["title"],
        stitches={key: _words(value) for key, value in data["stitches"].items()},
        terms={key: _words(value) for key, value in data["terms"].items()},
        phrases=dict(data.get("phrases", {})),
        source=data["source"],
    )


@cache
def languages() -> tuple[str, ...]:
    """Codes of all languages that have a file, sorted."""
    return _names("languages")


@cache
def table(name: str) -> Table:
    """The published table of that name from `standards/`.

    Raises:
        VocabularyError: it names no source or no date.
    """
    data = _read("standards", name)
    if not data.get("date"):
        raise VocabularyError(f"standards/{name}.toml names no date")
    return Table(
        name=name,
        rows=tuple(data["rows"]),
        source=data["source"],
        date=str(data["date"]),
        notes=data.get("notes", ""),
        credit=data.get("credit", ""),
    )


@cache
def tables() -> tuple[str, ...]:
    """Names of all published tables, sorted."""
    return _names("standards")

"""A pattern's folder is made in steps, and each is remembered with what it was made from: an edit makes only its own again.

`work`: drawings, photos, and the record its page prints (the dear one: every stitch is worked and drawn).
`sharing`: pictures for sharing, set from the drawn cover.
`editions`: booklets and the other editions.
`page`: the record printed with the theme.

A step is given the studio without what its key leaves out, so it can't print what it would not be made again for.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from hashlib import sha256

from generator.pages.studio import Studio

WORK, SHARING, EDITIONS, PAGE = "work", "sharing", "editions", "page"
READY = ".spiralbound"
"""Folder of the site with the record of every page; no page links to it."""
_SEEN = {
    WORK: ("terms", "sc_sign"),
    SHARING: ("title", "language"),
    EDITIONS: ("title", "address", "author", "language", "terms", "units", "sc_sign"),
}
_ACCENTED = (SHARING, EDITIONS)


@dataclass(frozen=True, slots=True)
class Step:
    """What one step made."""

    key: str
    """Fingerprint of what it was made from; empty where it has to be made again."""
    files: Mapping[str, int] = field(default_factory=dict)
    """Path relative to the site's top, with its size in bytes."""


def seen_by(step: str, studio: Studio) -> Studio:
    """The studio as far as a step may look at it; a page shows all of it."""
    if step == PAGE:
        return replace(studio, spans={})
    accent = {key: studio.colours[key] for key in ("accent",) if step in _ACCENTED and key in studio.colours}
    return replace(Studio(), colours=accent, **{name: getattr(studio, name) for name in _SEEN[step]})


def print_of(*values: object) -> str:
    """Fingerprint of values whose `repr` tells them apart."""
    return sha256(repr(values).encode("utf-8", "replace")).hexdigest()


def keys(bases: Mapping[str, str], text: str) -> dict[str, str]:
    """The key of every step of one text: `bases` are the fingerprints of what all patterns share, by step."""
    return {step: print_of(base, text) for step, base in bases.items()}

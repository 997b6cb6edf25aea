"""What the desk keeps of a pattern, what it tells the tabs, and what stands in the margin."""

import hashlib
import re
from collections.abc import Collection, Mapping, Sequence
from dataclasses import asdict, dataclass
from functools import partial

from generator import library
from generator.diagnostics.panel import Slip
from generator.diagnostics.record import Finding, Severity
from generator.notation.document import read_document
from generator.notation.pattern import Working
from generator.pages.records import Card
from generator.pipeline import Compiled
from generator.source import Source

WHOLE = frozenset({"empty-file", "not-text", "too-long", "header-missing", "header-not-closed", "file-not-readable"})
"""Rules that leave nothing to show."""


@dataclass(frozen=True, slots=True)
class Shown:
    """One pattern as it stands."""

    text: library.Text
    slug: str
    compiled: Compiled | None
    files: Mapping[str, bytes]
    """Its folder's files; of the last good text while the present one does not come out."""
    findings: tuple[Finding, ...]
    card: Card | None = None
    stale: bool = False
    good: bool = False
    """Whether `files` come from a text without fault."""


@dataclass(frozen=True, slots=True)
class News:
    """What a burst of saves changed, for the open tabs."""

    pages: tuple[str, ...] = ()
    all: bool = False
    styles: bool = False
    pictures: bool = False


def stands_in_the_way(finding: Finding, compiled: Compiled) -> bool:
    """Whether a finding leaves the page without sense: a fault in the rounds, or in the file as a whole."""
    if finding.severity is not Severity.ERROR:
        return False
    blocks = (block.piece.span for block in compiled.pattern.blocks if isinstance(block, Working))
    return finding.rule in WHOLE or any(span.start <= finding.span.start < span.end for span in blocks)


def page_of(slug: str) -> str:
    """Path of a pattern's page."""
    return f"patterns/{slug}/index.html"


def dressed(page: bytes, kept: Collection[str] = ()) -> bytes:
    """A page with the preview's style and script, which must run before the page's own.

    Its drawings are named, and those the tab has already (`kept`) are left empty: most saves change few.
    """
    own = b'<link rel="stylesheet" href="/-preview/preview.css"><script src="/-preview/preview.js" defer></script>'
    return _DRAWING.sub(partial(_named, kept), page.replace(b"<head>", b"<head>" + own, 1))


_DRAWING = re.compile(rb"<svg\b.*?</svg>", re.DOTALL)
_SMALL = 2000
"""Bytes of a drawing that is as well sent again."""


def _named(kept: Collection[str], drawing: re.Match[bytes]) -> bytes:
    if len(drawing[0]) < _SMALL:
        return drawing[0]
    name = hashlib.blake2b(drawing[0], digest_size=8).hexdigest()
    if name in kept:
        return f'<svg data-kept="{name}"></svg>'.encode()
    return f'<svg data-drawing="{name}"'.encode() + drawing[0].removeprefix(b"<svg")


def wishes(source: Source) -> list[dict[str, str]]:
    """Every shape block drawn, wish and worked outline, for the margin."""
    if "```shape" not in source.text:
        return []
    from generator.shape.source import comparisons  # brings numpy, which few patterns need

    return [asdict(drawn) for drawn in comparisons(read_document(source).value)]


def message(slips: Sequence[Slip], stale: bool, good: bool) -> str:
    """The one line that says how things stand."""
    errors = sum(one.severity == "error" for one in slips)
    open_ends = f"{errors} {'thing' if errors == 1 else 'things'} to settle"
    if stale:
        return f"{open_ends}. Below is the last version that came out."
    if errors:
        return f"{open_ends}."
    return "Every count comes out." if good else "Nothing to settle."


def told(
    version: int, message: str, slips: Sequence[Slip], facts: tuple[tuple[str, str], ...] = (), stale: bool = False
) -> dict[str, object]:
    """Everything the margin shows, for the page's script."""
    listed = [asdict(one) for one in slips]
    return {"version": version, "message": message, "stale": stale, "facts": facts, "slips": listed}

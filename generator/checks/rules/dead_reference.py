"""Words point to a round that does not exist.

What it finds
-------------
`Rep Rnd 7` before there is a round 7; sewing, photos or corrections that name rounds the part does not have.

Why it matters
--------------
Arms sewn "between rounds 22 and 23" of a body with 20 rounds are a guess. Such lines stay behind when rounds are
taken out.

Example
-------
`Rnd 3: Rep Rnd 8 (12)` in a part of two rounds.

Write instead
-------------
The number of a round that is there.

Source
------
common practice, no source
"""

import re
from collections.abc import Iterator

from generator.checks import say, steps, texts
from generator.checks.claim import owned
from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity
from generator.fabric.model import Status
from generator.notation.tree import PartRef, Remark
from generator.source import Span

RULE = "dead-reference"
SEVERITY = Severity.ERROR
BARE: Severity | None = Severity.WARNING
BAD = """\
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnd 3: Rep Rnd 8 (12)
"""
GOOD = """\
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnd 3: Sc in each st around (12)
"""

_NAMED = re.compile(r"\b(?:rnds?|rounds?|rows?)\.?\s+(\d{1,4})(?:\s*(?:and|to|&|-|–|/)\s*(\d{1,4}))?", re.IGNORECASE)


def check(product: Product) -> Iterator[Finding]:
    """Speaks about repeats, notes, prose, photos and corrections."""
    for at, problem in owned(product, RULE):
        if at.worked.status is Status.NOT_UNDERSTOOD:
            continue  # the round is there, and that it was not understood is told at its own line
        words = say.quote(product.words(problem.span) or problem.words)
        yield Finding(
            RULE,
            SEVERITY,
            f"{words} points to a round that does not exist",
            problem.span,
            fits=_range(product, at.part_index),
        )
    yield from _in_remarks(product)
    if not product.bare:
        yield from _in_header(product)
        yield from _in_prose(product)


def _numbers(product: Product, part_index: int | None = None) -> set[int]:
    key = f"numbers {part_index}"
    if key not in product.memo:
        product.memo[key] = _numbered(product, part_index)
    numbers: set[int] = product.memo[key]
    return numbers


def _numbered(product: Product, part_index: int | None) -> set[int]:
    return {
        n for at in product.lines() if part_index is None or at.part_index == part_index for n in at.label.numbers
    } | {
        c.number
        for at in product.lines()
        if part_index is None or at.part_index == part_index
        for c in at.courses
        if c.number
    }


def _range(product: Product, part_index: int | None = None) -> str:
    numbers = _numbers(product, part_index)
    return f"there are rounds {min(numbers)} to {max(numbers)}" if len(numbers) > 1 else ""


def _in_remarks(product: Product) -> Iterator[Finding]:
    known = _numbers(product)
    for at in product.lines():
        if at.problem is not None or not known:
            continue
        for step in (*steps.find(Remark, at.worked.steps), *steps.find(PartRef, at.worked.steps)):
            yield from _unknown(product.words(step.span), step.span.start, known, _range(product))


def _in_prose(product: Product) -> Iterator[Finding]:
    known = _numbers(product)
    for passage in texts.prose(product):
        if known:
            yield from _unknown(passage.text, passage.span.start, known, _range(product))


def _unknown(text: str, offset: int, known: set[int], fits: str) -> Iterator[Finding]:
    for match in _NAMED.finditer(text):
        for group in (1, 2):
            # Bigger numbers than any round has are the point; 0 and gaps in the numbering are other rules' business.
            if match[group] and int(match[group]) > max(known):
                span = Span(offset + match.start(), offset + match.end())
                yield Finding(
                    RULE, SEVERITY, f"{say.quote(match[0])}: there is no round {match[group]}", span, fits=fits
                )
                break


def _in_header(product: Product) -> Iterator[Finding]:
    known = _numbers(product)
    if not known:
        return
    for i, photo in enumerate(product.header.photos):
        if photo.round is not None and photo.round not in known:
            yield Finding(
                RULE,
                SEVERITY,
                f"the photo {say.quote(photo.file)} shows round {photo.round}, which does not exist",
                product.place(f"photos.{i}.round"),
                fits=_range(product),
            )
    for i, revision in enumerate(product.header.revisions):
        for number in revision.rounds:
            if number not in known:
                yield Finding(
                    RULE,
                    SEVERITY,
                    f"a correction names round {number}, which does not exist",
                    product.place(f"revisions.{i}"),
                    fits=_range(product),
                )

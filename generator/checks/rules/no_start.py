"""The first round is worked into nothing.

What it finds
-------------
A first round or row of stitches with no ring, no chain and nothing else to work them into.

Why it matters
--------------
A beginner is stuck before the first stitch.

Example
-------
`Rnd 1: 6 sc (6)`.

Write instead
-------------
`Rnd 1: 6 sc in magic ring (6)`, or `Ch 2. Rnd 1: 6 sc in 2nd ch from hook (6)`.

Source
------
common practice, no source
"""

from collections.abc import Iterator

from generator.checks import fitting, proving, say
from generator.checks.claim import owned
from generator.checks.product import At, Product
from generator.diagnostics.record import Finding, Fix, Severity
from generator.source import Span

RULE = "no-start"
SEVERITY = Severity.ERROR
# Excerpts and old patterns often begin in the middle.
BARE: Severity | None = Severity.WARNING
BAD = """\
Rnd 1: 6 sc (6)
Rnd 2: 2 sc in each st around (12)
"""
GOOD = """\
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks at the first stitches."""
    for at, problem in owned(product, RULE):
        fix = _into_ring(product, at)
        fits = f"say what they are worked into: {say.quote(fix.text)}" if fix else "say what they are worked into"
        yield Finding(RULE, SEVERITY, f"{say.name(at)} has nothing to be worked into", problem.span, fits=fits, fix=fix)


def _into_ring(product: Product, at: At) -> Fix | None:
    span = fitting.instruction(product, at)
    words = product.words(span)
    if "," in words or not words:
        return None
    addition = Fix(Span(span.end, span.end), " in magic ring")
    return Fix(span, words + addition.text) if proving.proved(product, at, (addition,)) else None

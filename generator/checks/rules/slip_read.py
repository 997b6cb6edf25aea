"""A typing slip was read as what was meant.

What it finds
-------------
Words that are one slip away from a word of the trade, and were read as that word.

Why it matters
--------------
The published text is written anew, so readers never see the slip; but the guess should be looked at once.

Example
-------
`Rnd 2: 2 sc in eahc st around (12)`.

Write instead
-------------
`Rnd 2: 2 sc in each st around (12)`.

Source
------
common practice, no source
"""

from collections.abc import Iterator

from generator.checks import say
from generator.checks.claim import UK_ONLY, US_ONLY
from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity

RULE = "slip-read"
SEVERITY = Severity.NOTE
BARE: Severity | None = Severity.NOTE
BAD = """\
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in eahc st around (12)
"""
GOOD = """\
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks at each slip."""
    for at in product.lines():
        for span, meant in at.line.slips:
            words = product.words(span)
            if US_ONLY.search(words) or UK_ONLY.search(words):
                continue  # no slip but the other dialect: terms-mixed speaks
            yield Finding(RULE, SEVERITY, f"{say.quote(words)} was read as `{meant}`", span, fits=f"`{meant}`")

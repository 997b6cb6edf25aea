"""Several usual readings fit and give different fabrics.

What it finds
-------------
Words that can be read in two ways which both use up the round and give the count.

Why it matters
--------------
Two makers will make two different pieces, and both have counted right.

Example
-------
`3 dc, ch 1` in a list where three in one place and one in each of three both come out.

Write instead
-------------
`3 dc in next st` or `dc in next 3 sts`.

Source
------
common practice, no source
"""

from collections.abc import Iterator

from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity

RULE = "reading-unclear"
SEVERITY = Severity.WARNING
BARE: Severity | None = Severity.NOTE
BAD = """\
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnd 3: (2 sc, dec) 3 times
"""
GOOD = """\
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnd 3: (sc in next 2 sts, dec) 3 times (9)
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks with the worker's own words on what the readings are."""
    for at in product.lines():
        if at.worked.ambiguous and at.problem is None:
            yield Finding(RULE, SEVERITY, at.worked.ambiguous, at.span, fits="say which is meant")

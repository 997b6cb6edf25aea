"""Only an unusual reading of the words gives the stated count.

What it finds
-------------
A line that was read in another way than its words usually mean, because only that comes out.

Why it matters
--------------
A reader has no machine that tries all readings. What was meant should be said.

Example
-------
`(3 sc, sc in next 3 sts) 4 times (24)` on 16 stitches: only three in one stitch gives 24.

Write instead
-------------
`(3 sc in next st, sc in next 3 sts) 4 times (24)`.

Source
------
common practice, no source
"""

from collections.abc import Iterator

from generator.checks import say
from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity

RULE = "reading-unusual"
SEVERITY = Severity.NOTE
BARE: Severity | None = Severity.NOTE
BAD = """\
Rnd 1: 8 sc in magic ring (8)
Rnd 2: 2 sc in each st around (16)
Rnd 3: (3 sc, sc in next 3 sts) 4 times (24)
"""
GOOD = """\
Rnd 1: 8 sc in magic ring (8)
Rnd 2: 2 sc in each st around (16)
Rnd 3: (3 sc in next st, sc in next 3 sts) 4 times (24)
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks with the worker's own sentence on what was chosen and why."""
    for at in product.lines():
        if at.worked.unusual and at.problem is None:
            reading = at.worked.reading or f"{say.name(at)} was read in an unusual way"
            yield Finding(RULE, SEVERITY, reading, at.span, fits="write out what is meant")

"""More stitches than this tool will work.

What it finds
-------------
Rounds of more than 20,000 stitches, patterns of more than 2,000,000.

Why it matters
--------------
Nobody crochets them, so it is nearly always a number with a digit too many; and working them would take long.

Example
-------
`Rnd 3: (inc 90000 times) 90000 times`.

Write instead
-------------
The number that was meant.

Source
------
limit of this tool
"""

from collections.abc import Iterator

from generator.checks import say
from generator.checks.claim import owned
from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity

RULE = "too-large"
SEVERITY = Severity.ERROR
BARE: Severity | None = Severity.ERROR
BAD = """\
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnd 3: (inc 90000 times) 90000 times
"""
GOOD = """\
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnd 3: inc 12 times (24)
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks at the number that is too large."""
    for at, problem in owned(product, RULE):
        limit = f", the limit is {problem.have:,}" if problem.have else ""
        asked = f"{problem.need:,} stitches" if problem.need else "more stitches than will be worked"
        yield Finding(RULE, SEVERITY, f"{say.name(at)} asks for {asked}{limit}", problem.span)

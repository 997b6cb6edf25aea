"""Stitches worked past the end of the round were added to its count.

What it finds
-------------
A count that includes the extra stitches that level the step at the end of a spiral.

Why it matters
--------------
They lie on top of the first stitches of the same round. Made they are, but there are no more places for the next
round than before.

Example
-------
On 12 stitches: `Rnd 3: Sc in each st around, sc in next 2 sts, sl st in next st (15)`; 12 are live.

Write instead
-------------
`Rnd 3: Sc in each st around (12). To level the step: sc in next 2 sts, sl st in next st`.

Source
------
common practice, no source
"""

from collections.abc import Iterator

from generator.checks import fitting, say
from generator.checks.claim import owned
from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity

RULE = "levelling-counted"
SEVERITY = Severity.WARNING
BARE: Severity | None = Severity.WARNING
BAD = """\
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnd 3: Sc in each st around, sc in next 2 sts, sl st in next st, fasten off (15)
"""
GOOD = """\
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnd 3: Sc in each st around, sc in next 2 sts, sl st in next st, fasten off (12)
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks at the count."""
    for at, problem in owned(product, RULE):
        stated = at.line.stated
        total = (stated.total if stated else None) or problem.need
        over = total - at.worked.live
        message = (
            f"{say.name(at)} has {at.worked.live} live stitches, the count says {total}: "
            f"the last {over} lie over the first {over}"
        )
        count = fitting.count_fix(product, at)
        fits = f"count {at.worked.live}, and say that the others level the edge"
        span = stated.span if stated else problem.span
        yield Finding(RULE, SEVERITY, message, span, fits=fits, fix=count.fix if count else None)

"""A round has worked into the slip stitch that finished the round below.

What it finds
-------------
A count one larger than the round below, after that round was finished with a slip stitch.

Why it matters
--------------
The finishing slip stitch looks like a stitch but lies beside one. Working into it adds a stitch every round.

Example
-------
`Rnd 3: Sc in each st around, sl st in next st, fasten off (12)`, then `Rnd 4: With B, join in any st, sc in each st around (13)`.

Write instead
-------------
`Rnd 4: With B, join in any st, sc in each st around (12)`, and say that the slip stitch is skipped.

Source
------
design notes on joined rounds, common practice; no published source
"""

from collections.abc import Iterator

from generator.checks import fitting, say
from generator.checks.claim import owned
from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity

RULE = "false-stitch-worked"
SEVERITY = Severity.ERROR
BARE: Severity | None = Severity.ERROR
BAD = """\
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnd 3: Sc in each st around, sl st in next st, fasten off (12)
Rnd 4: With white, standing sc in any st, sc in each st around (13)
"""
GOOD = """\
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnd 3: Sc in each st around, sl st in next st, fasten off (12)
Rnd 4: With white, standing sc in any st, sc in each st around (12)
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks at the count."""
    for at, problem in owned(product, RULE):
        live = at.below.live if at.below else at.worked.live
        span = at.line.stated.span if at.line.stated else problem.span
        message = (
            f"{say.below_name(at)} left {live} stitches and a slip stitch that only looks like one; "
            f"the count says {live + 1}, so the slip stitch was worked too"
        )
        count = fitting.count_fix(product, at)
        fits = f"skip the slip stitch and count {live}"
        yield Finding(RULE, SEVERITY, message, span, fits=fits, fix=count.fix if count else None)

"""A repeat to the end of the round does not divide the round.

What it finds
-------------
`… around` or `… across` where the stitches one pass takes do not go into the stitches there are.

Why it matters
--------------
The last pass breaks off somewhere. Rounds copied from one another often keep the old number in the group.

Example
-------
On 18 stitches: `*sc in next 3 sts, inc; rep from * around (24)` takes 4 a pass: 4 passes and 2 stitches over.

Write instead
-------------
`*sc in next 2 sts, inc; rep from * around (24)`.

Source
------
common practice, no source
"""

from collections.abc import Iterator

from generator.checks import fitting, say
from generator.checks.claim import owned
from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity

RULE = "group-does-not-fit"
SEVERITY = Severity.ERROR
BARE: Severity | None = Severity.ERROR
BAD = """\
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnd 3: *sc in next st, inc; rep from * around (18)
Rnd 4: *sc in next 3 sts, inc; rep from * around (24)
"""
GOOD = """\
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnd 3: *sc in next st, inc; rep from * around (18)
Rnd 4: *sc in next 2 sts, inc; rep from * around (24)
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks where passes don't come out even."""
    for at, problem in owned(product, RULE):
        have, per = problem.have or at.worked.below, problem.per
        passes = f"{have} is {have // per} × {per} and {have % per} over" if per > 0 else f"there are {have}"
        takes = say.plural(per, "stitch") if per > 0 else "other stitches than there are"
        offer = fitting.offer(product, at)
        yield Finding(RULE, SEVERITY, f"the group uses {takes}; {passes}", problem.span, fits=offer[0], fix=offer[1])

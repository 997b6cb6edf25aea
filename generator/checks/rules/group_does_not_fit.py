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
from generator.checks.product import At, Product
from generator.diagnostics.record import Finding, Severity
from generator.fabric.model import Make, Problem

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
        per, left = problem.per, problem.left
        takes = say.plural(per, "stitch") if per > 0 else "other stitches than there are"
        text, fix = fitting.offer(product, at)
        fits = text or _chain(product, at, per, left)
        yield Finding(RULE, SEVERITY, f"the group uses {takes}; {_passes(at, problem)}", problem.span, fits, fix=fix)


def _passes(at: At, problem: Problem) -> str:
    """What the division leaves: of the whole round, or, where stitches stand before the group, of the rest of it."""
    have, per, left = problem.have or at.worked.below, problem.per, problem.left
    if per <= 0:
        return f"there are {have}"
    if left and left < per and left != have % per:
        return f"{left} {'is' if left == 1 else 'are'} left over"
    return f"{have} is {have // per} × {per} and {have % per} over"


def _chain(product: Product, at: At, per: int, left: int) -> str:
    """In a first row: the chains, one pass shorter or longer, that do."""
    if not (0 < left < per and at.below and at.below.make is Make.FOUNDATION):
        return ""
    found = [str(n) for more in (-left, per - left) if (n := fitting.chain_that_gives(product, at, more))]
    return f"chain {' or '.join(found)}" if found else ""

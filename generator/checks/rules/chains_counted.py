"""A total adds chains or chain spaces to the stitches.

What it finds
-------------
A plain number that is only right when chains are counted as stitches.

Why it matters
--------------
Other rounds of the same pattern count stitches only; the reader has to find out anew each round what is counted.

Example
-------
On 12 stitches: `Rnd 2: (dc in next st, ch 1) around (24)`: that is 12 dc and 12 chain spaces.

Write instead
-------------
`(12 dc, 12 ch-1 sps)`.

Source
------
common practice, no source
"""

from collections.abc import Iterator

from generator.checks import say
from generator.checks.claim import owned
from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity

RULE = "chains-counted"
SEVERITY = Severity.WARNING
BARE: Severity | None = Severity.NOTE
BAD = """\
Rnd 1: 12 sc in magic ring, join with sl st to first sc (12)
Rnd 2: Ch 4 (counts as dc, ch 1), (dc in next st, ch 1) 11 times, join with sl st to 3rd ch of ch-4 (24)
"""
GOOD = """\
Rnd 1: 12 sc in magic ring, join with sl st to first sc (12)
Rnd 2: Ch 4 (counts as dc, ch 1), (dc in next st, ch 1) 11 times, join with sl st to 3rd ch of ch-4 (12 dc, 12 ch-1 sps)
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks at the count."""
    for at, problem in owned(product, RULE):
        stated = at.line.stated
        total = (stated.total if stated else None) or problem.need
        message = f"the count of {total} adds chains: {say.name(at)} {say.verb(at, 'makes')} {say.kinds(product, at.worked.kinds)}"
        span = stated.span if stated else problem.span
        yield Finding(RULE, SEVERITY, message, span, fits=f"`({_kinds(product, at.worked.kinds)})`")


def _kinds(product: Product, kinds: tuple[tuple[str, int], ...]) -> str:
    return ", ".join(f"{n} {say.stitch(product, kind).replace(' space', ' sps')}" for kind, n in kinds)

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
    """Speaks at a plain total that chains make right, whether or not the worker accepted it."""
    spoken = {at.span for at, _problem in owned(product, RULE)}
    for at in product.lines():
        stated = at.line.stated
        if stated is None or stated.total is None or stated.kinds or stated.chains_named or not at.worked.kinds:
            continue
        if at.span in spoken or (
            at.problem is None and stated.total > at.worked.live and _with_chains(at.worked.kinds)
        ):
            message = (
                f"the count of {stated.total} adds chains: {say.name(at)} {say.verb(at, 'makes')} "
                f"{say.kinds(product, at.worked.kinds)}"
            )
            yield Finding(RULE, SEVERITY, message, stated.span, fits=f"`({_kinds(product, at.worked.kinds)})`")


def _with_chains(kinds: tuple[tuple[str, int], ...]) -> bool:
    return any(kind.startswith("sp:") for kind, _n in kinds)


def _kinds(product: Product, kinds: tuple[tuple[str, int], ...]) -> str:
    return ", ".join(f"{n} {say.stitch(product, kind).replace(' space', ' sps')}" for kind, n in kinds)

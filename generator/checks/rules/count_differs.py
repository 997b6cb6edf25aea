"""The stated count is not what the line makes.

What it finds
-------------
A line uses up the round below, but the count at its end is another number than the stitches it makes.

Why it matters
--------------
Makers count to know that they are right. A wrong count sends them back to look for a mistake they did not make.

Example
-------
On 12 stitches: `Rnd 3: (sc in next st, inc) 6 times (16)` makes 18.

Write instead
-------------
Correct the count, or the instruction: the finding works out which of the two lets the next round go on.

Source
------
common practice, no source
"""

from collections.abc import Iterator

from generator.checks import fitting, say
from generator.checks.claim import owned
from generator.checks.product import At, Product
from generator.diagnostics.record import Finding, Severity

RULE = "count-differs"
SEVERITY = Severity.ERROR
BARE: Severity | None = Severity.ERROR
BAD = """\
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnd 3: (sc in next st, inc) 6 times (16)
"""
GOOD = """\
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnd 3: (sc in next st, inc) 6 times (18)
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks where the count is the only thing that is wrong."""
    for at, problem in owned(product, RULE):
        made = problem.have or at.worked.live
        said = at.line.stated
        stated = problem.need or (said.total or sum(n for _, n in said.kinds) if said else 0)
        span = at.line.stated.span if at.line.stated else problem.span
        message = (
            f"{say.name(at)} {say.verb(at, 'makes')} {say.plural(made, 'stitch')}, "
            f"the count says {stated} ({say.difference(stated, made)})"
        )
        fits, fix = _fits(product, at, made, stated)
        yield Finding(RULE, SEVERITY, message, span, fits=fits, fix=fix)


def _fits(product: Product, at: At, made: int, stated: int) -> fitting.Offer:
    """The count put right, and the instruction put right; first the one that lets the next line go on."""
    count = fitting.count_fix(product, at)
    correct = f"if {made} is right, write {made} in the count"
    if count and count.goes_on and product.after(at):
        return correct, count.fix  # the next round agrees with the stitches
    other = next((r for r in fitting.rewritings(product, at) if r.keeps_count), None)
    offers = [(not count.goes_on, correct, count.fix)] if count else []
    if other:
        offers.append((not other.goes_on, f"for {stated}: {say.quote(other.fix.text, 160)}", other.fix))
    offers.sort(key=lambda o: o[0])
    # When the next line goes on with neither of two, only the author can tell which was meant.
    telling = len(offers) == 1 or (offers and not offers[0][0])
    return "; ".join(words for _bad, words, _fix in offers), offers[0][2] if telling else None

"""The foundation chain does not give the first row.

What it finds
-------------
A first row along a chain whose stitches or count do not go with the number of chains.

Why it matters
--------------
The chain is the one thing a maker can't mend later without starting again.

Example
-------
`Ch 12. Row 1: sc in 2nd ch from hook and in each ch across (12)` makes 11.

Write instead
-------------
`Ch 13` for 12 single crochet: one chain more than stitches when the 2nd chain from the hook is the first one used.

Source
------
common practice, no source
"""

from collections.abc import Iterator

from generator.checks import fitting, say
from generator.checks.claim import owned
from generator.checks.product import At, Product
from generator.diagnostics.record import Finding, Severity
from generator.fabric.model import Fault, Problem

RULE = "foundation-chain"
SEVERITY = Severity.ERROR
BARE: Severity | None = Severity.ERROR
BAD = """\
Ch 12
Row 1: Sc in 2nd ch from hook and in each ch across, turn (12)
Row 2: Ch 1, sc in each st across, turn (12)
"""
GOOD = """\
Ch 13
Row 1: Sc in 2nd ch from hook and in each ch across, turn (12)
Row 2: Ch 1, sc in each st across, turn (12)
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks in the first row, and names the chain that would do."""
    for at, problem in owned(product, RULE):
        if problem.fault is Fault.COUNT:
            yield _count(product, at, problem)
        else:
            over = problem.fault is Fault.OVER
            have, used = problem.have or at.worked.below, at.worked.used
            message = (
                f"{say.name(at)} needs {problem.need if problem.need > have else used} chains, there are {have}"
                if over
                else f"{say.name(at)} leaves {say.plural(problem.left or at.worked.below - used, 'chain')} unworked"
            )
            text, fix = fitting.offer(product, at)
            yield Finding(RULE, SEVERITY, message, problem.span, fits=text, fix=fix)


def _count(product: Product, at: At, problem: Problem) -> Finding:
    stated = problem.need or (at.line.stated.total if at.line.stated else 0) or 0
    made = problem.have or at.worked.live
    found = fitting.foundation(product, at)
    where = f"the chain of {found[2]}" if found else "the chain"
    message = f"{where} gives {say.plural(made, 'stitch')}, the count says {stated} ({say.difference(stated, made)})"
    chains = fitting.chain_that_gives(product, at, stated - made)
    span = at.line.stated.span if at.line.stated else problem.span
    return Finding(RULE, SEVERITY, message, span, fits=f"chain {chains} for {stated}" if chains else "")

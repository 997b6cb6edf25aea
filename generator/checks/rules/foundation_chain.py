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

from generator.checks import fitting, say, steps
from generator.checks.claim import owned
from generator.checks.product import At, Product
from generator.diagnostics.record import Finding, Severity
from generator.fabric.model import Fault
from generator.notation.tree import Foundation

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
        stated = at.line.stated.total if at.line.stated and at.line.stated.total is not None else 0
        span = at.line.stated.span if at.line.stated and problem.fault is Fault.COUNT else problem.span
        chains = _chains(product, at)
        if problem.fault is Fault.COUNT:
            made = problem.have or at.worked.live
            where = f"the chain of {chains[0].chains}" if chains else "the chain"
            message = (
                f"{where} gives {say.plural(made, 'stitch')}, the count says {stated} ({say.difference(stated, made)})"
            )
            fits = (
                f"ch {chains[0].chains + stated - made} for {stated}"
                if chains and _proved(product, at, chains[0], stated - made)
                else ""
            )
        elif problem.fault is Fault.OVER:
            message = f"{say.name(at)} needs {problem.need or at.worked.used} chains, there are {problem.have or at.worked.below}"
            fits = ""
        else:
            message = f"{say.name(at)} leaves {say.plural(problem.left or at.worked.below - at.worked.used, 'chain')} unworked"
            fits = ""
        yield Finding(RULE, SEVERITY, message, span, fits=fits)


def _chains(product: Product, at: At) -> tuple[Foundation, ...]:
    for other in reversed(product.in_part(at.part_index)[: at.index + 1]):
        found = steps.find(Foundation, other.worked.steps)
        if found:
            return found[-1:]
    return ()


def _proved(product: Product, at: At, chain: Foundation, more: int) -> bool:
    return fitting.works_with_chain(product, at, chain, chain.chains + more)

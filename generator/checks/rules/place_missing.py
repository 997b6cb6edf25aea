"""A place is named that is not there.

What it finds
-------------
Stitches worked into a chain space, a corner, a loop or a stitch of a kind that the round below does not have.

Why it matters
--------------
The maker searches for a space that was never made. Often the number of chains was changed in one round only.

Example
-------
`sc in next ch-3 sp` where the round below has chain spaces of 2.

Write instead
-------------
The space as it was made: `sc in next ch-2 sp`, or change the round that makes it.

Source
------
common practice, no source
"""

from collections.abc import Iterator

from generator.checks import say, steps
from generator.checks.claim import owned
from generator.checks.product import At, Product
from generator.diagnostics.record import Finding, Severity
from generator.notation.tree import Chain, Group, Noun, Skip, Work

RULE = "place-missing"
SEVERITY = Severity.ERROR
BARE: Severity | None = Severity.WARNING
BAD = """\
Rnd 1: Ch 3 (counts as dc), 2 dc in magic ring, ch 2, *3 dc in ring, ch 2; rep from * 2 more times, join with sl st to top of ch-3 (12 dc)
Rnd 2: *sc in next 3 sts, 3 sc in next ch-5 sp; rep from * around (24)
"""
GOOD = """\
Rnd 1: Ch 3 (counts as dc), 2 dc in magic ring, ch 2, *3 dc in ring, ch 2; rep from * 2 more times, join with sl st to top of ch-3 (12 dc)
Rnd 2: *sc in next 3 sts, 3 sc in next ch-2 sp; rep from * around (24)
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks at the words that name the place: where there is none, and where none of that length was ever made."""
    for at, problem in owned(product, RULE):
        words = product.words(problem.span) or problem.words
        message = f"{say.quote(words)}: {say.below_name(at)} has no such place"
        yield Finding(RULE, SEVERITY, message, problem.span, fits=_there(product, at))
    for _part, lines in product.parts():
        made: set[int] = set()
        for at in lines:
            made |= {size for chain in steps.find(Chain, at.worked.steps) for size in (chain.n, chain.stands_chains)}
            if not at.problem and at.below and steps.has((Work, Group, Skip), at.worked.steps):
                yield from _never_made(product, at, made)


def _never_made(product: Product, at: At, made: set[int]) -> Iterator[Finding]:
    for step in steps.walk(at.worked.steps):
        target = step.target if isinstance(step, (Work, Group, Skip)) else None
        if target and target.noun is Noun.SPACE and target.size and target.size not in made:
            message = f"{say.quote(product.words(step.span))}: no chain of {target.size} was made before"
            yield Finding(RULE, Severity.WARNING, message, step.span, fits=_there(product, at))
            return


def _there(product: Product, at: At) -> str:
    kinds = at.below.kinds if at.below else ()
    return f"{say.below_name(at)} has {say.kinds(product, kinds)}" if kinds else ""

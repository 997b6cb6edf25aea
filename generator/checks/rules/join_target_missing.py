"""A join goes to a chain or stitch the round did not make.

What it finds
-------------
`join to top of ch-3` in a round that began with ch 2, or with no chain at all.

Why it matters
--------------
The maker can't tell whether the chain or the join is wrong; the two give different heights and counts.

Example
-------
`Rnd 2: Ch 2, dc in each st around, join with sl st to top of ch-3`.

Write instead
-------------
The same number in both places.

Source
------
common practice, no source
"""

import re
from collections.abc import Iterator

from generator.checks import say, steps
from generator.checks.claim import owned
from generator.checks.product import At, Product
from generator.diagnostics.record import Finding, Severity
from generator.notation.tree import Chain, Join
from generator.source import Span

RULE = "join-target-missing"
SEVERITY = Severity.ERROR
BARE: Severity | None = Severity.WARNING
BAD = """\
Rnd 1: Ch 2, 12 dc in magic ring, join with sl st to top of ch-3 (12)
"""
GOOD = """\
Rnd 1: Ch 2 (does not count), 12 dc in magic ring, join with sl st to first dc (12)
"""

_CHAIN = re.compile(r"\bch(?:ain)?[- ]?(\d+)\b|\b(\d+)[- ]?ch\b", re.IGNORECASE)


def check(product: Product) -> Iterator[Finding]:
    """Speaks at the join: where the worker found no such place, and where the numbers of chains differ."""
    spoken = set()
    for at, problem in owned(product, RULE):
        spoken.add(at.span)
        message = f"{say.quote(product.words(problem.span))}: {say.name(at)} made no such place"
        yield Finding(RULE, SEVERITY, message, problem.span)
    for at in product.lines():
        if at.span not in spoken and at.problem is None:
            yield from _numbers_differ(product, at)


def _numbers_differ(product: Product, at: At) -> Iterator[Finding]:
    joins = steps.find(Join, at.worked.steps)
    first = next((step for step in at.worked.steps if isinstance(step, Chain)), None)
    if not joins or first is None or len(joins) > 1:
        return
    join = joins[0]
    for match in _CHAIN.finditer(product.words(join.span)):
        number = int(match[1] or match[2])
        if number > 1 and not _made(product, at, number):
            span = Span(join.span.start + match.start(), join.span.start + match.end())
            message = f"the join names a chain of {number}, {say.name(at)} begins with a chain of {first.n}"
            yield Finding(
                RULE, SEVERITY, message, span, fits=f"ch {number} at the beginning, or ch-{first.n} in the join"
            )


def _made(product: Product, at: At, number: int) -> bool:
    """A chain of that length is made in the line, or (turning chains written early) at the end of the one before."""
    before = product.before(at)
    made = steps.find(Chain, at.worked.steps) + (steps.find(Chain, before.worked.steps) if before else ())
    return any(chain.n == number for chain in made)

"""An earlier round is repeated where the number of stitches has changed.

What it finds
-------------
`Rep Rnd 5` on a round of another size than round 5 was worked on, so that it does not come out.

Why it matters
--------------
The repeated words fit only the count they were written for.

Example
-------
`Rnd 4: (sc in next 2 sts, inc) 6 times (24)`, `Rnd 5: Rep Rnd 4 (30)`: round 4 takes 18 stitches, now there are 24.

Write instead
-------------
The round in full, with its own numbers: `(sc in next 3 sts, inc) 6 times (30)`.

Source
------
common practice, no source
"""

from collections.abc import Iterator

from generator.checks import say, steps
from generator.checks.claim import owned, repeated
from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity
from generator.notation.tree import Again

RULE = "repeat-elsewhere"
SEVERITY = Severity.ERROR
BARE: Severity | None = Severity.ERROR
BAD = """\
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnd 3: (sc in next st, inc) 6 times (18)
Rnd 4: (sc in next 2 sts, inc) 6 times (24)
Rnd 5: Rep Rnd 4 (30)
"""
GOOD = """\
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnd 3: (sc in next st, inc) 6 times (18)
Rnd 4: (sc in next 2 sts, inc) 6 times (24)
Rnd 5: (sc in next 3 sts, inc) 6 times (30)
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks where the repeated round doesn't fit."""
    for at, problem in owned(product, RULE):
        if until := next((s for s in steps.find(Again, at.worked.steps) if s.until_stitches), None):
            message = f"repeating comes to {at.worked.live} and no further, not to {until.until_stitches}"
            yield Finding(RULE, SEVERITY, message, problem.span, fits="a number that the shaping comes to")
            continue
        earlier = next(repeated(product, at), None)
        have = at.worked.below or problem.have
        if earlier is not None and earlier.worked.below and earlier.worked.below != have:
            message = f"{say.name(earlier)} was worked on {earlier.worked.below} stitches, here there are {have}"
        else:
            made, stated = at.worked.live, at.line.stated.total if at.line.stated else None
            message = f"{say.name(at)} {say.verb(at, 'makes')} {made} by repeating"
            message += f", the count says {stated} ({say.difference(stated, made)})" if stated is not None else ""
        yield Finding(RULE, SEVERITY, message, problem.span, fits="write the round out with its own numbers")

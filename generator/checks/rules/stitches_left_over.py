"""Stitches of the round below are left unworked.

What it finds
-------------
A line that ends before the round below is used up, though nothing says that the rest is to be left.

Why it matters
--------------
The piece slants or opens where the unworked stitches are, and every later count is wrong. A sum at the end of the
line can look right all the same.

Example
-------
On 24 stitches: `Rnd 5: (sc in next st, dec) 6 times (12)` takes 18 and leaves 6.

Write instead
-------------
A repeat that takes them all, `(sc in next st, dec) 8 times (16)`, or say that they stay: `leave rem sts unworked`.

Source
------
common practice, no source
"""

from collections.abc import Iterator

from generator.checks import fitting, say
from generator.checks.claim import owned
from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity

RULE = "stitches-left-over"
SEVERITY = Severity.ERROR
BARE: Severity | None = Severity.ERROR
BAD = """\
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnd 3: (sc in next st, inc) 6 times (18)
Rnd 4: (sc in next 2 sts, inc) 6 times (24)
Rnd 5: (sc in next st, dec) 6 times (12)
"""
GOOD = """\
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnd 3: (sc in next st, inc) 6 times (18)
Rnd 4: (sc in next 2 sts, inc) 6 times (24)
Rnd 5: (sc in next st, dec) 8 times (16)
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks where places are left and nobody said so."""
    for at, problem in owned(product, RULE):
        have = problem.have or at.worked.below
        left = problem.left or max(have - at.worked.used, 0)
        what = "chain spaces" if problem.kind.startswith("sp") else "stitches"
        message = (
            f"{say.name(at)} {say.verb(at, 'uses')} {have - left} of the {have} {what} of "
            f"{say.below_name(at)} ({left} too few)"
        )
        offer = fitting.offer(product, at)
        yield Finding(RULE, SEVERITY, message, problem.span, fits=offer[0], fix=offer[1])

"""Words in a working line that were not understood.

What it finds
-------------
Words the reader knows no meaning for. Nothing in a working line is skipped in silence.

Why it matters
--------------
What can't be read can't be proved, and a reader may not understand it either. An abbreviation that was never
explained is the usual case.

Example
-------
`Rnd 3: flurble in each st around`.

Write instead
-------------
The trade's words; a stitch of your own goes into `stitches:` in the header; anything else on a `Note:` line.

Source
------
common practice, no source
"""

from collections.abc import Iterator

from generator.checks import say
from generator.checks.claim import owned
from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity

RULE = "not-understood"
SEVERITY = Severity.ERROR
# A pasted text may hold words about other things; its counts are judged all the same.
BARE: Severity | None = Severity.WARNING
BAD = """\
Rnd 1: 6 sc in magic ring (6)
Rnd 2: flurble in each st around (12)
"""
GOOD = """\
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks once a line."""
    for _at, problem in owned(product, RULE):
        words = problem.words or product.words(problem.span)
        fits = "explain it under `stitches:` in the header, or put it on a `Note:` line"
        yield Finding(RULE, SEVERITY, f"{say.quote(words)} is not understood", problem.span, fits=fits)

"""A round begins with a standing stitch and another first stitch in the same place.

What it finds
-------------
`Standing sc in any st, ch 1, sc in same st, …`, where the count is one less than the stitches made.

Why it matters
--------------
A standing stitch already is the first stitch. One more in the same place adds a stitch to the round.

Example
-------
On 12 stitches: `Rnd 3: With B, standing sc in any st, sc in same st, sc in each rem st around (12)` makes 13.

Write instead
-------------
`Rnd 3: With B, standing sc in any st, sc in each rem st around (12)`.

Source
------
common practice, no source
"""

from collections.abc import Iterator

from generator.checks import say, steps
from generator.checks.claim import owned
from generator.checks.product import Product
from generator.diagnostics.record import Finding, Label, Severity
from generator.notation.tree import How, Work

RULE = "standing-twice"
SEVERITY = Severity.ERROR
BARE: Severity | None = Severity.ERROR
BAD = """\
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnd 3: Sc in each st around, sl st in next st, fasten off (12)
Rnd 4: With white, standing sc in any st, sc in same st, sc in each st around (12)
"""
GOOD = """\
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnd 3: Sc in each st around, sl st in next st, fasten off (12)
Rnd 4: With white, standing sc in any st, sc in each st around (12)
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks at the second stitch."""
    for at, problem in owned(product, RULE):
        same = next((w for w in steps.find(Work, at.worked.steps) if w.target.how is How.SAME), None)
        message = f"the standing stitch is already the first stitch: {say.name(at)} makes {at.worked.live}, the count says {problem.need or at.worked.live - 1}"
        labels = (Label(same.span, "a second stitch in the same place"),) if same else ()
        fits = f"take out {say.quote(product.words(same.span))}" if same else ""
        yield Finding(RULE, SEVERITY, message, problem.span, fits=fits, labels=labels)

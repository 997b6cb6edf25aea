"""The line needs more stitches than the round below has.

What it finds
-------------
An instruction that goes on after the last stitch of the round below.

Why it matters
--------------
The maker runs out of round in the middle of the line, counts again, and can't know whether the line or the work
is wrong. Often a number was copied from the next round, or a whole round is missing.

Example
-------
On 18 stitches: `Rnd 4: (sc in next 3 sts, inc) 6 times (30)` needs 24.

Write instead
-------------
`Rnd 4: (sc in next 2 sts, inc) 6 times (24)`.

Source
------
common practice, no source
"""

from collections.abc import Iterator

from generator.checks import fitting, say
from generator.checks.claim import owned
from generator.checks.product import At, Product
from generator.diagnostics.record import Finding, Severity
from generator.fabric.model import Problem

RULE = "stitches-run-out"
SEVERITY = Severity.ERROR
BARE: Severity | None = Severity.ERROR
BAD = """\
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnd 3: (sc in next st, inc) 6 times (18)
Rnd 4: (sc in next 3 sts, inc) 6 times (30)
"""
GOOD = """\
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnd 3: (sc in next st, inc) 6 times (18)
Rnd 4: (sc in next 2 sts, inc) 6 times (24)
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks where the round below is too short."""
    for at, problem in owned(product, RULE):
        text, fix = fitting.offer(product, at)
        fits = text or "is a round missing before this one?"
        yield Finding(RULE, SEVERITY, _message(at, problem), problem.span, fits=fits, fix=fix)


def _message(at: At, problem: Problem) -> str:
    below = at.worked.below
    have = problem.have or below
    need = problem.need if problem.need > have else max(at.worked.used, have + 1)
    short = f"({need - have} too few)"
    if problem.kind.startswith("sp"):
        return f"{say.name(at)} needs {say.plural(need, 'chain space')}, {say.below_name(at)} has {have} {short}"
    if have < below:
        return f"{say.name(at)} needs {need} more where {have} of the {below} stitches of {say.below_name(at)} are left {short}"
    return f"{say.name(at)} needs {say.plural(need, 'stitch')}, {say.below_name(at)} has {have} {short}"

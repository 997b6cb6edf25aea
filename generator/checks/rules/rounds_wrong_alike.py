"""Several rounds in a row are wrong in the same way.

What it finds
-------------
Neighbouring rounds that all come out, with the counts they state, when the same is added to one number of each.

Why it matters
--------------
Rounds are typed from one another, and the slip is copied along. It is one mistake, however many rounds it is in.

Example
-------
On 80 stitches: `*sc in next 7 sts, dec; rep from * around (72)`, `*sc in next 6 sts, dec; … (64)`,
`*sc in next 5 sts, dec; … (56)`: each is one stitch short in each repeat.

Write instead
-------------
`*sc in next 8 sts, dec; … (72)`, and so on.

Source
------
seen in published patterns by hand recomputation; common practice, no source
"""

from collections.abc import Iterator

from generator.checks import say
from generator.checks.product import Product
from generator.checks.streak import Streak, streaks
from generator.diagnostics.record import Finding, Label, Severity

RULE = "rounds-wrong-alike"
SEVERITY = Severity.ERROR
BARE: Severity | None = Severity.ERROR
BAD = """\
Ch 80, join with sl st to form ring
Rnd 1: Sc in each ch around (80)
Rnd 2: *Sc in next 7 sts, dec; rep from * around (72)
Rnd 3: *Sc in next 6 sts, dec; rep from * around (64)
Rnd 4: *Sc in next 5 sts, dec; rep from * around (56)
"""
GOOD = """\
Ch 80, join with sl st to form ring
Rnd 1: Sc in each ch around (80)
Rnd 2: *Sc in next 8 sts, dec; rep from * around (72)
Rnd 3: *Sc in next 7 sts, dec; rep from * around (64)
Rnd 4: *Sc in next 6 sts, dec; rep from * around (56)
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks at the first of the rounds and points to the others."""
    for streak in streaks(product):
        first, last = streak.lines[0], streak.lines[-1]
        way = "short" if streak.by > 0 else "over"
        message = f"{_names(streak)} are each {say.plural(abs(streak.by), 'stitch')} {way} in the same place"
        labels = tuple(
            Label(at.span, f"{at.line.stated.total if at.line.stated else 0}: {say.quote(r.fix.text, 120)}")
            for at, r in zip(streak.lines[1:], streak.rewritings[1:], strict=True)
        )
        best = streak.rewritings[0]
        fits = f"{say.quote(best.fix.text, 120)} in {say.name(first)}, and alike to {say.name(last)}"
        yield Finding(RULE, SEVERITY, message, best.fix.span, fits=fits, labels=labels)


def _names(streak: Streak) -> str:
    first, last = streak.lines[0].label.numbers[0], streak.lines[-1].label.numbers[-1]
    noun = say.name(streak.lines[0]).split()[0].rstrip("s")
    return f"{noun}s {first} to {last}" if len(streak.lines) > 2 else f"{noun}s {first} and {last}"

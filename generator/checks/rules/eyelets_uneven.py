"""The holes for a cord are not evenly spaced, or two cords find an odd number of them.

What it finds
-------------
In a pattern with a tie: a round of eyelets with different numbers of stitches between them; an odd number of eyelets
where two cords are drawn from opposite sides.

Why it matters
--------------
The gathering pulls to one side; with an odd number the second cord comes out on the same side of the fabric as it
went in.

Example
-------
`(sc in next 4 sts, ch 2, skip next 2 sts) 4 times, sc in next 6 sts` on 30 stitches: 4, 4, 4 and 10 between.

Write instead
-------------
`(sc in next 3 sts, ch 2, skip next 2 sts) 6 times`.

Source
------
common practice, no source
"""

from collections.abc import Iterator

from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity
from generator.measures.measured import Eyelets
from generator.source import Span

RULE = "eyelets-uneven"
SEVERITY = Severity.WARNING
BARE: Severity | None = None
BAD = """\
---
title: Reed pouch
terms: US
rounds: spiral
hook: 4 mm
gauge: 18 sc x 20 rounds = 10 cm
ties: [chain cord of 60 cm]
---

```rounds
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnd 3: (sc in next st, inc) 6 times (18)
Rnd 4: (sc in next 2 sts, inc) 6 times (24)
Rnd 5: (sc in next 3 sts, inc) 6 times (30)
Rnds 6-22: Sc in each st around (30)
Rnd 23: (sc in next 4 sts, ch 2, skip next 2 sts) 4 times, sc in next 6 sts
Rnd 24: (sc in next 4 sts, 2 sc in next ch-2 sp) 4 times, sc in next 6 sts (30)
Fasten off
```
"""
GOOD = """\
---
title: Reed pouch
terms: US
rounds: spiral
hook: 4 mm
gauge: 18 sc x 20 rounds = 10 cm
ties: [chain cord of 60 cm]
---

```rounds
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnd 3: (sc in next st, inc) 6 times (18)
Rnd 4: (sc in next 2 sts, inc) 6 times (24)
Rnd 5: (sc in next 3 sts, inc) 6 times (30)
Rnds 6-22: Sc in each st around (30)
Rnd 23: (sc in next 3 sts, ch 2, skip next 2 sts) 6 times
Rnd 24: (sc in next 3 sts, 2 sc in next ch-2 sp) 6 times (30)
Fasten off
```
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks at the line that makes the eyelets."""
    if product.measured is None or not product.header.ties:
        return
    cords = sum(not tie.loop for tie in product.header.ties)
    for index, part in enumerate(product.measured.parts):
        for eyelets in part.eyelets:
            span = _line(product, index, eyelets)
            if not eyelets.regular:
                message = f"the {eyelets.count} holes for the cord are not evenly spaced"
                yield Finding(RULE, SEVERITY, message, span, fits=_even(product, index, eyelets))
            elif cords >= 2 and not eyelets.even:
                message = (
                    f"there are {eyelets.count} holes, and {cords} cords drawn from opposite sides want an even number"
                )
                yield Finding(RULE, SEVERITY, message, span, fits=f"{eyelets.count - 1} or {eyelets.count + 1} holes")


def _line(product: Product, part_index: int, eyelets: Eyelets) -> Span:
    for at in product.in_part(part_index):
        if at.worked.courses[0] <= eyelets.course < at.worked.courses[1]:
            return at.span
    return product.first_span()


def _even(product: Product, part_index: int, eyelets: Eyelets) -> str:
    below = product.fabric.parts[part_index].courses[eyelets.course].below
    counts = [n for n in range(2, below) if below % n == 0 and n % 2 == 0]
    near = min(counts, key=lambda n: abs(n - eyelets.count), default=0)
    return f"{near} holes, one in every {below // near} stitches" if near else ""

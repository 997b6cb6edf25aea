"""A cord or tie does not reach round with something left to knot.

What it finds
-------------
A tie in the header shorter than about twice the way round of the opening it runs through.

Why it matters
--------------
Drawn flat, the opening must lie open; then both ends must still come out and be knotted.

Example
-------
`ties: [chain cord of 20 cm]` for an opening 28 cm round.

Write instead
-------------
`ties: [chain cord of 60 cm]`; two cords drawn from opposite sides need the length each.

Source
------
about twice the way round: common practice, no source
"""

from collections.abc import Iterator

from generator.checks import say
from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity
from generator.wording.numbers import System, length

RULE = "tie-too-short"
SEVERITY = Severity.WARNING
BARE: Severity | None = None
BAD = """\
---
title: Reed pouch
terms: US
rounds: spiral
hook: 4 mm
gauge: 18 sc x 20 rounds = 10 cm
ties: [chain cord of 20 cm]
---

```rounds
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnd 3: (sc in next st, inc) 6 times (18)
Rnd 4: (sc in next 2 sts, inc) 6 times (24)
Rnd 5: (sc in next 3 sts, inc) 6 times (30)
Rnd 6: (sc in next 4 sts, inc) 6 times (36)
Rnd 7: (sc in next 5 sts, inc) 6 times (42)
Rnd 8: (sc in next 6 sts, inc) 6 times (48)
Rnds 9-20: Sc in each st around (48)
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
ties: [chain cord of 70 cm]
---

```rounds
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnd 3: (sc in next st, inc) 6 times (18)
Rnd 4: (sc in next 2 sts, inc) 6 times (24)
Rnd 5: (sc in next 3 sts, inc) 6 times (30)
Rnd 6: (sc in next 4 sts, inc) 6 times (36)
Rnd 7: (sc in next 5 sts, inc) 6 times (42)
Rnd 8: (sc in next 6 sts, inc) 6 times (48)
Rnds 9-20: Sc in each st around (48)
Fasten off
```
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks at the tie."""
    if product.measured is None:
        return
    for i, tie in enumerate(product.measured.ties):
        if not tie.enough and tie.around_mm > 0:
            message = f"{say.quote(tie.name)} is {length(tie.length_mm, System.METRIC)}, the opening is {length(tie.around_mm, System.METRIC)} round"
            fits = (
                f"about {length(tie.wanted_mm, System.METRIC)}: twice the way round, for opening it wide and knotting"
            )
            yield Finding(RULE, SEVERITY, message, product.place(f"ties.{i}", "ties"), fits=fits)

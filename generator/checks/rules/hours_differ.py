"""The stated time can't be right.

What it finds
-------------
Hours in the header whose range lies wholly outside half the least to twice the most that such stitches take.

Why it matters
--------------
People choose a pattern for an evening by it.

Example
-------
`hours: 40` for a coaster of 12 rounds.

Write instead
-------------
The time as kept while working, or no time: a rough range is printed anyway.

Source
------
pace table of this tool (`vocabulary/standards/pace.toml`)
"""

from collections.abc import Iterator

from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity

RULE = "hours-differ"
SEVERITY = Severity.WARNING
BARE: Severity | None = None
BAD = """\
---
title: Tide mat
terms: US
rounds: spiral
hours: 40
---

```rounds
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnds 3-30: Sc in each st around (12)
Fasten off
```
"""
GOOD = """\
---
title: Tide mat
terms: US
rounds: spiral
---

```rounds
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnds 3-30: Sc in each st around (12)
Fasten off
```
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks at the hours."""
    stated = product.header.hours
    worked = product.measured.hours if product.measured else (0.0, 0.0)
    if stated is None or worked[1] <= 0 or any(at.problem for at in product.lines()):
        return
    # Making up, stuffing and embroidery are not in the stitches, so an hour more is always allowed.
    if stated[1] < worked[0] / 2 or stated[0] > worked[1] * 2 + 1:
        short = stated[1] < worked[0]
        message = f"{stated[0]:.3g} to {stated[1]:.3g} hours are stated, the stitches take about {worked[0]:.2g} to {worked[1]:.2g} (too {'little' if short else 'much'})"
        yield Finding(RULE, SEVERITY, message, product.place("hours"), fits="the time as kept, or no time at all")

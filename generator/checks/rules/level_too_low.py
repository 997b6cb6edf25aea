"""The skill level is below the techniques used.

What it finds
-------------
A pattern called basic or easy with techniques that are counted among the harder ones.

Why it matters
--------------
A beginner who trusts the level is stuck half-way, with the yarn already cut.

Example
-------
`level: basic` and front post stitches.

Write instead
-------------
`level: intermediate`.

Source
------
trade council's four levels (from memory); which technique belongs to which: `vocabulary/standards/levels.toml`
"""

from collections.abc import Iterator

from generator.checks.product import Product
from generator.checks.techniques import LEVELS, techniques
from generator.diagnostics.record import Finding, Severity

RULE = "level-too-low"
SEVERITY = Severity.WARNING
BARE: Severity | None = None
BAD = """\
---
title: Ribbed mat
terms: US
level: basic
rounds: joined
start chain: counts
---

```rounds
Rnd 1: Ch 3, 11 dc in magic ring, join with sl st to top of ch-3 (12)
Rnd 2: Ch 3, fpdc in next st, (dc in next st, fpdc in next st) 5 times, join with sl st to top of ch-3 (12)
Fasten off
```
"""
GOOD = """\
---
title: Ribbed mat
terms: US
level: intermediate
rounds: joined
start chain: counts
---

```rounds
Rnd 1: Ch 3, 11 dc in magic ring, join with sl st to top of ch-3 (12)
Rnd 2: Ch 3, fpdc in next st, (dc in next st, fpdc in next st) 5 times, join with sl st to top of ch-3 (12)
Fasten off
```
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks at the level, with the techniques that are above it."""
    stated = product.header.level
    if stated not in LEVELS:
        return
    above = [t for t in techniques(product) if LEVELS.index(t.level) > LEVELS.index(stated)]
    if above:
        highest = max(above, key=lambda t: LEVELS.index(t.level)).level
        names = ", ".join(t.name for t in above[:4])
        message = f"the level is {stated}, the pattern uses {names}"
        yield Finding(RULE, SEVERITY, message, product.place("level"), fits=f"level: {highest}")

"""The swatch and the gauge can't both be right.

What it finds
-------------
A measured or weighed swatch whose yarn for a stitch is less than half, or more than twice, what a stitch of that
gauge takes.

Why it matters
--------------
All amounts are taken from the swatch. A slip in it makes readers buy half of what they need, or twice.

Example
-------
`swatch: 20 sc x 20 rows = 160 m` for a gauge of 18 single crochet to 10 cm.

Write instead
-------------
The swatch as it was measured: `20 sc x 20 rows = 16 m`.

Source
------
yarn model of this tool (`vocabulary/standards/yarn-model.toml`); the margin is this tool's choice
"""

from collections.abc import Iterator

from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity

RULE = "swatch-unlike-gauge"
SEVERITY = Severity.WARNING
BARE: Severity | None = None
BAD = """\
---
title: Tide mat
terms: US
rounds: spiral
hook: 4 mm
gauge: 18 sc x 20 rounds = 10 cm
swatch: 20 sc x 20 rows = 160 m
yarns:
  A: {colour: reed green, weight: 4}
---

```rounds
Rnd 1: 6 sc in magic ring (6)
Fasten off
```
"""
GOOD = """\
---
title: Tide mat
terms: US
rounds: spiral
hook: 4 mm
gauge: 18 sc x 20 rounds = 10 cm
swatch: 20 sc x 20 rows = 16 m
yarns:
  A: {colour: reed green, weight: 4}
---

```rounds
Rnd 1: 6 sc in magic ring (6)
Fasten off
```
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks at the swatch."""
    ratio = product.measured.swatch_ratio if product.measured else None
    if product.header.swatch and ratio is not None and not 0.5 <= ratio <= 2.0:
        message = f"a stitch of the swatch took {ratio:.2g} times the yarn that a stitch of this gauge takes"
        yield Finding(
            RULE,
            SEVERITY,
            message,
            product.place("swatch"),
            fits="check the stitches and rows, and the metres or grams they used",
        )

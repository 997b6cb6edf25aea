"""The gauge can't be right for the yarn.

What it finds
-------------
Stitches to 10 cm less than half the least, or more than twice the most, that the yarn's weight usually gives.

Why it matters
--------------
All sizes and amounts are worked out from it; it is usually a gauge over 4 in written as over 1 in, or the reverse.

Example
-------
`gauge: 4 sc = 10 cm` and a yarn of weight 4.

Write instead
-------------
Stitches and length as measured: `gauge: 16 sc = 10 cm`.

Source
------
trade council's gauges by yarn weight, as carried by `vocabulary/standards`; the margin is this tool's choice
"""

from collections.abc import Iterator

from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity
from generator.measures.weights import weight

RULE = "gauge-implausible"
SEVERITY = Severity.WARNING
BARE: Severity | None = None
BAD = """\
---
title: Tide mat
terms: US
rounds: spiral
gauge: 4 sc x 5 rounds = 10 cm
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
gauge: 16 sc x 20 rounds = 10 cm
yarns:
  A: {colour: reed green, weight: 4}
---

```rounds
Rnd 1: 6 sc in magic ring (6)
Fasten off
```
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks at the gauge."""
    gauge = product.header.gauge
    rows = [weight(yarn.weight) for yarn in product.header.yarns if yarn.strands == 1]
    known = [row for row in rows if row is not None]
    if gauge is None or gauge.stitches <= 0 or gauge.over_mm <= 0 or not known:
        return
    given = gauge.stitches * 100 / gauge.over_mm
    low = min(float(row.get("gauge_low", 0)) for row in known)
    high = max(float(row["gauge_high"]) for row in known)
    if not low / 2 <= given <= high * 2:
        message = f"the gauge gives {given:.3g} stitches to 10 cm, yarn of this weight usually {low:g} to {high:g}"
        yield Finding(
            RULE,
            SEVERITY,
            message,
            product.place("gauge"),
            fits="check the stitches, and the length they were counted over",
        )

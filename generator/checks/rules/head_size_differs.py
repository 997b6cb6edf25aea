"""A hat does not go round the head it is for.

What it finds
-------------
`fits:` names a head size of the tables, and the widest round is far smaller or larger than that head.

Why it matters
--------------
A hat one size off is a present that is never worn.

Example
-------
`fits: Woman` and a hat of 40 stitches at 18 to 10 cm, 22 cm round.

Write instead
-------------
The stitches, the gauge or the size that was meant.

Source
------
head sizes of the trade council and measured heads, as carried by `vocabulary/standards/heads.toml`
"""

from collections.abc import Iterator

from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity
from generator.measures.heads import hat_range_mm
from generator.measures.measured import Basis
from generator.wording.numbers import System, length

RULE = "head-size-differs"
SEVERITY = Severity.WARNING
BARE: Severity | None = None
BAD = """\
---
title: Heron hat
terms: US
rounds: spiral
kind: hat
gauge: 18 sc x 20 rounds = 10 cm
fits: Woman
---

```rounds
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnd 3: (sc in next st, inc) 6 times (18)
Rnds 4-9: Sc in each st around (18)
Fasten off
```
"""
GOOD = """\
---
title: Heron hat
terms: US
rounds: joined
kind: hat
gauge: 18 sc x 20 rounds = 10 cm
fits: Woman
---

```rounds
Ch 96, join with sl st to form ring
Rnd 1: Ch 1, sc in each ch around, join with sl st to first sc (96)
Rnds 2-30: Ch 1, sc in each st around, join with sl st to first sc (96)
Fasten off
```
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks at `fits`, when the size is measured by a gauge."""
    wanted = hat_range_mm(product.header.fits) if product.header.fits else None
    part = product.measured.largest() if product.measured else None
    words = f"{product.header.kind} {product.header.title} {' '.join(product.header.tags)}".lower()
    hat = any(word in words for word in ("hat", "beanie", "cap", "bonnet"))
    if wanted is None or part is None or not hat or part.form.basis not in (Basis.GAUGE, Basis.STITCHES):
        return
    around = part.form.opening_mm or part.form.circumference_mm
    if around and not wanted[0] <= around <= wanted[1]:
        message = (
            f"the hat is {length(around, System.METRIC)} round, a head of size {product.header.fits} "
            f"wants {length(wanted[0], System.METRIC)} to {length(wanted[1], System.METRIC)}"
        )
        yield Finding(
            RULE,
            SEVERITY,
            message,
            product.place("fits"),
            fits=f"about {_stitches(product, wanted)} stitches round at this gauge",
        )


def _stitches(product: Product, wanted: tuple[float, float]) -> int:
    gauge = product.header.gauge
    return round(sum(wanted) / 2 * gauge.stitches / gauge.over_mm) if gauge and gauge.over_mm else 0

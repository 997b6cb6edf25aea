"""No finished size is stated.

What it finds
-------------
A header without `size:`.

Why it matters
--------------
The size is worked out and printed all the same, but only a measured piece can show that it is right.

Example
-------
A header with a gauge and no size.

Write instead
-------------
`size: {width: 12 cm, height: 10 cm}`, as measured.

Source
------
common practice, no source
"""

from collections.abc import Iterator

from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity
from generator.wording.numbers import System, length

RULE = "size-missing"
SEVERITY = Severity.NOTE
BARE: Severity | None = None
BAD = """\
---
title: Tide mat
terms: US
rounds: spiral
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
size: 3 cm across
---

```rounds
Rnd 1: 6 sc in magic ring (6)
Fasten off
```
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks at the title, with the size as worked out."""
    if product.header.size is not None or "size" in product.header.spans:
        return
    part = product.measured.largest() if product.measured else None
    form = part.form if part else None
    worked = f", worked out it is {length(form.width_mm, System.METRIC)} across" if form and form.width_mm else ""
    yield Finding(
        RULE,
        SEVERITY,
        f"the header states no finished size{worked}",
        product.place("title"),
        fits="measure the piece and write size: {width: …, height: …}",
    )

"""No gauge is given.

What it finds
-------------
A header without `gauge:`.

Why it matters
--------------
Without a gauge nobody can tell how large the piece will be with other yarn, and lengths and amounts are guesses from
the hook. Even a toy has one: a firm fabric, and one measured round.

Example
-------
A header with a hook and no gauge.

Write instead
-------------
`gauge: 18 sc x 20 rounds = 10 cm`.

Source
------
common practice, no source
"""

from collections.abc import Iterator

from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity

RULE = "gauge-missing"
SEVERITY = Severity.WARNING
BARE: Severity | None = None
BAD = """\
---
title: Tide mat
terms: US
rounds: spiral
hook: 4 mm
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
---

```rounds
Rnd 1: 6 sc in magic ring (6)
Fasten off
```
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks at the title."""
    if product.header.gauge is None and "gauge" not in product.header.spans:
        yield Finding(
            RULE, SEVERITY, "the header gives no gauge", product.place("title"), fits="gauge: 18 sc x 20 rounds = 10 cm"
        )

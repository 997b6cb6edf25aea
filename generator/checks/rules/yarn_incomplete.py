"""A yarn is listed without its weight, so amounts can't be worked out.

What it finds
-------------
No yarn at all in the header, or one without `weight:`.

Why it matters
--------------
Most makers use another yarn than the designer; the category says which will do. The amount to buy is worked out
from it.

Example
-------
`yarns: {A: {colour: reed green}}`.

Write instead
-------------
`yarns: {A: {colour: reed green, weight: 4, fibre: cotton}}`.

Source
------
yarn weight categories 0 to 7 of the trade council's standard (from memory)
"""

from collections.abc import Iterator

from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity

RULE = "yarn-incomplete"
SEVERITY = Severity.WARNING
BARE: Severity | None = None
BAD = """\
---
title: Tide mat
terms: US
rounds: spiral
yarns:
  A: {colour: reed green}
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
yarns:
  A: {colour: reed green, weight: 4}
---

```rounds
Rnd 1: 6 sc in magic ring (6)
Fasten off
```
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks at each yarn without a weight, or once when there is no yarn."""
    yarns = product.header.yarns
    if not yarns and "yarns" not in product.header.spans and "yarn" not in product.header.spans:
        message = "no yarn is listed, so no amount can be worked out"
        yield Finding(RULE, SEVERITY, message, product.place("title"), fits="yarns: with a key, a colour and a weight")
    for yarn in yarns:
        if yarn.weight is None and f"yarns.{yarn.key}.weight" not in product.header.spans:
            message = f"yarn {yarn.key} has no weight, so its amount can't be worked out"
            yield Finding(
                RULE, SEVERITY, message, product.place(f"yarns.{yarn.key}"), fits="weight: 4, a category from 0 to 7"
            )

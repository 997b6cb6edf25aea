"""A yarn is listed that nothing is worked in.

What it finds
-------------
An entry under `yarns:` that no working line names.

Why it matters
--------------
The maker buys a ball for nothing, or a change of colour was lost when the text was edited.

Example
-------
`yarns` lists A and B, and no line says `With B`.

Write instead
-------------
Take it out of the list, or say where it is used; embroidery can be told in the prose.

Source
------
common practice, no source
"""

from collections.abc import Iterator

from generator.checks.palette import undeclared, unused
from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity

RULE = "yarn-unused"
SEVERITY = Severity.WARNING
BARE: Severity | None = None
BAD = """\
---
title: Tide mat
terms: US
rounds: spiral
yarns:
  A: {colour: reed green, weight: 4}
  B: {colour: peat brown, weight: 4}
---

```rounds
With A
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
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
  B: {colour: peat brown, weight: 4}
---

```rounds
With A
Rnd 1: 6 sc in magic ring (6)
With B
Rnd 2: 2 sc in each st around (12)
Fasten off
```
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks at the list's entry. Where a yarn is used that isn't listed, this one is offered there instead."""
    idle = unused(product)
    if len(idle) == 1 and any(undeclared(product)):
        return
    for yarn in idle:
        message = f"yarn {yarn.key} ({yarn.colour}) is listed and never used"
        place = product.place(f"yarns.{yarn.key}")
        yield Finding(RULE, SEVERITY, message, place, fits="take it out, or say where it is used")

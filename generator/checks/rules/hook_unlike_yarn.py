"""The hook is far outside what the yarn is worked with.

What it finds
-------------
A hook much thinner or much thicker than the council's range for the yarn's weight.

Why it matters
--------------
It is usually a typing slip, in the hook or in the weight. Firm toys and loose shawls stay within what is allowed.

Example
-------
`hook: 12 mm` and a yarn of weight 1.

Write instead
-------------
The hook that was used; or answer with `intended` when it is meant.

Source
------
trade council's ranges of hooks by yarn weight, as carried by `vocabulary/standards`; the margin is this tool's choice
"""

from collections.abc import Iterator

from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity
from generator.measures.hooks import hooks_for, plausible

RULE = "hook-unlike-yarn"
SEVERITY = Severity.WARNING
BARE: Severity | None = None
BAD = """\
---
title: Tide mat
terms: US
rounds: spiral
hook: 12 mm
yarns:
  A: {colour: reed green, weight: 1}
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
hook: 3 mm
yarns:
  A: {colour: reed green, weight: 1}
---

```rounds
Rnd 1: 6 sc in magic ring (6)
Fasten off
```
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks when the hook goes with none of the yarns. Yarn held double counts as no known weight."""
    yarns = [y for y in product.header.yarns if y.weight is not None and y.strands == 1]
    if not yarns or len(yarns) < len(product.header.yarns):
        return
    for mm in product.header.hooks_mm:
        if all(plausible(mm, yarn.weight) is False for yarn in yarns):
            low, high = hooks_for(yarns[0].weight or 0) or (0.0, None)
            span = f"{low:g} to {high:g} mm" if high else f"{low:g} mm and more"
            message = f"a hook of {mm:g} mm is unlikely for yarn of weight {yarns[0].weight}"
            yield Finding(RULE, SEVERITY, message, product.place("hook"), fits=f"{span} is usual")

"""The hook has a size that no table lists.

What it finds
-------------
Millimetres between two listed sizes, such as 4.1.

Why it matters
--------------
It is usually a typing slip; nobody can buy such a hook.

Example
-------
`hook: 4.1 mm`.

Write instead
-------------
`hook: 4 mm`.

Source
------
trade council's table of hook sizes and others beside it, as carried by `vocabulary/standards`
"""

from collections.abc import Iterator

from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity
from generator.vocabulary import load

RULE = "hook-between-sizes"
SEVERITY = Severity.WARNING
BARE: Severity | None = None
BAD = """\
---
title: Tide mat
terms: US
rounds: spiral
hook: 4.1 mm
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
---

```rounds
Rnd 1: 6 sc in magic ring (6)
Fasten off
```
"""

NEAR = 0.03
"""mm; nearer than any two listed sizes."""


def check(product: Product) -> Iterator[Finding]:
    """Speaks at the hook, with the sizes on either side. Hooks thinner than 2 mm are steel hooks, whose tables differ."""
    listed = sorted(float(str(row["mm"])) for row in load.table("hooks").rows)
    for mm in product.header.hooks_mm:
        if mm >= listed[0] and not any(abs(mm - size) < NEAR for size in listed):
            near = [
                f"{s:g} mm"
                for s in (max(s for s in listed if s < mm), min((s for s in listed if s > mm), default=0.0))
                if s
            ]
            yield Finding(
                RULE, SEVERITY, f"no table lists a hook of {mm:g} mm", product.place("hook"), fits=" or ".join(near)
            )

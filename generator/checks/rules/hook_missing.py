"""No hook in millimetres.

What it finds
-------------
A header without `hook:`, or one that names only a letter or number.

Why it matters
--------------
Letters differ between makers and countries; millimetres are on every hook.

Example
-------
`hook: G`.

Write instead
-------------
`hook: 4 mm`. The labels of other countries are printed from the table.

Source
------
trade council's table of hook sizes, as carried by `vocabulary/standards`
"""

from collections.abc import Iterator

from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity
from generator.measures.hooks import candidates

RULE = "hook-missing"
SEVERITY = Severity.WARNING
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
hook: 4 mm
---

```rounds
Rnd 1: 6 sc in magic ring (6)
Fasten off
```
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks at the label, or at the title when there is no hook."""
    header = product.header
    if header.hooks_mm:
        return
    if header.hook_label:
        sizes = sorted({c.mm for c in candidates(header.hook_label)})
        fits = " or ".join(f"{mm:g} mm" for mm in sizes) if sizes else "the size in millimetres"
        yield Finding(
            RULE, SEVERITY, f"the hook `{header.hook_label}` has no millimetres", product.place("hook"), fits=fits
        )
    elif "hook" not in header.spans:
        yield Finding(RULE, SEVERITY, "the header names no hook", product.place("title"), fits="hook: 4 mm")

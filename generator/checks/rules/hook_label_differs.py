"""The hook's letter or number and its millimetres are on different rows of the table.

What it finds
-------------
A label beside the millimetres that no table gives for that size.

Why it matters
--------------
A maker who trusts the letter works with another hook than one who trusts the millimetres.

Example
-------
`hook: 5 mm (G)`; G is 4 mm in the usual table.

Write instead
-------------
The millimetres alone, or the label that belongs to them.

Source
------
trade council's table of hook sizes and others beside it, as carried by `vocabulary/standards`
"""

from collections.abc import Iterator

from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity
from generator.measures.hooks import candidates, label_fits

RULE = "hook-label-differs"
SEVERITY = Severity.WARNING
BARE: Severity | None = None
BAD = """\
---
title: Tide mat
terms: US
rounds: spiral
hook: 5 mm (G)
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
hook: 5 mm (H)
---

```rounds
Rnd 1: 6 sc in magic ring (6)
Fasten off
```
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks where label and millimetres don't go together."""
    label, hooks = product.header.hook_label, product.header.hooks_mm
    if not label or not hooks or any(label_fits(label, mm) is not False for mm in hooks):
        return
    sizes = " or ".join(f"{mm:g} mm" for mm in sorted({c.mm for c in candidates(label)}))
    message = f"the hook is {hooks[0]:g} mm, `{label}` is {sizes}"
    yield Finding(
        RULE, SEVERITY, message, product.place("hook"), fits=f"hook: {hooks[0]:g} mm, or the size that was meant"
    )

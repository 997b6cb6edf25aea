"""Small parts on something for a child under three.

What it finds
-------------
Beads, buttons, safety eyes and the like in the notions of a pattern that is `for: baby` or `for: under-3`.

Why it matters
--------------
Small parts come off and are swallowed. Toy rules in many places do not allow them for children under three.

Example
-------
`for: baby` and `notions: [two 8 mm safety eyes]`.

Write instead
-------------
Embroidered eyes; or say that it is not for children under three.

Source
------
usual caution, defers to local rules; toy safety standards as named in `vocabulary/standards/safety-limits.toml`
"""

from collections.abc import Iterator

from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity

RULE = "small-parts-for-little-ones"
SEVERITY = Severity.ERROR
BARE: Severity | None = None
BAD = """\
---
title: Heron toy
terms: US
rounds: spiral
kind: toy
for: baby
notions: [two 8 mm safety eyes]
---

```rounds
Rnd 1: 6 sc in magic ring (6)
Fasten off
```
"""
GOOD = """\
---
title: Heron toy
terms: US
rounds: spiral
kind: toy
for: baby
notions: [black thread for embroidered eyes]
---

```rounds
Rnd 1: 6 sc in magic ring (6)
Fasten off
```
"""

_SIGNS = ("small parts", "plastic eyes")


def check(product: Product) -> Iterator[Finding]:
    """Speaks at the notions."""
    if product.header.audience not in ("baby", "under-3") or product.measured is None:
        return
    for sign in product.measured.signs:
        if sign in _SIGNS:
            message = f"{sign} on something that is for a {_WHO[product.header.audience]}"
            fits = "embroider them, or write for: adult and say that it is not for small children; local rules decide"
            yield Finding(RULE, SEVERITY, message, product.place("notions", "for", "title"), fits=fits)
            return


_WHO = {"baby": "baby", "under-3": "child under three"}

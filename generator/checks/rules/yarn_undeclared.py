"""A yarn or colour is used that the header does not list.

What it finds
-------------
`With C` or `change to white` where the header's `yarns` has no such key and no such colour.

Why it matters
--------------
The maker has bought the yarns of the list. Amounts and chart colours can't be worked out for a yarn nobody described.

Example
-------
`yarns` lists A and B; `Rnd 3: With C, sc in each st around`.

Write instead
-------------
Add it to the list: `C: {colour: chalk white, weight: 4}`, or use the key that is there.

Source
------
common practice, no source
"""

from collections.abc import Iterator

from generator.checks import say
from generator.checks.palette import undeclared, unused
from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity
from generator.notation.tree import Yarn

RULE = "yarn-undeclared"
SEVERITY = Severity.ERROR
BARE: Severity | None = None
BAD = """\
---
title: Tide mat
terms: US
rounds: spiral
yarns:
  A: {colour: reed green, weight: 4}
---

```rounds
With A
Rnd 1: 6 sc in magic ring (6)
With C
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
  C: {colour: chalk white, weight: 4}
---

```rounds
With A
Rnd 1: 6 sc in magic ring (6)
With C
Rnd 2: 2 sc in each st around (12)
Fasten off
```
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks once for each undeclared yarn, with what is worked in it."""
    idle = unused(product)
    keys = ", ".join(yarn.key for yarn in product.header.yarns)
    fits = f"add it under `yarns:`, which has {keys}"
    if len(idle) == 1:
        fits = f"{idle[0].key} ({idle[0].colour}), which is listed and never used; or {fits}"
    for yarn in undeclared(product):
        message = (
            f"the yarn {say.quote(_as_written(product, yarn))} is used but not listed{_amount(product, yarn.name)}"
        )
        yield Finding(RULE, SEVERITY, message, yarn.span, fits=fits)


def _as_written(product: Product, yarn: Yarn) -> str:
    """The name with the author's capitals."""
    words = product.words(yarn.span)
    start = words.lower().find(yarn.name.lower())
    return words[start : start + len(yarn.name)] if start >= 0 else yarn.name


def _amount(product: Product, name: str) -> str:
    stitches = sum(run.n for part in product.fabric.parts for c in part.courses for run in c.runs if run.yarn == name)
    return f" ({say.plural(stitches, 'stitch')} are worked in it)" if stitches else ""

"""Nobody says whether the pattern is in US or UK terms.

What it finds
-------------
A header without `terms:`.

Why it matters
--------------
The same words name other stitches on the other side of the ocean: a UK `dc` is a US `sc`. A reader may find out
after hours of work.

Example
-------
A header with a title and no `terms:`.

Write instead
-------------
`terms: US` or `terms: UK`. Both editions are printed from it, each with its label.

Source
------
common practice, no source
"""

from collections.abc import Iterator

from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity

RULE = "terms-unsaid"
SEVERITY = Severity.ERROR
BARE: Severity | None = None
BAD = """\
---
title: Tide mat
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
---

```rounds
Rnd 1: 6 sc in magic ring (6)
Fasten off
```
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks at the title."""
    if not product.header.terms and "terms" not in product.header.spans:
        found = f"terms: {product.terms}, which the words look like" if product.terms else "terms: US, or terms: UK"
        yield Finding(
            RULE, SEVERITY, "the header does not say whether the terms are US or UK", product.place("title"), fits=found
        )

"""Nobody says for whom it is, and it matters.

What it finds
-------------
Cords, loops, small parts, stuffing and the like in a pattern without `for:`.

Why it matters
--------------
What is fine on a shelf can hurt a child under three. The cautions that are printed depend on it.

Example
-------
`notions: [two 8 mm safety eyes]` and no `for:`.

Write instead
-------------
`for: adult`, `child`, `under-3`, `baby`, `pet` or `home`.

Source
------
usual cautions with their sources: `vocabulary/standards/cautions.toml`
"""

from collections.abc import Iterator

from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity

RULE = "audience-unsaid"
SEVERITY = Severity.WARNING
BARE: Severity | None = None
BAD = """\
---
title: Heron toy
terms: US
rounds: spiral
kind: toy
notions: [two 8 mm safety eyes, stuffing]
---

```rounds
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Fasten off
```
"""
GOOD = """\
---
title: Heron toy
terms: US
rounds: spiral
kind: toy
for: adult
notions: [two 8 mm safety eyes, stuffing]
---

```rounds
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Fasten off
```
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks at the notions or the title."""
    measured = product.measured
    if measured is None or not measured.needs_audience or product.header.audience or "for" in product.header.spans:
        return
    because = ", ".join(dict.fromkeys(caution.because for caution in measured.cautions if caution.because))
    what = because or ", ".join(measured.signs)
    message = f"nobody says for whom it is, and it has {what}" if what else "nobody says for whom it is"
    yield Finding(
        RULE, SEVERITY, message, product.place("notions", "title"), fits="for: adult, child, under-3, baby, pet or home"
    )

"""A stitch is explained in the header and never used.

What it finds
-------------
An entry under `stitches:` whose abbreviation and name no working line has.

Why it matters
--------------
Readers learn a stitch for nothing, or a round has lost it.

Example
-------
`stitches: {bead: {abbreviation: bd, worked: "4 hdc in next st"}}`, and no `bd` in any round.

Write instead
-------------
Take the entry out, or use it.

Source
------
common practice, no source
"""

import re
from collections.abc import Iterator

from generator.checks import say, texts
from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity

RULE = "definition-unused"
SEVERITY = Severity.NOTE
BARE: Severity | None = None
BAD = """\
---
title: Tide mat
terms: US
rounds: spiral
stitches:
  bead: {abbreviation: bd, worked: "4 hdc in next st"}
---

```rounds
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
---

```rounds
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Fasten off
```
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks at the entry."""
    if not product.lines():
        return
    words = " ".join(passage.text for passage in texts.lines(product)).lower()
    for special in product.header.stitches:
        names = [n.lower() for n in (special.abbreviation, special.name, special.key) if n]
        if not any(re.search(rf"(?<!\w){re.escape(n)}s?(?!\w)|\d{re.escape(n)}\b", words) for n in names):
            message = f"the stitch {say.quote(special.name)} is explained and never used"
            yield Finding(
                RULE, SEVERITY, message, product.place(f"stitches.{special.key}"), fits="take it out, or use it"
            )

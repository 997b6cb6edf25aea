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

import re
from collections.abc import Iterator

from generator.checks import steps, texts
from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity
from generator.notation.tree import Yarn

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
    """Speaks at the list's entry. A single yarn need not be named in the lines."""
    yarns = product.header.yarns
    if len(yarns) < 2 or not product.lines():
        return
    used = {yarn.name.lower() for at in product.lines() for yarn in steps.find(Yarn, at.worked.steps)}
    used |= {run.yarn.lower() for part in product.fabric.parts for c in part.courses for run in c.runs}
    if "" in used:  # what is worked before any yarn is named is worked in the first
        used.add(yarns[0].key.lower())
    words = " ".join(passage.text for passage in texts.passages(product))
    for yarn in yarns:
        if yarn.key.lower() in used or yarn.colour.lower() in used:
            continue
        told = re.search(rf"\b(?i:in|with|using|and|of|to|join|yarn|colou?r)\s+{re.escape(yarn.key)}\b", words) or (
            yarn.colour and re.search(rf"\b{re.escape(yarn.colour)}\b", words, re.IGNORECASE)
        )
        if not told:
            message = f"yarn {yarn.key} ({yarn.colour}) is listed and never used"
            yield Finding(
                RULE, SEVERITY, message, product.place(f"yarns.{yarn.key}"), fits="take it out, or say where it is used"
            )

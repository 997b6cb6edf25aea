"""A colour changes at the start of a round without saying on which step.

What it finds
-------------
`Rnd 6: Change to B, sc around` with nothing about the last pull-through.

Why it matters
--------------
Changed on the last pull-through of the round before, the edge is clean; changed on the first stitch, the old colour
shows in its top.

Example
-------
`Rnd 3: Change to B, sc in each st around`.

Write instead
-------------
At the end of round 2: `changing to B in the last pull-through`; or a line `With B` after fastening off.

Source
------
common practice, no source
"""

import re
from collections.abc import Iterator

from generator.checks import say, texts
from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity
from generator.notation.tree import Yarn

RULE = "colour-when-unsaid"
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
Rnd 2: Change to B, 2 sc in each st around (12)
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

Every change of colour is made in the last pull-through of the stitch before.

```rounds
With A
Rnd 1: 6 sc in magic ring (6)
Rnd 2: Change to B, 2 sc in each st around (12)
Fasten off
```
"""

_STEP = re.compile(
    r"\blast (?:pull|yarn|yo\b|loops?|2 loops|two loops|st\b|stitch)|pull-?through|final (?:yo|yarn over|loop)|join(?:ing)? with",
    re.IGNORECASE,
)


def check(product: Product) -> Iterator[Finding]:
    """Speaks where a line begins with the change; a rule told in the prose answers it."""
    if any(_STEP.search(passage.text) for passage in texts.prose(product)):
        return
    for at in product.lines():
        first = next(iter(at.worked.steps), None)
        changes = isinstance(first, Yarn) and first.how == "change" and at.courses and product.before(at)
        if first is not None and changes and not _STEP.search(product.words(at.span)):
            message = f"{say.name(at)} changes colour without saying on which step"
            fits = "change in the last pull-through of the round before, or say so once in the prose"
            yield Finding(RULE, SEVERITY, message, first.span, fits=fits)

"""Stuffing, eyes or wire come when the opening is already too small.

What it finds
-------------
A line that says to stuff, or to put in safety eyes, after a round of at most 6 stitches or after closing.

Why it matters
--------------
A hand no longer fits in; the back of a safety eye can't be pressed on from outside.

Example
-------
`Rnd 5: dec 6 times (6)`, then `Close and stuff firmly`.

Write instead
-------------
The stuffing before the last decrease rounds, and a last bit before closing.

Source
------
common practice, no source
"""

import re
from collections.abc import Iterator

from generator.checks import say, steps
from generator.checks.product import At, Product
from generator.diagnostics.record import Finding, Severity
from generator.notation.tree import Remark

RULE = "stuffed-late"
SEVERITY = Severity.ERROR
BARE: Severity | None = Severity.NOTE
BAD = """\
---
title: Reed ball
terms: US
rounds: spiral
---

```rounds
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnds 3-4: Sc in each st around (12)
Rnd 5: dec 6 times (6)
Stuff firmly
Fasten off
```
"""
GOOD = """\
---
title: Reed ball
terms: US
rounds: spiral
---

```rounds
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnds 3-4: Sc in each st around (12)
Stuff firmly
Rnd 5: dec 6 times (6)
Fasten off
```
"""

SMALL = 6
"""Stitches of an opening no hand and hardly a hook fits through; common practice, no source."""

_LATE = {"stuff": "stuffing", "eyes": "putting in the eyes"}


def check(product: Product) -> Iterator[Finding]:
    """Speaks at the stuffing or the eyes, when it is the first time they are told."""
    for _part, lines in product.parts():
        told: set[str] = set()
        for at in lines:
            for remark in steps.find(Remark, at.worked.steps):
                if remark.act in _LATE and remark.act not in told:
                    told.add(remark.act)
                    yield from _late(product, at, remark)


def _late(product: Product, at: At, remark: Remark) -> Iterator[Finding]:
    before = at if at.courses else product.before(at)
    largest = max((course.live for course in at.part.courses), default=0)
    if before is None or largest <= 2 * SMALL - 1 or before.worked.live > SMALL or before.worked.live >= largest:
        return
    if before.index == 0 or re.search(r"as you go|as work proceeds", product.words(at.span), re.IGNORECASE):
        return
    roomy = next(
        (
            o
            for o in reversed(product.in_part(at.part_index)[: at.index])
            if o.courses and o.worked.live > 2 * SMALL - 1
        ),
        None,
    )
    message = f"{_LATE[remark.act]} comes when only {say.plural(before.worked.live, 'stitch')} are open"
    fits = f"after {say.name(roomy)} there are still {roomy.worked.live}" if roomy else ""
    yield Finding(RULE, SEVERITY, message, remark.span, fits=fits)

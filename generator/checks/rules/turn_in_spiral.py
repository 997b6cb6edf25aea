"""The work is turned in a spiral.

What it finds
-------------
`turn` in a part the header says goes on as a spiral.

Why it matters
--------------
Turning in a spiral sends the maker back over the stitches just made.

Example
-------
`rounds: spiral`, and `Rnd 2: 2 sc in each st around, turn`.

Write instead
-------------
Take out the turn, or join and turn each round.

Source
------
common practice, no source
"""

from collections.abc import Iterator

from generator.checks import say, steps
from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity
from generator.fabric.model import Make
from generator.notation.tree import FastenOff, Join, Turn, Word

RULE = "turn-in-spiral"
SEVERITY = Severity.WARNING
BARE: Severity | None = None
BAD = """\
---
title: Reed ball
terms: US
rounds: spiral
---

```rounds
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around, turn (12)
Rnd 3: Sc in each st around (12)
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
Rnd 3: Sc in each st around (12)
```
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks at the turn."""
    if product.header.rounds != "spiral":
        return
    for at in product.lines():
        turns = steps.find(Turn, at.worked.steps)
        spiral = at.label.word is Word.ROUND and not any(c.make is Make.JOINED for c in at.courses)
        if turns and spiral and not steps.has((Join, FastenOff), at.worked.steps):
            message = f"{say.name(at)} turns, and the header says the rounds go on as a spiral"
            yield Finding(RULE, SEVERITY, message, turns[0].span, fits="take out the turn, or join the round first")

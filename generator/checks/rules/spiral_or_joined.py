"""Nobody says whether the rounds are joined or go on as a spiral, or both are said.

What it finds
-------------
A part worked in rounds with no join, no "do not join" and no `rounds:` in the header; or a header that says spiral
over rounds that join.

Why it matters
--------------
The first thing a maker has to know at the end of round 1 is whether to join.

Example
-------
Rounds without a join and nothing said in the header.

Write instead
-------------
`rounds: spiral` or `rounds: joined` in the header; and a line of its own where it changes over.

Source
------
common practice, no source
"""

from collections.abc import Iterator

from generator.checks import say, steps
from generator.checks.product import At, Product
from generator.diagnostics.record import Finding, Severity
from generator.fabric.model import Make
from generator.notation.tree import Convention, Join, Stay

RULE = "spiral-or-joined"
SEVERITY = Severity.ERROR
BARE: Severity | None = None
BAD = """\
---
title: Reed ball
terms: US
---

```rounds
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnd 3: (sc in next st, inc) 6 times (18)
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
Rnd 3: (sc in next st, inc) 6 times (18)
```
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks once a pattern when nothing is said, and at the first join against the header."""
    said = product.header.rounds
    for _part, lines in product.parts():
        rounds = [at for at in lines if any(c.make in (Make.SPIRAL, Make.JOINED) for c in at.courses)]
        if len(rounds) < 2:
            continue
        first = next((at for at in rounds if _joins(at)), None)
        changes = any(_convention(at) for at in lines)
        if said == "spiral" and first is not None and not changes and rounds.index(first) < len(rounds) - 1:
            message = f"the header says the rounds go on as a spiral, {say.name(first)} joins"
            yield Finding(RULE, SEVERITY, message, first.span, fits="`rounds: joined`, or take out the join")
            return
        if not said and not changes and first is None and not any(steps.has(Stay, at.worked.steps) for at in lines):
            message = "nothing says whether the rounds are joined or go on as a spiral"
            yield Finding(
                RULE, SEVERITY, message, rounds[0].span, fits="`rounds: spiral` or `rounds: joined` in the header"
            )
            return


def _joins(at: At) -> bool:
    return steps.has(Join, at.worked.steps) and any(c.make is Make.JOINED for c in at.courses)


def _convention(at: At) -> bool:
    return any(step.name == "rounds" for step in steps.find(Convention, at.worked.steps))

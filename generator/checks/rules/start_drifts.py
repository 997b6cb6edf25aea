"""Something is placed by the start of the round after many spiral rounds.

What it finds
-------------
`centre back`, `opposite the start of the round` and the like in a piece with 12 or more spiral rounds.

Why it matters
--------------
In a spiral of single crochet the start moves about half a stitch a round; after twenty rounds that is ten stitches.

Example
-------
`Sew the tail opposite the start of the round` after `Rnds 4-30`.

Write instead
-------------
A marker: `place a marker in the 1st st of Rnd 4`, and place things from it.

Source
------
half a stitch a round: derived from a stitch sitting between two below it; common practice, no source
"""

import re
from collections.abc import Iterator

from generator.checks import say, texts
from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity
from generator.fabric.model import Make

RULE = "start-drifts"
SEVERITY = Severity.WARNING
BARE: Severity | None = None
BAD = """\
---
title: Heron
terms: US
rounds: spiral
---

```rounds
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnd 3: (sc in next st, inc) 6 times (18)
Rnds 4-30: Sc in each st around (18)
Fasten off
Note: sew the tail opposite the start of the round.
```
"""
GOOD = """\
---
title: Heron
terms: US
rounds: spiral
---

```rounds
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnd 3: (sc in next st, inc) 6 times (18)
Rnds 4-30: Sc in each st around (18)
Fasten off
Note: sew the tail nine stitches from the marked stitch of round 30.
```
"""

ROUNDS = 12
"""Spiral rounds after which the drift (half a stitch a round) is worth a word."""

_PLACED = re.compile(
    r"\b(?:cent(?:re|er) (?:back|front)|(?:opposite|above|below|in line with|at) the (?:start|beginning|seam|join) of (?:the )?(?:rnds?|rounds?|spiral))\b",
    re.IGNORECASE,
)


def check(product: Product) -> Iterator[Finding]:
    """Speaks at the words that place something."""
    spiral = [c for part in product.fabric.parts for c in part.courses if c.make is Make.SPIRAL]
    rounds = max((sum(c.make is Make.SPIRAL for c in part.courses) for part in product.fabric.parts), default=0)
    if rounds < ROUNDS:
        return
    drift = rounds / 2
    around = max(course.live for course in spiral) or 1
    for passage, match in texts.in_passages(product, _PLACED, "centre", "center", " the "):
        message = f"{say.quote(match[0])}: in a spiral the start moves about {drift:g} stitches in {rounds} rounds, {_turn(drift / around)}"
        yield Finding(RULE, SEVERITY, message, passage.at(*match.span()), fits="mark a stitch and place from it")


def _turn(share: float) -> str:
    degrees = round(share * 360)
    return f"{degrees} degrees round the piece" if degrees < 360 else "more than once round the piece"

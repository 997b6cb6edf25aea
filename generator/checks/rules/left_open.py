"""A closed shape ends with a hole and nothing says how to close it.

What it finds
-------------
A stuffed piece, or one that narrowed to 12 stitches or fewer, that is fastened off with no word on closing.

Why it matters
--------------
The stuffing comes out through eight open stitches; a maker who has not seen it done does not know the needle trick.

Example
-------
`Rnd 8: dec 6 times (6)`, `Fasten off`.

Write instead
-------------
`Fasten off, thread the tail through the front loops of the last round and draw tight`.

Source
------
common practice, no source
"""

import re
from collections.abc import Iterator

from generator.checks import say, steps, texts
from generator.checks.product import At, Product
from generator.diagnostics.record import Finding, Severity
from generator.fabric.model import Make
from generator.notation.tree import Remark

RULE = "left-open"
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
Rnd 2: 2 sc in each st around (12)
Rnd 3: (sc in next st, inc) 6 times (18)
Rnds 4-6: Sc in each st around (18)
Stuff firmly
Rnd 7: (sc in next st, dec) 6 times (12)
Rnd 8: dec 6 times (6)
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
Rnd 3: (sc in next st, inc) 6 times (18)
Rnds 4-6: Sc in each st around (18)
Stuff firmly
Rnd 7: (sc in next st, dec) 6 times (12)
Rnd 8: dec 6 times (6)
Fasten off, leaving a long tail
Note: thread the tail through the front loops of the last round and draw tight.
```
"""

_CLOSED = re.compile(
    r"clos(?:e|ing)|draw(?:n)?\b.{0,20}(?:tight|up|closed)|pull\b.{0,20}(?:tight|closed)|gather|thread|through (?:the )?(?:front |remaining |last )|sew|whip|cinch",
    re.IGNORECASE,
)


def check(product: Product) -> Iterator[Finding]:
    """Speaks at the last round of a stuffed part."""
    everywhere = " ".join(passage.text for passage in texts.prose(product))
    for part, lines in product.parts():
        rounds = [at for at in lines if at.courses]
        stuffed = product.header.stuffed or any(
            r.act == "stuff" for at in lines for r in steps.find(Remark, at.worked.steps)
        )
        if not rounds or not stuffed or part.courses[-1].make is Make.ROW:
            continue
        last = rounds[-1]
        peak = max(course.live for course in part.courses)
        narrowed = 2 < last.worked.live <= 12 and last.worked.live * 2 <= peak
        if narrowed and not _told(product, lines[last.index :]) and not _CLOSED.search(everywhere):
            message = f"{say.plural(last.worked.live, 'stitch')} are still open at the end"
            fits = "say how to close them, such as: thread the tail through the front loops and draw tight"
            yield Finding(RULE, SEVERITY, message, last.span, fits=fits)


def _told(product: Product, lines: tuple[At, ...]) -> bool:
    return any(_CLOSED.search(product.words(at.span)) for at in lines)

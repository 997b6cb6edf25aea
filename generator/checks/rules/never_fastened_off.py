"""A part is never finished.

What it finds
-------------
A part whose last line says nothing of fastening off, closing, or leaving a tail, and that no other part goes on from.

Why it matters
--------------
A piece that is not fastened off unravels; the maker also has to know whether to leave a tail for sewing.

Example
-------
A ball whose last line is `Rnd 8: dec 6 times (6)`.

Write instead
-------------
`Fasten off, leaving a long tail` after the last round.

Source
------
common practice, no source
"""

import re
from collections.abc import Iterator

from generator.checks import steps, texts
from generator.checks.product import At, Product
from generator.diagnostics.record import Finding, Severity
from generator.notation.tree import FastenOff

RULE = "never-fastened-off"
SEVERITY = Severity.NOTE
BARE: Severity | None = None
BAD = """\
---
title: Tide mat
terms: US
rounds: spiral
---

```rounds
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
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
Fasten off, leaving a long tail
```
"""

_FINISHED = re.compile(
    r"fasten(?:ed|ing)?\s+off|\bFO\b|finish off|bind off|\bend off|break (?:off|yarn)|cut (?:the )?yarn|do not (?:cut|break|fasten)|don't (?:cut|fasten)|weave in|darn in",
    re.IGNORECASE,
)


def check(product: Product) -> Iterator[Finding]:
    """Speaks at the last line of the part."""
    everywhere = " ".join(passage.text for passage in texts.prose(product))
    for part, lines in product.parts():
        made = [at for at in lines if at.courses]
        if not made or _finished(product, lines) or _FINISHED.search(everywhere):
            continue
        name = f"the part {part.name!r}" if part.name else "the work"
        message = f"{name} ends without fastening off".replace("'", "`")
        yield Finding(
            RULE,
            SEVERITY,
            message,
            made[-1].span,
            fits="say how it ends: fasten off, close, leave a tail, or do not cut the yarn",
        )


def _finished(product: Product, lines: tuple[At, ...]) -> bool:
    return any(
        steps.has(FastenOff, at.worked.steps) or _FINISHED.search(product.words(at.span)) for at in reversed(lines)
    )

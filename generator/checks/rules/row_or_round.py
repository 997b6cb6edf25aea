"""Rows and rounds are mixed in one part.

What it finds
-------------
A line called a row among lines called rounds, with nothing turned or fastened off between them.

Why it matters
--------------
A row is worked back and forth, a round goes on; the word alone makes a maker turn the work.

Example
-------
`Rnd 1: …`, `Row 2: Sc in each st around`.

Write instead
-------------
One word for the whole part: `Rnd 2`.

Source
------
common practice, no source
"""

from collections.abc import Iterator

from generator.checks import say
from generator.checks.product import Product
from generator.diagnostics.record import Finding, Fix, Severity
from generator.fabric.model import Make
from generator.notation.tree import Word

RULE = "row-or-round"
SEVERITY = Severity.WARNING
# Motifs of a hundred years ago call their rounds rows throughout.
BARE: Severity | None = None
BAD = """\
---
title: Tide mat
terms: US
rounds: spiral
---

```rounds
Rnd 1: 6 sc in magic ring (6)
Row 2: 2 sc in each st around (12)
Rnd 3: (sc in next st, inc) 6 times (18)
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
Rnd 3: (sc in next st, inc) 6 times (18)
```
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks at a label that doesn't go with how the work goes."""
    for _part, lines in product.parts():
        rounds = any(at.label.word is Word.ROUND for at in lines)
        for at in lines:
            made_round = any(course.make in (Make.SPIRAL, Make.JOINED) for course in at.courses)
            if rounds and at.label.word is Word.ROW and made_round:
                words = product.words(at.label.span)
                fix = Fix(at.label.span, words.replace("Row", "Rnd", 1)) if "Row" in words else None
                message = f"{say.name(at)} is worked as a round, and this part has rounds"
                yield Finding(RULE, SEVERITY, message, at.label.span, fits="call it a round", fix=fix)

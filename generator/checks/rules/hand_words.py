"""Left, right or clockwise stands in an instruction.

What it finds
-------------
Directions in working lines and prose that are true for one hand only.

Why it matters
--------------
About one maker in ten works with the left hand, and her piece is the mirror of yours.

Example
-------
`Sew the wing to the left of the start`.

Write instead
-------------
`four stitches after the start, in working direction`: true for both.

Source
------
common practice, no source
"""

import re
from collections.abc import Iterator

from generator.checks import say, texts
from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity

RULE = "hand-words"
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
Fasten off
Note: sew the wing to the left of the start.
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
Fasten off
Note: sew the wing four stitches after the start, in working direction.
```
"""

_HAND = re.compile(
    r"\b(?:(?:to|on|at|from|towards?) (?:the|your) (left|right)(?! (?:sides?|side-out|way|size|number|amount)\b)"
    r"|from (right to left|left to right)|(?:anti-?|counter-?)?clockwise)\b",
    re.IGNORECASE,
)


def check(product: Product) -> Iterator[Finding]:
    """Speaks at each direction; a sentence that names both hands answers itself."""
    for passage, match in texts.in_passages(product, _HAND, "left", "right", "clockwise"):
        around = passage.text[max(0, match.start() - 160) : match.end() + 160]
        if not re.search(r"(?:left|right)[- ]hand(?:ed|er)", around, re.IGNORECASE):
            message = f"{say.quote(match[0])} is mirrored for a left-handed maker"
            yield Finding(
                RULE,
                SEVERITY,
                message,
                passage.at(*match.span()),
                fits="say it by stitches and working direction, such as `four stitches after the start`",
            )

"""Rounds or rows stand outside a working block, so nobody works them.

What it finds
-------------
Lines in the prose, or in a block of another name, that look like rounds: a label with a number, stitches behind it.

Why it matters
--------------
Only what stands in a working block is worked, proved, drawn and put into both terms. The rest is printed as it stands,
right or wrong.

Example
-------
`Rnd 1: 6 sc in magic ring (6)` under a heading, without the line that opens a block.

Write instead
-------------
Three backticks and `rounds` (or `rows`) on a line of their own before the first of them, three backticks after the last.

Source
------
common practice, no source
"""

from collections.abc import Iterator

from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity
from generator.notation.loose import loose_rounds, opened_by

RULE = "round-outside-block"
SEVERITY = Severity.WARNING
BARE: Severity | None = None
BAD = """\
---
title: Tide mat
terms: US
rounds: spiral
hook: 4 mm
gauge: 18 sc x 20 rounds = 10 cm
size: {width: 2 cm}
---

## Mat

```rounds
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Fasten off
```

## Button

Rnd 1: 6 sc in magic ring (6)
Rnd 2: sc in each st around (6)
"""
GOOD = """\
---
title: Tide mat
terms: US
rounds: spiral
hook: 4 mm
gauge: 18 sc x 20 rounds = 10 cm
size: {width: 2 cm}
---

## Mat

```rounds
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Fasten off
```

Rounds 1 and 2 lie flat.
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks at the first line of each run. Where there is no block at all, reading the file has said so already."""
    if not product.pattern.pieces():
        return
    source = product.pattern.source
    for block in product.prose():
        for span in loose_rounds(source, block.span):
            first = source.place(span.start)[0]
            kind = "rows" if "row" in source.line(first)[:12].lower() else "rounds"
            name = opened_by(source, span).lstrip("`~ ")
            message, fits = f"nobody works the {kind} from here, which stand outside the working blocks", _FITS % kind
            if name:
                message, fits = f"nobody works the {kind} in a block called `{name}`", f"```{kind} instead of ```{name}"
            yield Finding(RULE, SEVERITY, message, source.line_span(first), fits)


_FITS = "```%s on a line of its own before them, ``` after the last"

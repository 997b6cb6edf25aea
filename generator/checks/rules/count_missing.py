"""A round states no count.

What it finds
-------------
Working lines without a number of stitches at their end.

Why it matters
--------------
Stitch counts are what makers ask for most. A count the author states is also a second witness: it proves the words.

Example
-------
`Rnds 3-5: Sc in each st around`.

Write instead
-------------
`Rnds 3-5: Sc in each st around (12)`.

Source
------
common practice, no source
"""

from collections.abc import Iterator

from generator.checks import proving, say
from generator.checks.product import At, Product
from generator.diagnostics.record import Finding, Fix, Severity
from generator.notation.tree import Word
from generator.source import Span

RULE = "count-missing"
SEVERITY = Severity.WARNING
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
Rnds 3-5: Sc in each st around
Fasten off
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
Rnds 3-5: Sc in each st around (12)
Fasten off
```
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks at each line, or once when hardly any line has a count."""
    lines = [at for at in product.lines() if at.label.word in (Word.ROUND, Word.ROW) and at.courses and not at.problem]
    bare = [at for at in lines if at.line.stated is None and at.worked.live > 0]
    if len(bare) > 3 and len(bare) * 2 > len(lines):
        message = f"{len(bare)} of {len(lines)} rounds and rows state no count"
        yield Finding(
            RULE,
            SEVERITY,
            message,
            bare[0].span,
            fits=f"{say.name(bare[0])} makes {bare[0].worked.live}: write `({bare[0].worked.live})` at its end",
        )
        return
    for at in bare:
        several = len(at.label.numbers) > 1
        makes = "they have" if several else "it has"
        message = f"{say.name(at)} {'state' if several else 'states'} no count; {makes} {at.worked.live}"
        yield Finding(
            RULE, SEVERITY, message, at.span, fits=f"`({at.worked.live})` at the end", fix=_count(product, at)
        )


def _count(product: Product, at: At) -> Fix | None:
    words = product.words(at.span).rstrip()
    end = at.span.start + len(words)
    fix = Fix(Span(end, end), f" ({at.worked.live})")
    return fix if proving.proved(product, at, (fix,)) else None

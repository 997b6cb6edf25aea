"""A picture has no text alternative.

What it finds
-------------
Photos in the header without `alt:`, and pictures in the prose with nothing between the square brackets.

Why it matters
--------------
A blind maker gets nothing from a picture without words; on a bad line nobody does.

Example
-------
`photo: {file: heron.jpg}`.

Write instead
-------------
`photo: {file: heron.jpg, alt: "Grey heron, 20 cm high, standing on one leg"}`.

Source
------
WCAG 2.2, success criterion 1.1.1 Non-text Content
"""

import re
from collections.abc import Iterator

from generator.checks import say
from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity
from generator.source import Span

RULE = "picture-without-words"
SEVERITY = Severity.ERROR
BARE: Severity | None = None
BAD = """\
---
title: Heron
terms: US
rounds: spiral
photo: {file: heron.jpg}
---

```rounds
Rnd 1: 6 sc in magic ring (6)
Fasten off
```
"""
GOOD = """\
---
title: Heron
terms: US
rounds: spiral
photo: {file: heron.jpg, alt: "Grey heron, 20 cm high, standing on one leg"}
---

```rounds
Rnd 1: 6 sc in magic ring (6)
Fasten off
```
"""

_PICTURE = re.compile(r"!\[\s*\]\(([^)\n]*)\)")


def check(product: Product) -> Iterator[Finding]:
    """Speaks at each picture; drafts words for one that shows a round."""
    for i, photo in enumerate(product.header.photos):
        words = photo.alt.strip()
        # A file's name repeated is no description.
        if not words or words.lower() == photo.file.lower():
            place = product.place(f"photo.{i}", f"photos.{i}", "photo", "photos")
            yield Finding(
                RULE,
                SEVERITY,
                f"the picture {say.quote(photo.file)} has no text alternative",
                place,
                fits=_draft(product, photo.round),
            )
    for block in product.prose():
        for match in _PICTURE.finditer(product.words(block.span)):
            span = Span(block.span.start + match.start(), block.span.start + match.end())
            yield Finding(
                RULE,
                SEVERITY,
                f"the picture {say.quote(match[1])} has no text alternative",
                span,
                fits="say between the square brackets what it shows",
            )


def _draft(product: Product, number: int | None) -> str:
    for at in product.lines():
        if number is not None and number in at.label.numbers and at.worked.live:
            return f'alt: "{product.header.title} after {say.name(at)}, {at.worked.live} stitches"'
    return 'alt: "what it shows, as you would tell it on the telephone"'

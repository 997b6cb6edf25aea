"""A correction is dated before the pattern was published.

What it finds
-------------
A date under `revisions:` that is earlier than `published:`.

Why it matters
--------------
Readers are told to look if they printed the pattern before that date; nobody can have.

Example
-------
`published: 2026-09-01` with a revision of 2026-08-30.

Write instead
-------------
The day the correction came out. What changed before publication needs no correction.

Source
------
common practice, no source
"""

from collections.abc import Iterator

from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity

RULE = "revision-before-publication"
SEVERITY = Severity.WARNING
BARE: Severity | None = None
BAD = """\
---
title: Tide mat
terms: US
rounds: spiral
published: 2026-09-01
revisions:
  - {date: 2026-08-30, note: "Round 1 said 5; it is 6."}
---

```rounds
Rnd 1: 6 sc in magic ring (6)
Fasten off
```
"""
GOOD = """\
---
title: Tide mat
terms: US
rounds: spiral
published: 2026-09-01
revisions:
  - {date: 2026-09-20, note: "Round 1 said 5; it is 6."}
---

```rounds
Rnd 1: 6 sc in magic ring (6)
Fasten off
```
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks at the date."""
    published = product.header.published
    for index, revision in enumerate(product.header.revisions if published else ()):
        assert published is not None
        if revision.date < published:
            days = (published - revision.date).days
            message = (
                f"this correction is dated {revision.date.isoformat()}, the pattern was published"
                f" {published.isoformat()} ({days} {'day' if days == 1 else 'days'} later)"
            )
            place = product.place(f"revisions.{index}.date")
            yield Finding(RULE, SEVERITY, message, place, "a date after publication, or no correction at all")

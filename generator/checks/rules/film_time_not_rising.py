"""The moments of the film are out of order.

What it finds
-------------
A time under `film:` that is not after the one before it.

Why it matters
--------------
Chapters have to rise, or a video site shows none of them.

Example
-------
`{at: "4:00", title: Rnd 9}` and then `{at: "3:10", title: Rnd 10}`.

Write instead
-------------
The times in the order of the film.

Source
------
help pages of video channels on chapters (support.vevo.com/hc/en-us/articles/6945557784347)
"""

from collections.abc import Iterator

from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity
from generator.wording.numbers import film_time

RULE = "film-time-not-rising"
SEVERITY = Severity.WARNING
BARE: Severity | None = None
BAD = """\
---
title: Tide mat
terms: US
rounds: spiral
film:
  address: https://film.example/tide-mat
  length: "10:00"
  marks:
    - {at: "0:00", title: Start}
    - {at: "4:00", title: Rnd 1}
    - {at: "3:10", title: Rnd 2}
    - {at: "9:00", title: End}
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
film:
  address: https://film.example/tide-mat
  length: "10:00"
  marks:
    - {at: "0:00", title: Start}
    - {at: "3:10", title: Rnd 1}
    - {at: "4:00", title: Rnd 2}
    - {at: "9:00", title: End}
---

```rounds
Rnd 1: 6 sc in magic ring (6)
Fasten off
```
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks at the moment that goes back; the next is compared with the latest before it."""
    film = product.header.film
    last = -1
    for index, mark in enumerate(film.marks if film else ()):
        if mark.seconds <= last:
            message = f"`{mark.title}` is set at {film_time(mark.seconds)}, after a moment at {film_time(last)}"
            place = product.place(f"film.marks.{index}")
            yield Finding(RULE, SEVERITY, message, place, f"a time after {film_time(last)}")
        last = max(last, mark.seconds)

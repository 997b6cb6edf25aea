"""A moment of the film lies after its end.

What it finds
-------------
A time under `film:` that is not before the film's length.

Why it matters
--------------
A video site drops the whole list of chapters for one such time.

Example
-------
`{at: "12:00", title: Rnd 9}` in a film of ten minutes.

Write instead
-------------
The time at which it is shown, or the length of the film as it is now.

Source
------
help pages of video channels on chapters (support.vevo.com/hc/en-us/articles/6945557784347)
"""

from collections.abc import Iterator

from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity
from generator.wording.numbers import film_time

RULE = "film-time-past-end"
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
    - {at: "12:00", title: End}
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
    - {at: "4:00", title: Rnd 1}
    - {at: "9:00", title: End}
---

```rounds
Rnd 1: 6 sc in magic ring (6)
Fasten off
```
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks at the moment."""
    film = product.header.film
    for index, mark in enumerate(film.marks if film and film.seconds else ()):
        assert film is not None
        if mark.seconds >= film.seconds:
            at, end = film_time(mark.seconds), film_time(film.seconds)
            message = f"`{mark.title}` is set at {at}, the film ends at {end}"
            yield Finding(RULE, SEVERITY, message, product.place(f"film.marks.{index}"), f"a time before {end}")

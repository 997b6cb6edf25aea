"""Increases stand over one another for many rounds, so the circle gets corners.

What it finds
-------------
Six or more rounds in a row with the increases in the same places, in a pattern that isn't called a hexagon or the
like.

Why it matters
--------------
Stacked increases make a polygon with as many corners as increases; staggered they make a circle.

Example
-------
`(sc in next st, inc) 6 times`, `(sc in next 2 sts, inc) 6 times`, … up to `(sc in next 7 sts, inc) 6 times`.

Write instead
-------------
Every other round with half of the plain stitches first: `sc in next st, inc, (sc in next 2 sts, inc) 5 times, sc in
next st`.

Source
------
geekandyarn.com/how-to-stagger-increases (named in the project's design notes)
"""

import itertools
import re
from collections.abc import Iterator

from generator.checks import say
from generator.checks.product import At, Product
from generator.diagnostics.record import Finding, Severity
from generator.fabric.model import Course, Into, Make

RULE = "increases-stacked"
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
Rnd 3: (sc in next st, inc) 6 times (18)
Rnd 4: (sc in next 2 sts, inc) 6 times (24)
Rnd 5: (sc in next 3 sts, inc) 6 times (30)
Rnd 6: (sc in next 4 sts, inc) 6 times (36)
Rnd 7: (sc in next 5 sts, inc) 6 times (42)
Rnd 8: (sc in next 6 sts, inc) 6 times (48)
Rnd 9: (sc in next 7 sts, inc) 6 times (54)
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
Rnd 3: (sc in next st, inc) 6 times (18)
Rnd 4: sc in next st, inc, (sc in next 2 sts, inc) 5 times, sc in next st (24)
Rnd 5: (sc in next 3 sts, inc) 6 times (30)
Rnd 6: sc in next 2 sts, inc, (sc in next 4 sts, inc) 5 times, sc in next 2 sts (36)
Rnd 7: (sc in next 5 sts, inc) 6 times (42)
Rnd 8: sc in next 3 sts, inc, (sc in next 6 sts, inc) 5 times, sc in next 3 sts (48)
Rnd 9: (sc in next 7 sts, inc) 6 times (54)
Fasten off
```
"""

ROUNDS = 6
_MEANT = re.compile(
    r"hexagon|octagon|pentagon|square|triang|polygon|star|motif|granny|corner|mitred|diamond|facet", re.IGNORECASE
)


def check(product: Product) -> Iterator[Finding]:
    """Speaks at the last round of the stack."""
    header = product.header
    if _MEANT.search(" ".join((header.title, header.kind, header.summary, *header.tags))):
        return
    for part, lines in product.parts():
        if _MEANT.search(part.name):
            continue
        stack, corners, last = 0, 0, None
        for before, course in zip(part.courses, part.courses[1:], strict=False):
            places = _places(before, course)
            stack = (
                stack + 1
                if len(places) >= 4 and _even(places, before.live) and len(places) == corners
                else (1 if len(places) >= 4 else 0)
            )
            corners = len(places)
            if stack >= ROUNDS:
                last = (course, stack, corners)
        if last and last[0].live <= 400:
            at = _line(lines, part.courses.index(last[0]))
            if at:
                message = f"{say.name(at)}: the increases stand over one another for {last[1]} rounds, so the circle gets {last[2]} corners"
                yield Finding(
                    RULE,
                    SEVERITY,
                    message,
                    at.span,
                    fits="in every other round, work half of the plain stitches before the first increase",
                )


def _places(before: Course, course: Course) -> tuple[int, ...]:
    """Where, in stitches from the start of the round below, two or more go into one."""
    if course.make is Make.ROW or before.live <= 0:
        return ()
    found: list[int] = []
    for run in course.runs:
        if run.parent >= 0 and run.into is Into.STITCH and run.takes == 1 and 2 <= run.share <= run.n:
            found += [run.parent + run.step * i - before.first for i in range(run.n // run.share)]
    return tuple(sorted(found))


def _even(places: tuple[int, ...], below: int) -> bool:
    """The last increase closes the round and all are spaced alike: the way stacks are written."""
    gaps = {b - a for a, b in itertools.pairwise(places)}
    return len(gaps) == 1 and places[-1] == below - 1


def _line(lines: tuple[At, ...], index: int) -> At | None:
    return next((at for at in lines if at.worked.courses[0] <= index < at.worked.courses[1]), None)

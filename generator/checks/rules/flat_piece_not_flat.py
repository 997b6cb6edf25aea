"""A piece that should lie flat will cup or ruffle.

What it finds
-------------
A mat, coaster, doily, motif or other flat piece whose counts grow too slowly or too fast for its stitches.

Why it matters
--------------
No blocking makes a disc with half of the stitches it needs lie flat.

Example
-------
A mat in double crochet with 6 increases a round; 12 are usual.

Write instead
-------------
The usual increases: 6 to 8 a round in single crochet, 8 to 10 in half double, 10 to 14 in double crochet.

Source
------
rules of thumb with their sources: `vocabulary/standards/flat-circles.toml`; a flat round grows by 2π times the height
of a stitch
"""

import re
from collections.abc import Iterator

from generator.checks import say
from generator.checks.product import At, Product
from generator.diagnostics.record import Finding, Severity
from generator.measures.flatness import polygon_factor
from generator.measures.measured import Basis, Form, Lie, Shape
from generator.vocabulary import load

RULE = "flat-piece-not-flat"
SEVERITY = Severity.WARNING
BARE: Severity | None = None
BAD = """\
---
title: Tide mat
terms: US
rounds: joined
start chain: counts
kind: mat
hook: 4 mm
gauge: 18 dc x 9 rounds = 10 cm
---

```rounds
Rnd 1: Ch 3, 11 dc in magic ring, join with sl st to top of ch-3 (12)
Rnd 2: Ch 3, dc in same st, 2 dc in each st around, join with sl st to top of ch-3 (24)
Rnd 3: Ch 3, dc in same st, 2 dc in each st around, join with sl st to top of ch-3 (48)
Rnd 4: Ch 3, dc in same st, 2 dc in each st around, join with sl st to top of ch-3 (96)
Fasten off
```
"""
GOOD = """\
---
title: Tide mat
terms: US
rounds: joined
start chain: counts
kind: mat
hook: 4 mm
gauge: 18 dc x 9 rounds = 10 cm
---

```rounds
Rnd 1: Ch 3, 11 dc in magic ring, join with sl st to top of ch-3 (12)
Rnd 2: Ch 3, dc in same st, 2 dc in each st around, join with sl st to top of ch-3 (24)
Rnd 3: Ch 3, 2 dc in next st, (dc in next st, 2 dc in next st) 11 times, join with sl st to top of ch-3 (36)
Fasten off
```
"""

_FLAT = re.compile(
    r"\b(?:mat|coaster|doily|placemat|rug|blanket|motif|cloth|washcloth|dishcloth|trivet|square|hexagon|throw|table\s?mat)s?\b",
    re.IGNORECASE,
)
FULL = 1.25
"""Up to a quarter too much is blocked flat; own choice."""

_MEANT = re.compile(r"frill|ruffl|hyperbolic|wav[ey]|bowl|basket|cup|curl|3-?d\b", re.IGNORECASE)


def check(product: Product) -> Iterator[Finding]:
    """Speaks at the round from which the piece doesn't lie flat."""
    header = product.header
    about = " ".join((header.title, header.kind, header.summary, *header.tags))
    if product.measured is None or not _FLAT.search(f"{header.kind} {header.title}") or _MEANT.search(about):
        return
    for index, part in enumerate(product.measured.parts):
        form = part.form
        if (
            form.basis is Basis.NONE
            or form.shape not in (Shape.DISC, Shape.POLYGON, Shape.OVAL, Shape.VESSEL)
            or form.lie in (Lie.FLAT, Lie.RISES)
        ):
            continue
        if form.lie is Lie.RUFFLES and _fullness(form) < FULL:
            continue
        at = _line(product, index, form.lie_from)
        what = "cup" if form.lie is Lie.CUPS else "ruffle"
        where = f"from {say.name(at)}" if at else "as it grows"
        fits = _usual(product, index, form.lie_from)
        yield Finding(
            RULE,
            SEVERITY,
            f"{where} the piece will {what}: it grows too {'slowly' if what == 'cup' else 'fast'} to lie flat",
            at.span if at else product.first_span(),
            fits=fits,
        )


def _fullness(form: Form) -> float:
    """Way round of the last round over that of a flat one at its distance from the middle."""
    out = sum(course.slant_mm for course in form.courses)
    return form.courses[-1].around_mm / (polygon_factor(form.corners) * out) if form.courses and out else 1.0


def _line(product: Product, part_index: int, course: int | None) -> At | None:
    return next(
        (
            at
            for at in product.in_part(part_index)
            if course is not None and at.worked.courses[0] <= course < at.worked.courses[1]
        ),
        None,
    )


def _usual(product: Product, part_index: int, course: int | None) -> str:
    """What lies flat by the pattern's own gauge, and what is usual for its stitch."""
    courses = product.fabric.parts[part_index].courses
    kinds = [kind for kind, _n in courses[course].kinds] if course is not None and course < len(courses) else []
    here = next((row for row in load.table("flat-circles").rows if row["stitch"] in kinds), None)
    if here is None or product.measured is None:
        return ""
    form = product.measured.parts[part_index].form
    slant = next((each.slant_mm for each in form.courses if each.index == course), 0.0)
    flat = polygon_factor(form.corners) * slant / product.measured.stitch_width_mm
    usual = f"{here['low']} to {here['high']} are usual in {say.stitch(product, str(here['stitch']))}"
    return f"about {flat:.0f} increases a round lie flat at this gauge; {usual}"

"""Stitches, gauge and stated size don't agree.

What it finds
-------------
A finished width, height, way round or opening that is more than a tenth off what the stitches make at the gauge.
Without a gauge, more than two fifths off what hook and yarn suggest, as a warning.

Why it matters
--------------
A hat of 60 stitches at 6 to the inch is 10 inches round, whatever the page says. One of the three numbers is wrong.

Example
-------
`gauge: 24 sc = 10 cm` and a round of 60 stitches stated as 52 cm round.

Write instead
-------------
The number that was mistyped; most often it is the gauge.

Source
------
stitches divided by stitches to the length: arithmetic; the tenth is this tool's choice
"""

from collections.abc import Iterator

from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity
from generator.measures.measured import Basis, Form, Lie
from generator.wording.numbers import System, length

RULE = "size-differs"
SEVERITY = Severity.ERROR
BARE: Severity | None = None
BAD = """\
---
title: Marsh band
terms: US
gauge: 24 sc x 28 rows = 10 cm
size: {width: 52 cm}
---

```rows
Ch 61
Row 1: Sc in 2nd ch from hook and in each ch across, turn (60)
Rows 2-10: Ch 1, sc in each st across, turn (60)
Fasten off
```
"""
GOOD = """\
---
title: Marsh band
terms: US
gauge: 24 sc x 28 rows = 10 cm
size: {width: 25 cm}
---

```rows
Ch 61
Row 1: Sc in 2nd ch from hook and in each ch across, turn (60)
Rows 2-10: Ch 1, sc in each st across, turn (60)
Fasten off
```
"""

MARGIN = {Basis.GAUGE: 0.10, Basis.STITCHES: 0.10, Basis.HOOK: 0.40}
"""How far a stated length may be off, as a share of the computed one."""


def check(product: Product) -> Iterator[Finding]:
    """Speaks at each stated length. Pieces of several parts are put together, so only single parts are compared."""
    size, measured = product.header.size, product.measured
    if size is None or measured is None or len(measured.parts) != 1 or measured.parts[0].make != 1:
        return
    if any(at.problem for at in product.lines()):
        return  # what doesn't come out in stitches can't be measured
    form = measured.parts[0].form
    for key, stated, worked, margin in _lengths(
        form, size.width_mm, size.height_mm, size.circumference_mm, size.opening_mm
    ):
        if stated > 0 and worked > 0 and abs(stated - worked) > margin * worked:
            severity = SEVERITY if form.basis is not Basis.HOOK else Severity.WARNING
            at = "at this gauge" if form.basis is not Basis.HOOK else "with this hook and yarn"
            longer = f"{abs(stated / worked - 1) * 100:.0f} % too {'large' if stated > worked else 'small'}"
            message = f"the {_NAMES[key]} is stated as {length(stated, System.METRIC)}, the stitches make {length(worked, System.METRIC)} {at} ({longer})"
            fits = f"{length(worked, System.METRIC)}, or another gauge"
            yield Finding(RULE, severity, message, product.place(f"size.{key}"), fits=fits)
            return


_NAMES = {"width_mm": "width", "height_mm": "height", "circumference_mm": "way round", "opening_mm": "opening"}


def _lengths(
    form: Form, width: float, height: float, around: float, opening: float
) -> Iterator[tuple[str, float, float, float]]:
    margin = MARGIN.get(form.basis, 0.0)
    if not margin:
        return
    loose = max(margin, 0.25) if form.basis is Basis.STITCHES else margin
    # Stuffing and gathering change heights, and a flat round thing has only a diameter.
    across = min((form.width_mm, form.depth_mm), key=lambda mm: abs(mm - width)) if form.depth_mm else form.width_mm
    yield "width_mm", width, across, margin
    yield "circumference_mm", around, form.circumference_mm, margin
    if form.lie is not Lie.RUFFLES:
        yield "height_mm", height, form.height_mm or form.depth_mm, max(loose, 0.2)
    yield "opening_mm", opening, form.opening_mm, margin

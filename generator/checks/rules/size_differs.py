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
LACE = 0.30
"""The same for openwork, whose size is made by pinning out."""
HEIGHT = 0.20
"""The same for heights, which stuffing, gathering and turned edges change."""

_NAMES = {"width_mm": "width", "height_mm": "height", "circumference_mm": "way round", "opening_mm": "opening"}


def check(product: Product) -> Iterator[Finding]:
    """Speaks at the first length that is off. What is put together from several parts is not compared."""
    size, measured = product.header.size, product.measured
    if size is None or measured is None or len(measured.parts) != 1 or measured.parts[0].make != 1:
        return
    if any(at.problem for at in product.lines()):
        return  # what doesn't come out in stitches can't be measured
    form = measured.parts[0].form
    margin = MARGIN.get(form.basis, 0.0)
    if _lace(product):
        margin = max(margin, LACE)
    for key, least, most, loose in _lengths(form, size.width_mm, margin):
        stated = getattr(size, key)
        if margin and stated > 0 and most > 0 and not least * (1 - loose) <= stated <= most * (1 + loose):
            yield _finding(product, form, key, stated, most if stated > most else least)
            return


def _lengths(form: Form, width: float, margin: float) -> Iterator[tuple[str, float, float, float]]:
    """What each stated length may lie between, and its margin.

    A height may be measured standing or along the fabric, as hats are; a width either way across.
    """
    across = (form.width_mm, form.depth_mm or form.width_mm)
    near = min(across, key=lambda mm: abs(mm - width))
    yield "width_mm", near, near, margin
    yield "circumference_mm", form.circumference_mm, form.circumference_mm, margin
    along = sum(course.slant_mm for course in form.courses)
    standing = form.height_mm or form.depth_mm
    if form.lie is not Lie.RUFFLES:
        yield (
            "height_mm",
            min(standing, along) if form.height_mm else standing,
            max(standing, along),
            max(margin, HEIGHT),
        )
    yield "opening_mm", form.opening_mm, form.opening_mm, margin


def _lace(product: Product) -> bool:
    """Whether a third of the rounds have chain spaces."""
    courses = product.fabric.parts[0].courses if product.fabric.parts else ()
    holed = sum(any(kind.startswith("sp:") for kind, _n in course.kinds) for course in courses)
    return holed * 3 > len(courses)


def _finding(product: Product, form: Form, key: str, stated: float, worked: float) -> Finding:
    firm = form.basis is not Basis.HOOK
    share = f"{abs(stated / worked - 1) * 100:.0f} % too {'large' if stated > worked else 'small'}"
    made = length(worked, System.METRIC)
    message = (
        f"the {_NAMES[key]} is stated as {length(stated, System.METRIC)}, the stitches make {made} "
        f"{'at this gauge' if firm else 'with this hook and yarn'} ({share})"
    )
    severity = SEVERITY if firm else Severity.WARNING
    return Finding(RULE, severity, message, product.place(f"size.{key}", "size"), fits=f"{made}, or another gauge")

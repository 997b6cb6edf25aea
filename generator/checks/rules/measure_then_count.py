"""Something is worked until it measures a length, and a later line needs an exact number of its rows.

What it finds
-------------
`until piece measures …` followed by a line into the row ends that states a count.

Why it matters
--------------
How many rows a length takes is the maker's gauge; the stated count can't fit every maker.

Example
-------
`Rep Row 2 until piece measures 20 cm`, then `Sc evenly along row ends (44)`.

Write instead
-------------
The rows as well: `about 20 cm, 44 rows`; or a multiple: `any multiple of 4 + 2`.

Source
------
common practice, no source
"""

from collections.abc import Iterator

from generator.checks import say, steps
from generator.checks.product import At, Product
from generator.diagnostics.record import Finding, Label, Severity
from generator.notation.tree import Again, Along, Group, Measure, Noun, Work

RULE = "measure-then-count"
SEVERITY = Severity.WARNING
BARE: Severity | None = Severity.NOTE
BAD = """\
---
title: Marsh band
terms: US
gauge: 18 sc x 20 rows = 10 cm
---

```rows
Ch 11
Row 1: Sc in 2nd ch from hook and in each ch across, turn (10)
Row 2: Ch 1, sc in each st across, turn (10)
Rep Row 2 until piece measures 20 cm
Edging: sc in each of next 40 row ends (40)
Fasten off
```
"""
GOOD = """\
---
title: Marsh band
terms: US
gauge: 18 sc x 20 rows = 10 cm
---

```rows
Ch 11
Row 1: Sc in 2nd ch from hook and in each ch across, turn (10)
Rows 2-40: Ch 1, sc in each st across, turn (10)
Edging: sc in each of next 40 row ends (40)
Fasten off
```
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks at the line that needs the count."""
    for _part, lines in product.parts():
        open_end: At | None = None
        for at in lines:
            stated = at.line.stated
            if open_end and _along_side(at) and stated and stated.total is not None:
                message = f"how many rows {say.name(open_end)} takes is the maker's gauge, here exactly {stated.total} are needed"
                labels = (Label(open_end.span, "worked to a length"),)
                yield Finding(
                    RULE, SEVERITY, message, at.span, fits="give the number of rows too, or a multiple", labels=labels
                )
            if _to_length(at):
                open_end = at


def _to_length(at: At) -> bool:
    again = any(step.until_length_mm > 0 for step in steps.find(Again, at.worked.steps))
    return again or steps.has(Measure, at.worked.steps)


def _along_side(at: At) -> bool:
    targets = [work.target for work in steps.find(Work, at.worked.steps)]
    targets += [group.target for group in steps.find(Group, at.worked.steps)]
    return steps.has(Along, at.worked.steps) or any(target.noun is Noun.ROW_END for target in targets)

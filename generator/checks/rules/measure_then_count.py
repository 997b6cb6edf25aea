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
from generator.checks.numbering import missing_before, to_length
from generator.checks.product import At, Product
from generator.diagnostics.record import Finding, Label, Severity
from generator.fabric.model import Make
from generator.notation.tree import Along, Group, Noun, Work

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
    """Speaks at the line that needs the count, or whose own number rests on it."""
    for _part, lines in product.parts():
        open_end: At | None = None
        numbered = False
        for at in lines:
            stated = at.line.stated
            if open_end and _along_side(at) and stated and stated.total is not None:
                yield _finding(
                    open_end, at, f"here exactly {stated.total} are needed", "give the number of {}s too, or a multiple"
                )
            elif open_end and not numbered and at.label.numbers:
                numbered = True
                if missing_before(product, at):
                    fits = "call it `Next {0}`, or give the number of {0}s too"
                    yield _finding(open_end, at, f"so nobody can tell which is {say.name(at)}", fits)
            if to_length(at):
                open_end, numbered = at, False


def _finding(open_end: At, at: At, message: str, fits: str) -> Finding:
    noun = "row" if any(course.make is Make.ROW for course in open_end.courses) else "round"
    said = f"how many {noun}s {say.name(open_end)} takes is the maker's gauge, {message}"
    labels = (Label(open_end.span, "worked to a length"),)
    return Finding(RULE, SEVERITY, said, at.span, fits=fits.format(noun), labels=labels)


def _along_side(at: At) -> bool:
    targets = [work.target for work in steps.find(Work, at.worked.steps)]
    targets += [group.target for group in steps.find(Group, at.worked.steps)]
    return steps.has(Along, at.worked.steps) or any(target.noun is Noun.ROW_END for target in targets)

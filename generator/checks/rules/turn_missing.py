"""A row goes back although nobody turned.

What it finds
-------------
Rows of which some end or begin with `turn` and one doesn't.

Why it matters
--------------
Without turning, the next row has to be joined anew at the other side; makers turn anyway or stop and ask.

Example
-------
`Row 1: …, turn`, `Row 2: Ch 1, sc in each st across`, `Row 3: Ch 1, …, turn`.

Write instead
-------------
`turn` in every row, at the same place.

Source
------
common practice, no source
"""

import itertools
from collections.abc import Iterator

from generator.checks import say, steps
from generator.checks.product import At, Product
from generator.diagnostics.record import Finding, Severity
from generator.fabric.model import Make
from generator.notation.tree import Again, FastenOff, Stay, Turn, Word, Yarn

RULE = "turn-missing"
SEVERITY = Severity.WARNING
BARE: Severity | None = Severity.NOTE
BAD = """\
Ch 11
Row 1: Sc in 2nd ch from hook and in each ch across, turn (10)
Row 2: Ch 1, sc in each st across (10)
Row 3: Ch 1, sc in each st across, turn (10)
"""
GOOD = """\
Ch 11
Row 1: Sc in 2nd ch from hook and in each ch across, turn (10)
Row 2: Ch 1, sc in each st across, turn (10)
Row 3: Ch 1, sc in each st across, turn (10)
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks where other rows of the part say `turn` and this one, with a row after it, doesn't."""
    for _part, lines in product.parts():
        rows = [at for at in lines if at.label.word is Word.ROW and any(c.make is Make.ROW for c in at.courses)]
        if sum(_turns(at) for at in rows) < 1:
            continue
        for at, after in itertools.pairwise(rows):
            if not _turns(at) and not _excused(at) and not _begins_turned(after):
                message = f"{say.name(at)} does not say to turn, other rows of this part do"
                yield Finding(RULE, SEVERITY, message, at.span, fits="add `turn` at its end")


def _turns(at: At) -> bool:
    return steps.has(Turn, at.worked.steps)


def _excused(at: At) -> bool:
    return steps.has((Stay, FastenOff, Again), at.worked.steps)


def _begins_turned(at: At) -> bool:
    head = at.worked.steps[:2]
    return any(isinstance(step, Turn) or (isinstance(step, Yarn) and step.how == "join") for step in head) or (
        _turns(at) and not at.label.numbers
    )

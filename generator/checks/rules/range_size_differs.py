"""A range of rounds says another number of rounds than it has.

What it finds
-------------
`Rnds 6-10 … (4 rounds)`, which are five.

Why it matters
--------------
The piece comes out a round taller or shorter, and nobody can tell which was meant.

Example
-------
`Rnds 3-5: Sc in each st around (12) (4 rounds)`.

Write instead
-------------
`Rnds 3-5: Sc in each st around (12) (3 rounds)`.

Source
------
common practice, no source
"""

from collections.abc import Iterator

from generator.checks import say
from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity

RULE = "range-size-differs"
SEVERITY = Severity.ERROR
BARE: Severity | None = Severity.WARNING
BAD = """\
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnds 3-5: Sc in each st around (12) (4 rounds)
"""
GOOD = """\
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnds 3-5: Sc in each st around (12) (3 rounds)
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks at the stated number of rounds."""
    for at in product.lines():
        stated = at.line.stated
        courses = len(at.label.numbers)
        if stated and stated.rounds and courses > 1 and stated.rounds != courses:
            message = f"{say.name(at)} are {courses}, the line says {stated.rounds} ({say.difference(stated.rounds, courses)})"
            first = at.label.numbers[0]
            fits = f"{courses} rounds, or rounds {first} to {first + stated.rounds - 1}"
            yield Finding(RULE, SEVERITY, message, stated.span, fits=fits)

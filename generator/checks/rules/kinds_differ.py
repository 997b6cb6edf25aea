"""A kind of stitch named in the count is not there in that number.

What it finds
-------------
A count such as `(12 dc, 4 ch-2 sps)` where one of the numbers is not what the line makes.

Why it matters
--------------
In lace and motifs the next round is worked into the spaces; one space more or less and the motif loses a corner.

Example
-------
`Rnd 1: (3 dc, ch 2) 4 times in ring (12 dc, 3 ch-2 sps)` makes four spaces.

Write instead
-------------
The numbers as worked: `(12 dc, 4 ch-2 sps)`.

Source
------
common practice, no source
"""

import re
from collections.abc import Iterator

from generator.checks import say
from generator.checks.claim import owned
from generator.checks.product import At, Product
from generator.checks.proving import proved
from generator.diagnostics.record import Finding, Fix, Severity
from generator.fabric.count import PETALS
from generator.fabric.heaps import HEAPS
from generator.fabric.model import Problem
from generator.source import Span

RULE = "kinds-differ"
SEVERITY = Severity.ERROR
BARE: Severity | None = Severity.ERROR
BAD = """\
Rnd 1: Ch 3 (counts as dc), 2 dc in magic ring, ch 2, *3 dc in ring, ch 2; rep from * 2 more times, join with sl st to top of ch-3 (12 dc, 3 ch-2 sps)
"""
GOOD = """\
Rnd 1: Ch 3 (counts as dc), 2 dc in magic ring, ch 2, *3 dc in ring, ch 2; rep from * 2 more times, join with sl st to top of ch-3 (12 dc, 4 ch-2 sps)
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks where a stated kind differs."""
    for at, problem in owned(product, RULE):
        kind = say.stitch(product, problem.kind) if problem.kind else "stitch"
        found = (
            say.plural(problem.have, kind)
            if problem.kind.startswith("sp") or problem.kind in (*HEAPS, *PETALS)
            else f"{problem.have} {kind}"
        )
        message = (
            f"{say.name(at)} {say.verb(at, 'makes')} {found}, "
            f"the count says {problem.need} ({say.difference(problem.need, problem.have)})"
        )
        span = at.line.stated.span if at.line.stated else problem.span
        fits = f"worked, it is {say.kinds(product, at.worked.kinds)}" if at.worked.kinds else ""
        yield Finding(RULE, SEVERITY, message, span, fits=fits, fix=_number(product, at, problem))


def _number(product: Product, at: At, problem: Problem) -> Fix | None:
    """The wrong number put right, when it stands only once in the count."""
    stated = at.line.stated
    words = product.words(stated.span) if stated else ""
    places = [m for m in re.finditer(r"(?<!-)\b\d+", words) if int(m.group()) == problem.need]
    if stated is None or len(places) != 1:
        return None
    start = stated.span.start + places[0].start()
    fix = Fix(Span(start, start + len(places[0].group())), str(problem.have))
    return fix if proved(product, at, (fix,)) else None

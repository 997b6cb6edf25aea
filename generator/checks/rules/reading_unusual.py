"""Only an unusual reading of the words gives the stated count.

What it finds
-------------
A line that was read in another way than its words usually mean, because only that comes out.

Why it matters
--------------
A reader has no machine that tries all readings. What was meant should be said.

Example
-------
`(3 sc, sc in next 3 sts) 4 times (24)` on 16 stitches: only three in one stitch gives 24.

Write instead
-------------
`(3 sc in next st, sc in next 3 sts) 4 times (24)`.

Source
------
common practice, no source
"""

from collections.abc import Iterator

from generator.checks import fitting, proving, say
from generator.checks.pairing import broken
from generator.checks.product import At, Product
from generator.diagnostics.record import Finding, Fix, Severity
from generator.vocabulary.load import language
from generator.wording.instructions import write_line

RULE = "reading-unusual"
SEVERITY = Severity.NOTE
BARE: Severity | None = Severity.NOTE
BAD = """\
Rnd 1: 8 sc in magic ring (8)
Rnd 2: 2 sc in each st around (16)
Rnd 3: (3 sc, sc in next 3 sts) 4 times (24)
"""
GOOD = """\
Rnd 1: 8 sc in magic ring (8)
Rnd 2: 2 sc in each st around (16)
Rnd 3: (3 sc in next st, sc in next 3 sts) 4 times (24)
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks with the worker's own sentence on what was chosen and why, and writes the line so that it can't be missed."""
    for at in product.lines():
        if not at.worked.unusual or at.problem is not None or broken(product.words(at.span), product.bare):
            continue
        reading = at.worked.reading or f"{say.name(at)} was read in an unusual way"
        fix = _written_out(product, at)
        fits = say.quote(fix.text, LONGEST) if fix else "write out what is meant"
        yield Finding(RULE, SEVERITY, reading, at.span, fits=fits, fix=fix)


LONGEST = 160
"""Characters of a rewritten line that are shown."""


def _written_out(product: Product, at: At) -> Fix | None:
    """The line in house words, where it is one sentence and comes out the same."""
    code = "en-GB" if product.dialect == "UK" else "en-US"
    written = write_line(at.part, at.index, language(code))
    text = written[0].text.rstrip(".") if len(written) == 1 else ""
    if not text or len(text) > LONGEST:
        return None
    fix = Fix(fitting.instruction(product, at), text)
    found = proving.proved(product, at, (fix,))
    return fix if found and found.line.live == at.worked.live and not found.line.unusual else None

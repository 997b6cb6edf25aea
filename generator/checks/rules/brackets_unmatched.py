"""A bracket or an asterisk has no partner.

What it finds
-------------
`(` without `)`, brackets that cross, and `rep from *` on a line that has no asterisk to go back to.

Why it matters
--------------
Nobody can tell where the repeat begins or ends.

Example
-------
`Rnd 3: (sc in next st, inc 6 times (18)`.

Write instead
-------------
`Rnd 3: (sc in next st, inc) 6 times (18)`.

Source
------
common practice, no source
"""

import re
from collections.abc import Iterator

from generator.checks import say
from generator.checks.claim import owned
from generator.checks.pairing import CLOSES, lonely, odd_asterisks
from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity
from generator.source import Span

RULE = "brackets-unmatched"
SEVERITY = Severity.ERROR
# Copies of old prints lose brackets; the arithmetic is judged all the same.
BARE: Severity | None = Severity.NOTE
BAD = """\
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnd 3: (sc in next st, inc 6 times (18)
"""
GOOD = """\
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnd 3: (sc in next st, inc) 6 times (18)
"""

_BACK = re.compile(r"\b(?:rep(?:eat)?|from)\s+(?:from\s+)?\*", re.IGNORECASE)


def check(product: Product) -> Iterator[Finding]:
    """Speaks at the first sign without a partner on a line."""
    unread = {at.span: problem.span for at, problem in owned(product, RULE)}
    for at in product.lines():
        text = product.words(at.span)
        place = lonely(text)
        back = _BACK.search(text) if "*" in text else None
        if place is not None:
            span = Span(at.span.start + place, at.span.start + place + 1)
            yield Finding(RULE, SEVERITY, f"{say.quote(text[place])} has no partner", span, fits=_partner(text[place]))
        elif back and "*" not in text[: back.start()] and not (at.problem and at.span not in unread):
            span = Span(at.span.start + back.start(), at.span.start + back.end())
            message = f"{say.quote(back[0])}: the line has no `*` before it"
            yield Finding(RULE, SEVERITY, message, span, fits="put `*` where the repeat begins")
        elif not product.bare and odd_asterisks(text):
            star = at.span.start + text.rindex("*")
            message = f"there are {text.count('*')} asterisks, so one has no partner"
            yield Finding(
                RULE, Severity.WARNING, message, Span(star, star + 1), fits="`(…) 6 times`, or `*…; rep from * around`"
            )
        elif at.span in unread:
            yield Finding(
                RULE, SEVERITY, f"{say.quote(product.words(unread[at.span]))} has no partner", unread[at.span]
            )


def _partner(sign: str) -> str:
    pairs = {**CLOSES, **{o: c for c, o in CLOSES.items()}}
    return f"a `{pairs[sign]}` where it {'begins' if sign in CLOSES else 'ends'}"

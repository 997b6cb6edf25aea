"""A step that can't be worked as it is written.

What it finds
-------------
Two stitches closed together over one (`sc2tog in next st`), and chains "worked into" a chain as the first round.

Why it matters
--------------
The maker reads it again and again and looks for a technique that does not exist.

Example
-------
`Rnd 1: Ch 2, 6 ch in 2nd ch from hook (6)`.

Write instead
-------------
`Rnd 1: Ch 2, 6 sc in 2nd ch from hook (6)`.

Source
------
common practice, no source
"""

import re
from collections.abc import Iterator

from generator.checks import say, texts
from generator.checks.claim import CHAINS_INTO_CHAIN
from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity
from generator.source import Span

RULE = "step-impossible"
SEVERITY = Severity.ERROR
BARE: Severity | None = Severity.NOTE
BAD = """\
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnd 3: (sc2tog in next st, sc in next st) 4 times (8)
"""
GOOD = """\
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnd 3: (sc2tog, sc in next st) 4 times (8)
"""

_TOGETHER = re.compile(
    r"\b(?:sc|hdc|dc|tr|htr|dtr)([2-9])\s?tog\s+in\s+(?:the\s+)?(?:next|same|first|last)\s+(?:st|stitch|sc|hdc|dc|tr)\b(?!s|es)",
    re.IGNORECASE,
)


def check(product: Product) -> Iterator[Finding]:
    """Speaks at the words."""
    for at, match in texts.in_lines(product, _TOGETHER, "tog"):
        if not at.courses:
            continue  # a stitch explained, not worked
        span = Span(at.span.start + match.start(), at.span.start + match.end())
        message = f"{say.quote(match[0])}: {match[1]} stitches closed together take {match[1]} places, here is one"
        yield Finding(RULE, SEVERITY, message, span, fits=f"over next {match[1]} sts")
    for at, match in texts.in_lines(product, CHAINS_INTO_CHAIN, "hook"):
        span = Span(at.span.start + match.start(), at.span.start + match.end())
        yield Finding(
            RULE,
            SEVERITY,
            f"{say.quote(match[0])}: chains are not worked into a chain",
            span,
            fits=f"{match[1]} sc in 2nd ch from hook, if that is meant",
        )

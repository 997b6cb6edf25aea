"""Part of the work is told by a chart alone.

What it finds
-------------
A working line that sends the reader to a chart or diagram instead of saying what to do.

Why it matters
--------------
Readers who listen, who print in large type, or who don't read charts can't work it; and nothing can be proved.

Example
-------
`Rnds 5-8: Work as shown in chart`.

Write instead
-------------
The rounds in words. The chart is drawn from them.

Source
------
common practice, no source
"""

import re
from collections.abc import Iterator

from generator.checks import say, texts
from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity
from generator.source import Span

RULE = "told-only-by-chart"
SEVERITY = Severity.ERROR
BARE: Severity | None = Severity.NOTE
BAD = """\
Rnd 1: 6 sc in magic ring (6)
Rnd 2: Work as shown in chart
"""
GOOD = """\
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
"""

CHART = re.compile(
    r"\b(?:follow(?:ing)?|foll|see|as|per|from|according to|in)\b[^.,;]{0,24}\b(?:chart|diagram|graph)\b", re.IGNORECASE
)


def check(product: Product) -> Iterator[Finding]:
    """Speaks in a labelled line that makes nothing by itself."""
    told: set[Span] = set()
    for at, match in texts.in_lines(product, CHART, "chart", "diagram", "graph"):
        if at.span not in told and at.label.numbers and (at.problem or not at.courses):
            told.add(at.span)
            span = Span(at.span.start + match.start(), at.span.start + match.end())
            yield Finding(
                RULE,
                SEVERITY,
                f"{say.name(at)} {say.verb(at, 'is')} told by a chart alone",
                span,
                fits="write the stitches; the chart is drawn from them",
            )

"""US and UK words are mixed.

What it finds
-------------
Words only US patterns have (`sc`, `hdc`) beside words only UK patterns have (`htr`), or words of the other dialect
than the header says.

Why it matters
--------------
Words both dialects share, such as `dc` and `tr`, then mean one thing or the other, and the fabric changes with it.

Example
-------
`Rnd 2: 2 sc in each st`, `Rnd 3: htr in each st`.

Write instead
-------------
One dialect throughout: `hdc` in US terms is `htr` in UK terms.

Source
------
trade council's list of US terms and UK lists, as carried by `vocabulary/languages`
"""

import re
from collections.abc import Iterator

from generator.checks import say, texts
from generator.checks.claim import OTHER_DIALECT, UK_ONLY, UK_PARTS, US_ONLY, US_PARTS
from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity
from generator.source import Span

RULE = "terms-mixed"
SEVERITY = Severity.ERROR
BARE: Severity | None = Severity.NOTE
BAD = """\
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnd 3: Htr in each st around (12)
"""
GOOD = """\
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnd 3: Hdc in each st around (12)
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks once, at the first word of the dialect that is not the pattern's."""
    said = product.header.terms
    us = list(_hits(product, US_ONLY, *US_PARTS)) if said != "US" else []
    uk = list(_hits(product, UK_ONLY, *UK_PARTS)) if said != "UK" else []
    if said == "US" or (not said and us and uk and len(uk) <= len(us)):
        foreign, home = uk, "US"
    elif said == "UK" or (us and uk):
        foreign, home = us, "UK"
    else:
        return
    if foreign:
        span, word = foreign[0]
        other = "UK" if home == "US" else "US"
        mine = OTHER_DIALECT.get(re.sub(r"\s+", " ", word.lower()), "")
        where = "the header says" if said and not product.bare else "the other words are"
        fits = f"in {home} terms it is {say.quote(mine)}" if mine else "one dialect throughout"
        yield Finding(RULE, SEVERITY, f"{say.quote(word)} is a {other} word, {where} {home}", span, fits=fits)


def _hits(product: Product, words: "re.Pattern[str]", *parts: str) -> Iterator[tuple[Span, str]]:
    for at, match in texts.in_lines(product, words, *parts):
        text = match.string
        if "(" not in text[: match.start()] or "=" not in text:
            yield Span(at.span.start + match.start(), at.span.start + match.end()), match[0]

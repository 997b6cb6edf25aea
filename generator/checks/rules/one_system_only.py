"""Lengths in the prose are given in one system of units only.

What it finds
-------------
Centimetres without inches, or inches without centimetres, in prose and notions.

Why it matters
--------------
The header's lengths are printed both ways; what stands in a sentence is not.

Example
-------
`Leave a 10 in tail.`

Write instead
-------------
`Leave a 10 in (25 cm) tail.`

Source
------
1 in = 25.4 mm: NIST Special Publication 811, appendix B (figure from memory)
"""

import re
from collections.abc import Iterator

from generator.checks import say, texts
from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity
from generator.notation import quantities
from generator.wording.numbers import System, length

RULE = "one-system-only"
SEVERITY = Severity.NOTE
BARE: Severity | None = None
BAD = """\
---
title: Tide mat
terms: US
rounds: spiral
---

Leave a 10 in tail.

```rounds
Rnd 1: 6 sc in magic ring (6)
Fasten off
```
"""
GOOD = """\
---
title: Tide mat
terms: US
rounds: spiral
---

Leave a 10 in (25 cm) tail.

```rounds
Rnd 1: 6 sc in magic ring (6)
Fasten off
```
"""

_LENGTH = re.compile(rf"(?<![\w.])({quantities.NUMBER})[\s-]?(cm|inch(?:es)?|ins?\b\.?|\"|″)(?!\w)", re.IGNORECASE)
_METRIC = re.compile(r"\d\s?-?(?:cm|mm)\b", re.IGNORECASE)
_IMPERIAL = re.compile(r"(?:\d|[½¼¾])\s?-?(?:in\b|ins\b|inch|\"|″)", re.IGNORECASE)


def check(product: Product) -> Iterator[Finding]:
    """Speaks once, at the first one, and says how many there are."""
    hits = []
    for passage in texts.prose(product):
        for match in _LENGTH.finditer(passage.text):
            sentence = _sentence(passage.text, match.start())
            if not (_METRIC.search(sentence) and _IMPERIAL.search(sentence)):
                hits.append((match, passage.at(*match.span())))
    if hits:
        match, span = hits[0]
        others = len(hits) - 1
        more = (
            f", nor {'has' if others == 1 else 'have'} {say.plural(others, 'other length')} the other unit"
            if others
            else ""
        )
        metric = match[2].lower() == "cm"
        mm = quantities.millimetres(f"{match[1]} {match[2]}")
        other = length(mm, System.IMPERIAL if metric else System.METRIC) if mm else ""
        message = f"{say.quote(match[0])} has no {'inches' if metric else 'centimetres'} beside it{more}"
        yield Finding(RULE, SEVERITY, message, span, fits=f"`{match[0]} ({other})`" if other else "")


def _sentence(text: str, at: int) -> str:
    start = max(text.rfind(". ", 0, at), text.rfind("\n\n", 0, at), 0)
    ends = [e for e in (text.find(". ", at), text.find("\n\n", at)) if e >= 0]
    return text[start : min(ends, default=len(text))]

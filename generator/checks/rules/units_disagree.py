"""A length or weight and its conversion don't agree.

What it finds
-------------
`10 in (20 cm)` and the like in prose, notions and working lines: two measures of one thing that are more than 7 in
100 apart.

Why it matters
--------------
Half of the readers use the first number, the other half the second, and make two sizes.

Example
-------
`The strap is 10 in (20 cm) long.`

Write instead
-------------
`10 in (25 cm)`.

Source
------
1 in = 25.4 mm, 1 yd = 0.9144 m, 1 oz = 28.349523125 g: NIST Special Publication 811, appendix B (figures from memory)
"""

import re
from collections.abc import Iterator

from generator.checks import say, texts
from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity
from generator.notation import quantities
from generator.wording.numbers import System, length, mass

RULE = "units-disagree"
SEVERITY = Severity.WARNING
BARE: Severity | None = Severity.NOTE
BAD = """\
---
title: Tide mat
terms: US
rounds: spiral
---

The mat is 10 in (20 cm) across.

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

The mat is 10 in (25 cm) across.

```rounds
Rnd 1: 6 sc in magic ring (6)
Fasten off
```
"""

_UNIT = r"(?:mm|cm|m|metres?|meters?|yds?|yards?|ins?\b\.?|inch(?:es)?|\"|″|ft|feet|g|grams?|oz|ounces?)"
_PAIR = re.compile(
    rf"(?<![\w.])(?P<a>{quantities.NUMBER}[\s-]?{_UNIT})(?![\w])\s*(?:\(|/|=|,?\s*or\s)\s*(?:about\s+|approx\.?\s+)?(?P<b>{quantities.NUMBER}[\s-]?{_UNIT})(?![\w])",
    re.IGNORECASE,
)
_MEASURE = re.compile(rf"[\d¼½¾⅓⅔⅛⅜⅝⅞][\s-]?{_UNIT}(?!\w)", re.IGNORECASE)
"""A number with its unit: quickly found, and no pair is without."""
SHARE = 0.07
LEAST = 2.0
"""mm or g that are always allowed: small things are rounded hard."""


def check(product: Product) -> Iterator[Finding]:
    """Speaks at the second measure."""
    for passage in texts.passages(product):
        if not _MEASURE.search(passage.text):
            continue
        for match in _PAIR.finditer(passage.text):
            message, fits = _compare(match["a"], match["b"])
            if message:
                yield Finding(RULE, SEVERITY, message, passage.at(*match.span()), fits=fits)


def _compare(first: str, second: str) -> tuple[str, str]:
    one, two = first.replace("-", " "), second.replace("-", " ")
    for read, write in ((quantities.millimetres, length), (quantities.grams, mass)):
        a, b = read(one), read(two)
        if a and b and _unit(one) != _unit(two) and abs(a - b) > max(SHARE * max(a, b), LEAST):
            system = System.METRIC if re.search(r"(?:mm|cm|m|g|met\w+|grams?)$", two) else System.IMPERIAL
            return f"{say.quote(first)} is {write(a, system)}, not {say.quote(second)}", write(a, system)
    return "", ""


def _unit(words: str) -> str:
    return words.lstrip("0123456789.,/ ½⅓⅔¼¾⅛⅜⅝⅞").lower()

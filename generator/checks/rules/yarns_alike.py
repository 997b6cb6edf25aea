"""Two yarns of a pattern look alike to some makers.

What it finds
-------------
Two swatches that can hardly be told apart, by everybody or by makers with one of the three kinds of colour blindness.

Why it matters
--------------
About one man in twelve sees some colours alike. Where a round says `with B`, the maker has two balls in her lap and
must know which is which; the chart marks its yarns with letters and patterns, the balls are not marked.

Example
-------
`A: {colour: shingle, swatch: "#b89a6e"}` and `C: {colour: oyster, swatch: "#d98245"}`.

Write instead
-------------
A lighter or darker shade for one of them, or a word in the text on how to tell them apart.

Source
------
simulation: Machado, Oliveira & Fernandes 2009; difference: CIEDE2000 (Sharma, Wu & Dalal 2005); prevalence:
liquisearch.com/color_blindness/epidemiology; the limit of 12 is our own, no source for yarn was found
"""

from collections.abc import Iterator
from itertools import combinations

from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity
from generator.measures.colour import APART, least_difference

RULE = "yarns-alike"
SEVERITY = Severity.NOTE
BARE: Severity | None = None
BAD = """\
---
title: Tide mat
terms: US
rounds: spiral
hook: 4 mm
gauge: 18 sc x 20 rounds = 10 cm
yarns:
  A: {colour: shingle, swatch: "#d62728", weight: 4, fibre: cotton}
  B: {colour: oyster, swatch: "#2ca02c", weight: 4, fibre: cotton}
---

```rounds
With A
Rnd 1: 6 sc in magic ring (6)
With B
Rnd 2: 2 sc in each st around (12)
Fasten off
```
"""
GOOD = """\
---
title: Tide mat
terms: US
rounds: spiral
hook: 4 mm
gauge: 18 sc x 20 rounds = 10 cm
yarns:
  A: {colour: shingle, swatch: "#d62728", weight: 4, fibre: cotton}
  B: {colour: oyster, swatch: "#f2efe8", weight: 4, fibre: cotton}
---

```rounds
With A
Rnd 1: 6 sc in magic ring (6)
With B
Rnd 2: 2 sc in each st around (12)
Fasten off
```
"""

SIGHT = {
    "": "to everybody",
    "protan": "to makers who see no red",
    "deutan": "to makers who see no green",
    "tritan": "to makers who see no blue",
}


def check(product: Product) -> Iterator[Finding]:
    """Speaks at the second of the two swatches."""
    for one, other in combinations(product.header.yarns, 2):
        if not (one.swatch and other.swatch):
            continue
        least, sight = least_difference(one.swatch, other.swatch)
        if least < APART:
            yield Finding(
                RULE,
                SEVERITY,
                f"yarns {one.key} and {other.key} look alike {SIGHT[sight]}",
                product.place(f"yarns.{other.key}.swatch"),
                fits="a lighter or darker shade for one of them",
            )

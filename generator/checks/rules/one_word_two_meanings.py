"""One word or abbreviation has two meanings.

What it finds
-------------
A yarn's key or a stitch of your own that is spelled like a stitch of the trade, capitals not regarded.

Why it matters
--------------
`SC` for the second colour and `sc` for single crochet differ by capitals only, and a screen reader says them alike.

Example
-------
`yarns: {SC: {colour: white, weight: 4}}`.

Write instead
-------------
`A` and `B`, or `MC` and `CC`.

Source
------
common practice, no source
"""

from collections.abc import Iterator
from functools import cache

from generator.checks import say
from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity
from generator.vocabulary import load

RULE = "one-word-two-meanings"
SEVERITY = Severity.ERROR
BARE: Severity | None = None
BAD = """\
---
title: Tide mat
terms: US
rounds: spiral
yarns:
  MC: {colour: reed green, weight: 4}
  SC: {colour: chalk white, weight: 4}
---

```rounds
With MC
Rnd 1: 6 sc in magic ring (6)
With SC
Rnd 2: 2 sc in each st around (12)
Fasten off
```
"""
GOOD = """\
---
title: Tide mat
terms: US
rounds: spiral
yarns:
  MC: {colour: reed green, weight: 4}
  CC: {colour: chalk white, weight: 4}
---

```rounds
With MC
Rnd 1: 6 sc in magic ring (6)
With CC
Rnd 2: 2 sc in each st around (12)
Fasten off
```
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks at the key or the definition."""
    taken = _taken()
    keys: dict[str, str] = {}
    for yarn in product.header.yarns:
        low = yarn.key.lower()
        if low in taken:
            message = f"the yarn {say.quote(yarn.key)} is spelled like the stitch `{taken[low]}`"
            yield Finding(RULE, SEVERITY, message, product.place(f"yarns.{yarn.key}"), fits="call the yarns A and B")
        elif low in keys:
            message = f"the yarns {say.quote(keys[low])} and {say.quote(yarn.key)} differ by capitals only"
            yield Finding(RULE, SEVERITY, message, product.place(f"yarns.{yarn.key}"), fits="call the yarns A and B")
        keys[low] = yarn.key
    for special in product.header.stitches:
        low = special.abbreviation.lower()
        if low in taken or low in keys:
            message = f"{say.quote(special.abbreviation)} already means {'a yarn' if low in keys else 'a stitch of the trade'}"
            yield Finding(
                RULE,
                SEVERITY,
                message,
                product.place(f"stitches.{special.key}"),
                fits="give it an abbreviation of its own",
            )


@cache
def _taken() -> dict[str, str]:
    """Short words of the trade in both dialects, in lower case. Families with a number (bobble, cluster) may be re-defined."""
    free = {"bobble", "cluster", "popcorn", "puff", "picot", "loop"}
    words = {name: name for name in load.stitches() if name not in free}
    for code in load.languages():
        if code.startswith("en"):
            for identity, word in load.language(code).stitches.items():
                if identity not in free:
                    words[word.abbreviation.lower()] = word.abbreviation
    return words

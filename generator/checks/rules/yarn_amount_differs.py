"""The stated amount of yarn can't be right.

What it finds
-------------
Metres or grams in the header below the least, or more than two and a half times the most, that the stitches take.

Why it matters
--------------
A maker who runs out three rounds before the end can't buy the same dye lot again.

Example
-------
`A: {colour: reed green, weight: 4, needs: 2 m}` for a mat that takes 12.

Write instead
-------------
The amount as weighed, with something to spare.

Source
------
yarn model of this tool (`vocabulary/standards/yarn-model.toml`); the margin is this tool's choice
"""

from collections.abc import Iterator

from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity
from generator.measures.measured import YarnAmount
from generator.notation.pattern import YarnSpec
from generator.wording.numbers import System, mass, yarn_length

RULE = "yarn-amount-differs"
SEVERITY = Severity.WARNING
BARE: Severity | None = None
BAD = """\
---
title: Tide mat
terms: US
rounds: spiral
hook: 4 mm
gauge: 18 sc x 20 rounds = 10 cm
yarns:
  A: {colour: reed green, weight: 4, needs: 1 m}
---

```rounds
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnd 3: (sc in next st, inc) 6 times (18)
Rnds 4-12: Sc in each st around (18)
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
  A: {colour: reed green, weight: 4, needs: 12 m}
---

```rounds
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnd 3: (sc in next st, inc) 6 times (18)
Rnds 4-12: Sc in each st around (18)
Fasten off
```
"""

SPARE = 2.5
"""Times the most the stitches take that a stated amount may be; small amounts are often rounded up to a ball."""
SMALL_M = 60.0
"""Metres below which "too much" is nobody's trouble."""


def check(product: Product) -> Iterator[Finding]:
    """Speaks at the yarn's amount."""
    if product.measured is None or any(at.problem for at in product.lines()):
        return
    amounts = {amount.key: amount for amount in product.measured.yarns}
    for yarn in product.header.yarns:
        amount = amounts.get(yarn.key)
        message = _message(yarn, amount) if amount and amount.metres > 0 else ""
        if message:
            yield Finding(
                RULE,
                SEVERITY,
                message,
                product.place(f"yarns.{yarn.key}.needs", f"yarns.{yarn.key}"),
                fits=_fits(amount),
            )


def _message(yarn: YarnSpec, amount: YarnAmount) -> str:
    metric = System.METRIC
    if yarn.stated_metres is not None and amount.low_metres > 0:
        stated, low, high = yarn.stated_metres, amount.low_metres, amount.high_metres
        said, takes = yarn_length(stated, metric), f"{yarn_length(low, metric)} to {yarn_length(high, metric)}"
        much = stated > SMALL_M and stated > high * SPARE
    elif yarn.stated_grams is not None and amount.low_grams and amount.high_grams:
        stated, low, high = yarn.stated_grams, amount.low_grams, amount.high_grams
        said, takes = mass(stated, metric), f"{mass(low, metric)} to {mass(high, metric)}"
        much = stated > SPARE * 10 and stated > high * SPARE
    else:
        return ""
    if stated < low:
        return f"yarn {yarn.key}: {said} is stated, the stitches take {takes} (too little)"
    return f"yarn {yarn.key}: {said} is stated, the stitches take {takes} (far too much)" if much else ""


def _fits(amount: YarnAmount | None) -> str:
    return f"about {yarn_length(amount.buy_metres, System.METRIC)}, with something to spare" if amount else ""

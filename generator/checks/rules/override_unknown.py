"""`intended` names a rule that doesn't exist, or gives no reason.

What it finds
-------------
An answer under `intended:` for a rule nobody has heard of, or one without words.

Why it matters
--------------
An answer that reaches no rule silences nothing; one without a reason tells the editor nothing.

Example
-------
`intended: {count-missin: "printed on the chart"}`.

Write instead
-------------
The rule's name as the finding prints it, and your reason.

Source
------
rules of this tool
"""

from collections.abc import Iterator
from difflib import get_close_matches
from functools import cache
from pkgutil import iter_modules

from generator.checks import rules, say
from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity

RULE = "override-unknown"
SEVERITY = Severity.WARNING
BARE: Severity | None = Severity.WARNING
BAD = """\
---
title: Tide mat
terms: US
rounds: spiral
intended: {count-missin: "every round is the same"}
---

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
intended: {count-missing: "every round is the same"}
---

```rounds
Rnd 1: 6 sc in magic ring (6)
Fasten off
```
"""


@cache
def names() -> tuple[str, ...]:
    """All rules, by their files."""
    return tuple(sorted(module.name.replace("_", "-") for module in iter_modules(rules.__path__)))


def check(product: Product) -> Iterator[Finding]:
    """Speaks at the answer."""
    known = names()
    for rule, reason in product.header.intended.items():
        span = product.place(f"intended.{rule}", "intended")
        if rule not in known:
            near = get_close_matches(rule, known, n=1, cutoff=0.6)
            yield Finding(
                RULE,
                SEVERITY,
                f"there is no rule {say.quote(rule)}",
                span,
                fits=near[0] if near else "the name the finding prints",
            )
        elif not reason.strip():
            yield Finding(
                RULE, SEVERITY, f"the answer to {say.quote(rule)} gives no reason", span, fits="why it is meant so"
            )
    for at in product.lines():
        for answer in at.line.intended:
            rule, sign, _reason = answer.partition("=")
            if sign and rule and " " not in rule and rule not in known:
                near = get_close_matches(rule, known, n=1, cutoff=0.6)
                yield Finding(
                    RULE,
                    SEVERITY,
                    f"there is no rule {say.quote(rule)}",
                    at.span,
                    fits=near[0] if near else "the name the finding prints",
                )

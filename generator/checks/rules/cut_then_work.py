"""Work goes on after the yarn was fastened off.

What it finds
-------------
A round after `fasten off` in the same part with no yarn joined, no `with …` and no standing stitch.

Why it matters
--------------
The maker has cut the yarn and finds that there was more to do with it.

Example
-------
`Rnd 3: …, fasten off`, `Rnd 4: Sc in each st around`.

Write instead
-------------
`Join A with sl st in any st` at the beginning of round 4, or `fasten off` at the end of it.

Source
------
common practice, no source
"""

from collections.abc import Iterator

from generator.checks import say, steps
from generator.checks.product import At, Product
from generator.diagnostics.record import Finding, Label, Severity
from generator.notation.tree import FastenOff, Foundation, How, Noun, PartRef, Ring, Work, Yarn
from generator.source import Span

RULE = "cut-then-work"
SEVERITY = Severity.ERROR
BARE: Severity | None = Severity.NOTE
BAD = """\
---
title: Reed ball
terms: US
rounds: spiral
---

```rounds
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around, fasten off (12)
Rnd 3: Sc in each st around (12)
```
"""
GOOD = """\
---
title: Reed ball
terms: US
rounds: spiral
---

```rounds
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnd 3: Sc in each st around, fasten off (12)
```
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks at the first line that works without yarn; once a part."""
    for _part, lines in product.parts():
        cut: tuple[At, Span] | None = None
        for at in lines:
            if cut and _attached(product, at):
                cut = None
            if cut and at.courses and steps.has(Work, at.worked.steps):
                message = f"{say.name(at)} works on, but the yarn was cut after {say.name(cut[0])}"
                labels = (Label(cut[1], "cut here"),)
                fits = "say where the yarn is joined, or move `fasten off` down"
                yield Finding(RULE, SEVERITY, message, at.span, fits=fits, labels=labels)
                break
            ends = steps.find(FastenOff, at.worked.steps)
            bridged = steps.has(PartRef, at.worked.steps)  # `fasten off the first leg only; ch 3, join to first leg`
            if ends and not bridged and (at.courses or not steps.has((Work, Foundation), at.worked.steps)):
                cut = (at, ends[-1].span)


_WORDS = ("join", "attach", "rejoin", "with ", "using", "new yarn", "pick up", "return to", "strand", "fasten on")


def _attached(product: Product, at: At) -> bool:
    words = product.words(at.span).lower()
    if steps.has((Yarn, Ring, Foundation, PartRef), at.worked.steps) or _begins(at):
        return True
    return any(word in words for word in _WORDS)


def _begins(at: At) -> bool:
    """Whether a line makes a beginning of its own: stitches in a ring, or along a chain it makes."""
    works = steps.find(Work, at.worked.steps)
    return bool(works) and (works[0].target.noun is Noun.RING or works[0].target.how is How.FROM_HOOK)

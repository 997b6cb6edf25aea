"""A round goes on past its own end and nothing says why.

What it finds
-------------
A spiral round whose instruction takes more stitches than there are and so runs into its own beginning, without a slip
stitch, a fastening off, a change of yarn, or a word about levelling.

Why it matters
--------------
The count stays right, since the stitches past the end lie on the first ones. But the start of the round has moved, and
more often than not a number is too high.

Example
-------
On 12 stitches: `Rnd 3: (sc in next 5 sts, inc) 2 times, sc in next 2 sts (14)`.

Write instead
-------------
The stitches there are: `(sc in next 5 sts, inc) 2 times (14)`; or `To level the step: sc in next 2 sts, sl st in next
st, fasten off` on a line of its own.

Source
------
common practice, no source
"""

import re
from collections.abc import Iterator

from generator.checks import say, steps
from generator.checks.product import At, Product
from generator.diagnostics.record import Finding, Severity
from generator.notation.tree import FastenOff, Join, Word, Yarn

RULE = "round-overruns"
SEVERITY = Severity.WARNING
BARE: Severity | None = Severity.NOTE
BAD = """\
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnd 3: (sc in next 5 sts, inc) 2 times, sc in next 2 sts (14)
Rnd 4: sc in each st around (14)
"""
GOOD = """\
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnd 3: (sc in next 5 sts, inc) 2 times (14)
Rnd 4: sc in each st around (14)
"""

_TOLD = re.compile(
    r"\blevel|\bstep\b|\bjog\b|past the end|extra|\bsl ?st\b|\bss\b|slip|marker|begin(?:ning)? of (?:the )?(?:rnd|round)",
    re.IGNORECASE,
)


def check(product: Product) -> Iterator[Finding]:
    """Speaks at a numbered round whose last course has extra stitches."""
    for at in product.lines():
        extra = at.courses[-1].extra if at.courses else 0
        if extra and not at.problem and at.label.word is Word.ROUND and not _told(product, at):
            message = f"{say.name(at)} goes {say.plural(extra, 'stitch')} past its end, over its own first ones"
            fits = f"{extra} fewer; or say that they level the step"
            yield Finding(RULE, SEVERITY, message, at.span, fits=fits)


def _told(product: Product, at: At) -> bool:
    """The line says it, or the next one without a number does (levelling, cutting, changing yarn)."""
    lines = product.in_part(at.part_index)
    near = [at]
    for other in lines[at.index + 1 : at.index + 3]:
        if other.label.word is not Word.NONE:
            break
        near.append(other)
    return any(_TOLD.search(product.words(o.span)) or steps.has((FastenOff, Join, Yarn), o.worked.steps) for o in near)

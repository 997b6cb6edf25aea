"""A round is not joined although the rounds before it were.

What it finds
-------------
A round without a join among joined rounds.

Why it matters
--------------
The next round begins with a chain as if it had been joined; the step stays open.

Example
-------
Rounds 1 and 2 end in `join with sl st to first dc`, round 3 does not.

Write instead
-------------
The join at the end of each round, or a line that says that from here the rounds are not joined.

Source
------
common practice, no source
"""

from collections.abc import Iterator

from generator.checks import say, steps
from generator.checks.product import At, Product
from generator.diagnostics.record import Finding, Severity
from generator.fabric.model import Make, Role
from generator.notation.tree import Again, Chain, FastenOff, How, Join, Stay, Word, Work

RULE = "join-missing"
SEVERITY = Severity.WARNING
BARE: Severity | None = Severity.NOTE
BAD = """\
Rnd 1: Ch 3 (counts as dc), 11 dc in magic ring, join with sl st to top of ch-3 (12)
Rnd 2: Ch 3 (counts as dc), dc in same st, 2 dc in each st around, join with sl st to top of ch-3 (24)
Rnd 3: Ch 3 (counts as dc), dc in each st around (24)
Rnd 4: Ch 3 (counts as dc), dc in each st around, join with sl st to top of ch-3 (24)
"""
GOOD = """\
Rnd 1: Ch 3 (counts as dc), 11 dc in magic ring, join with sl st to top of ch-3 (12)
Rnd 2: Ch 3 (counts as dc), dc in same st, 2 dc in each st around, join with sl st to top of ch-3 (24)
Rnd 3: Ch 3 (counts as dc), dc in each st around, join with sl st to top of ch-3 (24)
Rnd 4: Ch 3 (counts as dc), dc in each st around, join with sl st to top of ch-3 (24)
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks at a round between two joined ones, or at one that begins with a chain after a joined one."""
    if product.header.rounds == "joined":
        return
    for _part, lines in product.parts():
        rounds = [at for at in lines if at.label.word is Word.ROUND and at.courses]
        for before, at, after in zip(rounds, rounds[1:], rounds[2:], strict=False):
            if (
                _joined(before)
                and not _closed(at)
                and _joined(after)
                and isinstance(next(iter(at.worked.steps), None), Chain)
            ):
                message = f"{say.name(at)} is not joined, the rounds around it are"
                words = product.words(steps.find(Join, before.worked.steps)[-1].span)
                yield Finding(RULE, SEVERITY, message, at.span, fits=f"end it with {say.quote(words)}")


def _joined(at: At) -> bool:
    return steps.has(Join, at.worked.steps) and at.courses[-1].make is not Make.ROW


def _closed(at: At) -> bool:
    by_a_stitch = any(run.role is Role.JOIN for run in at.courses[-1].runs)  # `ending with ch 2, dc in first sc`
    last = at.worked.steps[-1]  # `…, sl st at base of ch-5`
    by_a_stitch |= isinstance(last, Work) and last.stitch == "sl-st" and last.target.how is How.SAME
    return by_a_stitch or steps.has((Join, Stay, FastenOff, Again), at.worked.steps)

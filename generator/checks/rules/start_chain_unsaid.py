"""Nobody says whether the chain that starts a round counts as a stitch.

What it finds
-------------
Rounds or rows of tall stitches that begin with a chain, with no `start chain:` in the header and no `(counts as dc)`.
An error when no count proves it either; a warning when the counts do.

Why it matters
--------------
Makers meet both habits, and gain or lose a stitch every round.

Example
-------
`Rnd 2: Ch 3, dc in same st, 2 dc in each st around, join (24)`.

Write instead
-------------
`start chain: counts` in the header, or `Ch 3 (counts as dc)` in the round.

Source
------
common practice, no source
"""

from collections.abc import Iterator

from generator.checks import say, steps
from generator.checks.product import At, Product
from generator.diagnostics.record import Finding, Severity
from generator.fabric.model import Part, Role, Status
from generator.notation.tree import Chain, Convention
from generator.vocabulary import load

RULE = "start-chain-unsaid"
SEVERITY = Severity.ERROR
BARE: Severity | None = None
BAD = """\
---
title: Tide mat
terms: US
rounds: joined
---

```rounds
Rnd 1: Ch 3, 11 dc in magic ring, join with sl st to top of ch-3
Rnd 2: Ch 3, dc in same st, 2 dc in each st around, join with sl st to top of ch-3
Fasten off
```
"""
GOOD = """\
---
title: Tide mat
terms: US
rounds: joined
start chain: counts
---

```rounds
Rnd 1: Ch 3, 11 dc in magic ring, join with sl st to top of ch-3 (12)
Rnd 2: Ch 3, dc in same st, 2 dc in each st around, join with sl st to top of ch-3 (24)
Fasten off
```
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks once a pattern, at the first such chain."""
    if product.header.start_chain:
        return
    for part, lines in product.parts():
        opening = [(at, chain) for at in lines if (chain := _begins(at)) is not None]
        if not opening or _said(lines):
            continue
        first, chain = opening[0]
        taken = "counts" if _counts(part, first) else "does not count"
        proved = any(at.worked.status is Status.PROVED for at, _chain in opening)
        how = f"; the counts show that it {taken}" if proved else ""
        message = f"nothing says whether the chain that starts {say.name(first)} counts as a stitch{how}"
        severity = Severity.WARNING if proved else SEVERITY
        yield Finding(RULE, severity, message, chain.span, fits=f"`start chain: {taken}` in the header")
        return


def _counts(part: Part, at: At) -> bool:
    """Whether the worker counted it: then the round has one stitch more of the kind than were worked."""
    if part.start_chain_counts is not None:
        return part.start_chain_counts
    course = at.courses[-1]
    worked = sum(run.n for run in course.runs if run.role is Role.STITCH and run.kind not in ("ch", "sl-st"))
    return course.live > worked


def _begins(at: At) -> Chain | None:
    """The chain that starts a course of tall stitches, when nothing is said about it."""
    tall = any(
        run.kind not in ("ch", "sl-st") and _height(run.kind) >= 2
        for c in at.courses
        for run in c.runs
        if run.role is Role.STITCH
    )
    first = next((step for step in at.worked.steps if isinstance(step, Chain) and step.n > 1), None)
    if first is None or not tall or not any(run.role is Role.START for c in at.courses for run in c.runs):
        return None
    return first


def _height(kind: str) -> float:
    return load.stitch(kind).height if load.is_stitch(kind) else 0.0


def _said(lines: tuple[At, ...]) -> bool:
    for at in lines:
        if any(step.name == "start-chain" for step in steps.find(Convention, at.worked.steps)):
            return True
        if any(chain.counts is not None or chain.stands_for for chain in steps.find(Chain, at.worked.steps)):
            return True
    return False

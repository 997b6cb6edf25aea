"""Several usual readings fit and give different fabrics.

What it finds
-------------
Words that can be read in two ways which both use up the round and give the count.

Why it matters
--------------
Two makers will make two different pieces, and both have counted right.

Example
-------
On 12 stitches: `*2 sc, sc in next st; rep from * around`: 12 when the two go into two stitches, 18 when they go into
one.

Write instead
-------------
`2 sc in next st` or `sc in next 2 sts`; and the count.

Source
------
common practice, no source
"""

from collections.abc import Iterator
from dataclasses import replace

from generator.checks import proving, say, steps
from generator.checks.product import At, Product
from generator.diagnostics.record import Finding, Severity
from generator.notation.tree import Choice, Group, Repeat, Step

RULE = "reading-unclear"
SEVERITY = Severity.WARNING
BARE: Severity | None = Severity.NOTE
BAD = """\
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnd 3: *2 sc, sc in next st; rep from * around
"""
GOOD = """\
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnd 3: *2 sc in next st, sc in next st; rep from * around (18)
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks with the worker's own words, or works the readings of a line that has no count to decide between them."""
    for at in product.lines():
        if at.problem is not None:
            continue
        if at.worked.ambiguous:
            yield Finding(RULE, SEVERITY, at.worked.ambiguous, at.span, fits="say which is meant")
        elif at.line.stated is None:
            yield from _readings(product, at)


def _readings(product: Product, at: At) -> Iterator[Finding]:
    kinds = {choice.kind for choice in steps.find(Choice, at.line.steps)}
    if len(kinds) != 1:
        return
    choice = steps.find(Choice, at.line.steps)[0]
    found: dict[int, str] = {}
    for number, option in enumerate(choice.options):
        line = replace(at.line, steps=_taken(at.line.steps, number))
        outcome = proving.instead(product, at, line)
        if outcome and outcome.fine and outcome.line.used >= outcome.line.below > 0:
            found.setdefault(outcome.line.live, option.reason or "written")
    if len(found) > 1 and at.worked.live in found:
        ways = " or ".join(f"{reason}, which makes {live}" for live, reason in found.items())
        message = f"{say.quote(product.words(choice.span))} can be read as {ways}; {at.worked.live} was taken"
        yield Finding(RULE, SEVERITY, message, choice.span, fits="say which is meant, and state the count")


def _taken(tree: tuple[Step, ...], number: int) -> tuple[Step, ...]:
    """The steps with option `number` of every choice."""
    taken: list[Step] = []
    for step in tree:
        if isinstance(step, Choice):
            taken += _taken(step.options[min(number, len(step.options) - 1)].steps, number)
        elif isinstance(step, (Repeat, Group)):
            taken.append(replace(step, steps=_taken(step.steps, number)))
        else:
            taken.append(step)
    return tuple(taken)

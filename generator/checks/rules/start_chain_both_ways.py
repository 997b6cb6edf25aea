"""A starting chain counts in one round and doesn't in another.

What it finds
-------------
Rounds of one part that say `counts as` and `does not count` about the same kind of chain, or that say otherwise than
the header.

Why it matters
--------------
The reader learns one habit for the piece. Two habits cost or add a stitch in every round that is read by the wrong
one.

Example
-------
`Rnd 1: Ch 3 (counts as dc), …`, `Rnd 2: Ch 3 (does not count), …`.

Write instead
-------------
One convention for the whole part.

Source
------
common practice, no source
"""

from collections.abc import Iterator

from generator.checks import say, steps
from generator.checks.convention import odd_rounds
from generator.checks.product import At, Product
from generator.diagnostics.record import Finding, Label, Severity
from generator.notation.tree import Chain
from generator.source import Span

RULE = "start-chain-both-ways"
SEVERITY = Severity.WARNING
BARE: Severity | None = Severity.NOTE
BAD = """\
Rnd 1: Ch 3 (counts as dc), 11 dc in magic ring, join with sl st to top of ch-3 (12)
Rnd 2: Ch 3 (does not count as a st), 2 dc in each st around, join with sl st to first dc (24)
"""
GOOD = """\
Rnd 1: Ch 3 (counts as dc), 11 dc in magic ring, join with sl st to top of ch-3 (12)
Rnd 2: Ch 3 (counts as dc), dc in same st, 2 dc in each st around, join with sl st to top of ch-3 (24)
"""


def check(product: Product) -> Iterator[Finding]:
    """Speaks at the first chain that says otherwise than an earlier one of its length, or than the header; and at a
    round whose count is only right when its chain is taken otherwise than in the rounds around it."""
    for index in range(len(product.fabric.parts)):
        yield from _said_otherwise(product, product.in_part(index)) or _taken_otherwise(product, index)


def _said_otherwise(product: Product, lines: tuple[At, ...]) -> list[Finding]:
    said: dict[int, tuple[bool, Span]] = {}
    if product.header.start_chain:
        counts = product.header.start_chain == "counts"
        said = {n: (counts, product.place("start_chain")) for n in (2, 3, 4, 5)}
    for at in lines:
        for chain in steps.find(Chain, at.worked.steps):
            here = True if chain.stands_for else chain.counts
            if here is None or chain.n < 2 or chain.stands_chains:
                continue
            earlier, where = said.setdefault(chain.n, (here, chain.span))
            if earlier is not here:
                message = f"{say.name(at)}: the chain of {chain.n} {_WORDS[here]}, elsewhere it {_WORDS[earlier]}"
                labels = (Label(where, f"here it {_WORDS[earlier]}"),)
                return [Finding(RULE, SEVERITY, message, chain.span, fits=_FITS, labels=labels)]
    return []


_WORDS = {True: "counts", False: "does not count"}
_FITS = "one convention for the whole part"


def _taken_otherwise(product: Product, part_index: int) -> list[Finding]:
    """The first round that breaks the convention; an error where the pattern itself says what the convention is."""
    for odd in odd_rounds(product, part_index)[:1]:
        message = (
            f"{say.name(odd.at)} makes {odd.at.worked.live} only when its chain of {odd.chain.n} "
            f"{_WORDS[not odd.usual]}; elsewhere it {_WORDS[odd.usual]}"
        )
        severity = Severity.ERROR if odd.said and odd.at.line.stated else SEVERITY
        return [Finding(RULE, severity, message, odd.chain.span, fits=f"{_FITS}; with it the count is {odd.count}")]
    return []

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
from generator.checks.product import Product
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
    """Speaks at the first chain that says otherwise than an earlier one of its length, or than the header."""
    for _part, lines in product.parts():
        said: dict[int, tuple[bool, Span]] = {}
        if product.header.start_chain:
            counts = product.header.start_chain == "counts"
            said = {n: (counts, product.place("start_chain")) for n in (2, 3, 4, 5)}
        for at in lines:
            for chain in steps.find(Chain, at.worked.steps):
                counts_here = True if chain.stands_for else chain.counts
                if counts_here is None or chain.n < 2 or chain.stands_chains:
                    continue
                earlier, where = said.setdefault(chain.n, (counts_here, chain.span))
                if earlier is not counts_here:
                    words = ("counts", "does not count")
                    message = f"{say.name(at)}: the chain of {chain.n} {words[not counts_here]}, elsewhere it {words[not earlier]}"
                    yield Finding(
                        RULE,
                        SEVERITY,
                        message,
                        chain.span,
                        fits="one convention for the whole part",
                        labels=(Label(where, f"here it {words[not earlier]}"),),
                    )
                    return

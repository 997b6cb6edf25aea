"""Which rule speaks about a problem, so that one mistake gives one finding.

The worker says what went wrong in numbers (`Problem`); several rules could have something to say about the same
numbers. The most telling one gets the word. A line that only fails because of the line before it is left out.
"""

import re
from collections.abc import Callable, Iterator

from generator.checks import fitting, proving, steps
from generator.checks.convention import odd_rounds
from generator.checks.product import At, Product
from generator.checks.streak import streaks
from generator.fabric.model import Fault, Make, Problem
from generator.notation.tree import Again, Foundation, How, Join, Ring, Word, Work, Yarn
from generator.vocabulary import load

BY_FAULT = {
    Fault.COUNT: "count-differs",
    Fault.KINDS: "kinds-differ",
    Fault.SHORT: "stitches-left-over",
    Fault.OVER: "stitches-run-out",
    Fault.FIT: "group-does-not-fit",
    Fault.NO_START: "no-start",
    Fault.NO_COURSE: "dead-reference",
    Fault.NO_PLACE: "place-missing",
    Fault.LIMIT: "too-large",
    Fault.UNREAD: "not-understood",
}
"""The rule for a problem nothing more telling can be said about."""

US_ONLY = re.compile(r"\b(?:sc|hdc|(?:sc|hdc)[2-9]\s?tog|half[- ]double(?: crochets?)?)\b", re.IGNORECASE)
"""Stitch words only US patterns have. (`single crochet` is an old UK name of the slip stitch.)"""
US_PARTS = ("sc", "hdc", "half")
"""One of these is in each of them."""

UK_ONLY = re.compile(r"\b(?:htr|htr[2-9]\s?tog|half[- ]trebles?)\b", re.IGNORECASE)
"""Stitch words only UK patterns have."""
UK_PARTS = ("htr", "half")
"""One of these is in each of them."""

OTHER_DIALECT = {
    "sc": "dc", "hdc": "htr", "single crochet": "double crochet", "half double crochet": "half treble",
    "htr": "hdc", "half treble": "half double crochet", "sc2tog": "dc2tog", "hdc2tog": "htr2tog", "htr2tog": "hdc2tog",
}  # fmt: skip
"""A word of one dialect and what the other calls the same stitch."""

LARGEST_ROUND = 20_000
"""Stitches of a round that this tool works at most."""

_CHART = re.compile(r"\b(?:chart|diagram|graph)\b", re.IGNORECASE)

_ARITHMETIC = (Fault.COUNT, Fault.KINDS, Fault.SHORT, Fault.OVER, Fault.FIT)


def _stated(at: At) -> int:
    stated = at.line.stated
    return stated.total if stated and stated.total is not None else -1


def joins_elsewhere(product: Product, at: At, problem: Problem) -> bool:
    """A join names a stitch or chain the round did not make."""
    return problem.fault is Fault.NO_PLACE and any(
        join.span.start <= problem.span.start < join.span.end for join in steps.find(Join, at.worked.steps)
    )


def repeats_elsewhere(product: Product, at: At, problem: Problem) -> bool:
    """An earlier round is repeated where the count has changed."""
    return problem.fault in _ARITHMETIC and steps.has(Again, at.worked.steps)


def starts_on_chain(product: Product, at: At, problem: Problem) -> bool:
    """The first row along a foundation chain comes out wrong."""
    if problem.fault not in (Fault.COUNT, Fault.SHORT, Fault.OVER):
        return False
    below = at.below
    along = below is not None and below.make is Make.FOUNDATION and below.live > 1
    own = steps.has(Foundation, at.worked.steps)
    ring = steps.has(Ring, at.worked.steps)
    return (along or own) and not ring and not steps.has(Join, at.worked.steps)


def stands_twice(product: Product, at: At, problem: Problem) -> bool:
    """A standing stitch and another first stitch in the same place."""
    standing = any(yarn.standing for yarn in steps.find(Yarn, at.worked.steps))
    same = any(work.target.how is How.SAME for work in steps.find(Work, at.worked.steps))
    return problem.fault is Fault.COUNT and standing and same and at.worked.live == _stated(at) + 1


def takes_false_stitch(product: Product, at: At, problem: Problem) -> bool:
    """The count is one more than the round has, and the round below was finished with a slip stitch and cut."""
    below = at.below
    if problem.fault not in (Fault.COUNT, Fault.OVER) or below is None or not below.live or not below.runs:
        return False
    finished = below.cut and any(run.kind == "sl-st" for run in below.runs[-2:])
    return finished and _stated(at) == below.live + 1 == at.worked.live + 1


def counts_levelling(product: Product, at: At, problem: Problem) -> bool:
    """Stitches worked past the end of the round were added to its count."""
    return (
        problem.fault is Fault.COUNT
        and 0 < _stated(at) - at.worked.live <= 6
        and past_the_end(at) == _stated(at) - at.worked.live
    )


def past_the_end(at: At) -> int:
    """Stitches a round goes on with after one in each stitch around."""
    if not at.courses or at.courses[-1].make is Make.ROW:
        return 0
    works = [step for step in at.worked.steps if isinstance(step, Work)]
    around = [i for i, w in enumerate(works) if w.target.how is How.EACH and not w.target.leave]
    after = works[around[-1] + 1 :] if around else []
    return sum(w.each * w.target.count for w in after if w.target.how is How.NEXT)


def counts_chains(product: Product, at: At, problem: Problem) -> bool:
    """The total is right when chains or chain spaces are added to it."""
    if problem.fault is not Fault.COUNT or not at.courses:
        return False
    last = at.courses[-1]
    spaces = sum(n for kind, n in last.kinds if kind.startswith("sp"))
    chains = sum(n * int(kind[3:] or 1) for kind, n in last.kinds if kind.startswith("sp:") and kind[3:].isdigit())
    return spaces > 0 and _stated(at) - last.live in (spaces, chains)


def in_other_dialect(product: Product, at: At, problem: Problem) -> bool:
    """Words that were not understood because they belong to the other dialect."""
    words = problem.words or product.words(problem.span)
    foreign = UK_ONLY if product.dialect == "US" else US_ONLY
    return problem.fault is Fault.UNREAD and foreign.search(words) is not None


def lonely_sign(product: Product, at: At, problem: Problem) -> bool:
    """A bracket or an asterisk without its partner."""
    words = (problem.words or product.words(problem.span)).strip()
    return problem.fault is Fault.UNREAD and 0 < len(words) <= 2 and set(words) <= set("()[]{}*†")


def yarn_like_stitch(product: Product, at: At, problem: Problem) -> bool:
    """A yarn's key that is also a stitch was not understood."""
    words = (problem.words or product.words(problem.span)).lower().split()
    return problem.fault is Fault.UNREAD and any(
        yarn.key.lower() in words and yarn.key.lower() in load.stitches() for yarn in product.header.yarns
    )


def endless(product: Product, at: At, problem: Problem) -> bool:
    """More stitches asked for than anybody works."""
    return problem.fault is Fault.OVER and problem.need > LARGEST_ROUND


CHAINS_INTO_CHAIN = re.compile(
    r"\b([3-9]|[1-9]\d)\s*ch(?:ains?|s)?\s+in(?:to)?\s+(?:the\s+)?(?:2nd|second|3rd)\s+ch(?:ain)?\s+from\s+(?:the\s+)?hook",
    re.IGNORECASE,
)
"""Chains "worked into" a chain, nearly always a slip for a stitch."""


def chains_into_chain(product: Product, at: At, problem: Problem) -> bool:
    """Words not understood because they tell to work chains into a chain."""
    return problem.fault is Fault.UNREAD and CHAINS_INTO_CHAIN.search(product.words(at.span)) is not None


def told_by_chart(product: Product, at: At, problem: Problem) -> bool:
    """A labelled line that sends the reader to a chart."""
    return (
        problem.fault is Fault.UNREAD and bool(at.label.numbers) and _CHART.search(product.words(at.span)) is not None
    )


_CLAIMS: tuple[tuple[str, Callable[[Product, At, Problem], bool]], ...] = (
    ("too-large", endless),
    ("one-word-two-meanings", yarn_like_stitch),
    ("brackets-unmatched", lonely_sign),
    ("terms-mixed", in_other_dialect),
    ("step-impossible", chains_into_chain),
    ("told-only-by-chart", told_by_chart),
    ("join-target-missing", joins_elsewhere),
    ("repeat-elsewhere", repeats_elsewhere),
    ("standing-twice", stands_twice),
    ("false-stitch-worked", takes_false_stitch),
    ("levelling-counted", counts_levelling),
    ("chains-counted", counts_chains),
    ("foundation-chain", starts_on_chain),
)


def owner(product: Product, at: At, problem: Problem) -> str:
    """Name of the rule that speaks about a problem."""
    return next((rule for rule, claims in _CLAIMS if claims(product, at, problem)), BY_FAULT[problem.fault])


def owned(product: Product, rule: str) -> Iterator[tuple[At, Problem]]:
    """The problems a rule speaks about."""
    if "claims" not in product.memo:
        product.memo["claims"] = tuple(_claims(product))
    for at, problem, name in product.memo["claims"]:
        if name == rule:
            yield at, problem


def _claims(product: Product) -> Iterator[tuple[At, Problem, str]]:
    told = {at.span for streak in streaks(product) for at in streak.lines}
    for at in product.lines():
        if at.problem and at.span not in told and not follows_from_earlier(product, at):
            yield at, at.problem, owner(product, at, at.problem)


def follows_from_earlier(product: Product, at: At) -> bool:
    """Whether a line fails only because of a fault before it."""
    problem = at.problem
    if problem is not None and problem.fault is Fault.NO_START:
        return any(other.problem for other in product.in_part(at.part_index)[: at.index])
    if problem is not None and problem.fault is Fault.NO_PLACE:
        # After a round that didn't come out nobody knows which spaces there are.
        earlier = _nearest(product, at)
        return earlier is not None and earlier.problem is not None
    if problem is None or problem.fault not in _ARITHMETIC or at.below is None:
        return False
    if any(other.problem for other in repeated(product, at)):
        return True
    earlier = _nearest(product, at)
    if earlier is not None and _breaks_convention(product, earlier):
        return True
    if earlier is None or earlier.problem is None or earlier.problem.fault not in (*_ARITHMETIC, Fault.UNREAD):
        return False
    if _stated(earlier) < 0:
        # Nothing says how many stitches there should have been, so what follows can't be judged.
        return True
    if earlier.problem.fault is not Fault.COUNT:
        return False
    corrected = proving.without_count(product, earlier)
    return corrected is not None and corrected.following is not None and proving.fine(corrected.following)


def _breaks_convention(product: Product, earlier: At) -> bool:
    """Whether the next round works once a starting chain is counted as the pattern says."""
    odd = next((o for o in odd_rounds(product, earlier.part_index) if o.at is earlier), None)
    edit = fitting.count_edit(product, earlier, odd.count) if odd else None
    again = proving.outcome(product, earlier, (edit,)) if edit else None
    return again is not None and again.following is not None and proving.fine(again.following)


def repeated(product: Product, at: At) -> Iterator[At]:
    """The earlier lines that a line works again, and those that they work again; nearest first."""
    wanted: set[int] = set()
    last = 0
    for again in steps.find(Again, at.worked.steps):
        wanted |= set(again.numbers)
        last = 0 if again.numbers else again.last
    lines = product.in_part(at.part_index)
    for i in range(at.index - 1, -1, -1):
        other = lines[i]
        if (wanted & set(other.label.numbers)) or (last > 0 and other.label.word is not Word.NONE):
            last -= 1
            for again in steps.find(Again, other.worked.steps):
                wanted |= set(again.numbers)
            yield other


def _nearest(product: Product, at: At) -> At | None:
    lines = product.in_part(at.part_index)
    return next(
        (lines[i] for i in range(at.index - 1, -1, -1) if lines[i].problem or lines[i].label.word is not Word.NONE),
        None,
    )

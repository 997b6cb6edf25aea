"""Whether the chain that starts a round counts as a stitch: what is said, and how each round takes it."""

from collections.abc import Iterator
from dataclasses import dataclass

from generator.checks import steps
from generator.checks.product import At, Product
from generator.fabric.model import Role
from generator.notation.tree import Chain


@dataclass(frozen=True, slots=True)
class Odd:
    """A round whose count is only right when its chain is taken otherwise than elsewhere."""

    at: At
    chain: Chain
    usual: bool
    """Whether such a chain counts elsewhere."""
    said: bool
    """Whether the pattern says so, rather than only most of its rounds."""

    @property
    def count(self) -> int:
        """The round's count by the usual convention."""
        return self.at.worked.live + (1 if self.usual else -1)


def odd_rounds(product: Product, part_index: int) -> tuple[Odd, ...]:
    """The rounds of a part that break its convention, in order."""
    key = f"odd rounds {part_index}"
    if key not in product.memo:
        product.memo[key] = tuple(_odd(product, product.in_part(part_index)))
    found: tuple[Odd, ...] = product.memo[key]
    return found


def _odd(product: Product, lines: tuple[At, ...]) -> Iterator[Odd]:
    taken = [(at, chain, counted) for at in lines for chain, counted in _taken(at)]
    for n in sorted({chain.n for _at, chain, _counted in taken}):
        alike = [(at, chain, counted) for at, chain, counted in taken if chain.n == n]
        said = _said(product, [chain for _at, chain, _counted in alike])
        usual = said if said is not None else sum(counted for *_rest, counted in alike) * 2 > len(alike)
        odd = [Odd(at, chain, usual, said is not None) for at, chain, counted in alike if counted is not usual]
        if said is not None or len(odd) * 2 < len(alike):
            yield from odd


def _said(product: Product, chains: list[Chain]) -> bool | None:
    """What the header or a chain of this length says; None when nobody says anything."""
    if product.header.start_chain:
        return product.header.start_chain == "counts"
    said = [True if chain.stands_for else chain.counts for chain in chains]
    return next((counts for counts in said if counts is not None), None)


def _taken(at: At) -> Iterator[tuple[Chain, bool]]:
    """The chain that starts the line's course of tall stitches, and whether the worker counted it."""
    chain = next((step for step in steps.walk(at.worked.steps) if isinstance(step, Chain) and step.n > 1), None)
    if chain is None or chain.stands_chains or at.problem or len(at.courses) != 1:
        return
    course = at.courses[0]
    if course.runs and course.runs[0].role is Role.START and course.runs[0].n == chain.n:
        made = sum(run.n for run in course.runs if run.role is Role.STITCH and run.kind not in ("ch", "sl-st"))
        if course.live in (made, made + 1):
            yield chain, course.live == made + 1

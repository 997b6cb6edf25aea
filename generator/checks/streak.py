"""Neighbouring rounds that are wrong in the same way: one slip, copied, and so one thing to say.

Rounds that were typed from one another carry the same number too high or too low. Each of them alone would be told
with its own numbers; together they are told once.
"""

from dataclasses import dataclass

from generator.checks import fitting
from generator.checks.product import At, Product
from generator.fabric.model import Fault

_FAULTS = (Fault.COUNT, Fault.SHORT, Fault.OVER, Fault.FIT)


@dataclass(frozen=True, slots=True)
class Streak:
    """Rounds in a row that come out with their own counts when `by` is added to one number of each."""

    lines: tuple[At, ...]
    by: int
    rewritings: tuple[fitting.Rewriting, ...]


def streaks(product: Product) -> tuple[Streak, ...]:
    """All of them, in order."""
    if "streaks" not in product.memo:
        product.memo["streaks"] = tuple(s for _part, lines in product.parts() for s in _in_part(product, lines))
    found: tuple[Streak, ...] = product.memo["streaks"]
    return found


def _in_part(product: Product, lines: tuple[At, ...]) -> list[Streak]:
    found: list[Streak] = []
    run: list[At] = []
    for at in (*(at for at in lines if at.courses or at.problem), None):
        if at is not None and _wrong(at):
            run.append(at)
            continue
        if len(run) > 1:
            found += _streak(product, tuple(run))
        run = []
    return found


def _wrong(at: At) -> bool:
    stated = at.line.stated
    counted = stated is not None and stated.total is not None
    return at.problem is not None and at.problem.fault in _FAULTS and counted and bool(at.label.numbers)


def _streak(product: Product, lines: tuple[At, ...]) -> list[Streak]:
    """The streak, when one and the same change mends all of the lines."""
    options = [[r for r in fitting.rewritings(product, at) if r.keeps_count] for at in lines]
    if not all(options):
        return []
    for first in options[0]:
        alike = [next((r for r in each if r.by == first.by), None) for each in options]
        chosen = tuple(r for r in alike if r is not None)
        if first.by and len(chosen) == len(lines):
            return [Streak(lines, first.by, chosen)]
    return []

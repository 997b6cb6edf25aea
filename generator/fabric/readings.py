"""Readings of a line: every way its choices can be settled, cheapest first, and the steps that result.

Choices of one kind on a line are settled alike (a writer means the same by the same form); only when no such
reading fits are they varied one by one. The search is bounded.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product
from operator import attrgetter

from generator.notation.tree import Choice, Group, Repeat, Step

MOST_READINGS = 48
"""Readings of one line that are worked at the most."""


@dataclass(frozen=True, slots=True)
class Reading:
    """One way to read a line: which option each kind of choice takes (or each single choice, when `single`)."""

    picks: tuple[tuple[str, int], ...]
    cost: int
    reasons: tuple[str, ...] = ()

    def pick(self, key: str) -> int:
        """The option taken for a choice; the usual one where it is not named."""
        for name, index in self.picks:
            if name == key:
                return index
        return 0

    def option(self, choice: Choice) -> int:
        """The option taken for a choice that stands in the text: by its place, else by its kind."""
        index = 0
        for name, taken in self.picks:
            if name == choice.kind:
                index = index or taken
            elif taken and name.startswith(choice.kind) and name == f"{choice.kind}@{choice.span.start}":
                return taken
        return index


USUAL = Reading((), 0)


def choices(steps: tuple[Step, ...]) -> list[Choice]:
    """All choices of a line, outer ones first, in order."""
    found: list[Choice] = []
    for step in steps:
        if isinstance(step, Choice):
            found.append(step)
            for option in step.options:
                found.extend(choices(option.steps))
        elif isinstance(step, (Repeat, Group)):
            found.extend(choices(step.steps))
    return found


_NESTED = (Choice, Repeat, Group)
_REST = {kind: attrgetter(*list(kind.__dataclass_fields__)[2:]) for kind in (Repeat, Group)}
"""What a repeat or a group holds besides its span and its steps."""


def settle(steps: tuple[Step, ...], reading: Reading) -> tuple[Step, ...]:
    """The steps with every choice replaced by the option the reading takes."""
    out: list[Step] = []
    open_yet = False
    for step in steps:
        if not isinstance(step, _NESTED):
            out.append(step)
        elif isinstance(step, Choice):
            index = reading.option(step)
            option = step.options[min(index, len(step.options) - 1)]
            out.extend(settle(option.steps, reading))
            open_yet = True
        elif (inner := settle(step.steps, reading)) is not step.steps:
            out.append(type(step)(step.span, inner, *_REST[type(step)](step)))
            open_yet = True
        else:
            out.append(step)
    return tuple(out) if open_yet else steps


def readings(
    steps: tuple[Step, ...],
    more: tuple[tuple[str, tuple[int, ...]], ...] = (),
    leaning: frozenset[str] = frozenset(),
) -> Iterator[Reading]:
    """Readings by rising cost. `more` adds choices that stand in no text (does the chain count?): name and the cost
    of each option. `leaning` names kinds of choices of which this writer means the second option."""
    found = choices(steps)
    axes: list[tuple[str, list[tuple[int, int, str]]]] = []
    seen: dict[str, int] = {}
    for choice in found:
        seen[choice.kind] = seen.get(choice.kind, 0) + 1
        if seen[choice.kind] == 1:
            axes.append((choice.kind, [(k, cost, choice.options[k].reason) for k, cost in _costs(choice, leaning)]))
    for name, costs in more:
        axes.append((name, [(k, cost, "") for k, cost in enumerate(costs)]))
    if not axes:
        yield USUAL
        return
    yield from _by_cost(axes)
    several = [kind for kind, n in seen.items() if 2 <= n <= 5]
    if several:
        single: list[tuple[str, list[tuple[int, int, str]]]] = []
        for choice in found:
            if choice.kind in several:
                options = [(k, cost, choice.options[k].reason) for k, cost in _costs(choice, leaning)]
                single.append((f"{choice.kind}@{choice.span.start}", options))
        rest = [axis for axis in axes if axis[0] not in several]
        yield from _by_cost(single + rest, extra=1)


def _costs(choice: Choice, leaning: frozenset[str]) -> list[tuple[int, int]]:
    """The options of a choice with their costs; what the writer is known to mean comes first."""
    if choice.kind in leaning and len(choice.options) == 2:
        return [(1, 0), (0, 1)]
    return [(k, option.cost) for k, option in enumerate(choice.options)]


def _by_cost(axes: list[tuple[str, list[tuple[int, int, str]]]], extra: int = 0) -> Iterator[Reading]:
    combos = sorted(_bounded(axes), key=lambda combo: sum(option[1] for option in combo))
    for combo in combos[:MOST_READINGS]:
        picks = tuple((axes[k][0], option[0]) for k, option in enumerate(combo))
        reasons = tuple(option[2] for option in combo if option[2])
        yield Reading(picks, sum(option[1] for option in combo) + extra, reasons)


def _bounded(axes: list[tuple[str, list[tuple[int, int, str]]]]) -> list[tuple[tuple[int, int, str], ...]]:
    out: list[tuple[tuple[int, int, str], ...]] = []
    for combo in product(*(axis[1] for axis in axes)):
        out.append(combo)
        if len(out) >= 4 * MOST_READINGS:
            break
    return out

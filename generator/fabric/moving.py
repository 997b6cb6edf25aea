"""The work without its numbers, and the same work laid elsewhere.

Stitches and groups are numbered through a part, and nothing turns on how high the numbers are: what was worked once is
the same further on, its numbers and the places of its words moved.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from operator import attrgetter
from typing import Any

from generator.fabric.edge import Item
from generator.fabric.ground import Ground
from generator.fabric.model import Course, Live, Run
from generator.fabric.state import State
from generator.notation.tree import Step
from generator.source import NOWHERE, Span, named

NEAR = 100
"""Below this number the beginning of the part may be nearer than the place that a line counts back to."""

Bare = tuple[Any, ...]
"""Something of the work as a value: its numbers counted from where the course begins."""


@dataclass(frozen=True, slots=True)
class Move:
    """How far numbers of stitches and groups go on, and words: those before `begins` by `there`, the others by `here`."""

    number: int
    group: int
    begins: int = 0
    here: int = 0
    there: int = 0

    def course(self, course: Course, index: int, number: int | None) -> Course:
        """A course moved on: of line `index`, with its printed number."""
        c, by = course, self.number
        return Course(
            number, index, c.make, c.forward, c.side, self._runs(c.runs),
            tuple([Live(kind, first + by, n, step, counted) for kind, first, n, step, counted in c.edge]),
            c.made, c.used, c.live, c.kinds, c.below, c.extra, c.shift, c.turned, c.cut,
        )  # fmt: skip

    def _runs(self, runs: tuple[Run, ...]) -> tuple[Run, ...]:
        number, group, begins, here, there = self.number, self.group, self.begins, self.here, self.there
        if not (number or group or here or there):
            return runs
        out: list[Run] = []
        for at, n, kind, yarn, parent, takes, share, step, into, loop, role, of, below, (start, end) in runs:
            by = here if start >= begins else there
            place = named(Span, (start + by, end + by)) if end else NOWHERE
            parent, of = parent + number if parent >= 0 else parent, of + group if of >= 0 else of
            moved = (at + number, n, kind, yarn, parent, takes, share, step, into, loop, role, of, below, place)
            out.append(named(Run, moved))
        return tuple(out)


def bare(state: State) -> Bare:
    """The work between two courses without its numbers, its turning chain apart."""
    number, group = state.number, state.group
    return _edge(state.edge, number, group), _ground(state.ground, number), _flags(state)


_MOVING = ("edge", "ground", "number", "group", "pending", "total")
_PLACES = tuple([list(State.__slots__).index(name) for name in _MOVING])
"""Where in a state stands what is told apart, because it has numbers in it or is known otherwise."""
_flags = attrgetter(*[name for name in State.__slots__ if name not in _MOVING])
"""All else that a state holds, now and whatever it may hold one day."""


def _edge(items: Iterable[Item], number: int, group: int) -> Bare:
    return tuple(
        [
            (i.kind, i.first - number, i.n, i.step, i.counted, i.group - group if i.group >= 0 else None, i.start, i.closing)
            for i in items
        ]
    )  # fmt: skip


SOME = 2
"""Rows from which it no longer matters how many there are, unless the work goes along their ends."""
_PLAIN = Ground()


def _ground(ground: Ground, number: int) -> Bare:
    """What the course stands on. How many rows there are, and where their foot is, only matters to work that goes round
    the piece (`Outcome.around`), which is never laid again."""
    if ground == _PLAIN:
        return ()
    ring = ground.ring_first - number if ground.ring_first >= 0 else None
    chain = ground.foundation_first - number if ground.foundation else None
    foot = tuple([(i.n, i.step) for i in ground.foot])
    return (
        ground.ring, ring, ground.ring_chains, ground.foundation, chain, min(ground.ends, SOME), foot, ground.open,
        ground.claimed,
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class After:
    """The work after a course or a line, to be found again behind a later one that comes to the same."""

    number: int
    """Of the first stitch of the course, and of its first group."""
    group: int
    was: Ground
    """What it stood on."""
    left: Bare
    ground: Ground
    made: int
    """How far the numbers of stitches went on."""
    groups: int

    def here(self, state: State, pending: tuple[Step, ...], total: int) -> State:
        """The work as it is when it was `state` before."""
        edge, _, flags = self.left
        number, group = state.number + self.made, state.group + self.groups
        items = [
            Item(kind, first + number, n, step, counted, -1 if of is None else of + group, start, closing)
            for kind, first, n, step, counted, of, start, closing in edge
        ]
        ground = self._ground(state.ground, state.number - self.number)
        values = list(flags)
        for place, value in zip(_PLACES, (items, ground, number, group, pending, total), strict=True):
            values.insert(place, value)
        return State(*values)

    def _ground(self, here: Ground, number: int) -> Ground:
        was, then = self.was, self.ground
        if then is was:
            return here
        if then == _PLAIN:
            return Ground()
        grown = was.ends >= SOME and then.ends >= was.ends
        foot = tuple([Item(i.kind, i.first + number, i.n, i.step) for i in then.foot])
        return Ground(
            then.ring, then.ring_first + number if then.ring_first >= 0 else -1, then.ring_chains, then.foundation,
            then.foundation_first + number if then.foundation else 0, then.ends - was.ends + here.ends if grown else then.ends,
            here.foot if was.foot and then.foot is was.foot else foot, then.open, then.claimed,
        )  # fmt: skip


def after(before: State, now: State, anew: bool = False) -> After:
    """The work `now`, which was `before`; `anew`: nothing of that is left."""
    was = _PLAIN if anew else before.ground
    made, groups = now.number - before.number, now.group - before.group
    return After(before.number, before.group, was, bare(now), now.ground, made, groups)

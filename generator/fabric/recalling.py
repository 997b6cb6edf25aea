"""What a line came to, worked once: patterns say the same on the same edge in many rounds, and a text that is followed
while it is written is worked again at every save.

Stitches and groups are numbered through a part, and nothing turns on how high the numbers are. So a line that says what
was said before (see `notation.bodies`), on an edge of the same make, comes to the same a little further on: what it
came to is laid again, numbers and places moved. Nothing is decided here, and only lines that came out well are kept;
one that names earlier courses or a length depends on more than its edge and is always worked.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from generator.fabric.edge import Item
from generator.fabric.ground import Ground
from generator.fabric.model import Course, Live, Run, WorkedLine
from generator.fabric.readings import Reading, settle
from generator.fabric.state import State
from generator.notation.tree import Again, Chain, Choice, Group, Line, Measure, PartRef, Repeat, Step, Work, Yarn
from generator.source import NOWHERE, Span, named

NEAR = 100
"""Below this number the beginning of the part may be nearer than the place that a line counts back to."""
LONG = 2_000
"""Runs or stretches of edge up to which what a line came to is kept."""

Bare = tuple[Any, ...]
"""Something of the work as a value: its numbers counted from where the line begins."""


@dataclass(frozen=True, slots=True, eq=False)
class Came:
    """What a line came to, and where."""

    line: Line
    number: int
    """Of the stitch, and of the group, that came first in it."""
    group: int
    chain: int
    """Where the turning chain of the line before was written; -1 where there was none."""
    worked: WorkedLine
    reading: Reading
    courses: tuple[Course, ...]
    after: Bare
    made: int
    """How far the numbers of stitches went on."""
    groups: int
    pending: tuple[int, ...]
    """Which of its steps are the turning chain it leaves behind."""
    anew: bool
    """Another piece begins with it."""
    leaning: frozenset[str]
    """Kinds of choices it turned (see `Searcher.leaning`)."""
    opened: frozenset[str]
    spent: int


@lru_cache(maxsize=4096)
def shelf(circumstances: Bare) -> list[Came]:
    """Where what came of these circumstances is kept; empty before."""
    return []


def circumstances(line: Line, state: State, *rest: object) -> Bare | None:
    """All that decides what a line comes to, with what else is handed in; None for a line that has to be worked."""
    body = line.body
    if body is None or body.said is None or body.steps is not line.steps or body.stated is not line.stated:
        return None
    if not line.steps:
        return None
    label = line.label
    chains = tuple([(c.n, c.stands_for, c.stands_chains, c.counts) for c in state.pending if isinstance(c, Chain)])
    first = label.numbers[:1] == (1,)
    return (body.said, label.side, len(label.numbers), first, min(state.number, NEAR), chains, _bare(state), *rest)


def _bare(state: State) -> Bare:
    """The work between two lines without its numbers, its turning chain apart."""
    number, group = state.number, state.group
    return (
        _edge(state.edge, number, group), _ground(state.ground, number, group), state.yarn, state.started, state.rows,
        state.turned, state.forward, state.cut, state.counts, state.made_by, state.main, state.joined, state.unsure,
    )  # fmt: skip


def _edge(items: Iterable[Item], number: int, group: int) -> Bare:
    return tuple(
        [
            (i.kind, i.first - number, i.n, i.step, i.counted, i.group - group if i.group >= 0 else None, i.start, i.closing)
            for i in items
        ]
    )  # fmt: skip


def _laid(edge: Bare, number: int, group: int) -> list[Item]:
    return [
        Item(kind, first + number, n, step, counted, -1 if of is None else of + group, start, closing)
        for kind, first, n, step, counted, of, start, closing in edge
    ]


_PLAIN = Ground()


def _ground(ground: Ground, number: int, group: int) -> Bare:
    if ground == _PLAIN:
        return ()
    ring = ground.ring_first - number if ground.ring_first >= 0 else None
    chain = ground.foundation_first - number if ground.foundation else None
    foot = _edge(ground.foot, number, group)
    return (
        ground.ring,
        ring,
        ground.ring_chains,
        ground.foundation,
        chain,
        ground.ends,
        foot,
        ground.open,
        ground.claimed,
    )


def _grounded(bare: Bare, number: int, group: int) -> Ground:
    if not bare:
        return Ground()
    ring, ring_first, ring_chains, foundation, chain, ends, foot, unseen, claimed = bare
    return Ground(
        ring, -1 if ring_first is None else ring_first + number, ring_chains, foundation,
        0 if chain is None else chain + number, ends, tuple(_laid(foot, number, group)), unseen, claimed,
    )  # fmt: skip


def _kept(known: Came, after: State) -> bool:
    """Whether nothing but its circumstances made a line come out as it did, and well."""
    line, courses = known.line, known.courses
    if known.worked.problem is not None or not _by_itself(line.steps):
        return False
    if any("@" in name for name, _ in known.reading.picks) or len(known.pending) != len(after.pending):
        return False
    if sum(len(c.runs) + len(c.edge) for c in courses) + len(after.edge) > LONG:
        return False
    begins, chain = line.span.start, known.chain
    spans = [run.span for course in courses for run in course.runs]
    if any(span is NOWHERE or (span.start < begins and span.start != chain) for span in spans):
        return False
    numbers = [course.number for course in courses]
    return numbers == [_number(line, k) for k in range(len(courses))] or not any(n is not None for n in numbers)


def _number(line: Line, k: int) -> int | None:
    """The printed number of a line's course `k`."""
    numbers = line.label.numbers
    return numbers[k] if k < len(numbers) else numbers[-1] + k - len(numbers) + 1 if numbers else None


def _by_itself(steps: tuple[Step, ...]) -> bool:
    """Whether no reading of the steps names other courses."""
    for step in steps:
        if isinstance(step, (Again, Measure)) or _deeper(step):
            return False
        if isinstance(step, (Repeat, Group)) and not _by_itself(step.steps):
            return False
        if isinstance(step, Choice) and not all(_by_itself(option.steps) for option in step.options):
            return False
    return True


def _deeper(step: Step) -> bool:
    """Whether a step names the course it goes into by its number."""
    if isinstance(step, PartRef):
        return step.course > 0
    return isinstance(step, (Work, Group, Yarn)) and step.target is not None and step.target.course > 0


def came(
    line: Line, before: State, worked: WorkedLine, reading: Reading, courses: tuple[Course, ...], after: State,
    anew: bool, leaning: frozenset[str], opened: frozenset[str], spent: int,
) -> Came | None:  # fmt: skip
    """What a line came to, to be kept; None where it had better be worked again."""
    pending = tuple([k for k, step in enumerate(worked.steps) if any(step is chain for chain in after.pending)])
    known = Came(
        line, before.number, before.group, _chain(before), worked, reading, courses, _bare(after),
        after.number - before.number, after.group - before.group, pending, anew, leaning, opened, spent,
    )  # fmt: skip
    return known if _kept(known, after) else None


def _chain(state: State) -> int:
    """Where the turning chain of the line before is written; -1 where there is none."""
    return state.pending[0].span.start if state.pending else -1


def again(known: Came, index: int, line: Line, state: State, first: int) -> tuple[WorkedLine, list[Course], State]:
    """The line as line `index` of its part, its courses (the first of them course `first`) and the work after it."""
    was, number, group = known.worked, state.number - known.number, state.group - known.group
    here = line.steps[0].span.start - known.line.steps[0].span.start
    moves = (number, group, known.line.span.start, here, _chain(state) - known.chain)
    courses = [
        Course(
            None if c.number is None else _number(line, k), index, c.make, c.forward, c.side, _runs(c.runs, *moves),
            tuple([Live(kind, at + number, n, step, counted) for kind, at, n, step, counted in c.edge]),
            c.made, c.used, c.live, c.kinds, c.below, c.extra, c.shift, c.turned, c.cut,
        )
        for k, c in enumerate(known.courses)
    ]  # fmt: skip
    steps = line.steps if was.steps is known.line.steps else settle(line.steps, known.reading)
    worked = WorkedLine(
        line, steps, (first, first + len(courses)), was.status, was.made, was.used, was.live, was.kinds, was.below, None,
        was.reading, was.unusual, was.ambiguous, was.alternatives,
    )  # fmt: skip
    return worked, courses, _after(known, state, tuple([steps[k] for k in known.pending]))


def _runs(runs: tuple[Run, ...], number: int, group: int, begins: int, here: int, there: int) -> tuple[Run, ...]:
    """Runs moved on: their numbers, and their places by `here`; what was written before `begins` is the turning chain
    of the line before, and is moved by `there`."""
    if not (number or group or here or there):
        return runs
    out: list[Run] = []
    for at, n, kind, yarn, parent, takes, share, step, into, loop, role, of, below, (start, end) in runs:
        by = here if start >= begins else there
        place = named(Span, (start + by, end + by))
        parent, of = parent + number if parent >= 0 else parent, of + group if of >= 0 else of
        moved = (at + number, n, kind, yarn, parent, takes, share, step, into, loop, role, of, below, place)
        out.append(named(Run, moved))
    return tuple(out)


def _after(known: Came, state: State, pending: tuple[Step, ...]) -> State:
    """The work after a line."""
    edge, ground, *flags = known.after
    number, group = state.number + known.made, state.group + known.groups
    yarn, started, rows, turned, forward, cut, counts, made_by, main, joined, unsure = flags
    return State(
        _laid(edge, number, group), _grounded(ground, number, group), number, group, yarn, started, rows, turned, forward,
        cut, pending, counts, made_by, main, joined, unsure, (0 if known.anew else state.total) + known.made,
    )  # fmt: skip

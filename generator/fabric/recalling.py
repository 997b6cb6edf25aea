"""What a line came to, worked once: patterns say the same on the same edge in many rounds, and a text that is followed
while it is written is worked again at every save.

A line that says what was said before (see `notation.bodies`), on an edge of the same make, comes to the same a little
further on (see `moving`): what it came to is laid again. Nothing is decided here, and only lines that came out well are kept;
one that names earlier courses or a length depends on more than its edge and is always worked.
"""

from dataclasses import dataclass
from functools import lru_cache

from generator.fabric.asking import by_itself
from generator.fabric.model import Course, WorkedLine
from generator.fabric.moving import NEAR, After, Bare, Move, after, bare
from generator.fabric.readings import Reading, settle
from generator.fabric.state import State
from generator.notation.tree import Chain, Line

LONG = 500
"""Runs or stretches of edge up to which what a line came to is kept."""


@dataclass(frozen=True, slots=True, eq=False)
class Came:
    """What a line came to, and where."""

    line: Line
    chain: int
    """Where the turning chain of the line before was written; -1 where there was none."""
    worked: WorkedLine
    reading: Reading
    courses: tuple[Course, ...]
    after: After
    pending: tuple[int, ...]
    """Which of its steps are the turning chain it leaves behind."""
    anew: bool
    """Another piece begins with it."""
    leaning: frozenset[str]
    """Kinds of choices it turned (see `Searcher.leaning`)."""
    opened: frozenset[str]
    spent: int


@lru_cache(maxsize=2048)
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
    return (body.said, label.side, len(label.numbers), first, min(state.number, NEAR), chains, bare(state), *rest)


def _kept(known: Came, now: State) -> bool:
    """Whether nothing but its circumstances made a line come out as it did, and well."""
    line, courses = known.line, known.courses
    if known.worked.problem is not None or not by_itself(line.steps):
        return False
    if any("@" in name for name, _ in known.reading.picks) or len(known.pending) != len(now.pending):
        return False
    if sum(len(c.runs) + len(c.edge) for c in courses) + len(now.edge) > LONG:
        return False
    begins, chain = line.span.start, known.chain
    spans = [run.span for course in courses for run in course.runs]
    if any(span.end and span.start < begins and span.start != chain for span in spans):
        return False
    numbers = [course.number for course in courses]
    return numbers == [_number(line, k) for k in range(len(courses))] or not any(n is not None for n in numbers)


def _number(line: Line, k: int) -> int | None:
    """The printed number of a line's course `k`."""
    numbers = line.label.numbers
    return numbers[k] if k < len(numbers) else numbers[-1] + k - len(numbers) + 1 if numbers else None


def came(
    line: Line, before: State, worked: WorkedLine, reading: Reading, courses: tuple[Course, ...], now: State,
    anew: bool, leaning: frozenset[str], opened: frozenset[str], spent: int,
) -> Came | None:  # fmt: skip
    """What a line came to, to be kept; None where it had better be worked again."""
    pending = tuple([k for k, step in enumerate(worked.steps) if any(step is chain for chain in now.pending)])
    left = after(before, now, anew)
    known = Came(line, _chain(before), worked, reading, courses, left, pending, anew, leaning, opened, spent)
    return known if _kept(known, now) else None


def _chain(state: State) -> int:
    """Where the turning chain of the line before is written; -1 where there is none."""
    return state.pending[0].span.start if state.pending else -1


def again(known: Came, index: int, line: Line, state: State, first: int) -> tuple[WorkedLine, list[Course], State]:
    """The line as line `index` of its part, its courses (the first of them course `first`) and the work after it."""
    was, number, group = known.worked, state.number - known.after.number, state.group - known.after.group
    here = line.steps[0].span.start - known.line.steps[0].span.start
    move = Move(number, group, known.line.span.start, here, _chain(state) - known.chain)
    courses = [
        move.course(course, index, None if course.number is None else _number(line, k))
        for k, course in enumerate(known.courses)
    ]
    steps = line.steps if was.steps is known.line.steps else settle(line.steps, known.reading)
    worked = WorkedLine(
        line, steps, (first, first + len(courses)), was.status, was.made, was.used, was.live, was.kinds, was.below, None,
        was.reading, was.unusual, was.ambiguous, was.alternatives,
    )  # fmt: skip
    pending = tuple([steps[k] for k in known.pending])
    total = (0 if known.anew else state.total) + known.after.made
    return worked, courses, known.after.here(state, pending, total)

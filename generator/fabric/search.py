"""The readings of a line, worked until one fits."""

from dataclasses import dataclass, field

from generator.fabric.asking import (
    each_open,
)
from generator.fabric.count import agrees, knows, tally
from generator.fabric.edge import Item
from generator.fabric.ground import Settings as CourseSettings
from generator.fabric.lower import named_anywhere
from generator.fabric.model import Course, Fault, Problem
from generator.fabric.planning import Planner
from generator.fabric.readings import Reading, choices, readings, settle
from generator.fabric.recurring import Courses, Told
from generator.fabric.state import MOST_PART, Outcome, State
from generator.fabric.verdict import choose
from generator.notation.tree import (
    Again,
    Line,
)  # fmt: skip

DOUBTED = 4
"""Readings worked of a line without a count, to see whether another one closes as well."""
MOST_TRIED = 64
ENOUGH_WORK = 400_000
"""Runs worked for one piece, all readings together, after which only the usual reading of a line is worked. A long
pattern needs some ten thousand."""
LINE_WORK = 60_000
"""The same for one line; 64 readings of a row of 500 runs come to half of it."""
MOST_WORK = 2_000_000
"""Runs after which a line is too large."""


@dataclass(slots=True)
class Searcher(Planner):
    """Searches the readings of a line."""

    leaning: set[str] = field(default_factory=set)
    """Kinds of choices (`rep-n`) that this writer was proved to mean the second way; later lines follow."""
    spent: int = 0
    """Runs worked so far, in readings that were not taken, too: what keeps senseless texts within bounds."""
    done: Courses = field(default_factory=Courses)
    """Courses of lines that make several, or make earlier ones again."""
    around: bool = False
    """A reading of the line went round the piece (see `Outcome.around`)."""

    def _search(self, index: int, line: Line) -> tuple[list[Outcome], int]:
        more: list[tuple[str, tuple[int, ...]]] = []
        if any(i.space for i in self.state.edge) and each_open(line.steps):
            more.append(("each", (0, 2, 2)))
        if any(isinstance(step, Again) for step in line.steps):
            more.append(("grown", (0, 1)))
        if named_anywhere(line.steps):
            more.append(("level", (0, 1)))
        outcomes: list[Outcome] = []
        tried = 0
        enough = min(ENOUGH_WORK, self.spent + LINE_WORK)
        counted = line.stated is not None and knows(line.stated)
        open_to_doubt = any(choice.kind in ("rep-n", "rep-closed", "n-st") for choice in choices(line.steps))
        for reading in readings(line.steps, tuple(more), frozenset(self.leaning)):
            tried += 1
            outcome = self._attempt(index, line, reading)
            outcomes.append(outcome)
            if outcome.fits and outcome.agrees and (counted or not open_to_doubt or tried >= DOUBTED):
                break
            if tried >= MOST_TRIED or self.spent > enough:
                break
        return outcomes, tried

    def _from_worked(
        self, index: int, line: Line, chosen: Outcome, outcomes: list[Outcome], tried: int
    ) -> tuple[Outcome, list[Outcome], int]:
        """The line before had a wrong count. Its stated count does not lead on; perhaps what it made does."""
        stated = self.state.edge
        self.state.edge = self.worked_edge
        others, more = self._search(index, line)
        better = choose(others)
        plainer = not (chosen.fits and chosen.agrees) or better.reading.cost < chosen.reading.cost
        if better.fits and better.agrees and plainer:
            return better, others, tried + more
        self.state.edge = stated
        return chosen, outcomes, tried + more

    def _led_on(self, index: int, line: Line, chosen: Outcome) -> list[Item]:
        """What a line without a count makes of the edge that the one before really left, so that the next printed count
        may still be held against that; empty where nothing is left to doubt."""
        counted = line.stated is not None and (line.stated.total is not None or bool(line.stated.kinds))
        if not self.worked_edge or counted or not chosen.fits:
            return []
        stated, self.state.edge = self.state.edge, self.worked_edge
        other = self._attempt(index, line, chosen.reading)
        self.state.edge = stated
        return other.state.edge if other.fits else []

    def _attempt(self, index: int, line: Line, reading: Reading) -> Outcome:
        steps = settle(line.steps, reading)
        state = self.state  # every course works on a copy
        courses: list[Course] = []
        plan = self.plan(line, steps, bool(reading.pick("grown")))
        settings = CourseSettings(
            start_counts=self.state.counts,
            habit=self.habit,
            each=reading.pick("each"),
            rows=state.rows,
            level=bool(reading.pick("level")),
        )
        if not plan:
            missing = next((s for s in steps if isinstance(s, Again)), None)
            span = missing.span if missing else line.span
            lost = Problem(Fault.NO_COURSE, span, words=",".join(str(n) for n in (missing.numbers if missing else ())))
            return Outcome(reading, steps, state.copied(), [], tally(state.edge), lost)
        strict = True
        problem: Problem | None = None
        numbers = line.label.numbers
        several = len(plan) > 2 or plan[0] is not steps
        settled = {id(body): body if body is steps else settle(body, reading) for body in plan}  # earlier: still open
        for k, body in enumerate(settled[id(body)] for body in plan):
            number = numbers[k] if k < len(numbers) else (numbers[-1] + k - len(numbers) + 1 if numbers else None)
            if several:
                worked = self._or_again(Told(body, line, settings), state, index, number)
            else:
                worked = self._course(state, body, number, settings, index, line)
            worked.state.total += worked.state.number - state.number
            state, found = worked.state, worked.found
            courses.extend(worked.courses)
            strict = strict and worked.strict
            self.around = self.around or worked.around
            self.spent += len(body) + sum(len(c.runs) for c in worked.courses)
            if worked.problem is not None:
                problem = worked.problem
                break
            if state.total > MOST_PART or self.spent > MOST_WORK:
                problem = Problem(Fault.LIMIT, line.span, need=MOST_PART)
                break
        outcome = Outcome(reading, steps, state, courses, found, problem, reading.pick("each"), strict, problem is None)
        outcome.agrees = line.stated is None or agrees(line.stated, found)
        return outcome

    def _or_again(self, told: Told, state: State, index: int, number: int | None) -> Outcome:
        """A course of several, laid as one before where it comes to the same."""
        if again := self.done.again(state, told, index, number):
            return again
        worked = self._course(state, told.steps, number, told.settings, index, told.line)
        self.done.keep(state, told, worked)
        return worked

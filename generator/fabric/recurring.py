"""Courses of a part that say the same on an edge of the same make: the later one is laid as the first, moved on.

`Rnds 11-30`, `rep Rows 2 and 3 until it measures …`, `Rows 9-12: Rep Row 2`: nearly all courses of such lines are alike.
"""

from dataclasses import dataclass, field, replace

from generator.fabric.asking import by_itself
from generator.fabric.ground import Settings
from generator.fabric.moving import NEAR, After, Bare, Move, after, bare
from generator.fabric.state import Outcome, State
from generator.notation.tree import Line, Step


@dataclass(frozen=True, slots=True)
class Told:
    """How a course is told: by which steps, in what line, read in which way."""

    steps: tuple[Step, ...]
    line: Line
    settings: Settings

    def here(self, state: State) -> Bare:
        """All that decides what comes of it. Steps are told by what they are: the same ones are meant, not others like
        them (whoever keeps this holds them fast)."""
        label, rules = self.line.label, self.settings
        said = (label.word, label.side, bool(label.numbers), self.line.stated is None, rules.each, rules.level)
        return id(self.steps), tuple(map(id, state.pending)), min(state.number, NEAR), said, bare(state)


@dataclass(slots=True)
class Courses:
    """The courses so far, each with the work after it."""

    worked: dict[Bare, tuple[After, Outcome, Told, tuple[Step, ...]]] = field(default_factory=dict)

    def again(self, state: State, told: Told, index: int, number: int | None) -> Outcome | None:
        """What is told comes to here, in line `index`, where it was worked on an edge of the same make; else None."""
        known = self.worked.get(told.here(state))
        if known is None:
            return None
        left, outcome = known[:2]
        move = Move(state.number - left.number, state.group - left.group)
        courses = [move.course(course, index, number) for course in outcome.courses]
        return replace(outcome, state=left.here(state, outcome.state.pending, state.total), courses=courses)

    def keep(self, state: State, told: Told, outcome: Outcome) -> None:
        """Keep what came out well."""
        if outcome.problem is None and not outcome.around and by_itself(told.steps):
            self.worked[told.here(state)] = after(state, outcome.state), outcome, told, state.pending

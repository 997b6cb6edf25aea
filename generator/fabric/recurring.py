"""Courses of one line that say the same on an edge of the same make: the later one is laid as the first, moved on.

`Rnds 11-30`, `rep Rows 2 and 3 until it measures …`: nearly all courses of such a line are alike.
"""

from dataclasses import dataclass, field, replace

from generator.fabric.asking import by_itself
from generator.fabric.moving import NEAR, After, Bare, Move, after, bare
from generator.fabric.state import Outcome, State
from generator.notation.tree import Step


@dataclass(slots=True)
class Courses:
    """The courses of a line so far, each with the work after it."""

    index: int
    """Of the line in its part."""
    worked: dict[Bare, tuple[After, Outcome, tuple[Step, ...]]] = field(default_factory=dict)

    def again(self, state: State, body: tuple[Step, ...], number: int | None) -> Outcome | None:
        """What these steps come to here, where they were worked on an edge of the same make; else None."""
        known = self.worked.get(_circumstances(state, body))
        if known is None:
            return None
        left, outcome, _ = known
        move = Move(state.number - left.number, state.group - left.group)
        courses = [move.course(course, self.index, number) for course in outcome.courses]
        return replace(outcome, state=left.here(state, outcome.state.pending, state.total), courses=courses)

    def keep(self, state: State, body: tuple[Step, ...], outcome: Outcome) -> None:
        """Keep what steps came to that came out well."""
        if outcome.problem is None and not outcome.around and by_itself(body):
            self.worked[_circumstances(state, body)] = after(state, outcome.state), outcome, body


def _circumstances(state: State, body: tuple[Step, ...]) -> Bare:
    """All that decides what the steps of this line come to. Steps are told by what they are: the same ones are meant,
    not others like them, and `keep` holds them fast."""
    return id(body), tuple(map(id, state.pending)), min(state.number, NEAR), bare(state)

"""What is known between two lines of a part, and what one reading of a line came to."""

from dataclasses import dataclass, field
from operator import attrgetter

from generator.fabric.count import Tally
from generator.fabric.edge import Item
from generator.fabric.ground import Ground
from generator.fabric.model import Course, Problem
from generator.fabric.readings import Reading
from generator.notation.tree import (
    Step,
)  # fmt: skip

MOST_COURSES = 5_000
"""Courses one line may make."""
MOST_PART = 2_000_000
"""Stitches of one part that are worked."""


@dataclass(frozen=True, slots=True)
class Settings:
    """What the header says about the whole pattern.

    `rounds` is `spiral`, `joined` or empty; `start_chain` `counts`, `does not count` or empty; `rows_per_mm` turns
    `until it measures` into courses (0.0: not known, one course is worked).
    """

    rounds: str = ""
    start_chain: str = ""
    rows_per_mm: float = 0.0


@dataclass(slots=True)
class State:
    """The work between two lines."""

    edge: list[Item] = field(default_factory=list)
    ground: Ground = field(default_factory=Ground)
    number: int = 0
    group: int = 0
    yarn: str = ""
    started: bool = False
    rows: bool = False
    turned: bool = False
    forward: bool = True
    cut: bool = False
    pending: tuple[Step, ...] = ()
    """A turning chain made at the end of the course before."""
    counts: bool | None = None
    made_by: str = ""
    main: str = "sc"
    joined: bool = False
    unsure: bool = False
    """The edge is not what the pattern means (a line before could not be worked): nothing is proved from it."""
    total: int = 0
    endless: bool = False
    """It stands on a chain of any length: no count of it can be checked, and what the chain has over is nobody's fault."""

    def copied(self) -> "State":
        """A copy to work on."""
        return State(*_values(self))


_values = attrgetter(*State.__slots__)


@dataclass(slots=True)
class Outcome:
    """One reading of a line, worked."""

    reading: Reading
    steps: tuple[Step, ...]
    state: State
    courses: list[Course]
    found: Tally
    problem: Problem | None
    each: int = 0
    strict: bool = True
    fits: bool = False
    agrees: bool = False
    around: bool = False
    """It went along another side of the piece than its edge: its row ends, its foot."""

"""What a course stands on besides its edge, and how questions the text leaves open are answered for it."""

from dataclasses import dataclass

from generator.fabric.edge import Item

MOST_STITCHES = 20_000
"""Stitches of one course that are worked."""


@dataclass(slots=True)
class Ground:
    """What the course stands on, besides the edge: a ring or a foundation chain."""

    ring: bool = False
    ring_first: int = -1
    ring_chains: int = 0
    foundation: int = 0
    """Chains of a foundation not yet worked into."""
    foundation_first: int = 0
    ends: int = 0
    """Rows of the piece so far, each with an end on either side; 0 when that is not known."""
    foot: tuple[Item, ...] = ()
    """The chains of the foundation from below, once its first row is worked."""
    open: bool = False
    """On a piece that the text at hand doesn't show: every place that is asked for is there."""
    claimed: int = 0
    """With `open`: the stitches the text says the course has, which `in each` then comes to."""


MOST_STEPS = 400_000
"""Steps of one course that are carried out, whether they make stitches or not."""


@dataclass(frozen=True, slots=True)
class Habit:
    """How a part treats beginning chains of which its text says nothing. `tall`: chains as high as a dc or a taller
    stitch; they usually stand for it. `low`: those of an hdc, and chains lower than the stitch they begin."""

    tall: bool = True
    low: bool = False


USUAL_HABIT = Habit()


@dataclass(slots=True)
class Settings:
    """How open questions of this course are answered."""

    start_counts: bool | None = None
    """Whether a beginning chain counts, where the pattern says so for all of them."""
    habit: Habit = USUAL_HABIT
    each: int = 0
    """0: only stitches are places; 1: chain spaces too; 2: every single chain too."""
    rows: bool = False
    spiral: bool = False
    """Unjoined rounds, where the old edge and the new one are one queue."""
    spread: int = 1
    """Places from one stitch to the next where chains part them and no text says how many they span."""
    extra: bool = True
    """Whether stitches past the end of the course may level it."""
    level: bool = False
    """A stitch worked down into an earlier course stands in the place above it, and takes that."""

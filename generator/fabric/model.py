"""The fabric: every stitch, what it is worked into, and three numbers for every course.

A part is kept as runs (kind times n with a rule for the parents), so a plain round of 10,000 stitches costs no more
than one of ten; `Part.stitches()` unfolds them where a picture or a form asks. Stitch numbers count up in the order
of working, from 0, within a part.

What there are thousands of (`Run`, `Stitch`, `Live`) are named tuples: as frozen as a frozen class, and made in a
third of its time.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from enum import StrEnum
from typing import NamedTuple

from generator.notation.tree import Line, Loop, Step
from generator.source import NOWHERE, Span


class Into(StrEnum):
    """What a stitch is worked into."""

    STITCH = "stitch"
    SPACE = "space"
    """round a chain; the parents are all chains of that space"""
    RING = "ring"
    """the ring in the middle; no parents (adjustable ring) or all chains of the ring"""
    GAP = "gap"
    """between two stitches; the parents are both"""
    AIR = "air"
    """nothing: chains, and the foundation's own stitches"""
    SIDE = "row end"
    """the edge of a row; the parent is that row's first or last stitch"""


class Role(StrEnum):
    """What a stitch is there for."""

    STITCH = ""
    START = "start"
    """beginning or turning chain; counted or not"""
    JOIN = "join"
    """closes a round; made, never live"""
    EXTRA = "extra"
    """levelling stitch worked past the end of the round: made, and live in place of the one it covers"""
    TRAVEL = "travel"
    """slip stitch to reach the next place; not live"""
    PICOT = "picot"
    FOUNDATION = "foundation"
    RING = "ring"
    CORD = "cord"


class Run(NamedTuple):
    """`n` stitches of one kind worked one after the other, numbered from `first`.

    Stitch i of the run (from 0) takes `takes` parents: parent + step * (takes * (i // share) + 0 .. takes-1).
    `parent` is -1 where there are none. `together` runs (dc2tog) have takes > 1; several stitches in one place have
    share > 1; a space, gap or ring keeps one place for the whole run (share = n).
    """

    first: int
    n: int
    kind: str
    yarn: str = ""
    parent: int = -1
    takes: int = 1
    share: int = 1
    step: int = 1
    into: Into = Into.STITCH
    loop: Loop = Loop.BOTH
    role: Role = Role.STITCH
    group: int = -1
    """Number of the group (shell, fan, several in one place) it belongs to, -1 for none; unique in a part."""
    below: int = 0
    span: Span = NOWHERE
    """The words that made it."""


class Stitch(NamedTuple):
    """One stitch of the unfolded fabric."""

    number: int
    kind: str
    course: int
    yarn: str
    parents: tuple[int, ...]
    """Stitches it is worked into, in order along the course below; empty for ring and air."""
    into: Into
    loop: Loop
    role: Role
    group: int
    span: Span


class Live(NamedTuple):
    """A stretch of the live edge: `n` places of one kind, in working order of the course that made them.

    For chains (`kind` `ch`) it is one space of `n` chains. `first` is the number of the first stitch, the others
    follow at `step` (-1 after turning). `counted` is False for what is no stitch by the pattern's convention.
    """

    kind: str
    first: int
    n: int
    step: int = 1
    counted: bool = True


class Make(StrEnum):
    """How a course goes."""

    FOUNDATION = "foundation"
    SPIRAL = "spiral"
    JOINED = "joined"
    ROW = "row"


@dataclass(frozen=True, slots=True)
class Course:
    """One round or row, worked."""

    number: int | None
    """As printed; None where the text gives none."""
    line: int
    """Index of its `WorkedLine` in the part."""
    make: Make
    forward: bool
    """False for a row (or turned round) worked back, right to left and left to right changing places."""
    side: str
    """`RS`, `WS`; empty when nothing tells."""
    runs: tuple[Run, ...]
    edge: tuple[Live, ...]
    """The live edge when it is done, from the start of the course."""
    made: int
    """Stitches worked, joins, chains and picots not counted, levelling stitches counted."""
    used: int
    """Places of the course below that were taken or skipped on purpose."""
    live: int
    """Stitches left round the edge; what is printed as the count."""
    kinds: tuple[tuple[str, int], ...]
    """Live stitches by identity, in order of first use; `sp:2` holds ch-2 spaces."""
    below: int
    """Stitches that were live before it."""
    extra: int = 0
    """Levelling stitches worked past its end."""
    shift: int = 0
    """Places its start has moved from the start of the course below (levelling, slip-stitched corners)."""
    turned: bool = False
    """The work was turned after it."""
    cut: bool = False
    """The yarn was fastened off after it."""

    @property
    def first(self) -> int:
        """Number of its first stitch; -1 when it has none."""
        return self.runs[0].first if self.runs else -1

    @property
    def size(self) -> int:
        """How many stitches of all kinds it has, chains included."""
        return sum(run.n for run in self.runs)


class Status(StrEnum):
    """What the work says of a line."""

    PROVED = "proved"
    WORKED = "worked"
    DIFFERS = "differs"
    DOES_NOT_CLOSE = "does-not-close"
    NOT_UNDERSTOOD = "not-understood"
    REMARK = "remark"


class Fault(StrEnum):
    """What went wrong in working a line."""

    COUNT = "count"
    """the stated count is not what the line makes"""
    KINDS = "kinds"
    """a stated kind is not what the line makes"""
    SHORT = "short"
    """places of the course below are left unworked"""
    OVER = "over"
    """it needs more places than there are"""
    FIT = "fit"
    """a repeat to the end does not divide the course"""
    NO_START = "no start"
    """works into nothing"""
    NO_COURSE = "no course"
    """refers to a course that does not exist"""
    NO_PLACE = "no place"
    """names a place that is not there (a ch-3 space, a corner)"""
    LIMIT = "limit"
    """more stitches than this tool will work"""
    UNREAD = "unread"
    """words that were not understood"""


@dataclass(frozen=True, slots=True)
class Problem:
    """A fault with its numbers. What they mean: `have` is what is there or was worked, `need` what is asked for or
    stated, `per` the places one repeat takes, `left` what is left over."""

    fault: Fault
    span: Span
    have: int = 0
    need: int = 0
    per: int = 0
    left: int = 0
    kind: str = ""
    words: str = ""

    @property
    def lenient(self) -> bool:
        """Places left over where lace may leave some; not loops passed over on the way to the last one."""
        return self.fault is Fault.SHORT and not self.kind.startswith("sp:")


@dataclass(frozen=True, slots=True)
class WorkedLine:
    """A line with its reading settled and worked.

    `steps` are the line's steps with every Choice replaced by the option taken. `courses` is the half-open range of
    indices of the courses it made (a line for Rnds 4-8 makes five; a remark none).
    """

    line: Line
    steps: tuple[Step, ...]
    courses: tuple[int, int]
    status: Status
    made: int = 0
    used: int = 0
    live: int = 0
    kinds: tuple[tuple[str, int], ...] = ()
    below: int = 0
    problem: Problem | None = None
    reading: str = ""
    """One sentence on what was chosen and why; empty where there was nothing to choose."""
    unusual: bool = False
    """True where only an unusual reading fits."""
    ambiguous: str = ""
    """Set where several usual readings fit and differ in fabric: what they are."""
    alternatives: int = 1
    """Readings tried."""


@dataclass(frozen=True, slots=True)
class Part:
    """One piece of the work, worked."""

    name: str
    make: int
    lines: tuple[WorkedLine, ...]
    courses: tuple[Course, ...]
    start_chain_counts: bool | None = None
    """The convention the whole part keeps for starting chains of tall stitches; None where none occur."""
    _stitches: list[tuple[Stitch, ...]] = field(default_factory=list, repr=False, compare=False)

    def stitches(self) -> tuple[Stitch, ...]:
        """Every stitch, in order of working; unfolded on the first call and kept."""
        if not self._stitches:
            self._stitches.append(tuple(_unfold(self.courses)))
        return self._stitches[0]

    def count(self) -> int:
        """How many stitches of all kinds the part has."""
        return sum(course.size for course in self.courses)


@dataclass(frozen=True, slots=True)
class Fabric:
    """All parts of a pattern, worked."""

    parts: tuple[Part, ...]


def _unfold(courses: tuple[Course, ...]) -> Iterator[Stitch]:
    for index, course in enumerate(courses):
        for run in course.runs:
            for i in range(run.n):
                parents: tuple[int, ...] = ()
                if run.parent >= 0:
                    base = run.parent + run.step * run.takes * (i // run.share)
                    parents = tuple(base + run.step * k for k in range(run.takes))
                yield Stitch(
                    run.first + i, run.kind, index, run.yarn, parents, run.into, run.loop, run.role, run.group, run.span
                )  # fmt: skip

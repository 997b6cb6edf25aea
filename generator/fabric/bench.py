"""Where a course is worked: the hand on the old edge, the new edge that grows, the record of stitches made."""

from collections.abc import Callable
from itertools import accumulate

from generator.fabric.edge import Item, Taken
from generator.fabric.foresight import main_stitch, needs
from generator.fabric.ground import MOST_STITCHES, Ground, Settings
from generator.fabric.hand import Hand
from generator.fabric.model import Fault, Into, Problem, Role, Run
from generator.notation.tree import (
    Foundation,
    Loop,
    Ring,
    Step,
)
from generator.source import Span, named


class Bench:
    """Everything that changes while a course is worked, and the few moves everything else is made of."""

    # What a course begins with, for all courses alike; what it begins on is set for each.
    place: Taken | None = None
    into = Into.STITCH
    begun = False
    pending_space = False
    problem: Problem | None = None
    passes = 0
    groups = 0
    picots = 0
    made = 0
    extra = 0
    shift = 0
    joined = turned = cut = stayed = False
    main = "sc"
    carried_out = 0
    branch: Hand | None = None
    """The rest of a chain made in this course that is worked back along."""
    fit: tuple[Span, int, int, int] | None = None
    """The repeat to the end: its words, the places one pass takes, how many of them it skips, how many of those first."""
    passed_over = 0
    """Stitches left unworked before the last one."""
    depth = 0
    circling = False
    """Whether a repeat to the end of the course is being worked."""
    pass_began = (0, 0)
    """Where the hand was at the beginning of its present pass."""
    rest: tuple[Step, ...] = ()
    body: tuple[Step, ...] = ()
    """The steps of the course; `rest` are the last ones of them."""
    needed: tuple[int, ...] = ()
    """The places that the last 0, 1, 2, … steps of the course are sure to take, once asked for."""
    sides = False
    skipped: Taken | None = None
    loose = False
    unset = False
    in_group = -1
    borrowed = -1
    after_skip = False
    closing: Item | None = None
    closes_below = False
    heap = 0
    """Chains a shell of the row below hangs on, once this course has named them: `in ch-2 loop of next shell`."""
    closes_picot = False
    overrun: Problem | None = None
    meshes = wider = 0
    """Squares of filet made, and how many may be made beyond the end of the row below."""
    start_said = False
    """The text says itself what the beginning chain counts as."""

    def __init__(
        self, edge: list[Item], ground: Ground, number: int, group: int, yarn: str, settings: Settings
    ) -> None:
        self.hand = Hand(edge)
        self.ground = ground
        self.settings = settings
        self.new: list[Item] = []
        self.runs: list[Run] = []
        self.number = number
        self.group = group
        self.yarn = yarn
        self.stitch = number - 1
        self.opened: set[str] = set()
        """Which kinds of beginning chains the text left open (see `ground.Habit`)."""
        self.earlier: Callable[[int], list[Item] | None] = lambda _number: None
        """The edge of an earlier course by its number; None for the one just below and where there is none."""
        self.lower: dict[int, Hand] = {}
        """Hands on the edges of earlier courses that some stitches of this one go down into."""

    def emit(
        self, kind: str, n: int, taken: Taken | None, span: Span, *, share: int = 1, takes: int = 1, into: Into = Into.STITCH,
        loop: Loop = Loop.BOTH, role: Role = Role.STITCH, below: int = 0,
    ) -> int:  # fmt: skip
        """Record n stitches and give the number of the first."""
        first = self.number
        parent, step = (taken.first, taken.step) if taken is not None else (-1, 1)
        if taken is not None and taken.space:
            takes, share, into = taken.n, n, Into.SPACE
        elif taken is not None and taken.kind == "gap":
            takes, share, into = 2, n, Into.GAP
        self.runs.append(
            named(
                Run,
                (first, n, kind, self.yarn, parent, takes, share, step, into, loop, role, self.in_group, below, span),
            )
        )
        self.number += n
        self.stitch = self.number - 1
        if self.number - self.runs[0].first > MOST_STITCHES:
            self.fail(Fault.LIMIT, span, need=MOST_STITCHES)
        return first

    def room(self) -> int:
        """Stitches that may still be worked in this course."""
        return MOST_STITCHES - (self.number - self.runs[0].first if self.runs else 0)

    def lay(self, kind: str, first: int, n: int, counted: bool = True, start: bool = False) -> None:
        """Put stitches on the new edge, joining them to the run before where they are of a kind."""
        if self.new and not start:
            last = self.new[-1]
            if (
                last.kind == kind and last.counted == counted and counted and last.group == self.in_group and not last.start
                and last.first + last.n == first and last.step == 1
            ):  # fmt: skip
                last.n += n
                return
        self.new.append(Item(kind, first, n, 1, counted, self.in_group, start))

    def lay_space(self, first: int, n: int) -> bool:
        """Put chains on the new edge, joining them to the chains before; whether they are a space of their own."""
        if self.new and self.new[-1].space and self._only_picots_since(self.new[-1]):
            self.new[-1].n += n
            return False
        self.lay("ch", first, n, counted=False)
        return True

    def _only_picots_since(self, space: Item) -> bool:
        """Whether the chain goes on: nothing, or only picots, which hang on the loop, were made since."""
        for at in range(len(self.runs) - 2, -1, -1):
            run = self.runs[at]
            if run.first < space.first + space.n:
                return True
            if run.role is not Role.PICOT and run.kind != "ch":
                return False
        return True

    def fail(
        self, fault: Fault, span: Span, have: int = 0, need: int = 0, per: int = 0, left: int = 0, kind: str = ""
    ) -> bool:
        """Note the first problem; always False."""
        if self.problem is None:
            self.problem = Problem(fault, span, have, need, per, left, kind)
        return False

    def ring(self, step: Ring) -> bool:
        """Begin in a ring."""
        self.ground = Ground(ring=True, ring_chains=step.chains)
        self.hand = Hand([])
        if step.chains:
            first = self.emit("ch", step.chains, None, step.span, into=Into.AIR, role=Role.RING)
            self.emit("sl-st", 1, Taken(first, 1, 1), step.span, role=Role.JOIN)
            self.ground.ring_first = first
            self.hand = Hand([Item("ch", first, step.chains, 1, True)])
        self.begun = False
        return True

    def foundation(self, step: Foundation) -> bool:
        """Chain a foundation; the next course works back along it."""
        n = step.chains
        first = self.emit("ch", n, None, step.span, into=Into.AIR, role=Role.FOUNDATION)
        self.ground = Ground(foundation=n, foundation_first=first)
        self.hand = Hand([Item("ch", first + n - 1, n, -1, True)])
        return True

    def snapshot(self) -> tuple[object, ...]:
        """Everything that changes while working, to go back to."""
        tail = self.new[-1] if self.new else None
        return (
            self.hand.copy(), len(self.new), tail.n if tail else 0, len(self.runs), self.number, self.group, self.place, self.stitch,
            self.begun, self.made, self.groups, self.picots, self.extra, self.yarn, self.joined, self.passes, self.skipped, self.borrowed, self.meshes,
            tuple((n, hand.copy()) for n, hand in self.lower.items()) if self.lower else (),
        )  # fmt: skip

    def restore(self, snap: tuple[object, ...]) -> None:
        """Back to a snapshot."""
        (
            hand, n_new, tail, n_runs, self.number, self.group, self.place, self.stitch, self.begun, self.made, self.groups,
            self.picots, self.extra, self.yarn, self.joined, self.passes, self.skipped, self.borrowed, self.meshes, lower,
        ) = snap  # type: ignore[assignment] # fmt: skip
        assert isinstance(hand, Hand) and isinstance(n_new, int) and isinstance(tail, int) and isinstance(n_runs, int)
        self.hand = hand
        self.lower = {n: low.copy() for n, low in lower} if self.lower else self.lower  # type: ignore[attr-defined]
        del self.new[n_new:]
        if self.new:
            self.new[-1].n = tail
        del self.runs[n_runs:]
        self.problem = None

    def rest_needs(self) -> int:
        """Places that what follows in this course is sure to take."""
        if len(self.needed) <= len(self.body):
            sums = accumulate((needs((step,)) for step in reversed(self.body)), initial=0)
            self.needed = tuple(sums)
        return self.needed[len(self.rest)]

    def rest_works(self) -> bool:
        """Whether real work follows on this line."""
        return bool(main_stitch(self.rest))

    def new_places(self) -> bool:
        """Whether the hand moves on an edge (not a ring or nothing); what is repeated to the end goes round the chains
        of a ring, one after the other."""
        return bool(self.hand.items) and not (
            self.ground.ring
            and self.ground.ring_chains <= 12
            and not (self.circling and self.hand.i < len(self.hand.items))
        )

    def _only_start(self) -> bool:
        return len(self.new) <= 2 and bool(self.new) and self.new[0].start

    def steps(self, steps: tuple[Step, ...]) -> bool:
        """Carry out steps in order (see `course.Weaver`)."""
        raise NotImplementedError

    def one(self, step: Step) -> bool:
        """Carry out one step (see `course.Weaver`)."""
        raise NotImplementedError

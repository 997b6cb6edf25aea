"""One course worked: steps whose choices are settled are carried out on the live edge, stitch by stitch.

The weaver is a hand on the old edge and a new edge that grows. It never guesses: what cannot be worked becomes a
`Problem` and the course stops there.
"""

from dataclasses import dataclass, field, replace

from generator.fabric.edge import Hand, Item, Taken
from generator.fabric.model import Fault, Into, Problem, Role, Run
from generator.notation.tree import (
    Along,
    Chain,
    FastenOff,
    Foundation,
    Group,
    How,
    Join,
    Loop,
    Noun,
    OtherSide,
    Picot,
    Repeat,
    Ring,
    Shape,
    Skip,
    Stay,
    Step,
    Target,
    Turn,
    Work,
    Yarn,
)  # fmt: skip
from generator.source import NOWHERE, Span
from generator.vocabulary.load import stitch

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
    other_side: list[Item] = field(default_factory=list)


@dataclass(slots=True)
class Settings:
    """How open questions of this course are answered."""

    start_counts: bool | None = None
    """Whether a beginning chain counts, where the text leaves it open."""
    each: int = 0
    """0: only stitches are places; 1: chain spaces too; 2: every single chain too."""
    rows: bool = False
    spiral: bool = False
    """Unjoined rounds, where the old edge and the new one are one queue."""
    extra: bool = True
    """Whether stitches past the end of the course may level it."""


class Weaver:
    """Works one course. Make it, call `run`, read what it left."""

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
        self.place: Taken | None = None
        self.into = Into.STITCH
        self.stitch = -1
        self.begun = False
        self.pending_space = False
        self.problem: Problem | None = None
        self.passes = 0
        self.groups = 0
        self.picots = 0
        self.made = 0
        self.extra = 0
        self.shift = 0
        self.joined = self.turned = self.cut = self.stayed = False
        self.main = "sc"
        self.stitches_used: tuple[str, ...] = ()
        self.start_open = False
        self.fit: tuple[Span, int, int] | None = None
        """The repeat to the end: its words, the places one pass takes, and how many of them it skips."""
        self.depth = 0
        self.rest: tuple[Step, ...] = ()
        self.sides = False
        self.skipped: Taken | None = None
        self.loose = False
        self.unset = False
        self.in_group = -1
        self.borrowed = -1
        self.after_skip = False
        self.closing: Item | None = None
        self.closes_below = False

    # --- making stitches -------------------------------------------------------------------------------------

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
            Run(first, n, kind, self.yarn, parent, takes, share, step, into, loop, role, self.in_group, below, span)
        )
        self.number += n
        self.stitch = self.number - 1
        if self.number - self.runs[0].first > MOST_STITCHES:
            self.fail(Fault.LIMIT, span, need=MOST_STITCHES)
        return first

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

    def fail(
        self, fault: Fault, span: Span, have: int = 0, need: int = 0, per: int = 0, left: int = 0, kind: str = ""
    ) -> bool:
        """Note the first problem; always False."""
        if self.problem is None:
            self.problem = Problem(fault, span, have, need, per, left, kind)
        return False

    # --- steps -----------------------------------------------------------------------------------------------

    def run(self, steps: tuple[Step, ...]) -> bool:
        """Carry out a course's steps; False when something could not be worked."""
        self.main = main_stitch(steps) or self.main
        self.stitches_used = stitches_of(steps)
        self._hold_closing(steps)
        return self.steps(steps)

    def _hold_closing(self, steps: tuple[Step, ...]) -> None:
        """A round that ended in a taller stitch stands over its own last space: that space is kept for what stands or
        closes there, so that a repeat to the end does not run into it."""
        items = self.hand.items
        if not items or not items[-1].closing or self.settings.rows:
            return
        last = next((s for s in reversed(steps) if isinstance(s, (Work, Join, Group, Repeat))), None)
        ends = isinstance(last, Work) and last.target.kind == items[-1].closing and last.target.noun is Noun.STITCH
        if ends or isinstance(last, Join):
            self.closing = items[-1]
            self.closes_below = ends
            self.hand = Hand(items[:-1])

    def _over_closing(self) -> Taken | None:
        """The space the work stands over at the beginning of a round, taken."""
        item = self.closing
        if (
            item is None
            and self.hand.items
            and self.hand.items[-1].closing
            and not self.settings.rows
            and not self.begun
        ):
            item = self.hand.items[-1]
            self.hand = Hand(self.hand.items[:-1])
        if item is None or self.closes_below:
            return None
        self.closing = None
        self.hand.spaces_used = True
        return Taken(item.first, item.n, item.step, space=True, group=item.group, kind="ch")

    def steps(self, steps: tuple[Step, ...]) -> bool:
        """Carry out steps in order."""
        kept = self.rest
        done = -1
        for at, step in enumerate(steps):
            if at <= done:
                continue
            corners = _corners_of(step, steps[at + 1 :]) if self.depth == 0 else None
            if corners is not None:
                done = at + 1
                self.rest = steps[at + 2 :]
                if not self._each_with_corners(step, corners):  # type: ignore[arg-type]
                    return False
                continue
            self.rest = steps[at + 1 :] + (kept if self.depth == 0 else ())
            if self.depth == 0:
                self._past_the_end(step)
            if not self.one(step) or (self.problem is not None and self.problem.fault is Fault.LIMIT):
                self.rest = kept
                return False
        self.rest = kept
        return True

    def _each_with_corners(self, each: Work, corner: Work | Group) -> bool:
        """`sc in each st around, working (2 sc, ch 2, 2 sc) in each corner sp`: along the edge, and at every such
        space what is worked there."""
        hand = self.hand
        size = corner.target.size
        if not size and corner.target.noun is Noun.CORNER:
            size = max((i.n for i in hand.items if i.space), default=0)
        here = replace(corner, target=Target(How.NEXT, Noun.SPACE, size=size))
        found = False
        while hand.i < len(hand.items):
            item = hand.items[hand.i]
            if item.space and (not size or item.n == size):
                found = True
                ok = self.grouped(here) if isinstance(here, Group) else self.work(here)
            elif item.space:
                ok = self.work(replace(each, target=Target(How.NEXT, Noun.SPACE))) if each.target.spaces else True
                if not each.target.spaces:
                    hand.pass_spaces()
            else:
                ok = self.work(replace(each, target=Target(count=item.n - hand.off)))
            if not ok:
                return False
            hand = self.hand
        return True if found else bool(self._no_space(corner.target, corner.span))

    def one(self, step: Step) -> bool:
        """Carry out one step."""
        if not isinstance(step, (Skip, Chain, Group, Work)):
            self.after_skip = False
        if isinstance(step, Work):
            return self.work(step)
        if isinstance(step, Chain):
            return self.chain(step)
        if isinstance(step, Repeat):
            return self.repeat(step)
        if isinstance(step, Group):
            return self.grouped(step)
        if isinstance(step, Skip):
            return self.skip(step)
        if isinstance(step, Join):
            return self.join(step)
        if isinstance(step, Picot):
            return self.picot(step)
        if isinstance(step, Yarn):
            return self.yarn_step(step)
        if isinstance(step, OtherSide):
            return self.other_side(step)
        if isinstance(step, Shape):
            return self.shaped(step)
        if isinstance(step, Along):
            return self.along(step)
        if isinstance(step, Turn):
            self.turned = True
        elif isinstance(step, FastenOff):
            self.cut = True
        elif isinstance(step, Stay):
            self.stayed = self.stayed or step.what == "join"
        elif isinstance(step, Ring):
            self.ring(step)
        elif isinstance(step, Foundation):
            self.foundation(step.chains, step.span)
        return True

    def ring(self, step: Ring) -> None:
        """Begin in a ring."""
        self.ground = Ground(ring=True, ring_chains=step.chains)
        self.hand = Hand([])
        if step.chains:
            first = self.emit("ch", step.chains, None, step.span, into=Into.AIR, role=Role.RING)
            self.emit("sl-st", 1, Taken(first, 1, 1), step.span, role=Role.JOIN)
            self.ground.ring_first = first
            self.hand = Hand([Item("ch", first, step.chains, 1, True)])
        self.begun = False

    def foundation(self, n: int, span: Span) -> None:
        """Chain a foundation; the next course works back along it."""
        first = self.emit("ch", n, None, span, into=Into.AIR, role=Role.FOUNDATION)
        self.ground = Ground(foundation=n, foundation_first=first)
        self.hand = Hand([Item("ch", first + n - 1, n, -1, True)])

    def _past_the_end(self, step: Step) -> None:
        """When the old edge is used up, stitches go on over the first ones of this course and level its end."""
        if not self.settings.extra or self.settings.rows or not self.begun or self.extra:
            return
        if (
            isinstance(step, Work)
            and step.target.how is How.NEXT
            and step.target.noun in (Noun.STITCH, Noun.PLACE)
            and step.target.count <= 6
        ) and (
            self.hand.items
            and not self.hand.stitches_left()
            and not self.ground.ring
            and self.new
            and self.new[0].counted
        ):
            self.hand = Hand([Item(i.kind, i.first, i.n, i.step, i.counted, i.group) for i in self.new])
            self.extra = -1  # switched on; counted as stitches are worked

    def find(self, target: Target, consumes: int, span: Span) -> list[Taken] | None:
        """The places of a target, taken from the edge. None with a problem when they are not there."""
        hand = self.hand
        noun, how = target.noun, target.how
        if how is How.FROM_HOOK:
            return self._from_hook(target, span)
        if how is How.PREVIOUS:
            return [Taken(max(self.stitch, 0), 1, 1)]
        if how is How.SKIPPED:
            return [self.skipped or self.place or Taken(max(self.stitch, 0), 1, 1)]
        if noun is Noun.RING or (
            self.ground.ring
            and not self.new_places()
            and noun in (Noun.STITCH, Noun.PLACE, Noun.SPACE)
            and self._ring_meant(target)
        ):
            return [self._ring_place()]
        if how is How.SAME:
            return self._same(target, span)
        if noun is Noun.START:
            return self._start_place(span)
        if noun in (Noun.SPACE, Noun.CORNER):
            return self._spaces(target, span)
        if noun is Noun.GAP:
            return self._gaps(target, span)
        if noun is Noun.ROW_END:
            self.loose = True
            return [Taken(max(0, self.number - 1), 1, 1)] * max(1, target.count)
        if how is How.LAST:
            taken = hand.last()
            if taken is None:
                return [self.place] if self.place is not None else self._none(target, 1, span)
            return [taken]
        if how is How.FIRST and self.begun and self.place is not None:
            return (
                [self.place] if self._only_start() else [Taken(self.new[0].first, 1, 1)] if self.new else [self.place]
            )
        if how is How.EACH:
            return self._each(target, span)
        if noun is Noun.CHAIN:
            found = hand.chains(target.count)
            return found if found is not None else self._none(target, target.count, span)
        if self.settings.each == 2 and not target.kind:
            found = self._with_chains(target.count)
            return found if found is not None else self._none(target, target.count, span)
        if target.nth > 1:
            found = hand.stitches(target.nth, "")
            return [_last_of(found)] if found else self._none(target, target.nth, span)
        found = hand.stitches(target.count, target.kind)
        if found is None and target.kind:
            found = hand.stitches(target.count)
        return found if found is not None else self._none(target, target.count, span)

    def new_places(self) -> bool:
        """Whether the hand moves on an edge (not a ring or nothing)."""
        return bool(self.hand.items) and not (self.ground.ring and self.ground.ring_chains <= 12)

    def _ring_meant(self, target: Target) -> bool:
        return target.noun is not Noun.SPACE or target.how in (How.NEXT, How.SAME)

    def _ring_place(self) -> Taken:
        if self.ground.ring_first >= 0:
            return Taken(self.ground.ring_first, self.ground.ring_chains, 1, space=True, kind="ring")
        return Taken(-1, 1, 1, kind="ring")

    def _none(self, target: Target, need: int, span: Span) -> list[Taken] | None:
        have = self.hand.stitches_left()
        fault = Fault.NO_START if not self.hand.items and not self.ground.ring else Fault.OVER
        self.fail(fault, span, have=have, need=need, kind=target.kind)
        return None

    def _same(self, target: Target, span: Span) -> list[Taken] | None:
        if self.place is not None:
            return [self.place]
        if not self.begun and (closing := self._over_closing()) is not None:
            return [closing]
        if self.pending_space or (
            target.noun in (Noun.SPACE, Noun.CORNER)
            and self.hand.items
            and self.hand.i < len(self.hand.items)
            and self.hand.items[self.hand.i].space
        ):
            taken = self.hand.space()
            if taken is not None:
                return [taken]
        found = self.hand.stitches(1)
        return found if found is not None else self._none(target, 1, span)

    def _only_start(self) -> bool:
        return len(self.new) <= 2 and bool(self.new) and self.new[0].start

    def _start_place(self, span: Span) -> list[Taken] | None:
        """The chain that began the course below: its last place in rows; nothing to take when it does not count."""
        left = self.hand.stitches_left()
        if left == 1 or (left and self.hand.items[-1].start):
            taken = self.hand.last()
            return [taken] if taken else None
        if left and self.settings.rows:
            if self.hand.items and self.hand.items[-1].space and self.hand.stitches_left() == 0:
                pass
            taken = self.hand.last()
            return [taken] if taken else None
        if self.hand.spaces_left() and self.settings.rows:
            taken = self.hand.space()
            return [taken] if taken else None
        self.unset = True
        if self.new:
            return [Taken(self.new[0].first, 1, 1)]
        return [self.place] if self.place else [Taken(max(0, self.number - 1), 1, 1)]

    def _spaces(self, target: Target, span: Span) -> list[Taken] | None:
        out: list[Taken] = []
        hand = self.hand
        if target.how is How.EACH:
            while (taken := self._one_space(target)) is not None:
                out.append(taken)
                if target.every > 1 and self._one_space(target) is None:
                    break
            return out or self._no_space(target, span)
        if target.how is How.LAST:
            while (taken := self._one_space(target)) is not None:
                out = [taken]
            return out or ([self.place] if self.place else self._no_space(target, span))
        if target.how is How.FIRST and self.begun and self.hand.i > 0 and not self._one_space_ahead():
            return [Taken(self.new[0].first, 1, 1)] if self.new else self._no_space(target, span)
        nth = target.nth if target.noun is Noun.CORNER else 0
        for _ in range(max(target.count, nth)):
            taken = self._one_space(target)
            if taken is None:
                return self._no_space(target, span)
            out.append(taken)
        if nth:
            out = out[-1:]
        hand.spaces_used = True
        return out

    def _at_gap(self) -> bool:
        """Whether the hand stands between two groups with no chain between them."""
        hand = self.hand
        if hand.off or not 0 < hand.i <= len(hand.items) or len(hand.items) < 2:
            return False
        before, after = hand.items[hand.i - 1], hand.items[hand.i % len(hand.items)]
        return not before.space and before.group != after.group and (after.group >= 0 or after.start or after.space)

    def borrow(self) -> None:
        """A spiral takes from the same queue it adds to: when the old edge is used up, this course's own first places
        come next. Only in lace, where a pass may well end in the first loop of the round it belongs to."""
        hand = self.hand
        if self.settings.rows or self.joined or self.borrowed >= 0 or not self.new or not self.settings.spiral:
            return
        if hand.stitches_left() or self.extra:
            return
        self.borrowed = len(hand.items)
        fresh = [Item(i.kind, i.first, i.n, i.step, i.counted, i.group, i.start) for i in self.new]
        hand.items = [*hand.items, *fresh]

    def covered(self) -> list[Item]:
        """The new edge without the places that this course itself has worked over (see `borrow`)."""
        if self.borrowed < 0:
            return self.new
        left = self.hand.i - self.borrowed
        edge = list(self.new)
        while left > 0 and edge:
            edge.pop(0)
            left -= 1
        if self.hand.off and edge:
            first = edge[0]
            edge[0] = Item(
                first.kind,
                first.first + first.step * self.hand.off,
                first.n - self.hand.off,
                first.step,
                first.counted,
                first.group,
            )
        return edge

    def _one_space_ahead(self) -> bool:
        return self.hand.spaces_left() > 0

    def _one_space(self, target: Target) -> Taken | None:
        hand = self.hand
        if self.after_skip and not target.size and target.noun is Noun.SPACE and self._at_gap():
            between = hand.items[hand.i - 1], hand.items[hand.i % len(hand.items)]
            first = between[0].first + between[0].step * (between[0].n - 1)
            hand.jumped = hand.spaces_used = True
            self.after_skip = False
            return Taken(first, 2, between[1].first - first or 1, kind="gap")
        if not hand.spaces_left(target.size) and any(i.space for i in hand.items):
            self.borrow()
        if target.kind and target.kind != "picot":
            taken = hand.middle()
            if taken is not None:
                return taken
        if target.noun is Noun.CORNER:
            return self._corner(target)
        spaces = hand.spaces_left()
        if spaces:
            return hand.space(target.size)
        if not any(item.space for item in hand.items):
            return hand.gap() or hand.middle()
        return None

    def _corner(self, target: Target) -> Taken | None:
        """The next corner: the largest space of the edge, or the middle of the next group."""
        hand = self.hand
        sizes = [item.n for item in hand.items if item.space]
        if target.size:
            return hand.space(target.size)
        if sizes and hand.spaces_left(max(sizes)):
            return hand.space(max(sizes))
        if not sizes:
            return hand.middle()
        return None

    def _no_space(self, target: Target, span: Span) -> list[Taken] | None:
        if not self.hand.items and not self.ground.ring:
            self.fail(Fault.NO_START, span, need=target.count)
        else:
            self.fail(Fault.NO_PLACE, span, have=self.hand.spaces_left(), need=target.count, per=target.size)
        return None

    def _gaps(self, target: Target, span: Span) -> list[Taken] | None:
        out: list[Taken] = []
        hand = self.hand
        many = target.how is How.EACH
        for _ in range(MOST_STITCHES if many else target.count):
            grouped = any(i.group >= 0 for i in hand.items)
            taken = hand.gap() or (hand.gap_at_the_end() if grouped else None)
            if taken is None and hand.spaces_left():
                taken = hand.space()
            if taken is None and not out and hand.stitches_left() and not grouped:
                found = hand.stitches(1)
                taken = Taken(found[0].first, 2, found[0].step, kind="gap") if found else None
                hand.jumped = True
            if taken is None:
                break
            out.append(taken)
        return out or self._no_space(target, span)

    def _with_chains(self, k: int) -> list[Taken] | None:
        """The next k places where single chains count as places."""
        hand = self.hand
        mark = hand.copy()
        out: list[Taken] = []
        while k > 0:
            if hand.i >= len(hand.items):
                self.hand = mark
                return None
            found = hand.chains(1) if hand.items[hand.i].kind == "ch" else hand.stitches(1)
            if found is None:
                self.hand = mark
                return None
            out += found
            k -= sum(t.n for t in found)
        return out

    def _each(self, target: Target, span: Span) -> list[Taken] | None:
        hand = self.hand
        mode = 2 if target.chains else 1 if target.spaces else self.settings.each
        need = target.leave or (_kept_for_the_end(self.rest) if self.depth == 0 else 0)
        out: list[Taken] = []
        if target.noun is Noun.CHAIN and any(i.space for i in hand.items):
            mode = 2
        if (
            mode == 0
            and target.kind
            and any(i.kind != "ch" for i in hand.items)
            and not any(_named(i, target.kind) for i in hand.items[hand.i :])
        ):
            mode = 0
        section = mode == 0 and self._by_sections()
        if section and not hand.stitches_left():
            self.borrow()
        while hand.i < len(hand.items):
            item = hand.items[hand.i]
            left = hand.stitches_left() - need
            if item.space and section and out:
                break
            if item.space:
                if mode == 1:
                    taken = hand.space()
                    if taken:
                        out.append(taken)
                elif mode == 2:
                    found = hand.chains(item.n)
                    out += found or []
                else:
                    hand.pass_spaces()
                continue
            if left <= 0:
                break
            found = hand.stitches(min(left, item.n - hand.off))
            if not found:
                break
            out += found
        if not out:
            if self.ground.ring:
                return [self._ring_place()]
            return self._none(target, 1, span)
        if target.every > 1:
            out = every_nth(out, target.every)
        return out

    def _by_sections(self) -> bool:
        """Whether `each st` means each up to the next space: inside a repeat, or with a space named right after."""
        if not any(i.space for i in self.hand.items[self.hand.i :]):
            return False
        if self.depth:
            return True
        following = next((s for s in self.rest if isinstance(s, (Work, Group, Repeat, Skip))), None)
        while isinstance(following, Repeat):
            following = next((s for s in following.steps if isinstance(s, (Work, Group, Repeat, Skip))), None)
        return isinstance(following, (Work, Group, Skip)) and following.target.noun in (Noun.SPACE, Noun.CORNER)

    def _from_hook(self, target: Target, span: Span) -> list[Taken] | None:
        """`2nd ch from hook`: skips the chains before it; a tall stitch's skipped chains stand for one."""
        skip = target.nth - 1
        if self.begun and self.new and self.new[-1].space and self.new[-1].n > skip and not self.ground.foundation:
            self.picots += 1
            chain = self.new[-1]
            return [Taken(chain.first + chain.n - 1 - skip, 1, 1)]
        if self.begun and self.new and not self.ground.foundation:
            return [Taken(max(0, self.stitch - skip), 1, 1)]
        if not self.ground.foundation or self.hand.stitches_left() <= skip:
            self.fail(
                Fault.NO_START if not self.ground.foundation else Fault.OVER,
                span,
                have=self.ground.foundation,
                need=target.nth,
            )
            return None
        passed = self.hand.stitches(skip) if skip else []
        tall = stitch(self.main)
        height = max(tall.turning_chain, 1)
        counts = False
        if tall.turning_chain >= 2 and skip >= 2:
            counts = self._usually(skip, height)
        if counts:
            first = passed[0].first if passed else 0
            self.new.append(Item(self.main, first - height + 1 if first >= height else first, 1, 1, True, -1, True))
            if skip - height > 0:
                self.new.append(Item("ch", first, max(1, (skip - height + 1) // 2), 1, False))
                self.hand.jumped = True
        found = self.hand.stitches(1)
        return found

    def _usually(self, n: int, height: int) -> bool:
        """Whether n chains stand for a stitch of that height, unless the reading says otherwise."""
        usual = n >= height if height >= 3 else n >= height and stitch(self.main).turning_chain_counts == "yes"
        self.start_open = True
        return usual if self.settings.start_counts is None else self.settings.start_counts

    # --- stitches into places --------------------------------------------------------------------------------

    def work(self, step: Work) -> bool:
        """Stitches into the places of their target."""
        if self.depth == 0 and not self.begun and step.stitch == "sl-st" and self._travels(step):
            return self.travel(step)
        kind = stitch(step.stitch)
        if self._closes(step):
            return self.join(Join(step.span, step.stitch, step.target))
        if kind.consumes == 0:
            return self._from_nothing(step)
        if kind.consumes > 1:
            return self._together(step, kind.consumes)
        taken = self.find(step.target, 1, step.span)
        if taken is None:
            return False
        ring = taken[0].kind == "ring"
        if ring and step.target.how is How.NEXT and step.target.count > 1 and step.each == 1:
            step = Work(step.span, step.stitch, step.target.count, Target(noun=Noun.RING))
        for place in taken:
            self._stitches(step, place, ring)
        self.begun = True
        self.place = taken[-1] if taken[-1].n == 1 or taken[-1].space else Taken(
            taken[-1].first + taken[-1].step * (taken[-1].n - 1), 1, taken[-1].step, kind=taken[-1].kind
        )  # fmt: skip
        if ring:
            self.place = taken[-1]
        if step.target.noun in (Noun.SPACE, Noun.CORNER, Noun.GAP, Noun.PLACE) and step.each > 1:
            self.groups += len(taken) if self.in_group < 0 else 0
        return True

    def _closes(self, step: Work) -> bool:
        """`ending with ch 1, hdc in first sc`: the last stitch closes the round and finishes its last space."""
        if (
            self.depth
            or self.settings.rows
            or not self.begun
            or not self.new
            or not self.new[-1].space
            or self.rest_works()
        ):
            return False
        target = step.target
        if self.closes_below and target.kind and self.closing is not None:
            return True
        full = not self.hand.stitches_left() or (self.hand.spaces_used and not self.hand.spaces_left())
        return (target.how is How.FIRST or target.noun is Noun.START) and full and step.each == 1

    def _stitches(self, step: Work, place: Taken, ring: bool) -> None:
        one = place.space or ring or place.kind == "gap"
        n = step.each if one else place.n * step.each
        grouped = self.in_group < 0 and (step.each >= 3 or one) and not ring
        if grouped:
            self.in_group = self.group
            self.group += 1
        extra = self.extra != 0
        role = Role.EXTRA if extra else Role.STITCH
        if step.target.how is How.FROM_HOOK and step.stitch == "sl-st" and self.begun:
            role = Role.PICOT
        into = Into.RING if ring else Into.STITCH
        first = self.emit(
            step.stitch, n, None if ring and place.first < 0 else place, step.span,
            share=n if one else step.each, into=into, loop=step.target.loop, role=role, below=step.target.below,
        )  # fmt: skip
        if role is Role.PICOT:
            pass
        elif extra:
            self.extra = n if self.extra < 0 else self.extra + n
        else:
            self.made += n
            if self.in_repeat_slip(step):
                self.lay(step.stitch, first, n)
            else:
                self.lay(step.stitch, first, n)
        if grouped:
            self.in_group = -1

    def in_repeat_slip(self, step: Work) -> bool:
        """Slip stitches worked as the pattern's own stitches are places like any other."""
        return step.stitch == "sl-st"

    def _from_nothing(self, step: Work) -> bool:
        n = step.each * step.target.count
        first = self.emit(step.stitch, n, None, step.span, into=Into.AIR)
        self.made += n
        self.lay(step.stitch, first, n)
        self.begun = True
        return True

    def _together(self, step: Work, consumes: int) -> bool:
        """Stitches closed together over several places."""
        target = step.target
        if target.how in (How.SAME, How.FIRST, How.LAST) or (target.noun is Noun.RING):
            taken = self.find(target, 1, step.span)
            if taken is None:
                return False
            more = (
                self.hand.stitches(consumes - 1)
                if target.how is How.SAME and self.hand.stitches_left() >= consumes - 1
                else None
            )
            return self._close_together(step, [*taken, *(more or [])], 1)
        if target.noun in (Noun.SPACE, Noun.CORNER, Noun.GAP):
            taken = self.find(target, 1, step.span)
            if taken is None:
                return False
            per = consumes if len(taken) % consumes == 0 else len(taken)
            return self._close_together(step, taken, max(1, len(taken) // per))
        if target.how is How.EACH:
            taken = self.find(target, consumes, step.span)
        else:
            count = target.count if target.count >= consumes else consumes
            taken = self.hand.stitches(count)
            if taken is None:
                self._none(target, count, step.span)
        if taken is None:
            return False
        places = sum(t.n for t in taken)
        if places % consumes:
            return self.fail(Fault.FIT, step.span, have=places, per=consumes, left=places % consumes)
        return self._close_together(step, taken, places // consumes)

    def _close_together(self, step: Work, taken: list[Taken], n: int) -> bool:
        places = sum(1 if t.space else t.n for t in taken)
        per = max(1, places // n)
        if len(taken) == 1 and not taken[0].space:
            first = self.emit(step.stitch, n, taken[0], step.span, takes=per, loop=step.target.loop)
        else:
            flat = [Taken(t.first + t.step * k, 1, t.step) for t in taken for k in range(1 if t.space else t.n)]
            first = self.number
            for k in range(n):
                a, b = flat[k * per], flat[min(k * per + 1, len(flat) - 1)]
                self.emit(
                    step.stitch,
                    1,
                    Taken(a.first, 1, (b.first - a.first) or 1),
                    step.span,
                    takes=per,
                    loop=step.target.loop,
                )
        self.made += n
        self.lay(step.stitch, first, n)
        self.begun = True
        last = taken[-1]
        self.place = last if last.space else Taken(last.first + last.step * (last.n - 1), 1, last.step)
        return True

    def grouped(self, step: Group) -> bool:
        """Several steps into one place (or into each of several)."""
        taken = self.find(step.target, 1, step.span)
        if taken is None:
            return False
        places = [
            t if t.space or t.kind in ("ring", "gap") else Taken(t.first + t.step * k, 1, t.step, kind=t.kind)
            for t in taken
            for k in range(1 if t.space or t.kind in ("ring", "gap") else t.n)
        ]
        self.begun = True
        for place in places:
            if len(self.runs) > MOST_STITCHES:
                return self.fail(Fault.LIMIT, step.span, need=MOST_STITCHES)
            if not self._group_in(step, place):
                return False
        return True

    def _group_in(self, step: Group, place: Taken) -> bool:
        outer = self.in_group
        self.in_group = self.group
        self.group += 1
        self.groups += 1
        self.depth += 1
        ok = True
        for inner in step.steps:
            ok = self._inside(inner, place)
            if not ok:
                break
        self.depth -= 1
        self.in_group = outer
        self.place = place
        return ok

    def _inside(self, inner: Step, place: Taken) -> bool:
        if isinstance(inner, Work) and (
            inner.target.implied
            or inner.target.how is How.SAME
            or inner.target.noun is Noun.RING
            or inner.target.how is How.NEXT
        ):
            ring = place.kind == "ring"
            n = inner.each * (inner.target.count if inner.target.implied else 1)
            if stitch(inner.stitch).consumes == 0:
                return self._from_nothing(inner)
            first = self.emit(
                inner.stitch, n, None if ring and place.first < 0 else place, inner.span, share=n,
                into=Into.RING if ring else Into.STITCH, loop=inner.target.loop,
            )  # fmt: skip
            self.made += n
            self.lay(inner.stitch, first, n)
            return True
        if isinstance(inner, Repeat):
            for _ in range(min(inner.times.n, MOST_STITCHES)):
                if not all(self._inside(s, place) for s in inner.steps):
                    return False
            return True
        if isinstance(inner, Group):
            return self._group_in(inner, place)
        return self.one(inner)

    # --- chains ----------------------------------------------------------------------------------------------

    def chain(self, step: Chain) -> bool:
        """Chains: the course's beginning, or a space between stitches."""
        if not self.begun and self.depth == 0 and not self.new:
            return self.start_chain(step)
        if not self.begun and self.depth == 0 and self.new and self.new[0].start and not step.stands_for:
            pass
        first = self.emit("ch", step.n, None, step.span, into=Into.AIR)
        if self.new and self.new[-1].space and self.new[-1].first + self.new[-1].n == first:
            self.new[-1].n += step.n
        else:
            self.lay("ch", first, step.n, counted=False)
        return True

    def start_chain(self, step: Chain) -> bool:
        """A chain that brings the hook to its height: counted as a stitch or not."""
        kind = stitch(step.stands_for or self._lifted(step.n))
        height = max(kind.turning_chain, 1)
        counts = step.counts if step.counts is not None else True if step.stands_for else None
        if counts is None:
            if kind.turning_chain <= 1:
                if step.n >= 3:
                    first = self.emit("ch", step.n, None, step.span, into=Into.AIR)
                    self.lay("ch", first, step.n, counted=False)
                    return True
                counts = False
            elif step.n == 1:
                counts = False
            else:
                counts = self._usually(step.n, height)
        base = self._start_base() if counts else None
        first = self.emit(
            "ch",
            step.n,
            base,
            step.span,
            into=Into.AIR if base is None or not base.space else Into.SPACE,
            role=Role.START,
        )
        if base is not None and not base.space:
            self.runs[-1] = _stack(self.runs[-1], base)
        if counts:
            extra = step.stands_chains or (max(0, step.n - height) if not step.stands_for else 0)
            self.new.append(
                Item(kind.identity, first + max(0, min(height, step.n) - 1), 1, 1, True, self.in_group, True)
            )
            self.made += 1
            if extra:
                self.new.append(Item("ch", first + step.n - extra, extra, 1, False, self.in_group))
            self.begun = True
        return True

    def _lifted(self, n: int) -> str:
        """The stitch a chain of n lifts the hook to: the course's own, or, in rows, another of its stitches that is
        just so high (`ch 3, *sc, dc; rep`)."""
        if not self.settings.rows or stitch(self.main).turning_chain == n:
            return self.main
        return next((kind for kind in self.stitches_used if stitch(kind).turning_chain == n), self.main)

    def _start_base(self) -> Taken | None:
        """The place a counted beginning chain stands on."""
        if self.place is not None or not self.hand.items or (self.ground.ring and self.ground.ring_chains <= 12):
            return self.place
        if (closing := self._over_closing()) is not None:
            self.place = closing
            return closing
        if self.pending_space or (
            self.hand.items[self.hand.i if self.hand.i < len(self.hand.items) else 0].space
            and not self.hand.stitches_left()
        ):
            taken = self.hand.space()
            self.place = taken
            return taken
        if self.ground.foundation:
            return None
        found = self.hand.stitches(1)
        if found:
            self.place = found[0]
            return found[0]
        return None

    def picot(self, step: Picot) -> bool:
        """Chains closed on themselves on the edge."""
        first = self.emit("ch", step.n, None, step.span, into=Into.AIR, role=Role.PICOT)
        self.emit("sl-st", 1, Taken(max(0, first - 1), 1, 1), step.span, role=Role.PICOT)
        self.picots += 1
        return True

    # --- skipping, joining, repeating --------------------------------------------------------------------------

    def skip(self, step: Skip) -> bool:
        """Places passed over."""
        target = step.target
        if target.how is How.FIRST and self.place is not None and self._only_start():
            return True
        if target.noun in (Noun.SPACE, Noun.CORNER):
            for _ in range(target.count):
                if self._one_space(target) is None:
                    return bool(self._no_space(target, step.span))
            self.begun = True
            return True
        if target.noun is Noun.START:
            return True
        if target.noun is Noun.CHAIN:
            chains = self.hand.chains(target.count)
            if chains is None:
                self._none(target, target.count, step.span)
                return False
            self.skipped = chains[-1]
            self.begun = self.begun or not self.ground.foundation
            return True
        count = target.count
        mark = self.hand.used
        found = self.hand.stitches(count, target.kind) or self.hand.stitches(count)
        if found is None and self.settings.each != 2:
            left = self.hand.stitches_left()
            if 0 < left < count:
                found = self._with_chains(count)
        if found is None:
            if self.hand.spaces_left() or self.hand.spaces_used:
                return True  # `skip 3 dc` of a group that the hand has already passed
            self._none(target, count, step.span)
            return False
        self.hand.used = mark + count
        self.after_skip = True
        self.skipped = found[0]
        if not self.ground.foundation:
            self.begun = True
        return True

    def join(self, step: Join) -> bool:
        """Close the round. A taller joining stitch completes the last space."""
        if not self.begun and not self.new and self.runs and self.runs[-1].kind == "ch":
            return True
        if not self.begun and not self.new and not self.runs:
            # `Join with sl st in any ch-1 sp` before anything is worked fastens the yarn on there.
            return self.yarn_step(Yarn(step.span, "", "join", step.target, step.stitch))
        parent = self.new[0].first if self.new else -1
        self.emit(step.stitch, 1, Taken(parent, 1, 1) if parent >= 0 else None, step.span, role=Role.JOIN)
        self.joined = True
        if step.stitch not in ("sl-st",) and self.new:
            if not self.new[-1].space:
                self.lay("ch", self.number - 1, 1, counted=False)
            self.new[-1].closing = step.stitch
        return True

    def repeat(self, step: Repeat) -> bool:
        """Steps several times over."""
        if step.times.to_end or step.times.until is not None:
            return self._repeat_to_end(step)
        begin_left = self.hand.stitches_left()
        self.depth += 1
        n = max(0, step.times.n)
        for turn in range(n):
            before = self.hand.used
            steps = step.steps[: step.stop_at] if step.stop_at > 0 and turn == n - 1 else step.steps
            if not self.steps(steps):
                self.depth -= 1
                if self.problem is not None and self.problem.fault is Fault.OVER:
                    per = self._per_pass(step, before, begin_left, turn)
                    self.problem = Problem(Fault.OVER, step.span, begin_left, per * n, per)
                return step.stop_at == -1 and turn == n - 1 and self._forgive()
            if self.number - (self.runs[0].first if self.runs else self.number) > MOST_STITCHES:
                self.depth -= 1
                return self.fail(Fault.LIMIT, step.span, need=MOST_STITCHES)
        self.depth -= 1
        if self.depth == 0:
            self.passes = max(self.passes, n)
        return True

    def _per_pass(self, step: Repeat, before: int, begin_left: int, turn: int) -> int:
        need = needs(step.steps)
        return need if need else max(1, begin_left // max(1, turn))

    def _forgive(self) -> bool:
        self.problem = None
        return True

    def _repeat_to_end(self, step: Repeat) -> bool:
        need = step.times.leave or (needs(self.rest) if self.depth == 0 else 0)
        per, left = needs(step.steps), self.hand.stitches_left()
        if per and need and not step.times.leave and left % per == 0 and (left - need) % per:
            need = 0  # the repeats use the course up; what follows lies past its end and levels it
        snaps: list[tuple[object, ...]] = []
        passes = 0
        kept = self.rest
        begin_left = self.hand.stitches_left()
        self.depth += 1
        while passes < MOST_STITCHES:
            snap = self.snapshot()
            position = (self.hand.i, self.hand.off)
            ok = self.steps(step.steps)
            moved = (self.hand.i, self.hand.off) != position
            if not ok and self.problem is not None and self.problem.fault is Fault.LIMIT:
                break
            if not ok or self.hand.stitches_left() < need - self._soft(need):
                self.restore(snap)
                break
            if not moved:
                passes += 1
                break
            snaps.append(snap)
            passes += 1
            if self.hand.i >= len(self.hand.items):
                break
        self.depth -= 1
        self.rest = kept
        if passes == 0:
            return self._no_pass(step, begin_left)
        per = needs(step.steps)
        self.fit = (step.span, per or 1, sum(s.target.count for s in step.steps if isinstance(s, Skip)))
        lace = self.hand.spaces_used or self.hand.jumped
        if step.stop_at or (
            lace
            and self.depth == 0
            and not step.times.leave
            and not self.rest_works()
            and (self.hand.spaces_left() or self.hand.stitches_left())
        ):
            self._last_pass(step, snaps)
        elif self.depth == 0 and self._tail_overruns() and snaps:
            self._back_one(snaps)
            passes -= 1
        if self.depth == 0:
            self.passes = max(self.passes, passes)
        return True

    def _soft(self, need: int) -> int:
        return 0

    def _tail_overruns(self) -> bool:
        """What follows needs a place that the last pass has used (`ending with ch 1, hdc in first sc` closes a loop)."""
        works = [s for s in self.rest if isinstance(s, (Work, Chain))]
        if len(works) < 2 or not isinstance(works[0], Chain) or not isinstance(works[-1], Work):
            return False
        closes = (
            works[-1].target.how in (How.FIRST, How.SAME)
            or works[-1].target.noun is Noun.START
            or works[-1].target.kind != ""
        )
        return closes and not self.hand.stitches_left() and not self.hand.spaces_left()

    def _back_one(self, snaps: list[tuple[object, ...]]) -> None:
        """Leave the last pass to the ending; the places it would use stay for the closing stitch."""
        return None

    def _no_pass(self, step: Repeat, begin_left: int) -> bool:
        if self.hand.i >= len(self.hand.items) and self.begun:
            return True  # the course is full already; nothing is left to repeat
        probe = self.snapshot()
        self.depth += 1
        self.steps(step.steps)
        self.depth -= 1
        problem = self.problem
        self.restore(probe)
        per = needs(step.steps)
        if problem is None or (problem.fault is Fault.OVER and per):
            return self.fail(Fault.FIT, step.span, have=begin_left, per=per, left=begin_left)
        self.problem = problem
        return False

    def _last_pass(self, step: Repeat, snaps: list[tuple[object, ...]]) -> None:
        """The last pass stops early: at the mark, or where the course is full."""
        if step.stop_at > 0:
            snap = self.snapshot()
            self.depth += 1
            ok = bool(self.hand.stitches_left()) and self.steps(step.steps[: step.stop_at])
            self.depth -= 1
            if not ok and snaps:
                self.restore(snaps[-1])
                self.depth += 1
                self.steps(step.steps[: step.stop_at])
                self.depth -= 1
            elif not ok:
                self.restore(snap)
            return
        self.depth += 1
        begin = self.snapshot()
        position = (self.hand.i, self.hand.off)
        for inner in step.steps:
            if not self.hand.stitches_left() and not self.hand.spaces_left():
                break
            snap = self.snapshot()
            if not self.steps((inner,)):
                self.restore(snap)
                break
        if (self.hand.i, self.hand.off) == position:
            self.restore(begin)  # only chains were made: the ending brings its own
        self.depth -= 1

    def snapshot(self) -> tuple[object, ...]:
        """Everything that changes while working, to go back to."""
        tail = self.new[-1] if self.new else None
        return (
            self.hand.copy(), len(self.new), tail.n if tail else 0, len(self.runs), self.number, self.group, self.place, self.stitch,
            self.begun, self.made, self.groups, self.picots, self.extra, self.yarn, self.joined, self.passes, self.skipped, self.borrowed,
        )  # fmt: skip

    def restore(self, snap: tuple[object, ...]) -> None:
        """Back to a snapshot."""
        (
            hand, n_new, tail, n_runs, self.number, self.group, self.place, self.stitch, self.begun, self.made, self.groups,
            self.picots, self.extra, self.yarn, self.joined, self.passes, self.skipped, self.borrowed,
        ) = snap  # type: ignore[assignment] # fmt: skip
        assert isinstance(hand, Hand) and isinstance(n_new, int) and isinstance(tail, int) and isinstance(n_runs, int)
        self.hand = hand
        del self.new[n_new:]
        if self.new:
            self.new[-1].n = tail
        del self.runs[n_runs:]
        self.problem = None

    # --- yarn, sides, words ----------------------------------------------------------------------------------

    def _travels(self, step: Work) -> bool:
        """Slip stitches at the beginning carry the yarn to the next place, unless they are the course itself."""
        return step.target.how in (How.NEXT, How.FIRST, How.SAME) and self.rest_works()

    def rest_works(self) -> bool:
        """Whether real work follows on this line."""
        return bool(main_stitch(self.rest))

    def travel(self, step: Work) -> bool:
        """Move the start of the round along by slip stitches; the places passed come last."""
        target = step.target
        hand = self.hand
        if target.noun in (Noun.SPACE, Noun.CORNER) or (target.noun is Noun.CHAIN and any(i.space for i in hand.items)):
            at = next(
                (
                    k
                    for k in range(hand.i, len(hand.items))
                    if hand.items[k].space and (not target.size or hand.items[k].n == target.size)
                ),
                None,
            )
            if at is None:
                at = next((k for k in range(hand.i + 1, len(hand.items)) if hand.items[k].group >= 0), None)
            if at is None:
                return True
            moved = sum(i.n for i in hand.items[hand.i : at] if i.counted)
            self._rotate(at)
            self.pending_space = hand.items[0].space or self.hand.items[0].space
        elif target.how is How.NEXT and hand.stitches_left() > target.count * step.each:
            moved = target.count * step.each
            self._rotate_stitches(moved)
        else:
            return True
        self.emit("sl-st", max(1, min(moved, 50)), None, step.span, role=Role.TRAVEL)
        self.shift += moved
        return True

    def _rotate(self, at: int) -> None:
        items = self.hand.items
        self.hand = Hand(items[at:] + items[:at])

    def _rotate_stitches(self, k: int) -> None:
        items = list(self.hand.items)
        moved: list[Item] = []
        while k > 0 and items:
            item = items[0]
            if not item.counted:
                moved.append(items.pop(0))
            elif item.n <= k:
                k -= item.n
                moved.append(items.pop(0))
            else:
                a = Item(item.kind, item.first, k, item.step, item.counted, item.group, item.start)
                b = Item(item.kind, item.first + item.step * k, item.n - k, item.step, item.counted, item.group)
                items[0] = b
                moved.append(a)
                k = 0
        self.hand = Hand(items + moved)

    def yarn_step(self, step: Yarn) -> bool:
        """A yarn is taken up; joined at a place, it moves the start there."""
        if step.name:
            self.yarn = step.name
        if step.how != "join" or self.begun:
            return True
        target = step.target
        if target is not None and target.noun in (Noun.SPACE, Noun.CORNER) and self.hand.items:
            size = target.size
            if target.noun is Noun.CORNER and not size:
                size = max((i.n for i in self.hand.items if i.space), default=0)
            at = next((k for k, i in enumerate(self.hand.items) if i.space and (not size or i.n == size)), None)
            if at is not None:
                self._rotate(at)
                self.pending_space = True
        if step.standing and step.stitch:
            where = Target(How.NEXT, Noun.SPACE) if self.pending_space else Target()
            return self.work(Work(step.span, step.stitch, 1, where))
        return True

    def other_side(self, step: OtherSide) -> bool:
        """From here along the other side of the foundation."""
        worked = [r for r in self.runs if r.parent >= 0 and r.into is Into.STITCH]
        ground = self.ground
        if not ground.foundation:
            self.loose = True
            return True
        lowest = min(
            (r.parent + min(0, r.step * r.takes * ((r.n - 1) // r.share)) for r in worked),
            default=ground.foundation_first,
        )
        highest = max((r.parent for r in worked), default=ground.foundation_first + ground.foundation - 1)
        count = highest - lowest
        self.hand = Hand([Item("ch", lowest + 1, count, 1, True)] if count > 0 else [])
        self.sides = True
        return True

    def shaped(self, step: Shape) -> bool:
        """Increases or decreases told in words, spread evenly."""
        left = self.hand.stitches_left()
        if not left:
            return bool(self._none(Target(), 1, step.span))
        by = step.by
        if step.every:
            by = left // step.every * (1 if by > 0 else -1)
        ok = True
        for kind, each, places in spread(left, by, step.stitch):
            taken = self.hand.stitches(places)
            if taken is None:
                ok = False
                break
            if kind != step.stitch:
                ok = self._close_together(Work(step.span, kind), taken, max(1, places // 2))
            else:
                for place in taken:
                    self._stitches(Work(step.span, kind, each), place, False)
        self.begun = True
        return ok

    def along(self, step: Along) -> bool:
        """An edging without a count: one stitch over every place there is."""
        self.loose = True
        taken = self._each(Target(How.EACH), step.span) if self.hand.items else []
        self.problem = None
        for place in taken or []:
            self._stitches(Work(step.span, step.stitch), place, False)
        self.begun = True
        return True


def _corners_of(step: Step, rest: tuple[Step, ...]) -> Work | Group | None:
    """What is worked in every corner, when a stitch in each is followed by it."""
    if not (isinstance(step, Work) and step.target.how is How.EACH and step.target.noun is Noun.STITCH):
        return None
    following = rest[0] if rest else None
    if (
        isinstance(following, (Work, Group))
        and following.target.how is How.EACH
        and following.target.noun in (Noun.SPACE, Noun.CORNER)
    ):
        return following
    return None


def _stack(run: Run, base: Taken) -> Run:
    """A beginning chain stands on one place; its chains are stacked above it."""
    return Run(
        run.first,
        run.n,
        run.kind,
        run.yarn,
        base.first,
        1,
        run.n,
        1,
        Into.STITCH,
        run.loop,
        run.role,
        run.group,
        run.below,
        run.span,
    )


def _named(item: Item, kind: str) -> bool:
    return item.kind == kind


def _last_of(taken: list[Taken]) -> Taken:
    last = taken[-1]
    return Taken(last.first + last.step * (last.n - 1), 1, last.step, kind=last.kind)


def every_nth(taken: list[Taken], n: int) -> list[Taken]:
    """Every nth of the places, the first one included."""
    flat = [
        t if t.space else Taken(t.first + t.step * k, 1, t.step, kind=t.kind)
        for t in taken
        for k in range(1 if t.space else t.n)
    ]
    return flat[::n]


def spread(left: int, by: int, kind: str) -> list[tuple[str, int, int]]:
    """`by` increases (or decreases) spread evenly over `left` places: (stitch, stitches in each, places) in order."""
    out: list[tuple[str, int, int]] = []
    n = abs(by)
    if not n:
        return [(kind, 1, left)]
    used = 0
    for k in range(n):
        end = left * (k + 1) // n
        plain = end - used - (1 if by > 0 else 2)
        if plain > 0:
            out.append((kind, 1, plain))
        out.append((kind, 2, 1) if by > 0 else (f"{kind}2tog", 1, 2))
        used = end
    return out


def main_stitch(steps: tuple[Step, ...]) -> str:
    """The stitch a course is mostly made of: its first one that is no slip stitch; empty when there is none."""
    for step in steps:
        if isinstance(step, Work) and step.stitch != "sl-st":
            return _tall(step.stitch)
        if isinstance(step, (Repeat, Group)):
            inner = main_stitch(step.steps)
            if inner:
                return inner
        if isinstance(step, Along):
            return step.stitch
        if isinstance(step, Shape):
            return step.stitch
    return ""


def stitches_of(steps: tuple[Step, ...]) -> tuple[str, ...]:
    """Basic stitches a course is made of, in order of first use."""
    found: list[str] = []
    for step in steps:
        if isinstance(step, Work) and step.stitch != "sl-st":
            found.append(_tall(step.stitch))
        elif isinstance(step, (Repeat, Group)):
            found.extend(stitches_of(step.steps))
    return tuple(dict.fromkeys(found))


def _tall(identity: str) -> str:
    base = stitch(identity).base
    return base if stitch(base).family == "post" else "sc"


def needs(steps: tuple[Step, ...]) -> int:
    """Stitches of the old edge that steps are sure to take."""
    total = 0
    for step in steps:
        if isinstance(step, Work):
            total += _needs_work(step)
        elif isinstance(step, Skip) and step.target.noun in (Noun.STITCH, Noun.CHAIN) and step.target.how is How.NEXT:
            total += step.target.count
        elif isinstance(step, Skip) and step.target.how in (How.LAST,):
            total += 1
        elif isinstance(step, Group):
            if step.target.noun is Noun.STITCH and step.target.how is How.NEXT:
                total += step.target.count
            elif step.target.how is How.LAST and step.target.noun is Noun.STITCH:
                total += 1
        elif isinstance(step, Repeat) and not step.times.to_end:
            total += step.times.n * needs(step.steps)
    return total


def _kept_for_the_end(rest: tuple[Step, ...]) -> int:
    """Places that `each st across` leaves because what follows names the last one or the turning chain."""
    return sum(
        1 for s in rest
        if isinstance(s, (Work, Group)) and (s.target.how is How.LAST or (s.target.noun is Noun.START and getattr(s, "stitch", "") != "sl-st"))
    )  # fmt: skip


def _needs_work(step: Work) -> int:
    target = step.target
    if target.noun is Noun.START and step.stitch != "sl-st":
        return 1
    if target.noun not in (Noun.STITCH, Noun.PLACE, Noun.CHAIN):
        return 0
    if target.how is How.NEXT:
        consumes = stitch(step.stitch).consumes
        return max(target.count, consumes) if consumes > 1 else target.count * consumes if consumes else 0
    return 1 if target.how is How.LAST else 0


NO_SPAN = NOWHERE

"""How a course begins: starting chains, slip stitches to the next place, yarns joined in, the other side of a chain."""

from generator.fabric.asking import flat
from generator.fabric.blocks import block_begins
from generator.fabric.edge import Item, Taken
from generator.fabric.foresight import chains_of, stitches_of
from generator.fabric.hand import Hand
from generator.fabric.model import Into, Role, Run
from generator.fabric.seek import Seeker
from generator.notation.tree import (
    Chain,
    Group,
    How,
    Join,
    Mesh,
    Noun,
    OtherSide,
    Repeat,
    Step,
    Target,
    Work,
    Yarn,
)
from generator.vocabulary.load import stitch


class Beginner(Seeker):
    """Begins courses."""

    def chain(self, step: Chain) -> bool:
        """Chains: the course's beginning, or a space between stitches."""
        if not self.begun and self.depth == 0 and not self.new:
            return self.start_chain(step)
        if not self.begun and self.depth == 0 and self.new and self.new[0].start and not step.stands_for:
            pass
        first = self.emit("ch", step.n, None, step.span, into=Into.AIR)
        # A chain said not to count is no part of the edge: it lifts the hook to the next course.
        if step.counts is not False and self.lay_space(first, step.n):
            self._span()
        return True

    def _span(self) -> None:
        """Pass over the places a chain spans, where only the arithmetic of the round says how many they are."""
        if self.settings.spread > 1 and not self.in_group >= 0:
            self.hand.stitches(self.settings.spread - 1)

    def start_chain(self, step: Chain) -> bool:
        """A chain that brings the hook to its height: counted as a stitch or not."""
        if self.settings.rows and block_begins(step, self.rest):
            self.lay("ch", self.emit("ch", step.n, None, step.span, into=Into.AIR), step.n, counted=False)
            return True
        kind = stitch(step.stands_for or self._lifted(step.n))
        height = max(kind.turning_chain, 1)
        counts = step.counts if step.counts is not None else True if step.stands_for else None
        self.start_said = counts is not None
        if counts is None:
            if kind.turning_chain <= 1:
                if step.n >= 3:
                    first = self.emit("ch", step.n, None, step.span, into=Into.AIR)
                    self.lay("ch", first, step.n, counted=False)
                    self.leave_pending(self.rest)
                    if not self.settings.rows and self._returns():
                        self.place = next(iter(self.hand.stitches(1) or ()), self.place)
                    return True
                if step.n == 2 and self.settings.rows and kind.identity == "sc" and 1 in chains_of(self.body):
                    first = self.emit("ch", 2, None, step.span, into=Into.AIR)
                    self.lay("ch", first + 1, 1, counted=False)  # moss stitch: one lifts, one is the row's first space
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
            self.runs[-1] = stacked(self.runs[-1], base)
        if counts:
            extra = step.stands_chains or (self._space_after(step.n - height) if not step.stands_for else 0)
            self.new.append(
                Item(kind.identity, first + max(0, min(height, step.n) - 1), 1, 1, True, self.in_group, True)
            )
            self.made += 1
            if extra:
                self.new.append(Item("ch", first + step.n - extra, extra, 1, False, self.in_group))
                self._span()
            self.begun = True
        return True

    def _returns(self) -> bool:
        """Whether the course ends where its chain began: `…, ch 5, join with sl st at base of first ch-5`."""
        last = next((s for s in reversed(self.rest) if isinstance(s, Work | Join | Group | Repeat | Chain)), None)
        slips = isinstance(last, Join) or (isinstance(last, Work) and last.stitch == "sl-st")
        return slips and self.place is None and isinstance(last, Work | Join) and last.target.how is How.SAME

    def leave_pending(self, steps: tuple[Step, ...]) -> None:
        """`Sl st in next sp, ch 5, *sc in next sp, ch 5; rep from * around`: the slip stitch has taken the first space."""
        first = next((s for s in flat(steps) if isinstance(s, (Work, Group))), None)
        if (
            self.pending_space
            and first is not None
            and first.target.how is How.NEXT
            and first.target.noun is Noun.SPACE
        ):
            self.place = self.hand.space()
            self.pending_space = False

    def _space_after(self, extra: int) -> int:
        """Chains beyond the height of the stitch make a space behind it; a single one only where the course makes
        spaces of one chain, for writers differ by one or two in what lifts a tall stitch: where the course's own
        spaces are that much shorter, it is one of them."""
        if extra < 2:
            return max(0, extra) if 1 in chains_of(self.body) else 0
        made = chains_of(self.body)
        return next((n for n in (extra, extra - 1, extra - 2) if n > 1 and n in made), extra)

    def _lifted(self, n: int) -> str:
        """The stitch a chain of n lifts the hook to: the course's own, or, in rows, another of its stitches that is
        just so high (`ch 3, *sc, dc; rep`)."""
        if not self.settings.rows or stitch(self.main).turning_chain == n:
            return self.main
        return next((kind for kind in stitches_of(self.body) if stitch(kind).turning_chain == n), self.main)

    def _start_base(self) -> Taken | None:
        """The place a counted beginning chain stands on."""
        if self.place is not None or not self.hand.items or (self.ground.ring and self.ground.ring_chains <= 12):
            return self.place
        if (closing := self.over_closing()) is not None:
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

    def _travels(self, step: Work) -> bool:
        """Slip stitches at the beginning carry the yarn to the next place, unless they are the course itself."""
        return step.target.how in (How.NEXT, How.FIRST, How.SAME) and self.rest_works()

    def travel(self, step: Work) -> bool:
        """Move the start of the round along by slip stitches; the places passed come last."""
        target = step.target
        hand = self.hand
        if self.settings.rows and any(isinstance(s, Mesh) for s in self.rest):
            return self._leave_squares(step)
        if target.noun in (Noun.SPACE, Noun.CORNER) or (target.noun is Noun.CHAIN and hand.lace):
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
            if self.settings.rows:
                self.hand = Hand(hand.items[at:])  # a row leaves them behind it
                self.hand.used = hand.used
            else:
                self._rotate(at)
            self.pending_space = hand.items[0].space or self.hand.items[0].space
            if self.pending_space and self.settings.rows:
                self.place = None  # not the last stitch passed, but the space
        elif target.how is How.NEXT and hand.stitches_left() > target.count * step.each:
            moved = target.count * step.each
            if self.settings.rows:
                self._pass_by(moved)
            else:
                self._rotate_stitches(moved)
        else:
            return True
        self.emit("sl-st", max(1, min(moved, 50)), None, step.span, role=Role.TRAVEL)
        self.shift += moved
        return True

    def _pass_by(self, k: int) -> None:
        """Places at the edge of a row that it leaves behind it; what begins then stands on the last of them."""
        taken = self.hand.stitches(k)
        if taken:
            last = taken[-1]
            self.place = Taken(last.first + last.step * (last.n - 1), 1, last.step, kind=last.kind)
        items, used = self.hand.items[self.hand.i :], self.hand.used
        if items and self.hand.off:
            first, off = items[0], self.hand.off
            items[0] = Item(
                first.kind, first.first + first.step * off, first.n - off, first.step, first.counted, first.group
            )
        self.hand = Hand(items)
        self.hand.used = used

    def _leave_squares(self, step: Work) -> bool:
        """`sl st across next 3 sps`: in rows of filet the squares passed stay behind; the row begins at their last post."""
        items, at = self.hand.items, 0
        left = step.target.count if step.target.noun is Noun.SPACE else 0
        while left and at < len(items):
            left -= items[at].space
            at += 1
        moved = sum(item.n for item in items[:at])
        self.hand = Hand(items[at:])
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
        elif target is not None and target.noun is Noun.STITCH and target.kind:
            self._rotate_stitches(self._before(target.kind))
        if step.standing and step.stitch:
            where = Target(How.NEXT, Noun.SPACE) if self.pending_space else Target()
            return self.one(Work(step.span, step.stitch, 1, where))
        return True

    def _before(self, kind: str) -> int:
        """Stitches before the first of that kind; of a small odd cluster of them the middle one (`in any dc`)."""
        count = 0
        for item in self.hand.items:
            if item.kind == kind and item.counted:
                return count + (item.n // 2 if item.n % 2 and item.n <= 7 else 0)
            count += item.n if item.counted else 0
        return 0

    def other_side(self, step: OtherSide) -> bool:
        """From here along the other side of the foundation."""
        self.far_side()
        return True

    def far_side(self) -> None:
        """Put the hand on the other side of the foundation."""
        worked = [r for r in self.runs if r.parent >= 0 and r.into is Into.STITCH]
        ground = self.ground
        if not ground.foundation:
            self.loose = True
            return
        lowest = min(
            (r.parent + min(0, r.step * r.takes * ((r.n - 1) // r.share)) for r in worked),
            default=ground.foundation_first,
        )
        highest = max((r.parent for r in worked), default=ground.foundation_first + ground.foundation - 1)
        count = highest - lowest
        self.hand = Hand([Item("ch", lowest + 1, count, 1, True)] if count > 0 else [])
        self.sides = True


def stacked(run: Run, base: Taken) -> Run:
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

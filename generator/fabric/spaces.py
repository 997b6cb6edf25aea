"""Finding places that are no stitches: chain spaces, corners, gaps between groups."""

from generator.fabric.bench import Bench
from generator.fabric.blocks import first_loop
from generator.fabric.edge import Item, Taken
from generator.fabric.ground import MOST_STITCHES
from generator.fabric.hand import Hand
from generator.fabric.model import Fault, Into, Role
from generator.notation.tree import (
    How,
    Noun,
    Target,
)
from generator.source import Span


class Spaces(Bench):
    """Looks for spaces along the edge."""

    def _spaces(self, target: Target, span: Span) -> list[Taken] | None:
        out: list[Taken] = []
        hand = self.hand
        if target.how is How.EACH:
            while (taken := self._one_space(target)) is not None:
                out.append(taken)
                if target.every > 1 and self._one_space(target) is None:
                    break
            return out or self._no_space(target, span)
        if target.how is How.LAST and target.kind and target.size:
            return self._last_chain_of_heap(target.size, span) or self._no_space(target, span)
        if target.how is How.LAST:
            while (taken := self._one_space(target)) is not None:
                out = [taken]
            return out or ([self.place] if self.place else self._no_space(target, span))
        if target.how is How.FIRST and self.begun and self.hand.i > 0 and not self.hand.spaces_left():
            begun = self._begun_over()
            return [begun or Taken(self.new[0].first, 1, 1)] if self.new else self._no_space(target, span)
        nth = target.nth if target.noun is Noun.CORNER else 0
        for _ in range(max(target.count, nth)):
            taken = self._one_space(target)
            if taken is None and not target.size and not target.kind and not hand.lace:
                found = hand.stitches(1)  # `into 1 loop`: the top of a stitch, where the edge has no other loops
                taken = found[0] if found else None
            if taken is None and self.settings.rows and first_loop(hand, target):
                taken = hand.last()
            if taken is None:
                return self._no_space(target, span)
            out.append(taken)
        if nth:
            out = out[-1:]
        hand.spaces_used = True
        return out

    def _begun_over(self) -> Taken | None:
        """The loop this course began over, where its first stitch was worked into one: `in first sp` at its end."""
        first = next((run for run in self.runs if run.kind != "ch" and run.role is Role.STITCH), None)
        if first is None or first.into is not Into.SPACE:
            return None
        return Taken(first.parent, first.takes, first.step, space=True, kind="ch")

    def _at_gap(self) -> bool:
        """Whether the hand stands between two groups with no chain between them."""
        hand = self.hand
        if hand.off or not 0 < hand.i <= len(hand.items) or len(hand.items) < 2:
            return False
        before, after = hand.items[hand.i - 1], hand.items[hand.i % len(hand.items)]
        return (
            not before.space and before.group != after.group and not after.space and (after.group >= 0 or after.start)
        )

    def borrow(self, past: bool = False) -> None:
        """A spiral takes from the same queue it adds to: when the old edge is used up, this course's own first places
        come next. Only in lace, where a pass may well end in the first loop of the round it belongs to."""
        hand = self.hand
        if self.settings.rows or self.joined or self.borrowed >= 0 or not self.new or not self.settings.spiral:
            return
        if self.extra or self.closes_below or (hand.stitches_left() and not (past and self.new[0].space)):
            return
        if self.circling and (hand.i, hand.off) == self.pass_began:
            return  # a pass that has nothing of the old edge is none
        self.borrowed = len(hand.items)
        fresh = [Item(i.kind, i.first, i.n, i.step, i.counted, i.group, i.start) for i in self.new]
        hand.items = [*hand.items, *fresh]

    def covered(self) -> list[Item]:
        """The new edge without the places that this course itself has worked over (see `borrow`)."""
        if self.borrowed < 0:
            return self.new
        left = self.hand.i - self.borrowed
        edge = list(self.new)
        if left == 1 and edge and edge[0].space and self._stands_over_a_loop():
            return edge
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

    def _stands_over_a_loop(self) -> bool:
        """Whether this course's first chain bridges a loop that nothing was worked into, as where points spiral round
        a motif: what the course works into that chain at its end covers a part of it, and the next may begin there."""
        below = self.hand.items[0]
        return below.space and not any(run.into is Into.SPACE and run.parent == below.first for run in self.runs)

    def _one_space(self, target: Target) -> Taken | None:
        hand = self.hand
        if hand.i >= len(hand.items) and self.new and self.new[0].space:
            self.borrow()  # `ch 6, … 3 sc in next loop` five times over: the fifth loop is this round's own first one
        elif self.circling and not self.begun and not self.settings.rows:
            self._from_the_loop(target)
            hand = self.hand
        elif self.after_skip and not target.size and target.noun is Noun.SPACE and self._at_gap():
            between = hand.items[hand.i - 1], hand.items[hand.i % len(hand.items)]
            first = between[0].first + between[0].step * (between[0].n - 1)
            hand.jumped = hand.spaces_used = True
            self.after_skip = False
            return Taken(first, 2, between[1].first - first or 1, kind="gap")
        if not hand.spaces_left(target.size) and hand.lace:
            self.borrow(past=not hand.spaces_left())
        if target.kind and (target.size or self.heap):
            self.heap = target.size or self.heap
            return self._chain_of_heap(self.heap)
        if target.kind and target.kind != "picot":
            taken = hand.middle()
            if taken is not None or (self.circling and any(item.group >= 0 for item in hand.items)):
                return taken
        if target.noun is Noun.CORNER:
            return self._corner(target)
        spaces = hand.spaces_left()
        if spaces:
            return hand.space(target.size)
        if not hand.lace:
            return hand.gap() or hand.middle()
        return None

    def _from_the_loop(self, target: Target) -> None:
        """A round whose repeat begins in a loop begins there: the stitch before it comes last, as the last of the
        stitches between the loops."""
        items = self.hand.items
        at = next((k for k, i in enumerate(items) if i.space and (not target.size or i.n == target.size)), 0)
        if at != 1 or self.hand.i or self.hand.off or target.kind or items[0].n != 1 or items[0].group >= 0:
            return
        self.hand = Hand([*items[1:], items[0]])
        self.shift += 1

    def _last_chain_of_heap(self, size: int, span: Span) -> list[Taken]:
        """The chain of the last shell. Shells before it that were left out are missed, not meant to be."""
        out: list[Taken] = []
        while (taken := self._chain_of_heap(size)) is not None:
            out.append(taken)
        if len(out) > 1:
            every = sum(1 for item in self.hand.items if item.space or item.start)
            self.fail(Fault.SHORT, span, have=every, left=len(out) - 1, kind=f"sp:{size}")
            return []
        return out

    def _chain_of_heap(self, size: int) -> Taken | None:
        """The chain a shell hangs on: a space of that size, or the turning chain the row below began its first with."""
        hand = self.hand
        size = next((n for n in (size, size + 1) if hand.spaces_left(n)), size)
        if hand.spaces_left(size) or not (self.settings.rows and hand.i < len(hand.items) and hand.items[-1].start):
            return hand.space(size)
        taken = hand.last()
        hand.jumped = hand.spaces_used = True
        return taken

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
            pair = hand.stitches(2) if target.kind else None
            if pair:
                first, last = pair[0], pair[-1]
                out.append(Taken(first.first, 2, (last.first - first.first) or first.step, kind="gap"))
                hand.jumped = True
                continue
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

"""Finding the places a target names, along the edge."""

from generator.fabric.descending import Descender
from generator.fabric.edge import Item, Taken, stitches_in
from generator.fabric.evenly import every_nth, last_of
from generator.fabric.foresight import chains_of, kept_for_the_end
from generator.fabric.hand import Hand
from generator.fabric.model import Fault
from generator.notation.tree import (
    Group,
    How,
    Noun,
    Repeat,
    Skip,
    Target,
    Work,
)
from generator.source import Span
from generator.vocabulary.load import stitch


class Seeker(Descender):
    """Looks for the places of a target. What is not there becomes a problem."""

    def find(self, target: Target, consumes: int, span: Span) -> list[Taken] | None:
        """The places of a target, taken from the edge. None with a problem when they are not there."""
        if target.course and (low := self.deeper(target.course)) is not None:
            return self.in_lower(low, target, consumes, span)
        if target.side and self.ground.foundation and not self.sides and self.begun:
            self.far_side()  # `1 in each of 31 stitches down the other side`
        elif self.ground.ends:
            self.go_round(target)
        hand = self.hand
        noun, how = target.noun, target.how
        if how is How.NEXT and noun is Noun.STITCH and not (self.ground.ring or self.ground.open):
            return self._next(target, span)  # as nearly always, and nothing below says otherwise
        founding = noun is Noun.START and target.nth > 1 and bool(self.ground.foundation) and not self.begun
        if how is How.FROM_HOOK or founding:  # `in the 4th chain`: of a foundation it is counted from the hook
            return self._from_hook(target, span)
        if self.ground.open:
            return self._unseen(target, span)
        if how is How.PREVIOUS:
            return [Taken(max(self.stitch, 0), 1, 1)]
        if how is How.SKIPPED:
            return [self.skipped or self.place or Taken(max(self.stitch, 0), 1, 1)]
        if noun is Noun.RING or (
            self.ground.ring
            and (not self.new_places() or (noun is Noun.SPACE and target.size == self.ground.ring_chains))
            and noun in (Noun.STITCH, Noun.PLACE, Noun.SPACE)
            and self._ring_meant(target)
        ):
            return [self._ring_place()]
        if how is How.SAME:
            return self._same(target, span)
        if noun is Noun.START:
            return self._start_place(span)
        if noun in (Noun.SPACE, Noun.CORNER):
            return self.piece_corner(target) or self._spaces(target, span)
        if noun is Noun.GAP:
            return self._gaps(target, span)
        if noun is Noun.ROW_END or self.bridge_meant(target):
            return self.row_ends(target)
        if how is How.LAST:
            taken = self._last_one()
            if taken is None:
                return [self.place] if self.place is not None else self._none(target, 1, span)
            return [taken]
        if how is How.FIRST and self.circling and target.kind and self.place is not None:
            return self._first_of_next(target, span)
        if how is How.FIRST and self.begun and self.place is not None:
            return (
                [self.place] if self._only_start() else [Taken(self.new[0].first, 1, 1)] if self.new else [self.place]
            )
        if noun is Noun.CHAIN and self.branch is not None and (left := self.branch.stitches_left()):
            return self.branch.stitches(left if how is How.EACH else min(target.count, left))
        if how is How.EACH:
            return self._each(target, span)
        if noun is Noun.CHAIN:
            found = hand.chains(target.count)
            return found if found is not None else self._none(target, target.count, span)
        return self._next(target, span)

    def _next(self, target: Target, span: Span) -> list[Taken] | None:
        """The next places, one after the other (or the nth one)."""
        hand = self.hand
        if self.settings.each == 2 and not target.kind:
            found = self._with_chains(target.count)
            return found if found is not None else self._none(target, target.count, span)
        if target.nth > 1:
            found = hand.stitches(target.nth, "")
            return [last_of(found)] if found else self._none(target, target.nth, span)
        found = hand.stitches(
            target.count, "" if target.below else target.kind
        )  # a kind named below is not on the edge
        if found is None and target.kind:
            found = hand.stitches(target.count)
        return found if found is not None else self._none(target, target.count, span)

    def far_side(self) -> None:
        """Go on along the other side of the foundation (see `beginning.Beginner`)."""
        raise NotImplementedError

    def _unseen(self, target: Target, span: Span) -> list[Taken] | None:
        """Places on a piece the text doesn't show: as many as are asked for; of `each` as many as are claimed."""
        if target.how is How.SAME and self.place is not None:
            return [self.place]
        n = target.count
        if target.how is How.EACH:
            self.loose = True
            n = self.ground.claimed - stitches_in(self.new)
        if n < 1:
            self.fail(Fault.NO_START, span)
            return None
        if target.noun in (Noun.STITCH, Noun.CHAIN, Noun.PLACE):
            return [Taken(-1, n, 0, kind="unseen")]
        return [Taken(-1, 1, 0, kind="unseen")] * n

    def _first_of_next(self, target: Target, span: Span) -> list[Taken] | None:
        """`1 tr in the 1st dc, 9 ch, and repeat`: the first of every group."""
        hand = self.hand
        group = hand.items[hand.i].group if hand.off and hand.i < len(hand.items) else -1
        while group >= 0 and hand.i < len(hand.items) and hand.items[hand.i].group == group:
            hand.i, hand.off, hand.jumped = hand.i + 1, 0, True
        found = hand.stitches(1, target.kind)
        return found if found is not None else self._none(target, 1, span)

    def _last_one(self) -> Taken | None:
        """The last stitch. On a plain edge those passed over to reach it are left unworked."""
        hand = self.hand
        plain = not (hand.jumped or hand.spaces_used or hand.lace)
        left = hand.stitches_left()
        taken = hand.last()
        if taken is not None and plain and left > 1:
            hand.jumped = False
            self.passed_over = left - 1
        return taken

    def _ring_meant(self, target: Target) -> bool:
        """Whether the hole of the ring is meant; `in every stitch` of a ring of chains means the chains."""
        if target.how is How.EACH and target.noun is Noun.STITCH and not target.implied and self.ground.ring_chains:
            return False
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
        if not self.begun and (closing := self.over_closing()) is not None:
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

    def _start_place(self, span: Span) -> list[Taken] | None:
        """The chain that began the course below: its last place in rows; nothing to take when it does not count."""
        left = self.hand.stitches_left()
        if left == 1 or (left and (self.settings.rows or self.hand.items[-1].start)):
            taken = self._last_one() if self.settings.rows else self.hand.last()
            return [taken] if taken else None
        if self.hand.spaces_left() and self.settings.rows:
            taken = self.hand.space()
            return [taken] if taken else None
        self.unset = True
        if self.new:
            return [Taken(self.new[0].first, 1, 1)]
        return [self.place] if self.place else [Taken(max(0, self.number - 1), 1, 1)]

    def _from_hook(self, target: Target, span: Span) -> list[Taken] | None:
        """`2nd ch from hook`: skips the chains before it; a tall stitch's skipped chains stand for one."""
        skip = target.nth - 1
        if self.new and self.new[-1].space and self.new[-1].n > skip and not self.ground.foundation:
            self.picots += 1
            chain = self.new[-1]
            left = chain.n - 1 - skip
            if left and self.closes_picot:  # what is left of the chain and what follows are one loop with its picot
                chain.n = left
                return [Taken(chain.first + left, 1, 1)]
            if left:  # the rest of the chain is worked along: a point, a leaf
                self.branch = Hand([Item("ch", chain.first + left - 1, left, -1, True)])
                self.new.pop()
                if self.settings.rows and skip >= 2:
                    self.new.append(Item("ch", chain.first + left + 1, skip, 1, False))
            return [Taken(chain.first + left, 1, 1)]
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
        self.pass_chains(skip)
        found = self.hand.stitches(1)
        return found

    def pass_chains(self, skip: int) -> None:
        """Pass over the first chains of a foundation; those that lift the hook to a tall stitch stand for one."""
        passed = self.hand.stitches(skip) if skip else []
        tall = stitch(self.main)
        height = max(tall.turning_chain, 1)
        counts = False
        if tall.turning_chain >= 2 and skip >= 2:
            counts = self._usually(skip, height)
        if counts:
            first = passed[0].first if passed else 0
            self.new.append(Item(self.main, first - height + 1 if first >= height else first, 1, 1, True, -1, True))
            if skip - height > 1:  # a single one more is only the chain passed over at its foot
                self.new.append(Item("ch", first, max(1, (skip - height + 1) // 2), 1, False))
        elif tall.identity == "sc" and skip == 3 and passed and 1 in chains_of(self.body):
            self.new.append(Item("ch", passed[0].first, 1, 1, False))  # moss stitch: one lifts, one spans the third

    def _usually(self, n: int, height: int) -> bool:
        """Whether n chains stand for a stitch of that height: as the pattern says, else as the part does it."""
        if self.settings.start_counts is not None:
            return self.settings.start_counts
        kind = "tall" if n >= height >= 3 else "low"
        self.opened.add(kind)
        return self.settings.habit.tall if kind == "tall" else self.settings.habit.low

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
        need = target.leave or (kept_for_the_end(self.rest) if self.depth == 0 else 0)
        out: list[Taken] = []
        if target.noun is Noun.CHAIN and hand.lace:
            mode = 2
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
                    if not found:
                        break
                    out += found
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
        if not self.hand.spaces_left():
            return False
        if self.depth:
            return True
        following = next((s for s in self.rest if isinstance(s, (Work, Group, Repeat, Skip))), None)
        while isinstance(following, Repeat):
            following = next((s for s in following.steps if isinstance(s, (Work, Group, Repeat, Skip))), None)
        return isinstance(following, (Work, Group, Skip)) and following.target.noun in (Noun.SPACE, Noun.CORNER)

"""Stitches worked into their places, alone or closed together; joins and picots."""

from generator.fabric.beginning import Beginner
from generator.fabric.edge import Taken
from generator.fabric.model import Fault, Into, Role
from generator.notation.tree import (
    How,
    Join,
    Noun,
    Picot,
    Target,
    Work,
    Yarn,
)
from generator.vocabulary.load import stitch

_CLOSED = ("cluster", "together", "popcorn", "puff", "bobble")
"""Families of which a beginning chain in their place is a leg."""


class Stitcher(Beginner):
    """Works stitches."""

    def work(self, step: Work) -> bool:
        """Stitches into the places of their target."""
        if self.depth == 0 and not self.begun and step.stitch == "sl-st" and self._travels(step):
            return self.travel(step)
        if self.fit is not None and self._is_the_last_one(step):
            return True
        kind = stitch(step.stitch)
        # `sl st in 2nd ch from hook` rather begins the way back along a point
        self.closes_picot = step.stitch == "sl-st" and step.target.nth > 2
        if self._at_the_close():
            if self._closes_below(step):
                return self.close_below(step)
            if self._closes(step):
                return self.join(Join(step.span, step.stitch, step.target))
        if kind.consumes == 0:
            return self._from_nothing(step)
        if kind.consumes > 1:
            return self._together(step, kind.consumes)
        taken = self.find(step.target, 1, step.span)
        if not taken or step.each < 1:
            return self.fail(Fault.NO_PLACE, step.span) if self.problem is None else False
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

    def _is_the_last_one(self, step: Work) -> bool:
        """`…, rep from * across, ending with dc in 3rd ch of ch-3`: where the repeats used the row up, the turning chain
        too, the ending names their last stitch once more."""
        hand = self.hand
        if self.depth or hand.i < len(hand.items) or not hand.items or step.each > 1:
            return False
        if not self.new or not self.new[-1].counted or step.stitch == "sl-st" or self.rest_works():
            return False
        if step.target.how is How.LAST:
            return step.target.noun is Noun.STITCH
        no_other = hand.items[-1].start or hand.items[-1].kind == "sc"  # no row of sc has a top of a turning chain
        return step.target.noun is Noun.START and self.settings.rows and no_other

    def _closes(self, step: Work) -> bool:
        """`ending with ch 1, hdc in first sc`: the last stitch closes the round and finishes its last space."""
        target = step.target
        if step.each != 1 or not (target.how is How.FIRST or target.noun is Noun.START):
            return False
        left = self.hand.stitches_left()
        if self.skipped is not None and 0 < left <= self.skipped.n:
            self.hand.stitches(left)  # what its last chain spans, as the chains before it did
            return True
        return not left or (self.hand.spaces_used and not self.hand.spaces_left())

    def _closes_below(self, step: Work) -> bool:
        """`ending with ch 2, dc in hdc`: so does one in the stitch that closed the round below."""
        return self.closes_below and self.closing is not None and bool(step.target.kind)

    def _at_the_close(self) -> bool:
        """Whether the hand stands behind the last chain of a round, with nothing left to work."""
        if self.depth or self.settings.rows or not self.begun or not self.new or not self.new[-1].space:
            return False
        return not self.rest_works()

    def _stitches(self, step: Work, place: Taken, ring: bool) -> None:
        one = place.space or ring or place.kind == "gap"
        n = step.each if one else place.n * step.each
        grouped = self.in_group < 0 and (step.each >= 3 or one) and not ring
        if grouped:
            self.in_group = self.group
            self.group += 1
            if step.target.how is How.SAME and len(self.new) == 1 and self.new[0].start:
                self.new[0].group = self.in_group  # `ch 3, 3 dc in same sp`: its chain belongs to the group
        extra = self.extra != 0
        role = Role.EXTRA if extra else Role.STITCH
        if step.target.how is How.FROM_HOOK and step.stitch == "sl-st" and (self.begun or self.new):
            role = Role.PICOT
        into = Into.RING if ring else Into.STITCH
        first = self.emit(
            step.stitch, n, None if place.first < 0 else place, step.span,
            share=n if one else step.each, into=into, loop=step.target.loop, role=role, below=step.target.below,
        )  # fmt: skip
        if role is Role.PICOT:
            pass
        elif extra:
            self.extra = n if self.extra < 0 else self.extra + n
        else:
            self.stands_in(step.stitch, place)
            self.made += n
            self.lay(step.stitch, first, n)
        if grouped:
            self.in_group = -1

    def stands_in(self, kind: str, place: Taken) -> None:
        """A beginning chain followed by a cluster in its own place is one of the cluster's legs, no stitch."""
        if len(self.new) != 1 or not self.new[0].start or stitch(kind).family not in _CLOSED:
            return
        chain = next((run for run in reversed(self.runs) if run.role is Role.START), None)
        if chain is not None and chain.parent in (-1, place.first) and not self.start_said:
            self.new.pop()
            self.made -= 1

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
        places = sum(1 if t.space else t.n for t in taken)
        if places < consumes and any(t.space for t in taken):
            return self._close_together(step, taken, 1)  # the legs share a space
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
        if len(taken) == 1:
            self.stands_in(step.stitch, taken[0])
        self.made += n
        self.lay(step.stitch, first, n)
        self.begun = True
        last = taken[-1]
        self.place = last if last.space else Taken(last.first + last.step * (last.n - 1), 1, last.step)
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

    def picot(self, step: Picot) -> bool:
        """Chains closed on themselves on the edge."""
        first = self.emit("ch", step.n, None, step.span, into=Into.AIR, role=Role.PICOT)
        self.emit("sl-st", 1, Taken(max(0, first - 1), 1, 1), step.span, role=Role.PICOT)
        self.picots += 1
        return True

"""Several steps in one place, corners along an edge, shaping told in words."""

from dataclasses import replace

from generator.fabric.edge import Taken
from generator.fabric.evenly import spread
from generator.fabric.ground import MOST_STITCHES
from generator.fabric.model import Fault, Into
from generator.fabric.stitching import Stitcher
from generator.notation.tree import (
    Along,
    Chain,
    Group,
    How,
    Noun,
    Repeat,
    Shape,
    Step,
    Target,
    Work,
)
from generator.vocabulary.load import stitch


class Grouper(Stitcher):
    """Works groups."""

    def grouped(self, step: Group) -> bool:
        """Several steps into one place (or into each of several)."""
        taken = self.find(step.target, 1, step.span)
        if taken is None:
            return False
        places = [
            t if t.space or t.kind in ("ring", "gap", "unseen") else Taken(t.first + t.step * k, 1, t.step, kind=t.kind)
            for t in taken
            for k in range(1 if t.space or t.kind in ("ring", "gap") else t.n)
        ]
        opens = not (self.begun or self.new or self.depth) and len(places) == 1
        if step.target.how is How.SAME and len(self.new) == 1 and self.new[0].start:
            self.new[0].group = self.group  # the beginning chain is the first stitch of the group
        self.begun = True
        for place in places:
            if len(self.runs) > MOST_STITCHES:
                return self.fail(Fault.LIMIT, step.span, need=MOST_STITCHES)
            if not self._group_in(step, place, opens):
                return False
        return True

    def _group_in(self, step: Group, place: Taken, opens: bool = False) -> bool:
        """The steps in one place; `opens`: its chain may begin the course (`(ch 3, 2 dc, ch 2, 3 dc) in corner sp`)."""
        outer = self.in_group
        self.in_group = self.group
        self.group += 1
        self.groups += 1
        self.depth += 1
        ok = True
        for at, inner in enumerate(step.steps):
            if opens and at == 0 and isinstance(inner, Chain):
                self.place = place
                ok = self.start_chain(inner)
            else:
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
            # Closed-together stitches name places (`dc3tog`: 3); in a group all of them are this one place.
            consumes = max(stitch(inner.stitch).consumes, 1)
            n = inner.each * (max(1, inner.target.count // consumes) if inner.target.implied else 1)
            if stitch(inner.stitch).consumes == 0:
                return self._from_nothing(inner)
            first = self.emit(
                inner.stitch, n, None if place.first < 0 else place, inner.span, share=n,
                into=Into.RING if ring else Into.STITCH, loop=inner.target.loop,
            )  # fmt: skip
            self.stands_in(inner.stitch, place)
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

    def _each_with_corners(self, each: Work, corner: Work | Group) -> bool:
        """`sc in each st around, working (2 sc, ch 2, 2 sc) in each corner sp`: along the edge, and at every such
        space what is worked there."""
        hand = self.hand
        named = corner.target.noun is Noun.CORNER or corner.target.kind
        if named and not hand.lace:
            return self._each_with_corner_stitches(each, corner)
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

    def _each_with_corner_stitches(self, each: Work, corner: Work | Group) -> bool:
        """`1 sc in each st and 3 sc in each corner st`: a corner without chains is the middle of what was worked in one
        place there."""
        hand = self.hand
        sizes = {item.n for item in hand.items if item.group >= 0 and item.n % 2}
        if not sizes or all(item.group >= 0 for item in hand.items):
            return bool(self._no_space(corner.target, corner.span))
        size = min(sizes)
        while hand.i < len(hand.items):
            item = hand.items[hand.i]
            left = item.n - hand.off
            at_corner = item.group >= 0 and item.n == size
            if at_corner and hand.off == size // 2:
                step: Work | Group = replace(corner, target=Target())
            else:
                step = replace(
                    each,
                    target=Target(count=size // 2 - hand.off if at_corner and hand.off == 0 and size > 1 else left),
                )
            if not (self.grouped(step) if isinstance(step, Group) else self.work(step)):
                return False
            hand = self.hand
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
        whole = Target(How.EACH, Noun.ROW_END if step.beside else Noun.STITCH)
        taken = self.row_ends(whole) if step.beside else self._each(whole, step.span) if self.hand.items else []
        self.problem = None
        for place in taken or []:
            self._stitches(Work(step.span, step.stitch), place, False)
        self.begun = True
        return True

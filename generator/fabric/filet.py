"""Filet: open squares and filled ones over a row of squares. Two posts with chains between make a space; with stitches
between, a block. A post belongs to the squares on both its sides, so `3 sps, 4 dc` makes four squares."""

from generator.fabric.edge import Taken
from generator.fabric.ground import MOST_STITCHES
from generator.fabric.model import Fault, Into, Problem
from generator.fabric.repeating import Repeater
from generator.notation.tree import Mesh


class Netter(Repeater):
    """Works squares."""

    def mesh(self, step: Mesh) -> bool:
        """Spaces or blocks, one after the other."""
        made = sum(1 for at, item in enumerate(self.new[1:-1], 1) if item.space and self.new[at + 1].counted)
        if not self.meshes:
            self.meshes = made
        if step.total:
            self.wider = made  # a row that grows at its beginning grows at its end, too
        wanted = step.n - (made if step.total else 0) if step.n else MOST_STITCHES
        self.begun = True
        for _ in range(wanted):
            if not step.n and self.hand.i >= len(self.hand.items):
                break
            if self.number - (self.runs[0].first if self.runs else self.number) > MOST_STITCHES:
                return self.fail(Fault.LIMIT, step.span, need=MOST_STITCHES)
            if not self._square(step):
                return False
        return True

    def _square(self, step: Mesh) -> bool:
        inner, post = self._below(step.chains)
        if post is None and not step.grows:
            if not self.wider:
                self._overrun(step)
            self.wider = max(0, self.wider - 1)
        if step.filled:
            self._fill(step, inner)
        elif not (len(self.new) == 2 and self.new[0].start and self.new[1].space):
            first = self.emit("ch", step.chains, None, step.span, into=Into.AIR)
            self.lay("ch", first, step.chains, counted=False)
        self._post(step, post)
        self.meshes += 1
        return True

    def _overrun(self, step: Mesh) -> None:
        """More squares than there are below. The row is worked to its end all the same: the next one goes by it."""
        have = self.overrun.have if self.overrun is not None else self.meshes
        span = self.overrun.span if self.overrun is not None else step.span
        self.overrun = Problem(Fault.OVER, span, have, self.meshes + 1, kind="mesh")

    def _below(self, width: int) -> tuple[list[Taken], Taken | None]:
        """What lies under a square: the space or stitches between its posts, and the further post; it may be missing."""
        hand = self.hand
        inner: list[Taken] = []
        if hand.i < len(hand.items) and hand.items[hand.i].space:
            loop = hand.space()
            inner = [loop] if loop is not None else []
        else:
            inner = hand.stitches(min(width, max(0, hand.stitches_left() - 1))) or []
        post = hand.stitches(1) if len(inner) else None
        hand.spaces_used = True
        return inner, post[0] if post else None

    def _fill(self, step: Mesh, inner: list[Taken]) -> None:
        """The stitches between the posts of a block."""
        left = step.chains
        for place in inner:
            n = left if place.space else min(place.n, left)
            first = self.emit(step.stitch, n, place, step.span)
            self._laid(step, first, n)
            left -= n
        if left > 0:
            self._laid(step, self.emit(step.stitch, left, None, step.span, into=Into.AIR), left)

    def _post(self, step: Mesh, place: Taken | None) -> None:
        into = Into.AIR if place is None else Into.STITCH
        self._laid(step, self.emit(step.stitch, 1, place, step.span, into=into), 1)
        self.place = place or self.place

    def _laid(self, step: Mesh, first: int, n: int) -> None:
        self.made += n
        self.lay(step.stitch, first, n)

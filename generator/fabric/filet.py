"""Filet: a row of squares, open ones (spaces: chains and the stitch that closes them) and filled ones (blocks). Every
square stands over one square of the row below, whichever that is."""

from generator.fabric.edge import Taken
from generator.fabric.grouping import Grouper
from generator.fabric.model import Fault
from generator.notation.tree import Chain, Repeat, Work

SQUARES = ("mesh", "block")
"""Signs of repeats that are squares of filet; no writer's sign looks like these."""


class FiletWorker(Grouper):
    """Works squares."""

    def squares(self, step: Repeat) -> bool:
        """So many squares of one sort."""
        chain = next((s.n for s in step.steps if isinstance(s, Chain)), 2)
        bar = next(s for s in reversed(step.steps) if isinstance(s, Work))
        done = 0
        while self.hand.i < len(self.hand.items) if step.times.to_end else done < step.times.n:
            done += 1
            ok = self._space(step, bar, chain) if step.mark == "mesh" else self._block(bar, chain)
            if not ok:
                return False
        return True

    def _space(self, step: Repeat, bar: Work, chain: int) -> bool:
        if not self._first_space_stands():
            self.chain(Chain(step.span, chain))
        return self._pass_square(chain, bar) and self._bar(bar)

    def _first_space_stands(self) -> bool:
        """Whether the beginning chain has made the first space already: `ch 5, 3 sps`."""
        return len(self.new) == 2 and self.new[0].start and self.new[1].space

    def _block(self, bar: Work, chain: int) -> bool:
        if self._over_space():
            taken = self.hand.space()
            places = [taken] if taken else None
            if places:
                self._stitches(Work(bar.span, bar.stitch, chain), places[0], False)
            return places is not None and self._bar(bar)
        found = self.hand.stitches(chain + 1)
        if found is None:
            return self._too_few(bar, chain + 1)
        for place in found:
            self._stitches(Work(bar.span, bar.stitch), place, False)
        self._stand_on(found[-1])
        return True

    def _over_space(self) -> bool:
        hand = self.hand
        return hand.i < len(hand.items) and hand.items[hand.i].space

    def _pass_square(self, chain: int, bar: Work) -> bool:
        """The filling of the square below is passed over."""
        if self._over_space():
            self.hand.pass_spaces()
            return True
        if not any(item.space for item in self.hand.items) and self.hand.stitches_left() <= chain:
            return True
        return self.hand.stitches(chain) is not None or self._too_few(bar, chain + 1)

    def _bar(self, bar: Work) -> bool:
        found = self.hand.stitches(1)
        if found is None:
            return self._too_few(bar, 1)
        self._stitches(Work(bar.span, bar.stitch), found[0], False)
        self._stand_on(found[0])
        return True

    def _stand_on(self, place: Taken) -> None:
        self.begun = True
        self.place = Taken(place.first + place.step * (place.n - 1), 1, place.step, kind=place.kind)

    def _too_few(self, bar: Work, need: int) -> bool:
        return self.fail(Fault.OVER, bar.span, have=self.hand.stitches_left(), need=need)

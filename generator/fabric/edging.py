"""Edgings of a piece worked in rows: along its row ends, in its corners, along the foot of its foundation chain."""

from generator.fabric.closing import Closer
from generator.fabric.edge import Item, Taken
from generator.fabric.ground import Ground
from generator.fabric.hand import Hand
from generator.fabric.model import Into, Run
from generator.notation.tree import How, Noun, Target


def ground_after(ground: Ground, runs: list[Run], edge: list[Item], rows: bool) -> Ground:
    """What the next course stands on: rows add their ends and keep the foot of the first one; a round has neither."""
    if not rows or not (ground.foundation or ground.ends):
        return Ground()
    if not ground.foundation:
        return Ground(ends=ground.ends + 1, foot=ground.foot)
    worked = [r for r in runs if r.parent >= 0 and r.into is Into.STITCH]
    if not worked:
        return Ground()
    lowest = min(r.parent + min(0, r.step * r.takes * ((r.n - 1) // r.share)) for r in worked)
    count = max(r.parent for r in worked) - lowest + 1 + (1 if edge and edge[0].start else 0)
    return Ground(ends=1, foot=(Item("ch", lowest, count),))


class Edger(Closer):
    """Goes round a piece."""

    around = False
    """The work has gone along another side of the piece than its edge."""
    beside = False
    """The work has left the edge and goes along a side."""
    aside: Hand | None = None
    """The hand on the edge, while the work is at the foot."""

    def row_ends(self, target: Target) -> list[Taken]:
        """So many places along the row ends as said; `each` is as many as the piece has rows, where they are known."""
        self.loose = self.beside = self.around = True
        each = target.how is How.EACH and self.ground.ends > 0
        n = -(-self.ground.ends // max(1, target.every)) if each else target.count
        return [self._here()] * max(1, n)

    def piece_corner(self, target: Target) -> list[Taken] | None:
        """A corner of the piece itself, which is no place of its edge; None where the edge has what is meant."""
        if target.noun is not Noun.CORNER or target.how is How.EACH or not (self.beside or self.ground.ends):
            return None
        if any(item.space or item.group >= 0 for item in self.hand.items):
            return None
        if not self.beside and (self.hand.stitches_left() and not self.begun):
            return None  # the first stitch of the edge is the corner
        self.loose = True
        return [self._here()] * max(1, target.count)

    def bridge_meant(self, target: Target) -> bool:
        """Whether single chains are those of a bridge to another piece, along which the work goes."""
        if not self.beside or self.ground.foot or target.noun is not Noun.CHAIN or target.how is not How.NEXT:
            return False
        return all(item.kind != "ch" for item in self.hand.items)

    def go_round(self, target: Target) -> None:
        """Put the hand where the next side of the piece lies, when the work comes to another one."""
        if self.aside is not None:
            if target.noun is Noun.STITCH and not target.side and not self.hand.stitches_left():
                self.hand, self.aside = self.aside, None
            return
        chains = target.noun is Noun.CHAIN and target.how in (How.EACH, How.NEXT)
        done = self.beside or (self.begun and not self.hand.stitches_left())
        if self.ground.foot and (target.side or chains) and done and not self.hand.lace:
            self.loose = self.around = True
            self.aside, self.hand = self.hand, Hand(list(self.ground.foot))

    def _here(self) -> Taken:
        return Taken(max(0, self.number - 1), 1, 1)

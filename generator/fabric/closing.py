"""Rounds that close with a stitch: `ending with ch 2, hdc in first sc`. The taller stitch stands in for the second
half of the last loop, the hook is then in its middle, and the next round begins over it."""

from generator.fabric.edge import Item, Taken
from generator.fabric.hand import Hand
from generator.fabric.spaces import Spaces
from generator.notation.tree import (
    Group,
    Join,
    Noun,
    Repeat,
    Step,
    Work,
)


class Closer(Spaces):
    """Knows the loop that a closing stitch finished."""

    def hold_closing(self, steps: tuple[Step, ...]) -> None:
        """Where this round ends in the stitch that closed the one below, it never works into the loop that stitch
        finished: that loop is taken off the edge, so that a repeat to the end does not run into it."""
        items = self.hand.items
        at = closing_at(items)
        if at < 0 or self.settings.rows:
            return
        last = next((s for s in reversed(steps) if isinstance(s, (Work, Join, Group, Repeat))), None)
        if isinstance(last, Work) and last.target.kind == items[at].closing and last.target.noun is Noun.STITCH:
            self.closing = items[at]
            self.closes_below = True
            self.hand = Hand(items[:at])

    def over_closing(self) -> Taken | None:
        """The loop the work stands over at the beginning of a round, taken."""
        at = closing_at(self.hand.items)
        if self.closes_below or at < 0 or self.settings.rows or self.begun:
            return None
        item = self.hand.items[at]
        self.hand = Hand(self.hand.items[:at])
        self.hand.spaces_used = True
        return Taken(item.first, item.n, item.step, space=True, group=item.group, kind="ch")

    def close_below(self, step: Work) -> bool:
        """A closing stitch in the closing stitch below: a stitch of this round, for its place is the round's own
        first, over which nothing else was worked."""
        loop = self.closing
        assert loop is not None
        first = self.emit(step.stitch, 1, Taken(loop.first + loop.n, 1, 1), step.span)
        self.new[-1].closing = step.stitch
        self.lay(step.stitch, first, 1)
        self.made += 1
        self.joined = True
        return True


def closing_at(items: list[Item]) -> int:
    """Where the loop lies that a closing stitch finished: last on the edge, or before that stitch; -1 for none."""
    for at in (len(items) - 1, len(items) - 2):
        if at >= 0 and items[at].closing:
            return at
    return -1

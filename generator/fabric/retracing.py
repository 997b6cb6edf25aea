"""A pass of a repeat that takes its places from one run of like stitches is the same a little further on.

So it is worked once, stitch by stitch, and laid again along the rest of that run: every number moves on by what a pass
makes or takes. Nothing is decided here; where a pass could turn out otherwise, it is worked as the first one was.
"""

from dataclasses import dataclass

from generator.fabric.edge import Item, Taken
from generator.fabric.ground import MOST_STEPS
from generator.fabric.grouping import Grouper
from generator.fabric.model import Run
from generator.notation.tree import Chain, How, Noun, Repeat, Skip, Step, Target, Work
from generator.source import named
from generator.vocabulary.load import stitch


@dataclass(frozen=True, slots=True)
class Before:
    """The bench before a pass: the run under the hand, and how far everything had come."""

    item: Item
    off: int
    used: int
    runs: int
    number: int
    group: int
    groups: int
    made: int
    carried_out: int
    place: Taken | None
    skipped: Taken | None


class Retracer(Grouper):
    """Lays passes again."""

    def before(self) -> Before | None:
        """What a pass begins with; None where a pass could not be laid again."""
        hand, rules = self.hand, self.settings
        if self.extra or self.ground.ring or self.in_group >= 0 or rules.each == 2 or rules.spread > 1:
            return None
        if hand.i >= len(hand.items) or hand.items[hand.i].space:
            return None
        return Before(
            hand.items[hand.i], hand.off, hand.used, len(self.runs), self.number, self.group, self.groups, self.made,
            self.carried_out, self.place, self.skipped,
        )  # fmt: skip

    def again(self, before: Before, most: int, keep: int = 0) -> int:
        """Lay the pass worked since `before` up to `most` times more, so that `keep` places are left; how often it
        was. The pass that comes to the end of the run is left to be worked: from there the hand goes on to another."""
        hand, item = self.hand, before.item
        if hand.i >= len(hand.items) or hand.items[hand.i] is not item or self.problem is not None:
            return 0
        takes, makes, steps = hand.off - before.off, self.number - before.number, self.carried_out - before.carried_out
        if takes <= 0 or makes <= 0:
            return 0
        room = min((item.n - hand.off - 1) // takes, self.room() // makes, (MOST_STEPS - self.carried_out) // steps)
        times = min(most, room, (hand.stitches_left() - keep) // takes if keep else room)
        if times > 0:
            self._lay_passes(before, times, takes * item.step, makes)
        return max(times, 0)

    def _lay_passes(self, before: Before, times: int, along: int, makes: int) -> None:
        hand, runs, groups = self.hand, self.runs[before.runs :], self.group - before.group
        for k in range(1, times + 1):
            for run in runs:
                self._lay_further(run, makes * k, along * k, groups * k if run.group >= before.group else 0)
        self.number += makes * times
        self.stitch = self.number - 1
        self.group += groups * times
        self.groups += (self.groups - before.groups) * times
        self.made += (self.made - before.made) * times
        self.carried_out += (self.carried_out - before.carried_out) * times
        self.place = _further(self.place, before.place, along * times)
        self.skipped = _further(self.skipped, before.skipped, along * times)
        hand.off += (hand.off - before.off) * times
        hand.used += (hand.used - before.used) * times

    def _lay_further(self, run: Run, number: int, parent: int, group: int) -> None:
        """A run once more, its numbers moved on."""
        first, n, kind, yarn, under, takes, share, step, into, loop, role, of, below, span = run
        first, under, of = first + number, under + parent if under >= 0 else under, of + group
        moved = (first, n, kind, yarn, under, takes, share, step, into, loop, role, of, below, span)
        self.runs.append(named(Run, moved))
        if kind == "ch":
            self.lay_space(first, n)
            return
        self.in_group = of
        self.lay(kind, first, n)
        self.in_group = -1


def _further(place: Taken | None, before: Taken | None, along: int) -> Taken | None:
    """A place that a pass has set, moved on; one that it has not is as it was."""
    if place is None or place is before:
        return place
    first, n, step, space, group, kind = place
    return Taken(first + along, n, step, space, group, kind)


def retraceable(steps: tuple[Step, ...]) -> bool:
    """Whether steps do the same wherever on a run of like stitches they are worked."""
    return all(_plain(step) for step in steps)


def _plain(step: Step) -> bool:
    if isinstance(step, Work):
        return _next(step.target) and step.each > 0 and stitch(step.stitch).consumes > 0
    if isinstance(step, Repeat):
        fixed = not step.times.to_end and step.times.until is None and not step.stop_at
        return fixed and retraceable(step.steps)
    if isinstance(step, Chain):
        return step.counts is None
    return isinstance(step, Skip) and _next(step.target)


def _next(target: Target) -> bool:
    return (
        target.how is How.NEXT
        and target.noun is Noun.STITCH
        and not target.kind
        and target.nth <= 1
        and not target.course
    )

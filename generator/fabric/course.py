"""One course worked: steps whose choices are settled are carried out on the live edge, stitch by stitch.

The weaver is a hand on the old edge and a new edge that grows. It never guesses: what cannot be worked becomes a
`Problem` and the course stops there.
"""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from generator.fabric.edge import Item, in_a_row
from generator.fabric.filet import Netter
from generator.fabric.foresight import any_corner, corners_of, main_stitch
from generator.fabric.ground import MOST_STEPS
from generator.fabric.hand import Hand
from generator.fabric.model import Fault, Role
from generator.notation.tree import (
    Along,
    Chain,
    Convention,
    FastenOff,
    Foundation,
    Group,
    How,
    Join,
    Mesh,
    Noun,
    OtherSide,
    Picot,
    Reached,
    Repeat,
    Ring,
    Shape,
    Skip,
    Stay,
    Step,
    Target,
    Turn,
    Work,
    Yarn,
)

_TALL = frozenset(("dc", "tr", "dtr", "trtr", "qtr"))


class Weaver(Netter):
    """Works one course. Make it, call `run`, read what it left."""

    def run(self, steps: tuple[Step, ...]) -> bool:
        """Carry out a course's steps; False when something could not be worked."""
        self.body = steps
        self.main = main_stitch(steps) or self.main
        self.hold_closing(steps)
        ok = self.steps(steps)
        if ok and self.overrun is not None:
            self.problem = self.overrun
        return ok and self.overrun is None

    def steps(self, steps: tuple[Step, ...]) -> bool:
        """Carry out steps in order."""
        kept = self.rest
        done = -1
        for at, step in enumerate(steps):
            if at <= done:
                continue
            following = steps[at + 1 :]
            corners = corners_of(step, following) if self.depth == 0 else None
            if isinstance(step, Along) and any_corner(following):
                done = at + 1  # an edging of no fixed count takes its corners along
            if corners is not None:
                done = at + 1
                self.rest = following[1:]
                if not self._each_with_corners(step, corners):  # type: ignore[arg-type]
                    return False
                continue
            self.rest = following + kept if self.depth == 0 else following
            if self.depth == 0 and self.begun:
                self._past_the_end(step)
            if not self.one(step) or (self.problem is not None and self.problem.fault is Fault.LIMIT):
                self.rest = kept
                return False
        self.rest = kept
        return True

    def one(self, step: Step) -> bool:
        """Carry out one step."""
        self.carried_out += 1
        if self.carried_out > MOST_STEPS:
            return self.fail(Fault.LIMIT, step.span, need=MOST_STEPS)
        if not isinstance(step, (Skip, Chain, Group, Work)):
            self.after_skip = False
        do = _DO.get(type(step))
        return True if do is None else do(self, step)

    def said(self, step: Convention) -> bool:
        """A rule said in the middle of a course."""
        if step.name == "skipped-chains":
            self.settings = replace(self.settings, start_counts=step.value == "counts")
        return True

    def turn(self, step: Turn) -> bool:
        """The work is turned when the course is done."""
        self.turned = True
        return True

    def fasten_off(self, step: FastenOff) -> bool:
        """The yarn is cut when the course is done."""
        self.cut = True
        return True

    def stay(self, step: Stay) -> bool:
        """Not joined, though it might be."""
        self.stayed = self.stayed or step.what == "join"
        return True

    def reached(self, step: Reached) -> bool:
        """Whether so many of a stitch are made by here; `treble` may mean any of the tall ones."""
        made = [
            r for r in self.runs if r.role is Role.STITCH and (r.kind == step.stitch or {r.kind, step.stitch} <= _TALL)
        ]
        exact = sum(r.n for r in made if r.kind == step.stitch)
        have = sum(r.n for r in made)
        begun = 1 if self.new and self.new[0].start else 0
        if step.n in (exact, have, exact + begun, have + begun):
            return True
        return self.fail(Fault.COUNT, step.span, have=have, need=step.n)

    def _past_the_end(self, step: Step) -> None:
        """When the old edge is used up, stitches go on over the first ones of this course and level its end."""
        if not self.settings.extra or self.settings.rows or self.extra:
            return
        if (
            isinstance(step, Work)
            and step.target.how is How.NEXT
            and step.target.noun in (Noun.STITCH, Noun.PLACE)
            and step.target.count <= 6
        ) and (
            self.hand.items
            and not self.hand.stitches_left()
            and not self.ground.ring
            and self.new
            and self.new[0].counted
        ):
            self.hand = Hand([Item(i.kind, i.first, i.n, i.step, i.counted, i.group) for i in self.new])
            self.extra = -1  # switched on; counted as stitches are worked

    def _lifted_over(self) -> bool:
        """Whether only a chain without a space has been worked, and a stitch in each of the others follows."""
        each = self.rest[0] if self.rest else None
        plain = isinstance(each, Work) and each.target.how is How.EACH and each.target.noun is Noun.STITCH
        return plain and len(self.new) == 1 and self.new[0].start and self.place is not None

    def skip(self, step: Skip) -> bool:
        """Places passed over."""
        target = step.target
        if target.how is How.FROM_HOOK:  # `starting in 3rd ch from hook` skips the chains before it
            target = Target(noun=Noun.CHAIN, count=target.nth - 1)
        count = target.count
        if target.how in (How.FIRST, How.SAME) and self.place is not None and self._only_start():
            count -= 1  # the beginning chain stands on the first of them
        if step.behind or not count:
            return True
        if target.noun in (Noun.SPACE, Noun.CORNER):
            for _ in range(target.count):
                if self._one_space(target) is None:
                    return bool(self._no_space(target, step.span))
            self.begun = True
            return True
        founding = bool(self.ground.foundation) and not self.begun
        if target.noun is Noun.START and not founding:
            return True
        if target.noun in (Noun.CHAIN, Noun.START):  # `skip first ch` of a foundation is a chain like the others
            chains = self.hand.chains(target.count)
            if chains is None:
                self._none(target, target.count, step.span)
                return False
            self.skipped = chains[-1]
            self.begun = self.begun or not self.ground.foundation
            return True
        if count == 1 and target.how is How.NEXT and self._lifted_over():
            return True  # `3 ch, miss 1, 1 tr in each`: the one the chain stands on
        mark = self.hand.used
        found = self.hand.stitches(count, target.kind) or self.hand.stitches(count)
        if found is None and self.settings.each != 2:
            left = self.hand.stitches_left()
            if 0 < left < count:
                found = self._with_chains(count)
        if found is None:
            if self.hand.spaces_left() or self.hand.spaces_used:
                return True  # `skip 3 dc` of a group that the hand has already passed
            self._none(target, count, step.span)
            return False
        self.hand.used = mark + count
        self.after_skip = True
        self.skipped = in_a_row(found)
        if not self.ground.foundation:
            self.begun = True
        return True


_DO: dict[type[Step], Callable[[Weaver, Any], bool]] = {
    Along: Weaver.along, Chain: Weaver.chain, Convention: Weaver.said, FastenOff: Weaver.fasten_off,
    Foundation: Weaver.foundation, Group: Weaver.grouped, Join: Weaver.join, Mesh: Weaver.mesh,
    OtherSide: Weaver.other_side, Picot: Weaver.picot, Reached: Weaver.reached, Repeat: Weaver.repeat, Ring: Weaver.ring,
    Shape: Weaver.shaped, Skip: Weaver.skip, Stay: Weaver.stay, Turn: Weaver.turn, Work: Weaver.work,
    Yarn: Weaver.yarn_step,
}  # fmt: skip
"""What carries out each kind of step; the others are words."""

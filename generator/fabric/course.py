"""One course worked: steps whose choices are settled are carried out on the live edge, stitch by stitch.

The weaver is a hand on the old edge and a new edge that grows. It never guesses: what cannot be worked becomes a
`Problem` and the course stops there.
"""

from dataclasses import replace

from generator.fabric.edge import Item
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
            corners = corners_of(step, steps[at + 1 :]) if self.depth == 0 else None
            if isinstance(step, Along) and any_corner(steps[at + 1 :]):
                done = at + 1  # an edging of no fixed count takes its corners along
            if corners is not None:
                done = at + 1
                self.rest = steps[at + 2 :]
                if not self._each_with_corners(step, corners):  # type: ignore[arg-type]
                    return False
                continue
            self.rest = steps[at + 1 :] + (kept if self.depth == 0 else ())
            if self.depth == 0:
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
        if isinstance(step, Work):
            return self.work(step)
        if isinstance(step, Chain):
            return self.chain(step)
        if isinstance(step, Repeat):
            return self.repeat(step)
        if isinstance(step, Group):
            return self.grouped(step)
        if isinstance(step, Skip):
            return self.skip(step)
        if isinstance(step, Join):
            return self.join(step)
        if isinstance(step, Picot):
            return self.picot(step)
        if isinstance(step, Yarn):
            return self.yarn_step(step)
        if isinstance(step, OtherSide):
            return self.other_side(step)
        if isinstance(step, Shape):
            return self.shaped(step)
        if isinstance(step, Mesh):
            return self.mesh(step)
        if isinstance(step, Along):
            return self.along(step)
        if isinstance(step, Reached):
            return self.reached(step)
        if isinstance(step, Convention) and step.name == "skipped-chains":
            self.settings = replace(self.settings, start_counts=step.value == "counts")
        elif isinstance(step, Turn):
            self.turned = True
        elif isinstance(step, FastenOff):
            self.cut = True
        elif isinstance(step, Stay):
            self.stayed = self.stayed or step.what == "join"
        elif isinstance(step, Ring):
            self.ring(step)
        elif isinstance(step, Foundation):
            self.foundation(step.chains, step.span)
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
        if not self.settings.extra or self.settings.rows or not self.begun or self.extra:
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

    def skip(self, step: Skip) -> bool:
        """Places passed over."""
        target = step.target
        if target.how is How.FROM_HOOK:  # `starting in 3rd ch from hook` skips the chains before it
            target = Target(noun=Noun.CHAIN, count=target.nth - 1)
        if step.behind or (target.how is How.FIRST and self.place is not None and self._only_start()):
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
        count = target.count
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
        self.skipped = found[0]
        if not self.ground.foundation:
            self.begun = True
        return True

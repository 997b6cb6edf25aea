"""Steps several times over, or to the end of the course."""

from generator.fabric.foresight import brings_chain, last_chains, needs, only_closes
from generator.fabric.ground import MOST_STITCHES
from generator.fabric.model import Fault, Problem
from generator.fabric.retracing import Retracer, retraceable
from generator.notation.tree import Chain, Group, Noun, Repeat, Skip, Step, Target, Work


class Repeater(Retracer):
    """Works repeats."""

    def repeat(self, step: Repeat) -> bool:
        """Steps several times over."""
        if step.times.until is not None and (place := self._next_such(step.times.until)) is not None:
            return self._repeat_up_to(step, place)
        if step.times.to_end or step.times.until is not None:
            return self._repeat_to_end(step)
        begin_left = self.hand.stitches_left()
        self.depth += 1
        n = min(max(0, step.times.n), MOST_STITCHES + 1)
        like = n > 2 and not step.stop_at and retraceable(step.steps)
        turn = 0
        while turn < n:
            before, mark = self.hand.used, self.before() if like else None
            steps = step.steps[: step.stop_at] if step.stop_at > 0 and turn == n - 1 else step.steps
            if not self.steps(steps):
                self.depth -= 1
                if self.problem is not None and self.problem.fault is Fault.OVER:
                    per = self._per_pass(step, before, begin_left, turn)
                    self.problem = Problem(Fault.OVER, step.span, begin_left, per * n, per)
                return step.stop_at == -1 and turn == n - 1 and self._forgive()
            if self.number - (self.runs[0].first if self.runs else self.number) > MOST_STITCHES:
                self.depth -= 1
                return self.fail(Fault.LIMIT, step.span, need=MOST_STITCHES)
            turn += 1
            if mark is not None and turn < n:
                turn += self.again(mark, n - turn)
        self.depth -= 1
        if self.depth == 0:
            self.passes = max(self.passes, n)
        return True

    def _next_such(self, target: Target) -> int | None:
        """Where on the edge the next such space lies; a corner without a size is one of the longest."""
        hand = self.hand
        size = target.size
        if not size and target.noun is Noun.CORNER:
            size = max((item.n for item in hand.items if item.space), default=0)
        ahead = [k for k in range(hand.i, len(hand.items)) if hand.items[k].space]
        return next((k for k in ahead if not size or hand.items[k].n == size), ahead[0] if ahead else None)

    def _repeat_up_to(self, step: Repeat, place: int) -> bool:
        """As often as there is room before a place of the edge; not at all where there is none."""
        self.depth += 1
        for _ in range(MOST_STITCHES):
            snap, position = self.snapshot(), (self.hand.i, self.hand.off)
            ok = self.steps(step.steps)
            if not ok or self.hand.i > place or (self.hand.i, self.hand.off) == position:
                self.restore(snap)
                break
        self.depth -= 1
        return self.problem is None or self.problem.fault is not Fault.LIMIT

    def _per_pass(self, step: Repeat, before: int, begin_left: int, turn: int) -> int:
        need = needs(step.steps)
        return need if need else max(1, begin_left // max(1, turn))

    def _forgive(self) -> bool:
        self.problem = None
        return True

    def _open(self, step: Repeat) -> None:
        """`Sl st in 1st sp, *ch 4, sc in next sp; rep from * around, ending with ch 4, join`: the slip stitch has taken
        its space; a stitch in the ending would stand in for the last of the repeat's."""
        ends = self.rest[:2]
        opening = (*step.steps[:1], *ends[:1])
        loops = len(opening) == 2 and all(isinstance(s, Chain) for s in opening)
        if loops and not self.begun and self.depth == 0 and not any(isinstance(s, Work) for s in ends):
            self.leave_pending(step.steps)

    def _repeat_to_end(self, step: Repeat) -> bool:
        self._open(step)
        per, left = needs(step.steps), self.hand.stitches_left()
        need = step.times.leave or (self.rest_needs() if self.depth == 0 else 0)
        hung = last_chains(self.rest, self.settings.rows) if self.depth == 0 else 0
        if hung and step.times.leave == hung:
            need = 0  # `to last ch-2 sp, sc in ch-2 sp`: it is the loop that is left
        if per and need and not step.times.leave and left % per == 0 and (left - need) % per:
            need = 0  # the repeats use the course up; what follows lies past its end and levels it
        snaps: list[tuple[object, ...]] = []
        passes = 0
        kept = self.rest
        begin_left = self.hand.stitches_left()
        like = not step.stop_at and retraceable(step.steps)
        self.depth += 1
        outer, self.circling = self.circling, True
        while passes < MOST_STITCHES:
            mark = self.before() if like else None
            snap = self.snapshot()
            position = self.pass_began = (self.hand.i, self.hand.off)
            ok = self.steps(step.steps)
            moved = (self.hand.i, self.hand.off) != position
            if not ok and self.problem is not None and self.problem.fault is Fault.LIMIT:
                break
            if not ok or self.hand.stitches_left() < need or (hung and self._chains_left() < hung):
                self.restore(snap)
                break
            if not moved:
                passes += 1
                break
            snaps.append(snap)
            passes += 1
            if mark is not None:
                passes += self.again(mark, MOST_STITCHES - passes, need)
            if self.hand.i >= len(self.hand.items):
                break
        self.depth -= 1
        self.circling = outer
        self.rest = kept
        if passes == 0:
            return self._no_pass(step, begin_left)
        per = needs(step.steps)
        self.fit = (
            step.span,
            per or 1,
            sum(s.target.count for s in step.steps if isinstance(s, Skip) and not s.behind),
            _skips_first(step),
        )
        lace = self.hand.spaces_used or self.hand.jumped
        if step.stop_at or (
            lace
            and self.depth == 0
            and not step.times.leave
            and not hung
            and (not self.rest_works() or only_closes(self.rest, self.closes_below))
            and (self.hand.spaces_left() or self.hand.stitches_left())
        ):
            self.circling, self.pass_began = True, (self.hand.i, self.hand.off)
            self._last_pass(step, snaps)
            self.circling = outer
        if self.depth == 0:
            self.passes = max(self.passes, passes)
        return True

    def _chains_left(self) -> int:
        """Loops ahead, the turning chain at the end of a row among them where it is one (`ch 4 (dc, ch 1)` has its own)."""
        hand = self.hand
        turned = self.settings.rows and hand.i < len(hand.items) and hand.items[-1].start
        turned = turned and not (len(hand.items) > 1 and hand.items[-2].space)
        return hand.spaces_left() + bool(turned)

    def _no_pass(self, step: Repeat, begin_left: int) -> bool:
        if self.hand.i >= len(self.hand.items) and self.begun:
            return True  # the course is full already; nothing is left to repeat
        probe = self.snapshot()
        self.depth += 1
        self.steps(step.steps)
        self.depth -= 1
        problem = self.problem
        self.restore(probe)
        per = needs(step.steps)
        if problem is None or (problem.fault is Fault.OVER and per):
            return self.fail(Fault.FIT, step.span, have=begin_left, per=per, left=begin_left)
        self.problem = problem
        return False

    def _last_pass(self, step: Repeat, snaps: list[tuple[object, ...]]) -> None:
        """The last pass stops early: at the mark, or where the course is full."""
        if step.stop_at > 0:
            snap = self.snapshot()
            self.depth += 1
            ok = bool(self.hand.stitches_left()) and self.steps(step.steps[: step.stop_at])
            self.depth -= 1
            if not ok and snaps:
                self.restore(snaps[-1])
                self.depth += 1
                self.steps(step.steps[: step.stop_at])
                self.depth -= 1
            elif not ok:
                self.restore(snap)
            return
        self.depth += 1
        begin, before = self.snapshot(), len(self.runs)
        position = (self.hand.i, self.hand.off)
        self._as_far_as_it_goes(step.steps, brings_chain(self.rest))
        only_chains = all(run.kind == "ch" for run in self.runs[before:])
        if (self.hand.i, self.hand.off) == position or (only_chains and brings_chain(self.rest)):
            self.restore(begin)  # only chains were made: the ending brings its own
        self.depth -= 1

    def _as_far_as_it_goes(self, steps: tuple[Step, ...], chain_follows: bool) -> None:
        """One step after the other while there are places. The chain behind the last stitch leads back to the
        beginning of the round, unless the ending brings one in its place."""
        before_chain = None
        for inner in steps:
            if not isinstance(inner, Chain) and not self.hand.stitches_left() and not self.hand.spaces_left():
                break
            snap = self.snapshot()
            if not self.steps((inner,)):
                self.restore(snap)
                break
            before_chain = (before_chain or snap) if isinstance(inner, Chain) else None
        if before_chain is not None and chain_follows:
            self.restore(before_chain)


def _skips_first(step: Repeat) -> int:
    """Stitches that every pass passes over before it works a group of several."""
    first = step.steps[0] if step.steps else None
    heaped = any(isinstance(s, Group) or (isinstance(s, Work) and s.each > 1) for s in step.steps)
    return first.target.count if isinstance(first, Skip) and not first.behind and heaped else 0

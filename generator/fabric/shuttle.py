"""One course carried from state to state: its beginning, the weaving, what is left over at its end."""

from dataclasses import dataclass, field, replace

from generator.fabric.after import covered_by_extra, in_rows, places_used, spread
from generator.fabric.asking import (
    begins,
    bridged,
    by_itself,
    ends,
    finishes,
    founded,
    leaves,
    levels,
)
from generator.fabric.count import tally
from generator.fabric.course import Weaver
from generator.fabric.edge import Item, reversed_edge, stitches_in
from generator.fabric.edging import ground_after
from generator.fabric.ground import USUAL_HABIT, Ground, Habit
from generator.fabric.ground import Settings as CourseSettings
from generator.fabric.likeness import begun_alike
from generator.fabric.lower import at_hand, at_opening, course_named
from generator.fabric.model import Course, Fault, Make, Problem, WorkedLine
from generator.fabric.readings import USUAL
from generator.fabric.state import Outcome, Settings, State
from generator.notation.tree import (
    ANY_LENGTH,
    Chain,
    Foundation,
    Join,
    Line,
    Stay,
    Step,
    Word,
)  # fmt: skip
from generator.source import Span


def _weaver(edge: list[Item], state: State, settings: CourseSettings, spiral: bool, spread: int = 1) -> Weaver:
    """A weaver at the beginning of a course."""
    here = CourseSettings(settings.start_counts, settings.habit, settings.each, state.rows, spiral, spread)
    return Weaver(edge, state.ground, state.number, state.group, state.yarn, here)


def claimed(line: Line | None) -> int:
    """The stitches a line says it comes to; 0 where it does not."""
    stated = line.stated if line is not None else None
    return (stated.total or max((n for _, n in stated.kinds), default=0)) if stated else 0


@dataclass(slots=True)
class Shuttle:
    """Works courses one after the other on copies of the state."""

    settings: Settings
    habit: Habit = USUAL_HABIT
    opened: set[str] = field(default_factory=set)
    """Kinds of beginning chains that the text has left open so far."""
    state: State = field(default_factory=State)
    courses: list[Course] = field(default_factory=list)
    lines: list[WorkedLine] = field(default_factory=list)
    by_number: dict[int, tuple[tuple[Step, ...], Word]] = field(default_factory=dict)
    history: list[tuple[Step, ...]] = field(default_factory=list)
    worked_edge: list[Item] = field(default_factory=list)
    """What the line before really left, when its stated count was another and the work went on from that."""
    lost: set[str] = field(default_factory=set)
    """Numbers of courses that were not understood and so can't be worked again."""

    def _course(
        self,
        state: State,
        steps: tuple[Step, ...],
        number: int | None,
        settings: CourseSettings,
        index: int,
        line: Line | None = None,
    ) -> Outcome:
        """Work one course on a copy of the state."""
        state = state.copied()
        body, pending, turns = ends(steps)
        body, turned_first = begins(body, state)
        if at_opening(body):
            state.edge, state.ground, state.turned = [], Ground(open=True), False
        if state.ground.open:
            state.ground = Ground(open=True, claimed=claimed(line))
        edge = state.edge
        flips = state.turned or turned_first
        if (
            not flips
            and state.rows
            and line is not None
            and line.label.word is not Word.NONE
            and not state.cut
            and Stay not in map(type, steps)
        ):
            flips = state.made_by == "row-unturned"
        if flips:
            edge = reversed_edge(edge)
            state.forward = not state.forward
        if line is not None and not state.started:
            body = founded(body)
        spiral = not state.rows and Join not in map(type, body) and self.settings.rounds != "joined"
        if not by_itself(body):
            standing = course_named(body)
            edge = (self._edge_of(standing) if standing else None) or edge
            level = settings.level
            body = at_hand(body, lambda number: not level and number != standing and self._edge_of(number) is not None)
        weaver = _weaver(edge, state, settings, spiral)
        weaver.earlier = self._edge_of
        levelling = (
            line is not None
            and state.started
            and bool(edge)
            and not state.turned
            and ((line.label.word is Word.NONE and not line.label.numbers) or finishes(body, line))
            and levels(body)
        )
        below = stitches_in(edge)
        if levelling:
            return self._level(state, weaver, body, index)
        if state.pending and not any(isinstance(s, Chain) for s in body[:1]):
            body = state.pending + body
        ok = weaver.run(body)
        problem = weaver.problem if not ok else None
        if problem is None:
            problem = self._closing(weaver, body, line, below)
        if problem is not None and (places := spread(weaver, body, below)) > 1:
            wider = _weaver(edge, state, settings, spiral, places)
            if wider.run(body) and self._closing(wider, body, line, below) is None:
                weaver, problem = wider, None
        if problem is not None and problem.fault is Fault.NO_START and not state.started and line is not None:
            unseen = self._on_unseen(state, body, settings, line)
            weaver = unseen or weaver
        return self._finish(state, weaver, body, number, index, line, problem, pending, turns, below)

    def _edge_of(self, number: int) -> list[Item] | None:
        """What an earlier course of this piece left; None for the last one and where there is none of that number."""
        if number not in self.by_number:
            return None
        at = next((k for k in range(len(self.courses) - 1, -1, -1) if self.courses[k].number == number), -1)
        if at < 0 or at == len(self.courses) - 1:
            return None
        return [Item(i.kind, i.first, i.n, i.step, i.counted) for i in self.courses[at].edge]

    def _on_unseen(self, state: State, body: tuple[Step, ...], settings: CourseSettings, line: Line) -> Weaver | None:
        """The first course on a piece that the text doesn't show (a sleeve, an edging), where its words alone tell how
        many stitches it has. That it has nothing to stand on is still said."""
        bare = State(
            ground=Ground(open=True, claimed=claimed(line)), yarn=state.yarn, number=state.number, group=state.group
        )
        weaver = _weaver([], bare, settings, False)
        return weaver if weaver.run(body) and weaver.begun else None

    def _closing(self, weaver: Weaver, body: tuple[Step, ...], line: Line | None, below: int) -> Problem | None:
        """What is left unworked of the course below."""
        hand = weaver.hand
        if weaver.extra or weaver.loose or (weaver.ground.ring and not weaver.hand.items):
            return None
        left = hand.stitches_left() + weaver.passed_over
        if weaver.borrowed >= 0:
            return None
        span = line.span if line is not None else Span(0, 0)
        if weaver.ground.foundation and not weaver.begun:
            return None
        if weaver.sides:
            return None if left <= 2 else Problem(Fault.SHORT, span, have=below, left=left)
        if weaver.ground.ring and weaver.ground.ring_chains and not hand.used:
            return None
        if not weaver.begun:
            return None
        if hand.spaces_used or hand.jumped:
            spaces = hand.spaces_left()
            all_spaces = sum(1 for i in hand.items if i.space)
            if spaces > 2 and spaces > all_spaces // 3 and weaver.fit is None and not weaver.settings.rows:
                return Problem(Fault.SHORT, span, have=all_spaces, left=spaces, kind="sp")
            return None
        if left == 0 or (left == 1 and weaver.unset):
            return None
        lace = any(i.space for i in weaver.new)
        if lace and left == 1 and weaver.settings.rows and hand.items[-1].start:
            return None  # the turning chain of a shell stays as it stands
        if leaves(body, left if weaver.settings.rows else 0) or (
            weaver.new and weaver.new[-1].space and bridged(body, left)
        ):
            return None  # the chain that ends the round spans the last places
        if weaver.fit is not None and not weaver.depth:
            fit_span, per, skipped, leading = weaver.fit
            if left == leading and not weaver.settings.rows:
                return (
                    None  # every pass begins with what lies between two shells; so does the first one, behind the last
                )
            if left == skipped and any(isinstance(s, Chain) for s in body[-3:]):
                return None  # the chain that ends the round spans the last places, as it does in every pass
            return Problem(Fault.FIT, fit_span, have=below, per=per, left=left)
        return Problem(Fault.SHORT, span, have=below, left=left)

    def _level(self, state: State, weaver: Weaver, body: tuple[Step, ...], index: int) -> Outcome:
        """Stitches after the round is complete: over its first ones, to level the end. The count stays."""
        k = 0
        weaver.hand = type(weaver.hand)([Item(i.kind, i.first, i.n, i.step, i.counted, i.group) for i in state.edge])
        weaver.new = state.edge
        weaver.extra = -1
        weaver.begun = True
        ok = weaver.run(body)
        k = max(weaver.extra, 0)
        state.number, state.group, state.yarn = weaver.number, weaver.group, weaver.yarn
        state.cut = state.cut or weaver.cut
        found = tally(state.edge)
        course = Course(
            None, index, Make.SPIRAL, state.forward, "", tuple(weaver.runs), tuple(i.frozen() for i in state.edge), k, 0, found.live, found.kinds,
            found.live, extra=k, shift=k, cut=weaver.cut,
        )  # fmt: skip
        return Outcome(
            USUAL, body, state, [course] if weaver.runs else [], found, None if ok else weaver.problem, fits=ok
        )

    def _finish(
        self, state: State, weaver: Weaver, body: tuple[Step, ...], number: int | None, index: int, line: Line | None, problem: Problem | None,
        pending: tuple[Step, ...], turns: bool, below: int,
    ) -> Outcome:  # fmt: skip
        founding = weaver.ground.foundation > 0 and not weaver.begun
        edge = weaver.hand.items if founding or (weaver.ground.ring and not weaver.new) else weaver.covered()
        if not edge and state.edge and not weaver.runs[1:]:
            edge = state.edge  # told loop by loop, a stitch without a name: what it leaves is not known
            state.unsure = True
        if begun_alike(edge, weaver.group):
            weaver.group += 1
        found = tally(edge, weaver.passes, weaver.picots, weaver.made, weaver.groups, tuple(weaver.runs))
        if weaver.meshes:
            found = replace(found, meshes=weaver.meshes)
        rows = in_rows(state, weaver, line, turns)
        make = Make.FOUNDATION if founding else Make.JOINED if weaver.joined else Make.ROW if rows else Make.SPIRAL
        side = line.label.side if line is not None else ""
        extra = max(weaver.extra, 0)
        course = Course(
            number, index, make, state.forward, side, tuple(weaver.runs), tuple([i.frozen() for i in edge]), weaver.made + extra,
            places_used(weaver, below), found.live, found.kinds, below, extra, weaver.shift + extra, turns or weaver.turned, weaver.cut,
        )  # fmt: skip
        if extra:
            edge = covered_by_extra(edge, weaver, extra)
        state.edge, state.number, state.group, state.yarn = edge, weaver.number, weaver.group, weaver.yarn
        state.ground = (
            weaver.ground if founding or not weaver.begun else ground_after(weaver.ground, weaver.runs, edge, rows)
        )
        state.endless = state.endless or any(isinstance(s, Foundation) and s.multiple == ANY_LENGTH for s in body)
        state.started = state.started or bool(weaver.runs)
        state.rows = rows if weaver.begun else state.rows
        state.turned = turns or (weaver.turned and not turns)
        state.pending = pending if turns else ()
        state.cut = weaver.cut
        state.joined = weaver.joined
        state.main = weaver.main
        state.made_by = "row-unturned" if rows and not state.turned else "row" if rows else "round"
        strict = not (weaver.hand.jumped or weaver.hand.spaces_used or weaver.loose)
        outcome = Outcome(
            USUAL,
            body,
            state,
            [course] if weaver.runs else [],
            found,
            problem,
            strict=strict,
            fits=problem is None,
            around=weaver.around,
        )
        self.opened |= weaver.opened
        return outcome

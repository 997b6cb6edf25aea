"""Works a tree: line by line on a live edge, choosing for each line the reading that the arithmetic proves.

The first reading (usual ones first) that uses up the course below and leaves the stated count is taken. Where none
does, the usual one is kept with its difference, and the work goes on from the stated count, so that one mistake gives
one finding. Whether a beginning chain counts is settled once for a part.
"""

from copy import copy
from dataclasses import dataclass, field, replace

from generator.fabric.count import Tally, agrees, knows, tally
from generator.fabric.course import Ground, Weaver, main_stitch, stitches_of
from generator.fabric.course import Settings as CourseSettings
from generator.fabric.edge import Item, reversed_edge, stitches_in
from generator.fabric.model import Course, Fabric, Fault, Make, Part, Problem, Status, WorkedLine
from generator.fabric.readings import USUAL, Reading, choices, readings, settle
from generator.notation.tree import (
    Again,
    Chain,
    Choice,
    Convention,
    Define,
    FastenOff,
    Foundation,
    Group,
    Join,
    Line,
    Measure,
    Noun,
    PartRef,
    Piece,
    Remark,
    Repeat,
    Ring,
    Stated,
    Stay,
    Step,
    Turn,
    Unread,
    Word,
    Work,
    Yarn,
)  # fmt: skip
from generator.source import Span
from generator.vocabulary.load import stitch

MOST_COURSES = 5_000
MOST_PART = 2_000_000


@dataclass(frozen=True, slots=True)
class Settings:
    """What the header says about the whole pattern.

    `rounds` is `spiral`, `joined` or empty; `start_chain` `counts`, `does not count` or empty; `rows_per_mm` turns
    `until it measures` into courses (0.0: not known, one course is worked).
    """

    rounds: str = ""
    start_chain: str = ""
    rows_per_mm: float = 0.0


@dataclass(slots=True)
class State:
    """The work between two lines."""

    edge: list[Item] = field(default_factory=list)
    ground: Ground = field(default_factory=Ground)
    number: int = 0
    group: int = 0
    yarn: str = ""
    started: bool = False
    rows: bool = False
    turned: bool = False
    forward: bool = True
    cut: bool = False
    pending: tuple[Step, ...] = ()
    """A turning chain made at the end of the course before."""
    counts: bool | None = None
    made_by: str = ""
    main: str = "sc"
    joined: bool = False
    unsure: bool = False
    """The edge is not what the pattern means (a line before could not be worked): nothing is proved from it."""
    total: int = 0


@dataclass(slots=True)
class Outcome:
    """One reading of a line, worked."""

    reading: Reading
    steps: tuple[Step, ...]
    state: State
    courses: list[Course]
    found: Tally
    problem: Problem | None
    each: int = 0
    strict: bool = True
    fits: bool = False
    agrees: bool = False
    start_open: bool = False


@dataclass(slots=True)
class Loom:
    """Works one piece."""

    settings: Settings
    state: State = field(default_factory=State)
    courses: list[Course] = field(default_factory=list)
    lines: list[WorkedLine] = field(default_factory=list)
    by_number: dict[int, tuple[tuple[Step, ...], Word]] = field(default_factory=dict)
    history: list[tuple[Step, ...]] = field(default_factory=list)
    worked_edge: list[Item] = field(default_factory=list)
    """What the line before really left, when its stated count was another and the work went on from that."""
    lost: set[str] = field(default_factory=set)
    """Numbers of courses that were not understood and so can't be worked again."""

    def piece(self, piece: Piece) -> Part:
        """All lines of a piece."""
        if self.settings.start_chain:
            self.state.counts = self.settings.start_chain == "counts"
        for index, line in enumerate(piece.lines):
            self.line(index, line)
        return Part(piece.name, piece.make, tuple(self.lines), tuple(self.courses), self.state.counts)

    def line(self, index: int, line: Line) -> None:
        """One line: settled, worked, noted."""
        unread = _unread(line.steps)
        if unread is not None:
            self._not_understood(line, unread)
            return
        if not _works(line.steps):
            self._remark(line)
            return
        if self._begins_again(line):
            self.state = State(
                yarn=self.state.yarn, number=self.state.number, group=self.state.group, counts=self.state.counts
            )
            self.by_number.clear()
        outcomes, tried = self._search(index, line)
        chosen = _choose(outcomes)
        if self.worked_edge and not (chosen.fits and chosen.agrees):
            chosen, outcomes, tried = self._from_worked(index, line, chosen, outcomes, tried)
        self.worked_edge = []
        self._note(index, line, chosen, outcomes, tried)

    # --- what a line asks for -----------------------------------------------------------------------------------

    def _begins_again(self, line: Line) -> bool:
        """A new ring or foundation while work is there, and the yarn was cut (or a label says 1): a new piece."""
        if not self.state.started:
            return False
        first = next((s for s in line.steps if not isinstance(s, (Remark, Yarn, Define, Stay))), None)
        if isinstance(first, Choice):
            first = first.options[0].steps[0]
        if isinstance(first, Ring):
            return True
        if isinstance(first, Chain) and first.n > 1:
            hooks = [s for s in _flat(line.steps) if isinstance(s, Work) and s.target.how.value == "from hook"]
            joins = [s for s in line.steps if isinstance(s, (Ring,))]
            if joins:
                return True
            early = hooks and _index_of(line.steps, first) + 2 >= _index_of(line.steps, hooks[0])
            return bool(early and (first.n >= 10 or self.state.cut) and hooks[0].stitch != "sl-st")
        return isinstance(first, Foundation)

    def plan(self, line: Line, steps: tuple[Step, ...]) -> list[tuple[Step, ...]]:
        """The courses a line makes: its steps once a number of its label, and what it repeats of earlier ones."""
        parts: list[tuple[Step, ...]] = []
        current: list[Step] = []
        for step in steps:
            if isinstance(step, Again):
                if _works(tuple(current)):
                    parts.append(tuple(current))
                elif current and isinstance(current[0], Yarn) and not parts:
                    pass
                yarns = tuple(s for s in current if isinstance(s, Yarn))
                current = []
                copies = self._again(step, parts, line)
                if copies and yarns and not parts:
                    copies[0] = yarns + copies[0]
                parts.extend(copies)
            elif isinstance(step, Measure):
                parts.extend(self._measured(step, tuple(current)))
                current = []
            else:
                current.append(step)
        if current:
            rest = tuple(current)
            if (_works(rest) and not (parts and _levels(rest))) or not parts:
                parts.append(rest)
            else:
                parts[-1] = parts[-1] + rest
        wanted = len(line.label.numbers) or (line.stated.rounds if line.stated and line.label.word is Word.NEXT else 0)
        has_again = any(isinstance(s, Again) for s in steps)
        if wanted > len(parts) and parts and not has_again:
            parts = parts * wanted if len(parts) == 1 else parts
        elif wanted > len(parts) and has_again and parts:
            parts = [parts[k % len(parts)] for k in range(wanted)]
        return parts[:MOST_COURSES]

    def _again(self, step: Again, parts: list[tuple[Step, ...]], line: Line) -> list[tuple[Step, ...]]:
        """Earlier courses named again, as often as said. Empty when there is no such course."""
        if step.numbers:
            named = [self.by_number[n][0] for n in step.numbers if n in self.by_number]
            if len(named) < len(step.numbers):
                return []
        else:
            past = [*self.history, *parts]
            named = past[-step.last :] if len(past) >= step.last else []
        if not named:
            return []
        if step.until_length_mm:
            done = len(self.courses) + len(parts)
            total = round(step.until_length_mm * self.settings.rows_per_mm)
            more = max(total - done, 1)
            return [named[k % len(named)] for k in range(min(more, MOST_COURSES))]
        if step.until_stitches:
            return [named[k % len(named)] for k in range(self._passes_until(named, step.until_stitches, parts))]
        out = named * max(1, step.passes)
        if step.ending and step.numbers:
            last = self.by_number.get(step.ending)
            if last is not None:
                out.append(last[0])
        return out

    def _passes_until(self, named: list[tuple[Step, ...]], want: int, parts: list[tuple[Step, ...]]) -> int:
        """Courses until so many stitches are live, by working them."""
        state = copy(self.state)
        for steps in parts:
            state = self._course(state, settle(steps, USUAL), None, CourseSettings(), 0).state
        for k in range(300):
            if stitches_in(state.edge) >= want and k:
                return k
            worked = self._course(state, settle(named[k % len(named)], USUAL), None, CourseSettings(), 0)
            if worked.problem is not None or stitches_in(worked.state.edge) <= stitches_in(state.edge):
                return max(k, 1)
            state = worked.state
        return 300

    def _measured(self, step: Measure, before: tuple[Step, ...]) -> list[tuple[Step, ...]]:
        """Worked on evenly to a length: the steps said, else the last course, as often as the gauge says."""
        named = before if _works(before) else (self.history[-1] if self.history else ())
        if not named:
            return []
        more = round(step.length_mm * self.settings.rows_per_mm) - len(self.courses)
        return [named] * max(1, min(more, MOST_COURSES))

    # --- the search ---------------------------------------------------------------------------------------------

    def _search(self, index: int, line: Line) -> tuple[list[Outcome], int]:
        more: list[tuple[str, tuple[int, ...]]] = []
        if self.state.counts is None and _start_open(line.steps, self.state):
            more.append(("start-chain", (0, 1)))
        elif _start_open(line.steps, self.state):
            more.append(("start-chain", (0, 3)))
        if any(i.space for i in self.state.edge) and _each_open(line.steps):
            more.append(("each", (0, 2, 2)))
        outcomes: list[Outcome] = []
        tried = 0
        for reading in readings(line.steps, tuple(more)):
            tried += 1
            outcome = self._attempt(index, line, reading)
            outcomes.append(outcome)
            if outcome.fits and outcome.agrees:
                break
            if line.stated is None and outcome.fits:
                break
            if tried >= 64:
                break
        return outcomes, tried

    def _from_worked(
        self, index: int, line: Line, chosen: Outcome, outcomes: list[Outcome], tried: int
    ) -> tuple[Outcome, list[Outcome], int]:
        """The line before had a wrong count. Its stated count does not lead on; perhaps what it made does."""
        stated = self.state.edge
        self.state.edge = self.worked_edge
        others, more = self._search(index, line)
        better = _choose(others)
        if better.fits and better.agrees:
            return better, others, tried + more
        self.state.edge = stated
        return chosen, outcomes, tried + more

    def _attempt(self, index: int, line: Line, reading: Reading) -> Outcome:
        steps = settle(line.steps, reading)
        state = copy(self.state)
        found = tally(state.edge)
        courses: list[Course] = []
        plan = self.plan(line, steps)
        settings = CourseSettings(start_counts=self._start_counts(reading), each=reading.pick("each"), rows=state.rows)
        if not plan:
            missing = next((s for s in steps if isinstance(s, Again)), None)
            span = missing.span if missing else line.span
            lost = Problem(Fault.NO_COURSE, span, words=",".join(str(n) for n in (missing.numbers if missing else ())))
            return Outcome(reading, steps, state, [], found, lost)
        strict = True
        problem: Problem | None = None
        numbers = line.label.numbers
        opened = False
        for k, body in enumerate(plan):
            body = settle(body, reading)
            number = numbers[k] if k < len(numbers) else (numbers[-1] + k - len(numbers) + 1 if numbers else None)
            worked = self._course(state, body, number, settings, index, line)
            state, found = worked.state, worked.found
            opened = opened or worked.start_open
            courses.extend(worked.courses)
            strict = strict and worked.strict
            state.total += sum(c.size for c in worked.courses)
            if worked.problem is not None:
                problem = worked.problem
                break
            if state.total > MOST_PART:
                problem = Problem(Fault.LIMIT, line.span, need=MOST_PART)
                break
        outcome = Outcome(reading, steps, state, courses, found, problem, reading.pick("each"), strict, problem is None)
        outcome.start_open = opened
        outcome.agrees = line.stated is None or agrees(line.stated, found)
        return outcome

    def _start_counts(self, reading: Reading) -> bool | None:
        pick = reading.pick("start-chain")
        if self.state.counts is not None:
            return self.state.counts if pick == 0 else not self.state.counts
        if not pick:
            return None
        # The other way than usual: what is usual depends on the chain, so the course is told the opposite of it.
        return not _usual_start(self._open_chain)

    @property
    def _open_chain(self) -> tuple[int, str]:
        return self._chain

    _chain: tuple[int, str] = (3, "dc")

    # --- one course ---------------------------------------------------------------------------------------------

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
        state = copy(state)
        body, pending, turns = _ends(steps)
        body, turned_first = _begins(body, state)
        edge = state.edge
        flips = state.turned or turned_first
        if (
            not flips
            and state.rows
            and line is not None
            and line.label.word is not Word.NONE
            and not state.cut
            and not any(isinstance(s, Stay) for s in steps)
        ):
            flips = state.made_by == "row-unturned"
        if flips:
            edge = reversed_edge(edge)
            state.forward = not state.forward
        if line is not None and not state.started:
            body = _founded(body)
        spiral = not state.rows and not any(isinstance(s, Join) for s in body) and self.settings.rounds != "joined"
        weaver = Weaver(
            edge, state.ground, state.number, state.group, state.yarn,
            CourseSettings(settings.start_counts, settings.each, state.rows, spiral),
        )  # fmt: skip
        levelling = (
            line is not None
            and line.label.word is Word.NONE
            and not line.label.numbers
            and state.started
            and _levels(body)
            and bool(edge)
            and not state.turned
        )
        below = stitches_in(edge)
        if levelling:
            return self._level(state, weaver, body, index)
        if state.pending and not any(isinstance(s, Chain) for s in body[:1]):
            body = state.pending + body
        self_main = main_stitch(body)
        self._chain = next(((s.n, self_main) for s in body if isinstance(s, Chain)), self._chain)
        ok = weaver.run(body)
        problem = weaver.problem if not ok else None
        if problem is None:
            problem = self._closing(weaver, body, line, below)
        return self._finish(state, weaver, body, number, index, line, problem, pending, turns, below)

    def _closing(self, weaver: Weaver, body: tuple[Step, ...], line: Line | None, below: int) -> Problem | None:
        """What is left unworked of the course below."""
        hand = weaver.hand
        if weaver.extra or weaver.loose or (weaver.ground.ring and not weaver.hand.items):
            return None
        left = hand.stitches_left()
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
        if (
            any(i.start for i in hand.items[-1:])
            and left == 1
            and weaver.settings.rows
            and weaver.new
            and weaver.new[0].start is False
        ):
            pass
        if _leaves(body, line):
            return None
        if weaver.fit is not None and not weaver.depth:
            fit_span, per, skipped = weaver.fit
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
        found = tally(edge, weaver.passes, weaver.picots, weaver.made, weaver.groups)
        rows = _in_rows(state, weaver, line, turns)
        make = Make.FOUNDATION if founding else Make.JOINED if weaver.joined else Make.ROW if rows else Make.SPIRAL
        side = line.label.side if line is not None else ""
        extra = max(weaver.extra, 0)
        course = Course(
            number, index, make, state.forward, side, tuple(weaver.runs), tuple(i.frozen() for i in edge), weaver.made + extra,
            _used(weaver, below), found.live, found.kinds, below, extra, weaver.shift + extra, turns or weaver.turned, weaver.cut,
        )  # fmt: skip
        if extra:
            edge = _replaced(edge, weaver, extra)
        state.edge, state.number, state.group, state.yarn = edge, weaver.number, weaver.group, weaver.yarn
        state.ground = weaver.ground if founding or not weaver.begun else Ground()
        state.started = state.started or bool(weaver.runs)
        state.rows = rows if weaver.begun else state.rows
        state.turned = turns or (weaver.turned and not turns and not _turn_used(body))
        state.pending = pending if turns else ()
        state.cut = weaver.cut
        state.joined = weaver.joined
        state.main = weaver.main
        state.made_by = "row-unturned" if rows and not state.turned else "row" if rows else "round"
        strict = not (weaver.hand.jumped or weaver.hand.spaces_used or weaver.loose)
        outcome = Outcome(
            USUAL, body, state, [course] if weaver.runs else [], found, problem, strict=strict, fits=problem is None
        )
        outcome.start_open = weaver.start_open
        return outcome

    # --- noting the result ----------------------------------------------------------------------------------------

    def _note(self, index: int, line: Line, chosen: Outcome, outcomes: list[Outcome], tried: int) -> None:
        first = len(self.courses)
        before = stitches_in(self.state.edge)
        status, problem = self._judge(line, chosen)
        courses = chosen.courses
        self.courses.extend(courses)
        self._remember(line, chosen)
        reading, unusual = _explain(line, chosen, tried)
        if status is Status.PROVED and chosen.start_open and self.state.counts is None:
            chosen.state.counts = self._convention(chosen)
        below = courses[0].below if courses else before
        found = chosen.found
        made = sum(c.made for c in courses[-1:]) if courses else 0
        self.lines.append(
            WorkedLine(
                line,
                chosen.steps,
                (first, len(self.courses)),
                status,
                made,
                courses[-1].used if courses else 0,
                found.live,
                found.kinds,
                below,
                problem,
                reading,
                unusual,
                _ambiguous(line, chosen, outcomes),
                tried,
            )
        )
        edge, unsure = self.state.edge, self.state.unsure
        self.state = chosen.state
        self.state.unsure = unsure and status is not Status.PROVED
        if problem is not None and problem.fault in (Fault.NO_PLACE, Fault.NO_START):
            self.state.unsure = True
        if status in (Status.DIFFERS, Status.DOES_NOT_CLOSE):
            self.state.edge = self.state.edge or edge
            self._go_on_from(line)

    def _convention(self, chosen: Outcome) -> bool | None:
        return any(item.start for item in chosen.state.edge) if chosen.courses and len(chosen.courses) == 1 else None

    def _judge(self, line: Line, chosen: Outcome) -> tuple[Status, Problem | None]:
        status, problem = self._verdict(line, chosen)
        if self.state.unsure and status in (Status.DIFFERS, Status.DOES_NOT_CLOSE):
            # What lies below could not be worked, so nothing can be held against this line.
            counted = line.stated is not None and (line.stated.total is not None or line.stated.kinds)
            return (Status.WORKED if counted or status is Status.DIFFERS else Status.DOES_NOT_CLOSE), None
        return status, problem

    def _verdict(self, line: Line, chosen: Outcome) -> tuple[Status, Problem | None]:
        stated = line.stated
        problem = chosen.problem
        counted = stated is not None and (stated.total is not None or bool(stated.kinds))
        if problem is not None:
            if problem.fault is Fault.NO_COURSE:
                lost = bool(self.lost.intersection(problem.words.split(",")))
                return (Status.NOT_UNDERSTOOD if lost else Status.DOES_NOT_CLOSE), problem
            if (
                counted
                and stated is not None
                and agrees(stated, chosen.found)
                and not chosen.strict
                and problem.fault in (Fault.SHORT,)
            ):
                return Status.PROVED, None
            return Status.DOES_NOT_CLOSE, problem
        if not counted or stated is None:
            return Status.WORKED, None
        if agrees(stated, chosen.found):
            return Status.PROVED, None
        if not knows(stated):
            return Status.WORKED, None
        return Status.DIFFERS, _count_problem(stated, chosen.found)

    def _remember(self, line: Line, chosen: Outcome) -> None:
        plan = self.plan(line, line.steps)
        for k, body in enumerate(plan):
            self.history.append(body)
            if k < len(line.label.numbers):
                self.by_number[line.label.numbers[k]] = (body, line.label.word)

    def _go_on_from(self, line: Line) -> None:
        """After a mistake the work goes on from the stated count."""
        stated = line.stated
        if stated is None:
            self.state.unsure = self.state.unsure or not self.state.edge
            return
        want = stated.total
        if want is None and len(stated.kinds) == 1:
            want = stated.kinds[0][1]
        if want is None or not 0 < want <= 20_000 or not self.state.edge:
            return
        self.worked_edge = self.state.edge
        self.state.edge = _resized(self.state.edge, want)

    def _remark(self, line: Line) -> None:
        for step in line.steps:
            if isinstance(step, Yarn) and step.name:
                self.state.yarn = step.name
            elif isinstance(step, Convention) and step.name == "start-chain":
                self.state.counts = step.value == "counts"
            elif isinstance(step, FastenOff):
                self.state.cut = True
            elif isinstance(step, Turn):
                self.state.turned = True
        here = len(self.courses)
        live = stitches_in(self.state.edge)
        found = tally(self.state.edge)
        status, problem = Status.REMARK, None
        counted = line.stated is not None and (line.stated.total is not None or line.stated.kinds)
        if counted and line.stated is not None and self.state.started:
            status = Status.PROVED if agrees(line.stated, found) else Status.DIFFERS
            if status is Status.DIFFERS:
                problem = _count_problem(line.stated, found)
        self.lines.append(
            WorkedLine(
                line, line.steps, (here, here), status, live=live, kinds=found.kinds, below=live, problem=problem
            )
        )

    def _not_understood(self, line: Line, unread: Unread) -> None:
        here = len(self.courses)
        problem = Problem(Fault.UNREAD, unread.span, words=unread.words)
        live = stitches_in(self.state.edge)
        self.lines.append(
            WorkedLine(line, line.steps, (here, here), Status.NOT_UNDERSTOOD, live=live, below=live, problem=problem)
        )
        self.state.unsure = True
        self._go_on_from(line)
        for n in line.label.numbers:
            self.by_number.pop(n, None)
            self.lost.add(str(n))


# --- questions about steps ------------------------------------------------------------------------------------------


def _flat(steps: tuple[Step, ...]) -> list[Step]:
    out: list[Step] = []
    for step in steps:
        if isinstance(step, Choice):
            out.extend(_flat(step.options[0].steps))
        elif isinstance(step, (Repeat, Group)):
            out.append(step)
            out.extend(_flat(step.steps))
        else:
            out.append(step)
    return out


def _index_of(steps: tuple[Step, ...], wanted: Step) -> int:
    for at, step in enumerate(steps):
        if step is wanted or wanted in _flat((step,)):
            return at
    return len(steps)


def _unread(steps: tuple[Step, ...]) -> Unread | None:
    """The first step that was not understood, wherever it stands."""
    for step in _flat(steps):
        if isinstance(step, Unread):
            return step
    return None


_WORDS_ONLY = (Remark, Define, Convention, Stay, PartRef, Yarn, FastenOff, Turn)


def _works(steps: tuple[Step, ...]) -> bool:
    """Whether steps make or move stitches."""
    return any(not isinstance(step, _WORDS_ONLY) or (isinstance(step, Yarn) and step.standing) for step in steps)


def _start_open(steps: tuple[Step, ...], state: State) -> bool:
    """Whether a beginning chain's count is left open by the text."""
    main = main_stitch(tuple(_flat(steps)))
    first = next((s for s in _flat(steps) if not isinstance(s, (Remark, Yarn, Turn, Stay, Join, Define))), None)
    pending = state.pending[0] if state.pending else None
    chain = first if isinstance(first, Chain) else pending if isinstance(pending, Chain) else None
    if isinstance(chain, Chain):
        used = stitches_of(tuple(_flat(steps)))
        if state.rows and any(stitch(kind).turning_chain == chain.n for kind in used):
            main = next(kind for kind in used if stitch(kind).turning_chain == chain.n)
        return (
            chain.counts is None and not chain.stands_for and chain.n >= 2 and stitch(main or "sc").turning_chain >= 2
        )
    hooks = [s for s in _flat(steps) if isinstance(s, Work) and s.target.how.value == "from hook"]
    return bool(hooks and hooks[0].target.nth >= 3 and stitch(main or "sc").turning_chain >= 2)


def _usual_start(chain: tuple[int, str]) -> bool:
    n, main = chain
    kind = stitch(main or "sc")
    return n >= kind.turning_chain if kind.turning_chain >= 3 else False


def _each_open(steps: tuple[Step, ...]) -> bool:
    for step in _flat(steps):
        if (
            isinstance(step, Work)
            and step.target.noun is Noun.STITCH
            and not step.target.spaces
            and not step.target.chains
        ) and (step.target.how.value == "each" or (step.target.how.value == "next" and step.target.count > 1)):
            return True
    return False


def _ends(steps: tuple[Step, ...]) -> tuple[tuple[Step, ...], tuple[Step, ...], bool]:
    """Steps without what ends them (`ch 1, turn`): the rest, the turning chain, whether the work is turned."""
    at = len(steps)
    turn = chain = -1
    while at > 0:
        step = steps[at - 1]
        if isinstance(step, Turn) and turn < 0:
            turn = at - 1
        elif (
            isinstance(step, Chain)
            and chain < 0
            and (turn >= 0 or any(isinstance(s, Turn) for s in steps[max(0, at - 4) : at - 1]))
        ):
            chain = at - 1
        elif not isinstance(step, (Remark, Stay, FastenOff, Define)):
            break
        at -= 1
    if turn < 0:
        return steps, (), False
    if not any(isinstance(s, (Work, Repeat, Group)) for s in steps[:turn]):
        return steps, (), False
    kept = tuple(s for k, s in enumerate(steps) if k not in (turn, chain))
    return kept, (steps[chain],) if chain >= 0 else (), True


def _begins(steps: tuple[Step, ...], state: State) -> tuple[tuple[Step, ...], bool]:
    """Steps without a turn at their very beginning, and whether there was one that still has to be done."""
    at = 0
    while at < len(steps) and isinstance(steps[at], (Remark, Chain, Yarn, Stay, Turn)):
        if isinstance(steps[at], Turn):
            rest = steps[:at] + steps[at + 1 :]
            return rest, not state.turned and state.started
        at += 1
    return steps, False


def _turn_used(body: tuple[Step, ...]) -> bool:
    return False


def _founded(body: tuple[Step, ...]) -> tuple[Step, ...]:
    """At the very beginning a chain is a ring (when joined) or a foundation (when worked into)."""
    first = next((s for s in _flat(body) if isinstance(s, (Work, Ring, Join))), None)
    if isinstance(first, Work) and first.target.noun is Noun.RING:
        return body  # `ch 3, 11 dc in magic ring`: the chain is the round's own beginning
    out: list[Step] = []
    k = 0
    while k < len(body):
        step = body[k]
        if (
            isinstance(step, Work)
            and step.stitch == "sl-st"
            and step.target.implied
            and k + 1 < len(body)
            and isinstance(body[k + 1], Chain)
        ):
            k += 1  # `sl st, ch 11`: a slip knot, written as the stitch it looks like
            continue
        if isinstance(step, Chain) and _into_ring(body[k + 1 :]):
            return (*out, Ring(step.span), *body[k:])
        if isinstance(step, Chain) and not any(isinstance(s, (Ring, Foundation, Work)) for s in out):
            rest = [s for s in body[k + 1 :] if not isinstance(s, (Remark, Define))]
            if rest and isinstance(rest[0], Ring):
                k += 1
                continue
            if rest and isinstance(rest[0], Join) and step.n >= 2:
                out.append(Ring(step.span, step.n))
                out.extend(s for s in body[k + 1 :] if s is not rest[0])
                return tuple(out)
            out.append(Foundation(step.span, step.n))
            out.extend(body[k + 1 :])
            return tuple(out)
        out.append(step)
        k += 1
    return tuple(out)


def _into_ring(steps: tuple[Step, ...]) -> bool:
    """`Ch 3, 11 dc in magic ring`: the chain is the round's beginning, the ring comes with the first stitch."""
    for step in _flat(steps):
        if isinstance(step, (Ring, Join)):
            return False
        if isinstance(step, (Work, Group)):
            return step.target.noun is Noun.RING
    return False


def _levels(body: tuple[Step, ...]) -> bool:
    """A line of a few stitches, one after the other, that goes on after a finished round."""
    works = [s for s in body if isinstance(s, Work)]
    if len(works) != len([s for s in body if not isinstance(s, _WORDS_ONLY)]) or not works:
        return False
    few = sum(w.target.count * w.each for w in works) <= 4
    ends = any(isinstance(s, FastenOff) for s in body) or all(w.stitch == "sl-st" for w in works)
    return few and ends and all(w.target.how.value == "next" and w.target.noun is Noun.STITCH for w in works)


def _leaves(body: tuple[Step, ...], line: Line | None) -> bool:
    """The text says that stitches are left unworked, or a row turns back early on purpose."""
    return any(
        isinstance(s, Remark) and any(w in s.words for w in ("unworked", "leave remaining", "left unworked", "leaving"))
        for s in body
    )


def _in_rows(state: State, weaver: Weaver, line: Line | None, turns: bool) -> bool:
    if weaver.joined or weaver.ground.ring or weaver.sides:
        return False
    if state.rows:
        return True
    if line is not None and line.label.word is Word.ROUND:
        return False
    if turns:
        return not state.joined
    foundation = bool(weaver.ground.foundation)
    return foundation or (not state.started and line is not None and line.label.word is Word.ROW)


def _used(weaver: Weaver, below: int) -> int:
    return min(weaver.hand.used, below) if weaver.extra == 0 else below


def _replaced(edge: list[Item], weaver: Weaver, extra: int) -> list[Item]:
    """The edge with its first stitches covered by the levelling ones: they come last, the start has moved on."""
    k = extra
    items = [Item(i.kind, i.first, i.n, i.step, i.counted, i.group, i.start) for i in edge]
    while k > 0 and items:
        if items[0].n <= k:
            k -= items[0].n
            items.pop(0)
        else:
            items[0] = Item(
                items[0].kind,
                items[0].first + items[0].step * k,
                items[0].n - k,
                items[0].step,
                items[0].counted,
                items[0].group,
            )
            k = 0
    for run in weaver.runs:
        if run.role.value == "extra":
            if items and items[-1].kind == run.kind and items[-1].first + items[-1].n == run.first:
                items[-1].n += run.n
            else:
                items.append(Item(run.kind, run.first, run.n))
    return items


def _resized(edge: list[Item], want: int) -> list[Item]:
    """An edge of the stated size: cut, or with its last stitch standing in for the missing ones."""
    counted = [i for i in edge if i.counted]
    have = stitches_in(edge)
    if have == want or not counted:
        return edge
    if have > want:
        out: list[Item] = []
        left = want
        for item in edge:
            if not item.counted:
                out.append(item)
            elif left > 0:
                n = min(left, item.n)
                out.append(Item(item.kind, item.first, n, item.step, True, item.group, item.start))
                left -= n
        return out
    last = counted[-1]
    number = last.first + last.step * (last.n - 1)
    return [*edge, Item(last.kind, number, want - have, 0, True)]


# --- choosing --------------------------------------------------------------------------------------------------------


def _count_problem(stated: Stated, found: Tally) -> Problem:
    """The first number of a stated count that is not what was worked."""
    if stated.total is not None and stated.total != found.live:
        return Problem(Fault.COUNT, stated.span, have=found.live, need=stated.total)
    for name, n in stated.kinds:
        if found.of(name) != n:
            have = found.spaces if name == "sp" else found.of(name)
            return Problem(Fault.KINDS, stated.span, have=have, need=n, kind=name)
    return Problem(Fault.COUNT, stated.span, have=found.live, need=stated.total or 0)


def _choose(outcomes: list[Outcome]) -> Outcome:
    """The first that fits and agrees; else the first that fits; else the usual one, or the one that got further."""
    for outcome in outcomes:
        if outcome.fits and outcome.agrees:
            return outcome
    for outcome in outcomes:
        if (
            outcome.agrees
            and not outcome.strict
            and outcome.problem is not None
            and outcome.problem.fault is Fault.SHORT
        ):
            return outcome
    for outcome in outcomes:
        if outcome.fits:
            return outcome
    return outcomes[0]


def _explain(line: Line, chosen: Outcome, tried: int) -> tuple[str, bool]:
    """One sentence on the reading taken, and whether it is an unusual one."""
    if not chosen.reading.picks:
        return "", False
    unusual = chosen.reading.cost > 0 and chosen.fits
    words = "; ".join(chosen.reading.reasons)
    count = line.stated.total if line.stated else None
    if not words:
        return "", False
    because = f", because only that gives {count}" if unusual and count is not None else ""
    return f"read as {words}{because}", unusual and bool(choices(line.steps))


def _ambiguous(line: Line, chosen: Outcome, outcomes: list[Outcome]) -> str:
    return ""


def work(pieces: tuple[Piece, ...], settings: Settings) -> Fabric:
    """Work all pieces of a pattern, each from its own beginning."""
    return Fabric(tuple(Loom(settings).piece(piece) for piece in pieces))


def unproved(line: WorkedLine) -> bool:
    """Whether a line has a problem."""
    return line.problem is not None


def relabelled(part: Part, name: str) -> Part:
    """The part under another name."""
    return replace(part, name=name)

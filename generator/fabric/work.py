"""Works a tree: line by line on a live edge, choosing for each line the reading that the arithmetic proves.

The first reading (usual ones first) that uses up the course below and leaves the stated count is taken. Where none
does, the usual one is kept with its difference, and the work goes on from the stated count, so that one mistake gives
one finding. Whether a beginning chain counts is settled once for a part."""

from dataclasses import dataclass

from generator.fabric.after import resized
from generator.fabric.anew import again_from_the_ring, begins_again, founds
from generator.fabric.asking import first_unread, flat, works
from generator.fabric.count import agrees, tally
from generator.fabric.edge import stitches_in
from generator.fabric.ground import MOST_STITCHES, Ground, Habit
from generator.fabric.model import Fabric, Fault, Part, Problem, Status, WorkedLine
from generator.fabric.recalling import Came, again, came, circumstances, shelf
from generator.fabric.search import ENOUGH_WORK, LINE_WORK, Searcher
from generator.fabric.state import MOST_PART, Outcome, Settings, State
from generator.fabric.verdict import ambiguous, choose, count_problem, explain, judge, leans, shaped_anyhow
from generator.notation.tree import (
    OPENING,
    Chain,
    Convention,
    FastenOff,
    Line,
    PartRef,
    Piece,
    Step,
    Turn,
    Unread,
    Yarn,
)  # fmt: skip
from generator.vocabulary.load import is_stitch

TALL = 3
"""Chains that lift the hook to a double crochet."""


@dataclass(slots=True)
class Loom(Searcher):
    """Works one piece."""

    def piece(self, piece: Piece) -> Part:
        """All lines of a piece."""
        if self.settings.start_chain:
            self.state.counts = self.settings.start_chain == "counts"
        for index, line in enumerate(piece.lines):
            if founds(self.state, piece.lines, index):
                self._anew()
            self.line(index, line)
        return Part(piece.name, piece.make, tuple(self.lines), tuple(self.courses), self._start_chain_counts())

    def _start_chain_counts(self) -> bool | None:
        """What the part does with beginning chains: as it says, else as it was worked; None where there are none."""
        if self.state.counts is not None or not self.opened:
            return self.state.counts
        return self.habit.tall if "tall" in self.opened else self.habit.low

    def line(self, index: int, line: Line) -> None:
        """One line: settled, worked, noted."""
        place = self._place(line)
        if place:
            self._laid_again(index, line, place[0])
            return
        unread = first_unread(line.steps)
        if unread is not None:
            self._not_understood(line, unread)
        elif not works(line.steps):
            self._remark(line)
        elif place is None:
            self._worked(index, line)
        else:
            self._kept(index, line, place)

    def _place(self, line: Line) -> list[Came] | None:
        """Where it is kept what the line comes to, empty the first time; None where that turns on more than is told."""
        if self.worked_edge or self.spent + LINE_WORK > ENOUGH_WORK or self.state.total > MOST_PART - MOST_STITCHES:
            return None
        key = circumstances(line, self.state, self.settings.rounds, self.habit, frozenset(self.leaning))
        return None if key is None else shelf(key)

    def _laid_again(self, index: int, line: Line, known: Came) -> None:
        """The line as it came out before."""
        if known.anew:
            self.by_number.clear()
        worked, courses, self.state = again(known, index, line, self.state, len(self.courses))
        self.courses.extend(courses)
        self.lines.append(worked)
        self._remember(line, worked.steps if worked.status is Status.PROVED else line.steps)
        self.leaning ^= known.leaning
        self.opened |= known.opened
        self.spent += known.spent

    def _kept(self, index: int, line: Line, place: list[Came]) -> None:
        """The line worked, and what it came to kept."""
        before, first, spent = self.state, len(self.courses), self.spent
        leaning, opened, self.opened, self.around = set(self.leaning), self.opened, set(), False
        chosen, anew = self._worked(index, line)
        known = came(
            line, before, self.lines[-1], chosen.reading, tuple(self.courses[first:]), self.state, anew,
            frozenset(leaning ^ self.leaning), frozenset(self.opened), self.spent - spent,
        )  # fmt: skip
        if known is not None and not (self.worked_edge or self.around or shaped_anyhow(chosen)):
            place.append(known)
        self.opened |= opened

    def _worked(self, index: int, line: Line) -> tuple[Outcome, bool]:
        """The line worked: the reading taken, and whether another piece begins with it."""
        anew = begins_again(self.state, line)
        if anew:
            self._anew()
        elif again_from_the_ring(self.state, self.by_number, line):
            self.state = State(
                yarn=self.state.yarn, number=self.state.number, group=self.state.group, counts=self.state.counts
            )
        outcomes, tried = self._search(index, line)
        chosen = choose(outcomes)
        if self.worked_edge and not (chosen.fits and chosen.agrees and chosen.reading.cost == 0):
            chosen, outcomes, tried = self._from_worked(index, line, chosen, outcomes, tried)
        self.worked_edge = self._led_on(index, line, chosen)
        self._note(index, line, chosen, outcomes, tried)
        return chosen, anew

    def _anew(self) -> None:
        """Forget the edge: another piece begins."""
        self.state = State(
            yarn=self.state.yarn, number=self.state.number, group=self.state.group, counts=self.state.counts
        )
        self.by_number.clear()

    def _note(self, index: int, line: Line, chosen: Outcome, outcomes: list[Outcome], tried: int) -> None:
        first = len(self.courses)
        before = stitches_in(self.state.edge)
        status, problem = judge(line, chosen, self.state.unsure, self.lost)
        courses = chosen.courses
        self.courses.extend(courses)
        self._remember(line, chosen.steps if status is Status.PROVED else line.steps)
        self.leaning ^= leans(chosen, outcomes, self.leaning)
        reading, unusual = explain(line, chosen, tried)
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
                ambiguous(line, chosen, outcomes),
                tried,
            )
        )
        edge, unsure = self.state.edge, self.state.unsure
        self.state = chosen.state
        self.state.unsure = unsure and status is not Status.PROVED
        if problem is not None and problem.fault in (Fault.NO_PLACE, Fault.NO_START):
            self.state.unsure = problem.fault is Fault.NO_PLACE or not chosen.strict or not self.state.edge
        if shaped_anyhow(chosen):
            self.state.unsure = True
            self._go_on_from(line)
        if status is Status.NOT_UNDERSTOOD:  # it names a course that was not
            self.state.unsure = True
            self._go_on_from(line)
        if status is Status.DOES_NOT_CLOSE and any(item.space for item in self.state.edge):
            self.state.unsure = True  # where its spaces lie is not known, whatever their number
        if status in (Status.DIFFERS, Status.DOES_NOT_CLOSE):
            self.state.edge = self.state.edge or edge
            self._go_on_from(line)

    def _remember(self, line: Line, steps: tuple[Step, ...]) -> None:
        """What `Rep Row 2` will mean: the line as it was proved, else with its readings still open."""
        plan = self.plan(line, steps)
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
        if want is None and len(stated.kinds) == 1 and is_stitch(stated.kinds[0][0]):
            want = stated.kinds[0][1]
        if want is None or not 0 < want <= 20_000 or not self.state.edge:
            return
        self.worked_edge = self.state.edge
        self.state.edge = resized(self.state.edge, want)

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
            self._goes_down(step)
        here = len(self.courses)
        live = stitches_in(self.state.edge)
        found = tally(self.state.edge)
        status, problem = Status.REMARK, None
        counted = line.stated is not None and (line.stated.total is not None or line.stated.kinds)
        if counted and line.stated is not None and self.state.started:
            status = Status.PROVED if agrees(line.stated, found) else Status.DIFFERS
            if status is Status.DIFFERS:
                problem = count_problem(line.stated, found)
        self.lines.append(
            WorkedLine(
                line, line.steps, (here, here), status, live=live, kinds=found.kinds, below=live, problem=problem
            )
        )

    def _goes_down(self, step: Step) -> None:
        """`Join yarn in front loops of Rnd 22` on a line of its own: what follows is worked there."""
        number = step.course if isinstance(step, PartRef) else 0
        if number == OPENING:
            self.state.edge, self.state.ground, self.state.cut = [], Ground(open=True), False
            return
        if isinstance(step, Yarn) and step.target is not None:
            number = step.target.course
        if number > 0 and (edge := self._edge_of(number)):
            self.state.edge = edge

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


def work(pieces: tuple[Piece, ...], settings: Settings) -> Fabric:
    """Work all pieces of a pattern, each from its own beginning."""
    return Fabric(tuple(_worked(piece, settings) for piece in pieces))


def _worked(piece: Piece, settings: Settings) -> Part:
    """A piece worked with the habit of beginning chains that proves most of its counts: the usual one, where it does."""
    loom = Loom(settings)
    best = loom.piece(piece)
    if not loom.opened or not _doubtful(best):
        return best
    told = _told(piece)
    for tall, low in ((True, True), (False, False), (False, True)):
        if not tall and told:
            continue
        if (tall or "tall" in loom.opened) and (not low or "low" in loom.opened):
            other = Loom(settings, Habit(tall, low)).piece(piece)
            if _merit(other) > _merit(best):
                best = other
    return best


def _told(piece: Piece) -> bool:
    """Whether the text says of one of its tall beginning chains that it counts, and of none that it doesn't."""
    said = {
        step.counts
        for line in piece.lines
        for step in flat(line.steps)
        if isinstance(step, Chain) and step.n >= TALL and step.counts is not None
    }
    return said == {True}


def _doubtful(part: Part) -> bool:
    return any(line.status in (Status.DIFFERS, Status.DOES_NOT_CLOSE) for line in part.lines)


def _merit(part: Part) -> int:
    """How well a part comes out: counts proved, less what does not."""
    proved = sum(1 for line in part.lines if line.status is Status.PROVED)
    return proved - 2 * sum(1 for line in part.lines if line.status in (Status.DIFFERS, Status.DOES_NOT_CLOSE))

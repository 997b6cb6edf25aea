"""A part with rounds of its own (windows, ribs, scallops) at another size.

Plain rounds are planned anew; the others keep their words and their number, and stand on a count with which they come
out: which one that is, the worker says. What comes of it has been worked as a whole before it is given out.
"""

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field

from generator.fabric.model import Course, Into, Make, Part, Role, Status, WorkedLine
from generator.fabric.state import Settings
from generator.fabric.work import work
from generator.notation.parse import Context, read_lines
from generator.notation.pattern import Pattern
from generator.notation.tree import Again, Loop, Piece, Yarn
from generator.shape.follow import follow
from generator.shape.hand import Hand
from generator.shape.rounds import worked_round
from generator.shape.write import LIFT, sentence
from generator.source import Source, Span
from generator.vocabulary.load import language, stitch
from generator.vocabulary.records import Language

SHARE, LEAST = 0.15, 8
"""How far from the wished count a round of its own may be put: a share of it, or so many stitches."""
ROLES = (Role.STITCH, Role.START, Role.JOIN)


@dataclass(frozen=True, slots=True)
class Remade:
    """New lines and their counts; or `kept`, why there are none."""

    lines: str = ""
    counts: tuple[int, ...] = ()
    kept: str = ""


@dataclass(frozen=True, slots=True)
class Group:
    """Lines that go together: `plain` ones are planned, `own` ones keep their words, others are said as they are."""

    sort: str
    lines: tuple[WorkedLine, ...]


@dataclass(slots=True)
class _Desk:
    """What has been written so far."""

    rows: list[str] = field(default_factory=list)
    counts: list[int] = field(default_factory=list)
    old_rounds: int = 0
    new_rounds: int = 0
    shaped: int = 0

    @property
    def number(self) -> int:
        return len(self.counts) + 1


@dataclass(frozen=True, slots=True)
class Remaking:
    """One part on its way to another size."""

    pattern: Pattern
    part: Part
    kind: str
    old: Hand
    new: Hand
    factor: float

    def run(self) -> Remade:
        """The part remade, or why not."""
        if reason := self._unfit():
            return Remade(kept=reason)
        groups = list(self._groups())
        places = self._places(groups)
        desk, before_old, before_new = _Desk(), 0, 0
        for i, group in enumerate(groups):
            if group.sort == "said":
                desk.rows += [self._said(line) for line in group.lines]
                continue
            own = i if group.sort == "own" else self._leads_to(groups, i)
            if own is not None and not places[own]:
                return Remade(kept=f"{self._name(groups[own].lines[0])} comes out with its own count only")
            if own == i and before_new != places[i]:
                return Remade(kept=f"no rounds lead to {places[i]} stitches for {self._name(group.lines[0])}")
            if own == i:
                self._own(desk, group, places[i])
            elif not self._plain(desk, group, before_old, before_new, places[own] if own is not None else 0):
                return Remade(kept=f"no rounds lead from {before_new} stitches on at {self._name(group.lines[0])}")
            before_old, before_new = self._courses(group.lines)[-1].live, desk.counts[-1]
        lines = "\n".join(desk.rows) + "\n"
        proved = self._work(lines)
        if any(_wrong(line) for line in proved.lines):
            return Remade(kept="its rounds could not be proved at the new size")
        return Remade(lines, tuple(desk.counts))

    # ---- what is there ----

    def _unfit(self) -> str:
        if any(isinstance(step, Again) for line in self.part.lines for step in line.steps):
            return "it repeats earlier rounds by number"
        if any(course.make is Make.ROW for course in self.part.courses):
            return "it is worked in rows"
        if not self.part.courses or self.part.courses[0].make is Make.FOUNDATION:
            return "it begins on a chain"
        if self.part.start_chain_counts and self.kind != "sc":
            return "its starting chains count as stitches"
        first = next(line for line in self.part.lines if line.courses[0] < line.courses[1])
        return "" if self._is_plain(first) else "its first round is not plain"

    def _courses(self, lines: Sequence[WorkedLine]) -> tuple[Course, ...]:
        return tuple(course for line in lines for course in self.part.courses[line.courses[0] : line.courses[1]])

    def _is_plain(self, line: WorkedLine) -> bool:
        if any(isinstance(step, Yarn) and not step.standing for step in line.steps):
            return False
        return all(self._plain_course(course) for course in self._courses((line,)))

    def _plain_course(self, course: Course) -> bool:
        if any(kind.startswith("sp") for kind, _ in course.kinds):
            return False
        return all(
            run.role in ROLES
            and run.loop is Loop.BOTH
            and not run.below
            and (run.role is not Role.STITCH or self._is_kind(run.kind))
            and (run.role is not Role.STITCH or run.into in (Into.STITCH, Into.RING))
            and run.share <= (2 if run.into is Into.STITCH else run.share)
            for run in course.runs
        )

    def _is_kind(self, kind: str) -> bool:
        return kind == self.kind or kind == f"{self.kind}2tog" or (self.kind == "sc" and kind == "invdec")

    def _sort(self, line: WorkedLine) -> str:
        courses = self._courses((line,))
        if not any(run.role is Role.STITCH for course in courses for run in course.runs):
            return "said"
        return "plain" if self._is_plain(line) else "own"

    def _groups(self) -> Iterator[Group]:
        """Lines by sort; what is said between two rounds of their own goes with them."""
        sorts = [self._sort(line) for line in self.part.lines]
        i = 0
        while i < len(sorts):
            last = i
            for j in range(i + 1, len(sorts)):
                if sorts[j] == sorts[i]:
                    last = j
                elif not (sorts[i] == "own" and sorts[j] == "said"):
                    break
            yield Group(sorts[i], self.part.lines[i : last + 1])
            i = last + 1

    def _name(self, line: WorkedLine) -> str:
        return f"round {line.line.label.numbers[0]}" if line.line.label.numbers else "a round without number"

    # ---- what becomes of it ----

    @property
    def joined(self) -> bool:
        """Most rounds are joined."""
        return sum(course.make is Make.JOINED for course in self.part.courses) * 2 > len(self.part.courses)

    @property
    def language(self) -> Language:
        return language("en-GB" if self.pattern.header.terms == "UK" else "en-US")

    @property
    def word(self) -> str:
        return self.language.stitches[self.kind].abbreviation

    def _said(self, line: WorkedLine) -> str:
        return self.pattern.source.words(line.line.span).strip()

    def _plain(self, desk: _Desk, group: Group, before_old: int, before_new: int, end: int) -> bool:
        """Plan and write a stretch of plain rounds."""
        olds = [course.live for course in self._courses(group.lines)]
        ratio = self.factor * self.old.height / self.new.height
        grow = self.factor * self.old.width / self.new.width
        desk.old_rounds += len(olds)
        rounds = max(1, round(desk.old_rounds * ratio) - desk.new_rounds)
        desk.new_rounds += rounds
        wish = _between([before_old, *olds])
        wishes = [wish((k + 1) * len(olds) / rounds) * grow for k in range(rounds)]
        if not before_new:
            wishes[0] = olds[0]
        standing = any(isinstance(step, Yarn) and step.standing for step in group.lines[0].steps)
        counts = follow(before_new, wishes, end or self._close(olds), self.new, standing)
        self._write(desk, before_new, counts, standing)
        return bool(counts)

    def _close(self, olds: Sequence[int]) -> int:
        """A last round that is drawn shut stays as small as it was."""
        last = self.part.courses[-1].live
        return last if olds[-1] == last and last <= max(self.old.starts) and len(olds) > 1 else 0

    def _write(self, desk: _Desk, before: int, counts: Sequence[int], standing: bool) -> None:
        i = 0
        while i < len(counts):
            last = i
            while standing < last + 1 < len(counts) and counts[last + 1] == counts[i] == (
                counts[i - 1] if i else before
            ):
                last += 1
            words = self._words(desk, before, counts[i], standing and i == 0)
            first, final = desk.number, desk.number + last - i
            label = f"Rnd {first}" if first == final else f"Rnds {first}-{final}"
            desk.rows.append(f"{label}: {sentence(words)}. ({counts[i]})")
            desk.counts += counts[i : last + 1]
            before, i = counts[i], last + 1

    def _words(self, desk: _Desk, before: int, count: int, standing: bool) -> str:
        if not before:
            words = f"{count} {self.word} in magic ring"
        elif standing:
            words = f"standing {self.word} in any st, {self.word} in each st around"
        else:
            words = worked_round(self.word, before, count, desk.shaped % 2 == 1)
            desk.shaped += before != count
        return self._lifted(words, first=not before) if self.joined else words

    def _lifted(self, words: str, first: bool) -> str:
        lift = LIFT[self.kind] + (
            " (does not count as a st here and throughout)" if first and self.kind != "sc" else ""
        )
        start = "" if words.startswith("standing") else lift + ", "
        return f"{start}{words}, join with sl st to first {self.word}"

    # ---- rounds of their own ----

    def _leads_to(self, groups: Sequence[Group], i: int) -> int | None:
        """Index of the rounds of their own that a plain stretch leads to; a wall between them changes no count."""
        for j in range(i + 1, len(groups)):
            if groups[j].sort == "own":
                return j
            if groups[j].sort == "plain" and not self._wall(groups[j]):
                return None
        return None

    def _wall(self, group: Group) -> bool:
        return len({course.live for course in self._courses(group.lines)}) == 1

    def _body(self, line: WorkedLine) -> str:
        """The line's words without its name and its count."""
        text, span, stated = self.pattern.source.text, line.line.span, line.line.stated
        start = max(span.start, line.line.label.span.end)
        words = text[start : span.end]
        if stated is not None and stated.span.start >= start:
            words = text[start : stated.span.start] + text[stated.span.end : span.end]
        return re.sub(r"^[\s:.–-]+|[\s.]+$", "", words)

    def _rows(self, group: Group, number: int) -> list[tuple[str, str, WorkedLine]]:
        """Label, words and line of every line of a group, numbered anew."""
        rows = []
        for line in group.lines:
            rounds = line.courses[1] - line.courses[0]
            if self._sort(line) == "said":
                rows.append(("", self._said(line), line))
                continue
            label = f"Rnd {number}" if rounds == 1 else f"Rnds {number}-{number + rounds - 1}"
            rows.append((label, self._body(line), line))
            number += rounds
        return rows

    def _ground(self, count: int) -> str:
        """A round of that many stitches to try others on."""
        words = f"{self.word} in each ch around"
        how = "" if self.joined else "Work in a spiral; do not join rounds\n"
        ring = f"Ch {count}, join with sl st to form ring\n"
        return f"{how}{ring}Rnd 1: {self._lifted(words, True) if self.joined else words}. ({count})\n"

    def _tried(self, group: Group, count: int) -> Part:
        rows = (f"{label}: {words}" if label else words for label, words, _ in self._rows(group, 2))
        return self._work(self._ground(count) + "\n".join(rows) + "\n")

    def _work(self, lines: str) -> Part:
        header = self.pattern.header
        yarns = tuple((yarn.key, yarn.colour) for yarn in header.yarns)
        context = Context(terms=header.terms, yarns=yarns, specials=header.stitches)
        read = read_lines(Source("<rescaled>", lines), Span(0, len(lines)), context).value
        return work((Piece(lines=read),), Settings(header.rounds, header.start_chain)).parts[0]

    def _places(self, groups: Sequence[Group]) -> dict[int, int]:
        """The count that each group of rounds of their own stands on, by its index; 0 where none is near enough.

        Groups with nothing but walls between them stood on one count, and do so again if there is one for all.
        """
        places: dict[int, int] = {}
        for i, group in enumerate(groups):
            if group.sort == "own" and i not in places:
                chain = [i, *self._linked(groups, i)]
                found = self._place([groups[j] for j in chain])
                places |= dict.fromkeys(chain, found) if found else {i: self._place([group])}
        return places

    def _linked(self, groups: Sequence[Group], i: int) -> Iterator[int]:
        below = self._courses(groups[i].lines)[0].below
        for j in range(i + 1, len(groups)):
            courses = self._courses(groups[j].lines)
            if groups[j].sort == "own":
                if courses[0].below != below:
                    return
                yield j
            elif groups[j].sort == "plain" and {course.live for course in courses} != {below}:
                return

    def _place(self, groups: Sequence[Group]) -> int:
        """The count nearest to the wish on which all of them come out; 0 for none."""
        wish = self._courses(groups[0].lines)[0].below * self.factor * self.old.width / self.new.width
        reach = max(LEAST, round(wish * SHARE))
        near = sorted(range(max(4, round(wish) - reach), round(wish) + reach + 1), key=lambda n: (abs(n - wish), n))
        return next((n for n in near if all(self._fits(group, n) for group in groups)), 0)

    def _fits(self, group: Group, count: int) -> bool:
        """Whether the group comes out on that count, with the same kinds of stitches as before."""
        tried = self._tried(group, count).lines[-len(group.lines) :]
        kinds = [{kind for kind, _ in line.kinds} for line in tried]
        return not any(map(_wrong, tried)) and kinds == [{kind for kind, _ in line.kinds} for line in group.lines]

    def _own(self, desk: _Desk, group: Group, count: int) -> None:
        tried = self._tried(group, count)
        offset = len(tried.lines) - len(group.lines)
        for (label, words, line), worked in zip(self._rows(group, desk.number), tried.lines[offset:], strict=True):
            if not label:
                desk.rows.append(words)
                continue
            desk.rows.append(f"{label}: {words}. ({self._count(worked)})")
            courses = tried.courses[worked.courses[0] : worked.courses[1]]
            desk.counts += [course.live for course in courses]
            assert len(courses) == line.courses[1] - line.courses[0]

    def _count(self, line: WorkedLine) -> str:
        """A count in the writer's words: a number, or kinds where there are several."""
        if len(line.kinds) < 2:
            return str(line.live)
        return ", ".join(f"{n} {self._kind_word(kind)}" for kind, n in line.kinds)

    def _kind_word(self, kind: str) -> str:
        if kind.startswith("sp:"):
            return f"ch-{kind[3:]} sps"
        return self.language.stitches[kind].abbreviation if kind in self.language.stitches else stitch(kind).identity


def _wrong(line: WorkedLine) -> bool:
    return line.problem is not None or line.status not in (Status.PROVED, Status.WORKED, Status.REMARK)


def _between(values: Sequence[float]) -> Callable[[float], float]:
    """Straight lines through values at 0, 1, 2, ..."""

    def at(x: float) -> float:
        i = min(int(x), len(values) - 2)
        return values[i] + (values[i + 1] - values[i]) * (x - i)

    return at

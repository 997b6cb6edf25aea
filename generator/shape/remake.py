"""A part with rounds of its own (windows, ribs, scallops) at another size.

Plain rounds are planned anew; the others keep their words and their number (see `own`). What comes of it has been
worked as a whole before it is given out.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field

from generator.fabric.model import Make, Part
from generator.notation.pattern import Pattern
from generator.notation.tree import Again, Yarn
from generator.shape.follow import follow
from generator.shape.hand import Hand
from generator.shape.own import Own, wrong
from generator.shape.renumber import renumbered
from generator.shape.rounds import worked_round
from generator.shape.sorting import Group, courses_of, groups, is_plain, is_wall
from generator.shape.write import sentence

MORE = 3
"""Rounds a stretch may take more than its share."""


@dataclass(frozen=True, slots=True)
class Remade:
    """New lines, their counts and where the old rounds went (number to number); or `kept`, why there are none."""

    lines: str = ""
    counts: tuple[int, ...] = ()
    numbers: Mapping[int, int] = field(default_factory=dict)
    kept: str = ""


@dataclass(slots=True)
class _Desk:
    """What has been written so far."""

    rows: list[str] = field(default_factory=list)
    counts: list[int] = field(default_factory=list)
    numbers: dict[int, int] = field(default_factory=dict)
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

    @property
    def grow(self) -> float:
        """New stitches for an old one, the way round."""
        return self.factor * self.old.width / self.new.width

    @property
    def own(self) -> Own:
        """The rounds that keep their words."""
        joined = sum(course.make is Make.JOINED for course in self.part.courses) * 2 > len(self.part.courses)
        return Own(self.pattern, self.part, self.kind, joined, self.grow)

    def run(self) -> Remade:
        """The part remade, or why not."""
        if reason := self._unfit():
            return Remade(kept=reason)
        found, desk = tuple(groups(self.part, self.kind)), _Desk()
        places = self.own.places(found)
        for i, group in enumerate(found):
            if reason := self._next(desk, found, places, i, group):
                return Remade(kept=reason)
        lines = "\n".join(desk.rows) + "\n"
        if any(map(wrong, self.own.work(lines).lines)):
            return Remade(kept="its rounds could not be proved at the new size")
        return Remade(lines, tuple(desk.counts), desk.numbers)

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
        return "" if is_plain(self.part, first, self.kind) else "its first round is not plain"

    def _next(self, desk: _Desk, found: Sequence[Group], places: Mapping[int, int], i: int, group: Group) -> str:
        """Write one group; the reason if that can't be done."""
        if group.sort == "said":
            desk.rows += [renumbered(self.own.said(line), desk.numbers) for line in group.lines]
            return ""
        target = i if group.sort == "own" else self._leads_to(found, i)
        end = places[target] if target is not None else 0
        if target is not None and not end:
            return f"{_name(found[target])} comes out with its own count only"
        if group.sort == "plain":
            made = self._plain(desk, group, self._below(found, i), desk.counts[-1] if desk.counts else 0, end)
            return "" if made else f"no rounds lead on from {_name(group)}"
        if desk.counts[-1] != end:
            return f"no rounds lead to {end} stitches for {_name(group)}"
        self._own(desk, group, end)
        return ""

    def _below(self, found: Sequence[Group], i: int) -> int:
        """Stitches that a group of the old part stood on."""
        before = [group for group in found[:i] if group.sort != "said"]
        return courses_of(self.part, before[-1].lines)[-1].live if before else 0

    def _leads_to(self, found: Sequence[Group], i: int) -> int | None:
        """Index of the rounds of their own that a plain stretch leads to; a wall between them changes no count."""
        for j in range(i + 1, len(found)):
            if found[j].sort == "own":
                return j
            if found[j].sort == "plain" and not is_wall(self.part, found[j]):
                return None
        return None

    def _plain(self, desk: _Desk, group: Group, before_old: int, before_new: int, end: int) -> bool:
        """Plan and write a stretch of plain rounds."""
        courses = courses_of(self.part, group.lines)
        olds = [course.live for course in courses]
        desk.old_rounds += len(olds)
        rounds = max(1, round(desk.old_rounds * self.factor * self.old.height / self.new.height) - desk.new_rounds)
        standing = any(isinstance(step, Yarn) and step.standing for step in group.lines[0].steps)
        counts: tuple[int, ...] = ()
        for more in range(MORE + 1):  # a short stretch may need a round more to get as narrow as it has to
            wishes = self._wishes([before_old, *olds], rounds + more)
            if counts := follow(before_new, wishes, end or self._close(olds), self.new, standing):
                break
        for k, course in enumerate(courses, 1):
            if course.number is not None:
                desk.numbers[course.number] = len(desk.counts) + max(1, round(k * len(counts) / len(olds)))
        desk.new_rounds += len(counts)
        self._write(desk, before_new, counts, standing)
        return bool(counts)

    def _wishes(self, olds: Sequence[int], rounds: int) -> list[float]:
        """Wished counts of `rounds` rounds along the old ones, of which the first is what they stood on."""
        at = _between(olds)
        wishes = [at((k + 1) * (len(olds) - 1) / rounds) * self.grow for k in range(rounds)]
        if not olds[0]:
            wishes[0] = olds[1]
        return wishes

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
        word = self.own.word
        if not before:
            words = f"{count} {word} in magic ring"
        elif standing:
            words = f"standing {word} in any st, {word} in each st around"
        else:
            words = worked_round(word, before, count, desk.shaped % 2 == 1)
            desk.shaped += before != count
        return self.own.lifted(words, first=not before)

    def _own(self, desk: _Desk, group: Group, count: int) -> None:
        """Rounds that keep their words, with the counts they have now."""
        tried = self.own.tried(group, count)
        offset = len(tried.lines) - len(group.lines)
        for (label, words, line), worked in zip(self.own.rows(group, desk.number), tried.lines[offset:], strict=True):
            if not label:
                desk.rows.append(words)
                continue
            desk.rows.append(f"{label}: {words}. ({self.own.count(worked)})")
            for old, new in zip(courses_of(self.part, (line,)), courses_of(tried, (worked,)), strict=True):
                if old.number is not None:
                    desk.numbers[old.number] = desk.number
                desk.counts.append(new.live)


def _name(group: Group) -> str:
    numbers = group.lines[0].line.label.numbers
    return f"round {numbers[0]}" if numbers else "a round without number"


def _between(values: Sequence[float]) -> Callable[[float], float]:
    """Straight lines through values at 0, 1, 2, ..."""

    def at(x: float) -> float:
        i = min(int(x), len(values) - 2)
        return values[i] + (values[i + 1] - values[i]) * (x - i)

    return at

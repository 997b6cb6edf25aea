"""The courses a line asks for: its own, and earlier ones it names again."""

from dataclasses import dataclass, replace

from generator.fabric.asking import (
    ends,
    levels,
    only_ends,
    works,
)
from generator.fabric.count import Tally
from generator.fabric.edge import Item
from generator.fabric.ground import Settings as CourseSettings
from generator.fabric.heaps import HEAPS
from generator.fabric.readings import USUAL, settle
from generator.fabric.shuttle import Shuttle
from generator.fabric.state import MOST_COURSES
from generator.fabric.stretching import stretched
from generator.notation.tree import (
    Again,
    How,
    Join,
    Line,
    Measure,
    Noun,
    Shape,
    Step,
    Target,
    Turn,
    Word,
    Work,
    Yarn,
)  # fmt: skip

MOST_UNTIL = 300
"""Courses worked to see when there are as many stitches as said."""


def _there(step: Again, found: Tally) -> int:
    """How many there are of what `until` counts."""
    if step.until_kind in ("loop", "space"):
        return found.spaces
    if step.until_kind in HEAPS:
        return max(found.heaped(step.until_kind), default=0)
    return found.live // (max(1, found.passes) if step.until_each else 1)


def _here(step: Again, edge: list[Item]) -> int:
    """How many there are of it to begin with; 0 for what an edge does not show."""
    if step.until_kind in ("loop", "space"):
        return sum(item.space for item in edge)
    if step.until_kind in HEAPS or step.until_each:
        return 0
    return sum(item.n for item in edge if item.counted)


def _reshaped(steps: tuple[Step, ...], shape: Shape) -> tuple[Step, ...]:
    """An earlier plain course with so many stitches more or less; one that is shaped already keeps its own."""
    for at, step in enumerate(steps):
        if isinstance(step, Work) and step.target.how is How.EACH and step.each == 1 and not step.target.leave:
            return (*steps[:at], replace(shape, stitch=step.stitch), *steps[at + 1 :])
    return steps


@dataclass(slots=True)
class Planner(Shuttle):
    """Plans the courses of a line."""

    def plan(self, line: Line, steps: tuple[Step, ...], grown: bool = False) -> list[tuple[Step, ...]]:
        """The courses a line makes: its steps once a number of its label, and what it repeats of earlier ones;
        `grown`: those worked on a longer edge."""
        wanted = len(line.label.numbers) or (line.stated.rounds if line.stated and line.label.word is Word.NEXT else 0)
        kinds = set(map(type, steps))
        if Again not in kinds and Measure not in kinds:
            return [steps] * min(max(wanted, 1), MOST_COURSES) if steps else []
        parts: list[tuple[Step, ...]] = []
        current: list[Step] = []
        for step in steps:
            if isinstance(step, Again):
                if works(tuple(current)):
                    parts.append(tuple(current))
                elif current and isinstance(current[0], Yarn) and not parts:
                    pass
                yarns = tuple(s for s in current if isinstance(s, Yarn))
                current = []
                copies = self._again(step, parts, line, grown)
                if copies and yarns and not parts:
                    copies[0] = yarns + copies[0]
                parts.extend(copies)
            elif isinstance(step, Shape) and parts and not current:
                parts[-1] = _reshaped(parts[-1], step)
            elif isinstance(step, Measure):
                parts.extend(self._measured(step, tuple(current), parts))
                current = []
            else:
                current.append(step)
        if current:
            rest = tuple(current)
            if parts and only_ends(rest):
                parts[-1] = ends(parts[-1])[0] + rest  # `… until it measures 10 in, ch 4, turn`: said for the last one
            elif (works(rest) and not (parts and levels(rest))) or not parts:
                parts.append(rest)
            else:
                parts[-1] = parts[-1] + rest
        if wanted > len(parts) and Again not in kinds:
            parts = parts * wanted if len(parts) == 1 else parts
        elif wanted > len(parts) and parts:
            parts = [parts[k % len(parts)] for k in range(wanted)]
        return parts[:MOST_COURSES]

    def _again(self, step: Again, parts: list[tuple[Step, ...]], line: Line, grown: bool) -> list[tuple[Step, ...]]:
        """Earlier courses named again, as often as said. Empty when there is no such course."""
        if step.numbers:
            own = dict(zip(line.label.numbers, parts, strict=False))  # `3rd row: … Repeat 3rd row until …`
            known = {n: steps for n, (steps, _) in self.by_number.items()} | own
            named = [known[n] for n in step.numbers if n in known]
            if len(named) < len(step.numbers):
                return []
        else:
            past = [*self.history, *parts]
            named = past[-step.last :] if len(past) >= step.last else []
        if not named:
            return []
        if grown:
            named = [stretched(steps) for steps in named]
        if step.until_length_mm:
            done = len(self.courses) + len(parts)
            total = round(step.until_length_mm * self.settings.rows_per_mm)
            more = max(total - done, 1)
            return [named[k % len(named)] for k in range(min(more, MOST_COURSES))]
        if step.until_stitches:
            return [named[k % len(named)] for k in range(self._passes_until(named, step, parts))]
        out = named * max(1, step.passes)
        if step.ending and step.numbers:
            last = self.by_number.get(step.ending)
            if last is not None:
                out.append(last[0])
        return out

    def _passes_until(self, named: list[tuple[Step, ...]], step: Again, parts: list[tuple[Step, ...]]) -> int:
        """Courses until there are as many as said, by working them."""
        state = self.state.copied()
        settings = CourseSettings(start_counts=self.state.counts, habit=self.habit)
        for steps in parts:
            state = self._course(state, settle(steps, USUAL), None, settings, 0).state
        begun = there = _here(step, state.edge)
        falling = begun > step.until_stitches  # `until 9 sts remain`
        for k in range(MOST_UNTIL):
            if k and (there <= step.until_stitches if falling else there >= step.until_stitches):
                return k
            if k and k % len(named) == 0:  # a pass is through; one that leads nowhere is not gone on with
                if there >= begun if falling else there <= begun:
                    return k
                begun = there
            worked = self._course(state, settle(named[k % len(named)], USUAL), None, settings, 0)
            if worked.problem is not None:
                return max(k, 1)
            state, there = worked.state, _there(step, worked.found)
        return MOST_UNTIL

    def _shaped(self) -> bool:
        """Whether the last course came to another number of stitches than the one before it."""
        return len(self.courses) > 1 and self.courses[-1].live != self.courses[-2].live

    def _measured(
        self, step: Measure, before: tuple[Step, ...], parts: list[tuple[Step, ...]]
    ) -> list[tuple[Step, ...]]:
        """Worked on evenly to a length: the steps said, else the last course, as often as the gauge says."""
        named = before if works(before) else (*self.history, *parts)[-1] if self.history or parts else ()
        if not named:
            return []
        shaped = not works(before) and not parts and self._shaped()
        named = _evenly(named, self.state.main if shaped else "")
        more = round(step.length_mm * self.settings.rows_per_mm) - len(self.courses) - len(parts)
        return [named] * max(1, min(more, MOST_COURSES))


def _evenly(course: tuple[Step, ...], plain: str) -> tuple[Step, ...]:
    """A course as it goes on: one that shapes, in the `plain` stitch; a first one, which is worked into a chain or a
    ring, in its own; each into each stitch."""
    worked = [step for step in course if isinstance(step, Work)]
    first = any(work.target.how is How.FROM_HOOK or work.target.noun in (Noun.CHAIN, Noun.RING) for work in worked)
    if not first and not plain:
        return course
    ends = tuple(step for step in course if isinstance(step, (Join, Turn)))
    return Work(course[0].span, worked[-1].stitch if first else plain, 1, Target(How.EACH)), *ends

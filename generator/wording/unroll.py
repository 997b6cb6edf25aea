"""Repeats and ranges written out, for those who tick off every step.

How often a repeat to the end was worked is read from the fabric: the stitches its words made, by the stitches one
pass makes.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from generator.fabric.model import Course
from generator.notation import tree
from generator.notation.tree import How, Step, Times
from generator.wording.settle import Script
from generator.wording.voice import takes

LIMIT = 400
"""Steps of one line at most; what is longer keeps its repeats, as nobody ticks off a thousand boxes."""


@dataclass(frozen=True, slots=True)
class Unrolled:
    """The steps of one course."""

    numbers: tuple[int, ...]
    steps: tuple[Step, ...]


def line_courses(index: int, script: Script) -> list[Unrolled]:
    """A line as one entry for every course it makes, with its repeats written out."""
    part = script.part
    line = part.lines[index]
    numbers, (first, last) = line.line.label.numbers, line.courses
    steps = script.steps[index]
    again = [step for step in steps if isinstance(step, tree.Again)]
    if not numbers or len(numbers) != last - first:
        return [Unrolled(numbers, unrolled(steps, part.courses[first] if last > first else None))]
    out: list[Unrolled] = []
    for i, number in enumerate(numbers):
        copied = _copied(again[0], i, script) if len(again) == 1 else None
        kept = steps if copied is None else tuple(_instead(steps, again[0], copied))
        out.append(Unrolled((number,), unrolled(kept, part.courses[first + i])))
    return out


def _instead(steps: Sequence[Step], again: tree.Again, copied: Sequence[Step]) -> Iterator[Step]:
    for step in steps:
        if step is again:
            yield from copied
        else:
            yield step


def _copied(again: tree.Again, i: int, script: Script) -> tuple[Step, ...] | None:
    """The steps of the course that the i-th course of `Rnds 6-9: Rep Rnds 4 and 5` copies."""
    if not again.numbers:
        return None
    number = again.numbers[i % len(again.numbers)]
    for line, steps in zip(script.part.lines, script.steps, strict=True):
        if number in line.line.label.numbers and not any(isinstance(step, tree.Again) for step in steps):
            return steps
    return None


def unrolled(steps: Sequence[Step], course: Course | None) -> tuple[Step, ...]:
    """Steps with every repeat of known length written out."""
    out = tuple(_expand(steps, course))
    return out if len(out) <= LIMIT else tuple(steps)


def _expand(steps: Sequence[Step], course: Course | None) -> Iterator[Step]:
    for step in steps:
        if isinstance(step, tree.Work):
            yield from _one_by_one(step)
            continue
        if not isinstance(step, tree.Repeat):
            yield step
            continue
        n = passes(step, course)
        if n is None or n > LIMIT:
            yield replace(step, steps=tuple(_expand(step.steps, course)))
            continue
        once = tuple(_expand(step.steps, course))
        for i in range(n):
            cut = step.stop_at if step.stop_at and i == n - 1 else 0
            yield from tuple(_expand(step.steps[:cut], course)) if cut else once


def _one_by_one(step: tree.Work) -> Iterator[Step]:
    """`sc2tog 6 times` as six decreases; whatever else is one instruction stays one."""
    each, target = takes(step.stitch), step.target
    n = target.count // each if each > 1 and target.how is How.NEXT else 1
    if n <= 1:
        yield step
        return
    for _ in range(n):
        yield replace(step, target=replace(target, count=each))


def passes(step: tree.Repeat, course: Course | None) -> int | None:
    """How often a repeat is worked; None when the fabric doesn't tell."""
    times: Times = step.times
    if not times.to_end and times.until is None:
        return times.n
    if course is None:
        return None
    for inner in _plain(step.steps):
        made = _made(inner)
        if made:
            total = sum(run.n for run in course.runs if run.span == inner.span)
            if total and total % made == 0:
                return total // made
    return None


def _plain(steps: Sequence[Step]) -> Iterator[Step]:
    """Steps of one pass that are worked once in it: those of groups too, not those of inner repeats."""
    for step in steps:
        if isinstance(step, tree.Group):
            yield from _plain(step.steps)
        elif not isinstance(step, tree.Repeat):
            yield step


def _made(step: Step) -> int:
    """Stitches one pass of a plain step makes; 0 where it is not plain."""
    if isinstance(step, tree.Work):
        return step.each * (step.target.count // takes(step.stitch) or 1)
    if isinstance(step, tree.Chain):
        return step.n
    return 0

"""Which techniques a pattern uses, seen in the worked fabric, with the level each belongs to."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

from generator.checks import steps
from generator.checks.product import Product
from generator.fabric.model import Course, Into, Role
from generator.notation.tree import How, Loop, Skip, Work
from generator.vocabulary import load

LEVELS = ("basic", "easy", "intermediate", "complex")
"""The council's levels, easiest first (from memory)."""


@dataclass(frozen=True, slots=True)
class Technique:
    """One technique of the pattern."""

    key: str
    name: str
    level: str


def techniques(product: Product) -> tuple[Technique, ...]:
    """The techniques used, in the order of the table `levels`."""
    seen = set(_seen(product))
    return tuple(
        Technique(str(row["technique"]), str(row["name"]), str(row["level"]))
        for row in load.table("levels").rows
        if row["technique"] in seen
    )


def _seen(product: Product) -> Iterator[str]:
    for part in product.fabric.parts:
        for course in part.courses:
            yield from _in_course(course)
    for at in product.lines():
        if any(w.target.how is How.SKIPPED for w in steps.find(Work, at.worked.steps)) and steps.has(
            Skip, at.worked.steps
        ):
            yield "crossed"
    if len({run.yarn for part in product.fabric.parts for c in part.courses for run in c.runs if run.yarn}) > 1:
        yield "colours"
    if len(product.fabric.parts) > 1:
        yield "parts"


def _in_course(course: Course) -> Iterator[str]:
    worked = [run for run in course.runs if run.role is Role.STITCH and run.kind != "ch"]
    yarns: set[str] = set()
    for run in worked:
        yield from _in_run(run.kind, run.into, run.loop, run.below > 0, run.group >= 0)
        yarns.add(run.yarn)
    if len(yarns - {""}) > 1:
        yield "changes"


_INTO = {Into.SPACE: "spaces", Into.SIDE: "ends"}
_LOOP = {
    Loop.FRONT: "loops", Loop.BACK: "loops", Loop.THIRD: "loops",
    Loop.FRONT_POST: "posts", Loop.BACK_POST: "posts",
}  # fmt: skip


@cache
def _in_run(kind: str, into: Into, loop: Loop, below: bool, grouped: bool) -> tuple[str, ...]:
    return tuple(_of_run(kind, into, loop, below, grouped))


def _of_run(kind: str, into: Into, loop: Loop, below: bool, grouped: bool) -> Iterator[str]:
    if into in _INTO:
        yield _INTO[into]
    if loop in _LOOP:
        yield _LOOP[loop]
    if below:
        yield "below"
    if not load.is_stitch(kind):
        return
    known = load.stitch(kind)
    if kind.startswith(("fp", "bp")):
        yield "posts"
    if known.family in ("cluster", "puff", "bobble", "popcorn"):
        yield "bunches"
    if known.height >= 4:
        yield "tall"
    if into is Into.SPACE and grouped:
        yield "shells"

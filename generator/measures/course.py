"""What one round or row measures by itself: how long its edge is, how high it stands, on what it stands."""

from bisect import bisect_right
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

from generator.fabric.model import Course, Into, Make, Part, Role, Run
from generator.measures.gauge import Scale
from generator.vocabulary.load import is_stitch, stitch

FLATTENED = ("chain", "slip", "picot")
"""Families that add no height of their own."""
STANDING = (Role.STITCH, Role.FOUNDATION)
"""What a course is made of; joins, beginning chains and levelling stitches are no height."""
ARCH = 3
"""Chains from which a space hangs in an arch and lets the edge go where it likes."""
SHELL = 5
"""Stitches in one place that stand out as a scallop instead of widening the round."""


@dataclass(frozen=True, slots=True)
class CourseSize:
    """Millimetres; `base` is the index of the course it stands on, -1 for the beginning."""

    index: int
    around: float
    height: float
    tallest: float
    base: int
    yarn: str
    in_round: bool
    stitches: int
    give: float
    """How much further than its height its arches can reach, mm."""
    scalloped: bool
    """Most of it is shells, whose edge is longer than the round it stands on."""


@cache
def family(kind: str) -> str:
    """The family of a stitch; `post` for one the vocabulary doesn't know."""
    return stitch(kind).family if is_stitch(kind) else "post"


def around(course: Course, scale: Scale) -> float:
    """Length of the live edge: every stitch its width, every chain space its own."""
    total = 0.0
    for live in course.edge:
        if live.kind == "ch":
            total += scale.space(live.n)
        elif live.counted:
            total += live.n * scale.width_mm
    return total


def standing(course: Course) -> Iterator[Run]:
    """The runs that make the course as high as it is."""
    for run in course.runs:
        if run.role in STANDING and family(run.kind) not in FLATTENED:
            yield run


def heights(course: Course, scale: Scale) -> tuple[float, float]:
    """Mean and greatest height of a course, mm; that of slip stitches or nothing where it has no taller ones."""
    in_round = course.make in (Make.SPIRAL, Make.JOINED)
    runs = [run for run in standing(course) if run.n > 0]
    if not runs:
        worked = any(family(run.kind) == "slip" and run.role is Role.STITCH for run in course.runs)
        low = scale.height("sl-st", in_round) if worked else 0.0
        return low, low
    tally: dict[str, int] = {}
    for run in runs:
        tally[run.kind] = tally.get(run.kind, 0) + run.n
    each = [(n, scale.height(kind, in_round)) for kind, n in tally.items()]
    return sum([n * h for n, h in each]) / sum(tally.values()), max([h for _, h in each])


def give(course: Course, scale: Scale) -> float:
    """How much further out its arches can reach than its stitches are high: half the longest chain, mm."""
    if course.make is Make.FOUNDATION:
        return 0.0
    longest = max((live.n for live in course.edge if live.kind == "ch"), default=0)
    return longest / 2 * scale.free_chain() if longest >= ARCH else 0.0


def scalloped(course: Course) -> bool:
    """Whether more than half of its stitches stand in shells of five or more in one place."""
    if not any(run.group >= 0 or run.share >= SHELL for run in course.runs):
        return False
    shells: Counter[tuple[int, int]] = Counter()
    total = 0
    for number, run in enumerate(course.runs):
        if run.role is not Role.STITCH or family(run.kind) in FLATTENED or run.into is Into.RING or run.parent < 0:
            continue
        total += run.n
        if run.group >= 0:
            shells[run.group, -1] += run.n
        elif run.share >= SHELL:
            shells[number, run.share] += run.n
    inside = sum(n for n in shells.values() if n >= SHELL)
    return len(shells) >= ARCH and inside * 2 > total


def is_course(course: Course) -> bool:
    """Whether it is more than a ring of chains or a few levelling stitches."""
    return any(run.role in STANDING and run.n for run in course.runs) or (
        course.make is not Make.FOUNDATION and not any(run.role in (Role.RING, Role.EXTRA) for run in course.runs)
    )


def main_yarn(course: Course) -> str:
    """Key of the yarn most of the course is worked in; empty when it names none."""
    if len({run.yarn for run in course.runs}) == 1:
        return course.runs[0].yarn
    counted: Counter[str] = Counter()
    for run in course.runs:
        counted[run.yarn] += run.n
    return counted.most_common(1)[0][0] if counted else ""


def bases(part: Part) -> tuple[int, ...]:
    """For every course the index of the course it stands on: the latest among its parents (usually the one before)."""
    firsts, owners = [], []
    for i, course in enumerate(part.courses):
        if course.size:
            firsts.append(course.first)
            owners.append(i)
    found = []
    for i, course in enumerate(part.courses):
        below = [
            run.parent
            for run in course.runs
            if 0 <= run.parent < course.first and run.n and run.role in STANDING and not run.below
        ]
        found.append(owners[bisect_right(firsts, max(below)) - 1] if below else i - 1)
    return tuple(found)


def sizes(part: Part, scale: Scale) -> tuple[CourseSize, ...]:
    """All courses of a part, measured one by one; rings of chains and levelling stitches are left out."""
    found = []
    for i, (course, base) in enumerate(zip(part.courses, bases(part), strict=True)):
        if not is_course(course):
            continue
        mean, tallest = heights(course, scale)
        found.append(
            CourseSize(
                index=i, around=around(course, scale), height=mean, tallest=tallest, base=base,
                yarn=main_yarn(course), in_round=course.make in (Make.SPIRAL, Make.JOINED), stitches=course.live,
                give=give(course, scale), scalloped=scalloped(course),
            )
        )  # fmt: skip
    return tuple(found)

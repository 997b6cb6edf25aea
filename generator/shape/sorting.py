"""Lines of a part by sort: plain rounds that can be planned anew, rounds of their own, and what is only said."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from generator.fabric.model import Course, Into, Part, Role, WorkedLine
from generator.notation.tree import Loop, Yarn

ROLES = (Role.STITCH, Role.START, Role.JOIN)


@dataclass(frozen=True, slots=True)
class Group:
    """Lines that go together: `plain` ones are planned, `own` ones keep their words, others are said as they are."""

    sort: str
    lines: tuple[WorkedLine, ...]


def courses_of(part: Part, lines: Sequence[WorkedLine]) -> tuple[Course, ...]:
    """All rounds that lines made."""
    return tuple(course for line in lines for course in part.courses[line.courses[0] : line.courses[1]])


def is_plain(part: Part, line: WorkedLine, kind: str) -> bool:
    """Whether its rounds are the part's one stitch, increased and decreased at most."""
    if any(isinstance(step, Yarn) and not step.standing for step in line.steps):
        return False
    return all(_plain_course(course, kind) for course in courses_of(part, (line,)))


def _plain_course(course: Course, kind: str) -> bool:
    if any(name.startswith("sp:") for name, _ in course.kinds):
        return False
    for run in course.runs:
        if run.role not in ROLES or run.loop is not Loop.BOTH or run.below:
            return False
        if run.role is Role.STITCH and not (_is_kind(run.kind, kind) and run.into in (Into.STITCH, Into.RING)):
            return False
        if run.into is Into.STITCH and run.share > 2:
            return False
    return True


def _is_kind(name: str, kind: str) -> bool:
    return name in (kind, f"{kind}2tog") or (kind == "sc" and name == "invdec")


def sort_of(part: Part, line: WorkedLine, kind: str) -> str:
    """`plain`, `own` or `said`."""
    if not any(run.role is Role.STITCH for course in courses_of(part, (line,)) for run in course.runs):
        return "said"
    return "plain" if is_plain(part, line, kind) else "own"


def groups(part: Part, kind: str) -> Iterator[Group]:
    """Lines by sort; what is said between two rounds of their own goes with them."""
    sorts = [sort_of(part, line, kind) for line in part.lines]
    i = 0
    while i < len(sorts):
        last = i
        for j in range(i + 1, len(sorts)):
            if sorts[j] == sorts[i]:
                last = j
            elif not (sorts[i] == "own" and sorts[j] == "said"):
                break
        yield Group(sorts[i], part.lines[i : last + 1])
        i = last + 1


def is_wall(part: Part, group: Group) -> bool:
    """Whether the count never changes in it."""
    return len({course.live for course in courses_of(part, group.lines)}) == 1

"""Corners of squares and hexagons: groups with a chain space, or increases stacked on each other, evenly round."""

from collections import Counter

from generator.fabric.model import Course, Into, Make, Part, Role
from generator.measures.course import SHELL

MANY = 3
"""Stitches in one place that turn a corner."""
MOST = 8
"""More corners than an octagon's are a wavy round."""


def places(course: Course) -> dict[int, list[str]]:
    """What is worked into one place together, in order: group number to kinds, chains as `ch`.

    The chain that begins a round is no space but stands in for a stitch, and is told as `start`.
    """
    found: dict[int, list[str]] = {}
    for number, run in enumerate(course.runs):
        if run.group < 0 and run.share < MANY:
            continue
        if run.into is Into.RING or run.role not in (Role.STITCH, Role.START, Role.EXTRA):
            continue
        if run.group >= 0:
            kind = "start" if run.role is Role.START and run.kind == "ch" else run.kind
            found.setdefault(run.group, []).extend([kind] * min(run.n if kind != "start" else 1, SHELL))
        elif run.share >= MANY and run.parent >= 0:
            for place in range(run.n // run.share):
                found[-1 - number * 1000 - place] = [run.kind] * min(run.share, SHELL)
    return found


def group_corners(course: Course) -> int:
    """Corners of a round: groups with a chain space in their middle (`(2 dc, ch 2, 2 dc) in next ch-2 sp`), or, where
    there is none, three or four stitches in one place (five and more are a shell).
    """
    together = list(places(course).values())
    spaced = sum(1 for kinds in together if kinds[0] != "ch" and kinds[-1] != "ch" and "ch" in kinds)
    return spaced or sum(1 for kinds in together if MANY <= sum(kind != "ch" for kind in kinds) < SHELL)


def corners(part: Part) -> int:
    """How many corners a flat part has when its last round or most of its rounds have 3 to 8 of them; 0 for a round one."""
    rounds = [course for course in part.courses if course.make in (Make.SPIRAL, Make.JOINED)]
    last = group_corners(rounds[-1]) if rounds else 0
    if MANY <= last <= MOST:
        return last
    counted = Counter(n for course in rounds[1:] if 3 <= (n := group_corners(course)) <= MOST)
    if not counted:
        return 0
    n, times = counted.most_common(1)[0]
    return n if times * 2 >= len(rounds[1:]) else 0

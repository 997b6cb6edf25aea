"""Corners of squares and hexagons: groups with a chain space, or increases stacked on each other, evenly round."""

from collections import Counter

from generator.fabric.model import Course, Make, Part

MOST = 8
"""More corners than an octagon's are a wavy round."""


def group_corners(course: Course) -> int:
    """Groups of one place that have a chain space in their middle: `(2 dc, ch 2, 2 dc) in next ch-2 sp`."""
    kinds: dict[int, list[str]] = {}
    for run in course.runs:
        if run.group >= 0:
            kinds.setdefault(run.group, []).append("ch" if run.kind == "ch" else "st")
    return sum(1 for order in kinds.values() if order[0] == "st" and order[-1] == "st" and "ch" in order)


def corners(part: Part) -> int:
    """How many corners a flat part has when its last rounds agree on 3 to 8 of them; 0 for a round one."""
    rounds = [course for course in part.courses if course.make in (Make.SPIRAL, Make.JOINED)]
    counted = Counter(n for course in rounds[1:] if 3 <= (n := group_corners(course)) <= MOST)
    if not counted:
        return 0
    n, times = counted.most_common(1)[0]
    return n if times * 2 >= len(rounds[1:]) else 0

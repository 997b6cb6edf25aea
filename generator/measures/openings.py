"""Holes in the fabric: eyelet rounds that carry a cord, and openwork."""

from collections.abc import Iterator

from generator.fabric.model import Course, Make, Part
from generator.measures.course import around
from generator.measures.gauge import Scale
from generator.measures.measured import Eyelets, Shape

MOST_CHAINS = 3
"""A longer chain is an arch, not an eyelet."""
FEWEST = 4
"""Fewer holes carry no cord."""


def gaps(course: Course) -> Iterator[tuple[int, int]]:
    """Every chain space of a course with the stitches that follow it up to the next: (chains, stitches)."""
    chains, stitches, begun = 0, 0, False
    for live in course.edge:
        if live.kind == "ch":
            if begun:
                yield chains, stitches
            chains, stitches, begun = live.n, 0, True
        elif begun and live.counted:
            stitches += live.n
    if begun:
        lead = 0
        for live in course.edge:
            if live.kind == "ch":
                break
            lead += live.n if live.counted else 0
        yield chains, stitches + lead


def eyelet_course(part: Part, index: int, scale: Scale) -> Eyelets | None:
    """A round or row of eyelets: at least four equal small spaces in an otherwise closed fabric; None for others."""
    course = part.courses[index]
    found = list(gaps(course))
    if len(found) < FEWEST or max(n for n, _ in found) > MOST_CHAINS or index == 0:
        return None
    beside = part.courses[index - 1 : index] + part.courses[index + 1 : index + 2]
    if any(len(list(gaps(c))) >= FEWEST for c in beside):
        return None
    stitches = [n for _, n in found]
    usual = max(set(stitches), key=stitches.count)
    odd = [n for n in stitches if n != usual]
    regular = not odd or (len(odd) == 1 and abs(odd[0] - usual) <= 1)
    length = around(course, scale)
    return Eyelets(index, len(found), length / len(found), regular, length)


def eyelets(part: Part, scale: Scale, shape: Shape) -> tuple[Eyelets, ...]:
    """All eyelet rounds of a part; flat rounds have lace, not eyelets."""
    if shape in (Shape.DISC, Shape.POLYGON, Shape.OVAL, Shape.NOTHING):
        return ()
    found = (eyelet_course(part, i, scale) for i in range(len(part.courses)))
    return tuple(each for each in found if each)


def openwork(part: Part, scale: Scale) -> bool:
    """Whether a good part of the fabric is holes: chain spaces in more than a third of its rounds or rows."""
    worked = [course for course in part.courses if course.make is not Make.FOUNDATION]
    holed = sum(1 for course in worked if sum(1 for _ in gaps(course)) >= FEWEST)
    return bool(worked) and holed * 3 > len(worked) and scale.width_mm > 0

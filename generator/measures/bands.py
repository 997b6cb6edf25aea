"""Rounds as bands of fabric: how long, how high, how far from the middle, and how full compared with a flat piece."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import pi

from generator.fabric.model import Make, Part, Role
from generator.measures.course import CourseSize
from generator.measures.flatness import WALL, polygon_factor
from generator.measures.gauge import Scale
from generator.measures.surface import radius


@dataclass(frozen=True, slots=True)
class Start:
    """What the first round begins on."""

    radius: float = 0.0
    straight: float = 0.0
    """Straight middle of an oval, mm."""
    rounds_from: int = 0
    """Index of the first course that is a round."""
    tube: bool = False


def start_of(part: Part, courses: Sequence[CourseSize], scale: Scale) -> Start:
    """How the rounds begin: in an adjustable ring, in a ring of chains, along both sides of a chain, or as a tube."""
    first = next(c.index for c in courses if c.in_round)
    opening = part.courses[first]
    ring = sum(run.n for course in part.courses[: first + 1] for run in course.runs if run.role is Role.RING)
    if ring:  # the stitches that crowd into it stretch its chains to their own width
        joined_on = any(run.into.value == "stitch" and run.parent >= 0 and run.n > 1 for run in opening.runs)
        return Start(radius(ring * scale.width_mm), 0.0, first, tube=joined_on and opening.made >= ring)
    if first == 0:
        return Start()
    below = part.courses[first - 1]
    along = below.size if below.make is Make.FOUNDATION else below.live
    if below.make is not Make.FOUNDATION:
        return Start(0.0, 0.0, first)
    if along > 4 and opening.made >= 1.6 * (along - 1):
        return Start(0.0, (along - 2) * scale.width_mm, first)
    if along <= 4 and opening.made > along:  # worked into one chain, as in `ch 2, 6 sc in 2nd ch`
        return Start(0.0, 0.0, first)
    return Start(radius(along * scale.width_mm), 0.0, first, tube=True)


@dataclass(frozen=True, slots=True)
class Band:
    """One round. Lengths mm; the straight sides of an oval are left out of `around`."""

    size: CourseSize
    around: float
    slant: float
    out: float
    """Distance of its edge from the middle, along the fabric."""
    full: float
    """Its way round over that of a flat piece at `out`."""
    step: float
    """How much it widens over how much a flat round would: 1.0 flat, 0.0 a wall, negative closing."""
    wanted: float
    """Radius its way round asks for: of the round ends of an oval, of the inscribed circle of a polygon."""


def bands(worked: Sequence[CourseSize], start: Start, corners: int) -> Iterator[Band]:
    """The rounds of a part as bands, each standing on its own base."""
    factor, sides = polygon_factor(corners), 2 * start.straight
    known = {-1: Band(worked[0], 2 * pi * start.radius, 0.0, start.radius, 1.0, 0.0, start.radius)}
    for c in worked:
        below = known.get(c.base, known[-1])
        around, slant = _edge(c, below, start, factor, c is worked[-1])
        out = below.out + slant
        known[c.index] = Band(
            size=c,
            around=around,
            slant=slant,
            out=out,
            full=(around + sides) / (factor * out + sides) if out else 1.0,
            step=(around - below.around) / (factor * slant) if slant else 1.0,
            wanted=max(0.0, around) / factor,
        )
        yield known[c.index]


def _edge(c: CourseSize, below: Band, start: Start, factor: float, last: bool) -> tuple[float, float]:
    """Way round and height of a course. Arches reach as far as they are wanted; shells stand out without widening.

    Openwork under the shells may be a little short of a flat circle and is still pinned out flat, so what tells a
    wall from it is `WALL`, not the slack of close fabric.
    """
    around, slant = c.around - 2 * start.straight, c.tallest if last and c.tallest else c.height
    if c.scalloped:
        slant = c.tallest
        return (below.around + factor * slant if below.full >= WALL else below.around), slant
    if c.give:
        slant = min(max(slant, around / factor - below.out), slant + c.give)
    return around, slant

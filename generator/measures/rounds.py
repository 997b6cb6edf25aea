"""The form of a part worked in rounds: how it begins, where every round comes to stand, how the whole lies."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import pi, tan

from generator.fabric.model import Make, Part, Role
from generator.measures import stadium
from generator.measures.corners import corners
from generator.measures.course import CourseSize
from generator.measures.flatness import SLACK, WALL, fullness, polygon_factor, verdict
from generator.measures.gauge import Scale
from generator.measures.measured import CourseForm, Form, Lie, Profile, ProfilePoint, Shape
from generator.measures.surface import EASE, Ring, area, climb, radius, volume
from generator.notation.tree import Remark

CLOSED_STITCHES = 9
"""A last round of so few stitches is drawn together."""


@dataclass(frozen=True, slots=True)
class Start:
    """What the first round begins on."""

    radius: float = 0.0
    straight: float = 0.0
    """Straight middle of an oval, mm."""
    rounds_from: int = 0
    """Index of the first course that is a round."""
    tube: bool = False


def remarks(part: Part) -> frozenset[str]:
    """What the remarks of a part are about (`stuff`, `close`, `eyes`)."""
    return frozenset(step.act for line in part.lines for step in line.steps if isinstance(step, Remark) and step.act)


def start_of(part: Part, courses: Sequence[CourseSize], scale: Scale) -> Start:
    """How the rounds begin: in an adjustable ring, in a ring of chains, along both sides of a chain, or as a tube."""
    first = next(c.index for c in courses if c.in_round)
    opening = part.courses[first]
    ring = sum(run.n for course in part.courses[: first + 1] for run in course.runs if run.role is Role.RING)
    into_ring = any(run.into.value == "ring" for run in opening.runs)
    if first == 0 or into_ring:
        chains = ring or (sum(r.n for r in part.courses[0].runs if r.kind == "ch") if first and into_ring else 0)
        return Start(radius(chains * scale.free_chain()), 0.0, first)
    below = part.courses[first - 1]
    along = below.size if below.make is Make.FOUNDATION else below.live
    if opening.made >= 1.6 * (along - 1) and along > 1 and below.make is Make.FOUNDATION:
        return Start(0.0, max(0.0, (along - 2) * scale.width_mm), first)
    if below.make is Make.FOUNDATION and along <= 4 and opening.made > along:
        return Start(0.0, 0.0, first)
    if below.make is Make.FOUNDATION:
        return Start(radius(along * scale.width_mm), 0.0, first, tube=True)
    return Start(0.0, 0.0, first)


def form_in_rounds(part: Part, courses: Sequence[CourseSize], scale: Scale, stuffed: bool | None) -> Form:
    start = start_of(part, courses, scale)
    worked = [c for c in courses if c.index >= start.rounds_from and c.in_round]
    slants = [c.height for c in worked]
    if worked:
        slants[-1] = worked[-1].tallest or slants[-1]
    k = corners(part)
    full, steps = _fullness(worked, slants, start, k)
    lie, lie_from = (Lie.RISES, None) if start.tube else verdict(full, steps)
    acts = remarks(part)
    closed = worked[-1].stitches <= CLOSED_STITCHES and len(worked) > 2 and lie is Lie.RISES
    closed = closed or ("close" in acts and lie is Lie.RISES)
    filled = stuffed if stuffed is not None else ("stuff" in acts or (closed and not start.tube))
    flat = lie is not Lie.RISES and not _late_ruffle(lie, lie_from, full)
    rings = _rings(worked, slants, start, k)
    if flat:
        rings = [Ring(ring.radius, 0.0) for ring in _flat_rings(worked, slants, start, k)]
    elif not filled:
        rings = _flat_base(rings, full, steps)
    return _round_form(_Rounds(part, tuple(worked), tuple(slants), start, k, tuple(rings)), scale, lie, lie_from,
                       tuple(steps), flat, closed, filled and not flat)  # fmt: skip


def _late_ruffle(lie: Lie, lie_from: int | None, full: Sequence[float]) -> bool:
    """A frill on a thing that stands: ruffled only after it had walls."""
    return lie is Lie.RUFFLES and lie_from is not None and min(full[:lie_from], default=1.0) < WALL


def _stand(worked: Sequence[CourseSize], slants: Sequence[float]) -> list[float]:
    """Distance along the fabric from the beginning to the edge of each round, by what it stands on."""
    out: dict[int, float] = {}
    found = []
    for c, slant in zip(worked, slants, strict=True):
        out[c.index] = out.get(c.base, 0.0) + slant
        found.append(out[c.index])
    return found


def _fullness(
    worked: Sequence[CourseSize], slants: Sequence[float], start: Start, k: int
) -> tuple[list[float], list[float]]:
    factor = polygon_factor(k)
    around = [c.around - 2 * start.straight for c in worked]
    out = [start.radius + d for d in _stand(worked, slants)]
    before = {c.index: a for c, a in zip(worked, around, strict=True)}
    steps = []
    for c, a, slant in zip(worked, around, slants, strict=True):
        below = before.get(c.base, 2 * pi * start.radius)
        steps.append((a - below) / (factor * slant) if slant else 1.0)
    return list(fullness(around, out, k)), steps


def _wanted(worked: Sequence[CourseSize], start: Start, k: int) -> list[float]:
    """Radius each round would like: of the round end of an oval, of the inscribed circle of a polygon."""
    return [max(0.0, c.around - 2 * start.straight) / polygon_factor(k) for c in worked]


def _rings(worked: Sequence[CourseSize], slants: Sequence[float], start: Start, k: int) -> list[Ring]:
    """Beginning and edge of every round, each standing on its own base."""
    known: dict[int, Ring] = {}
    rings = [Ring(start.radius, 0.0)]
    for c, wanted, slant in zip(worked, _wanted(worked, start, k), slants, strict=True):
        base = known.get(c.base, rings[0])
        known[c.index] = next(climb(base, [(wanted, slant)]))
        rings.append(known[c.index])
    return rings


def _flat_rings(worked: Sequence[CourseSize], slants: Sequence[float], start: Start, k: int) -> list[Ring]:
    """Rings of a flat part: fabric settles between its way round and its height, at their geometric mean."""
    rings = [Ring(start.radius, 0.0)]
    for d, wanted in zip(_stand(worked, slants), _wanted(worked, start, k), strict=True):
        out = start.radius + d
        rings.append(Ring(out if wanted > out * EASE else (out * wanted) ** 0.5 if wanted else out, 0.0))
    return rings


def _flat_base(rings: list[Ring], full: Sequence[float], steps: Sequence[float]) -> list[Ring]:
    """Lets the base of an empty vessel lie flat when it ends in a sharp edge: a full round, then hardly any increase."""
    last = next((i for i, f in enumerate(full) if f < SLACK), len(full))
    edge = next((i for i in range(2, last + 1) if i < len(steps) and steps[i] <= 0.35 and full[i - 1] >= SLACK), None)
    if edge is None:
        return rings
    sunk = rings[edge].level
    return [Ring(r.radius, max(0.0, r.level - sunk) if i > edge else 0.0) for i, r in enumerate(rings)]


@dataclass(frozen=True, slots=True)
class _Rounds:
    """A part in rounds, laid out."""

    part: Part
    worked: tuple[CourseSize, ...]
    slants: tuple[float, ...]
    start: Start
    corners: int
    rings: tuple[Ring, ...]
    """Beginning first."""


def _course_lie(step: float) -> Lie:
    if step > EASE:
        return Lie.RUFFLES
    if step >= SLACK:
        return Lie.FLAT
    return Lie.CUPS if step >= 0.5 else Lie.RISES


def _round_form(
    laid: _Rounds, scale: Scale, lie: Lie, lie_from: int | None, steps: tuple[float, ...],
    flat: bool, closed: bool, stuffed: bool,
) -> Form:  # fmt: skip
    widest = max(ring.radius for ring in laid.rings)
    straight, k = laid.start.straight, laid.corners
    low = min(ring.level for ring in laid.rings)
    height = max(ring.level for ring in laid.rings) - low
    forms = tuple(
        CourseForm(c.index, c.around, ring.radius, slant, ring.level - low, _course_lie(step), c.yarn)
        for c, ring, slant, step in zip(laid.worked, laid.rings[1:], laid.slants, steps, strict=True)
    )
    points = [ProfilePoint(laid.rings[0].level - low, laid.rings[0].radius, laid.worked[0].yarn, -1)]
    points += [ProfilePoint(f.level_mm, f.radius_mm, f.yarn, f.index) for f in forms]
    across = 2 * widest
    return Form(
        shape=_shape(laid, flat, closed),
        basis=scale.basis,
        courses=forms,
        width_mm=across + straight,
        depth_mm=across,
        height_mm=0.0 if flat else height,
        circumference_mm=2 * straight + polygon_factor(k) * widest if flat else max(c.around for c in laid.worked),
        opening_mm=0.0 if flat or closed else laid.worked[-1].around,
        area_mm2=_area(laid, flat),
        volume_mm3=0.0 if flat else volume(laid.rings) + _oval_room(laid),
        lie=lie,
        lie_from=laid.worked[lie_from].index if lie_from is not None else None,
        corners=k,
        stuffed=stuffed,
        profile=Profile(tuple(points), flat, straight, k),
    )


def _shape(laid: _Rounds, flat: bool, closed: bool) -> Shape:
    if flat:
        return Shape.OVAL if laid.start.straight else Shape.POLYGON if laid.corners else Shape.DISC
    if laid.start.tube:
        return Shape.VESSEL if closed else Shape.TUBE
    return Shape.SOLID if closed else Shape.VESSEL


def _area(laid: _Rounds, flat: bool) -> float:
    """Area of the fabric, mm²: mantles of the rings; a flat polygon's or oval's own formula."""
    widest = max(ring.radius for ring in laid.rings)
    if flat and laid.corners:
        return laid.corners * tan(pi / laid.corners) * widest**2
    if flat and laid.start.straight:
        return stadium.area(laid.start.straight + 2 * widest, 2 * widest)
    walls = sum(2 * laid.start.straight * slant for slant in laid.slants) if laid.start.straight else 0.0
    return area(laid.rings) + walls


def _oval_room(laid: _Rounds) -> float:
    """Room in the straight middle of an oval vessel, mm³."""
    if not laid.start.straight:
        return 0.0
    return sum(laid.start.straight * (a.radius + b.radius) * abs(b.level - a.level) for a, b in pairwise(laid.rings))

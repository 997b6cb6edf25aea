"""The form of a part worked in rounds: where every round comes to stand, and how the whole lies."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import pi, tan

from generator.fabric.model import Part
from generator.measures import stadium
from generator.measures.bands import Band, Start, bands, start_of
from generator.measures.corners import corners
from generator.measures.course import CourseSize
from generator.measures.flatness import SLACK, WALL, polygon_factor, verdict
from generator.measures.gauge import Scale
from generator.measures.inflate import inflate
from generator.measures.measured import CourseForm, Form, Lie, Profile, ProfilePoint, Shape
from generator.measures.surface import EASE, Ring, area, climb, volume
from generator.notation.tree import Remark

CLOSED_STITCHES, CLOSED_SHARE = 9, 0.6
"""A last round of so few stitches, and so few of the widest round's, is drawn together."""
EDGE = 0.35
"""Share of a flat round's increase under which a round turns the corner from base to wall."""
RIM = 2
"""Last rounds of an open thing that are its rim rather than its body."""


def remarks(part: Part) -> frozenset[str]:
    """What the remarks of a part are about (`stuff`, `close`, `eyes`)."""
    return frozenset(step.act for line in part.lines for step in line.steps if isinstance(step, Remark) and step.act)


def form_in_rounds(part: Part, courses: Sequence[CourseSize], scale: Scale, stuffed: bool | None) -> Form:
    """Measures a part in rounds; `stuffed` as the header says, None when it doesn't."""
    start = start_of(part, courses, scale)
    k = corners(part)
    laid = tuple(bands([c for c in courses if c.index >= start.rounds_from and c.in_round], start, k))
    full, steps = [band.full for band in laid], [band.step for band in laid]
    lie, lie_from = (Lie.RISES, None) if start.tube else verdict(full, steps)
    frill = lie is Lie.RUFFLES and lie_from is not None and min(full[:lie_from], default=1.0) < WALL
    flat = lie is not Lie.RISES and not frill
    acts = remarks(part)
    closed = not flat and ("close" in acts or _drawn_in(laid))
    filled = not flat and stuffed is not False and ("stuff" in acts or (closed and (stuffed or not start.tube)))
    rings = (
        _flat_rings(laid, start)
        if flat
        else inflate(_rings(laid, start), [band.slant for band in laid], closed)
        if filled
        else _flat_base(laid, start)
    )
    body = lie_from if frill else len(laid) - RIM if not closed and not flat and len(laid) > 3 * RIM else len(laid)
    return _round_form(
        _Rounds(laid, start, k, tuple(rings), body or len(laid)), scale, lie, lie_from, flat, closed, filled
    )


def _drawn_in(laid: Sequence[Band]) -> bool:
    widest = max(band.size.stitches for band in laid)
    last = laid[-1].size.stitches
    return len(laid) > 2 and last <= CLOSED_STITCHES and last <= CLOSED_SHARE * widest


def _rings(laid: Sequence[Band], start: Start) -> list[Ring]:
    """Beginning and edge of every round in space, each standing on its own base."""
    known: dict[int, Ring] = {}
    rings = [Ring(start.radius, 0.0)]
    for band in laid:
        base = known.get(band.size.base, rings[0])
        known[band.size.index] = next(climb(base, [(band.wanted, band.slant)]))
        rings.append(known[band.size.index])
    return rings


def _flat_rings(laid: Sequence[Band], start: Start) -> list[Ring]:
    """Rings of a flat part: fabric settles between its way round and its height, at their geometric mean."""
    rings = [Ring(start.radius, 0.0)]
    for band in laid:
        fits = band.wanted and band.wanted <= band.out * EASE
        rings.append(Ring((band.out * band.wanted) ** 0.5 if fits else band.out, 0.0))
    return rings


def _flat_base(laid: Sequence[Band], start: Start) -> list[Ring]:
    """Rings of an empty vessel; its base lies flat when it ends in a sharp edge: full rounds, then hardly any increase."""
    rings = _rings(laid, start)
    edge = next((i for i in range(2, len(laid)) if laid[i].step <= EDGE), None)
    if edge is None or any(band.full < SLACK for band in laid[:edge]):
        return rings
    sunk = rings[edge].level
    return [Ring(ring.radius, ring.level - sunk if i > edge else 0.0) for i, ring in enumerate(rings)]


@dataclass(frozen=True, slots=True)
class _Rounds:
    """A part in rounds, laid out."""

    bands: tuple[Band, ...]
    start: Start
    corners: int
    rings: tuple[Ring, ...]
    """Beginning first."""
    body: int
    """Rounds that count for its width; frills and rims come after."""


def _course_lie(step: float) -> Lie:
    if step > EASE:
        return Lie.RUFFLES
    if step >= SLACK:
        return Lie.FLAT
    return Lie.CUPS if step >= 0.5 else Lie.RISES


def _round_form(
    laid: _Rounds, scale: Scale, lie: Lie, lie_from: int | None, flat: bool, closed: bool, stuffed: bool
) -> Form:  # fmt: skip
    widest = max(ring.radius for ring in laid.rings[: laid.body + 1])
    straight, k = laid.start.straight, laid.corners
    frilled = lie is Lie.RUFFLES and not flat
    rings = laid.rings if flat or frilled else tuple(Ring(min(r.radius, widest), r.level) for r in laid.rings)
    low = min(ring.level for ring in laid.rings)
    height = max(ring.level for ring in laid.rings) - low
    forms = tuple(
        CourseForm(
            b.size.index, b.size.around, ring.radius, b.slant, ring.level - low, _course_lie(b.step), b.size.yarn
        )
        for b, ring in zip(laid.bands, rings[1:], strict=True)
    )
    half = straight / 2
    points = [ProfilePoint(rings[0].level - low, rings[0].radius + half, laid.bands[0].size.yarn, -1)]
    points += [ProfilePoint(f.level_mm, f.radius_mm + half, f.yarn, f.index) for f in forms]
    across = 2 * widest
    return Form(
        shape=_shape(laid, flat, closed),
        basis=scale.basis,
        courses=forms,
        width_mm=across + straight,
        depth_mm=across,
        height_mm=0.0 if flat else height,
        circumference_mm=2 * straight + polygon_factor(k) * widest
        if flat
        else max(b.size.around for b in laid.bands[: laid.body]),
        opening_mm=0.0 if flat or closed else _mouth(laid.bands),
        area_mm2=_area(laid, flat),
        volume_mm3=0.0 if flat else volume(laid.rings) + _oval_room(laid),
        lie=lie,
        lie_from=laid.bands[lie_from].size.index if lie_from is not None else None,
        corners=k,
        stuffed=stuffed,
        profile=Profile(tuple(points), flat, straight, k),
    )


def _mouth(laid: Sequence[Band]) -> float:
    """Way round the open end; a scalloped edge is longer than the mouth it stands on."""
    return next((band.size.around for band in reversed(laid) if not band.size.scalloped), laid[-1].size.around)


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
    walls = sum(2 * laid.start.straight * b.slant for b in laid.bands) if laid.start.straight else 0.0
    return area(laid.rings) + walls


def _oval_room(laid: _Rounds) -> float:
    """Room in the straight middle of an oval vessel, mm³."""
    if not laid.start.straight:
        return 0.0
    return sum(laid.start.straight * (a.radius + b.radius) * abs(b.level - a.level) for a, b in pairwise(laid.rings))

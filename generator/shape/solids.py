"""Named forms as profiles: ball, egg, capsule, cone, tube, disc, bowl, ring, bell, oval-based box, hat.

Each maker takes sizes in millimetres (see `FORMS` for which) and gives the outline in its usual order of working.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from math import cos, pi, sin

from generator.shape.profile import Point, Profile

FINE = 96
"""Pieces a curve is cut into; the error is below a thousandth of its radius."""
EGG = 0.16
"""How much an egg leans towards its blunt end: 0 would be an ellipsoid."""
HAT = 0.4
"""Height of a hat, from the middle of the crown to the edge along the fabric, as a share of the way round
(hookthatyarn.wordpress.com/2016/06/09/how-to-size-a-hat/: 0.4 x circumference; crown diameter = circumference / pi)."""

Sizes = Mapping[str, float]


def _arc(centre: Point, across: float, up: float, start: float, end: float) -> Iterator[Point]:
    """Part of an ellipse; angles in quarter turns, 0 straight down, 1 outwards, 2 straight up."""
    for i in range(FINE + 1):
        angle = (start + (end - start) * i / FINE) * pi / 2
        yield max(0.0, centre[0] + across * sin(angle)), centre[1] - up * cos(angle)


def _bezier(a: Point, b: Point, c: Point, d: Point) -> Iterator[Point]:
    for i in range(FINE + 1):
        t = i / FINE
        u = 1 - t
        k = (u**3, 3 * u * u * t, 3 * u * t * t, t**3)
        yield (
            sum(w * p[0] for w, p in zip(k, (a, b, c, d), strict=True)),
            sum(w * p[1] for w, p in zip(k, (a, b, c, d), strict=True)),
        )


def _line(*runs: Iterator[Point] | tuple[Point, ...], solid: bool = False, sewn: bool = False) -> Profile:
    points: list[Point] = []
    for run in runs:
        for r, z in run:
            point = (0.0 if r < 1e-9 else r, z)
            if not points or point != points[-1]:
                points.append(point)
    return Profile(tuple(points), solid=solid, sewn=sewn)


def ball(sizes: Sizes) -> Profile:
    """A sphere."""
    r = sizes["width"] / 2
    return _line(_arc((0.0, r), r, r, 0, 2), solid=True)


def egg(sizes: Sizes) -> Profile:
    """An egg on its blunt end."""
    half, high = sizes["width"] / 2, sizes["height"]
    raw = []
    for i in range(FINE * 2 + 1):
        angle = pi * i / (FINE * 2)
        raw.append((sin(angle) * (1 + EGG * cos(angle)), high / 2 * (1 - cos(angle))))
    widest = max(r for r, _ in raw)
    return _line(tuple((r / widest * half, z) for r, z in raw), solid=True)


def capsule(sizes: Sizes) -> Profile:
    """A tube with half a ball at either end."""
    r, high = sizes["width"] / 2, sizes["height"]
    return _line(_arc((0.0, r), r, r, 0, 1), _arc((0.0, high - r), r, r, 1, 2), solid=True)


def cone(sizes: Sizes) -> Profile:
    """From the tip to the open wide end."""
    return _line(((0.0, 0.0), (sizes["width"] / 2, sizes["height"])))


def tube(sizes: Sizes) -> Profile:
    """Open at both ends."""
    return _line(((sizes["width"] / 2, 0.0), (sizes["width"] / 2, sizes["height"])))


def disc(sizes: Sizes) -> Profile:
    """Flat and round."""
    return _line(((0.0, 0.0), (sizes["width"] / 2, 0.0)))


def bowl(sizes: Sizes) -> Profile:
    """Half a ball (or half an ellipsoid), open at the top."""
    return _line(_arc((0.0, sizes["height"]), sizes["width"] / 2, sizes["height"], 0, 1))


def ring(sizes: Sizes) -> Profile:
    """A ring like a bracelet or a wreath, begun at its inner edge and sewn to itself."""
    thick = sizes["thickness"] / 2
    middle = sizes["width"] / 2 - thick
    points = []
    for i in range(4 * FINE + 1):
        angle = 2 * pi * i / (4 * FINE)
        points.append((middle - thick * cos(angle), -thick * sin(angle)))
    return _line(tuple(points), solid=True, sewn=True)


def bell(sizes: Sizes) -> Profile:
    """From the crown down to the flared mouth (turned over: the crown lies at level 0)."""
    mouth, high = sizes["width"] / 2, sizes["height"]
    shoulder = 0.66 * mouth
    crown = _arc((0.0, 0.3 * high), shoulder, 0.3 * high, 0, 1)
    flare = _bezier((shoulder, 0.3 * high), (shoulder, 0.7 * high), (0.76 * mouth, 0.92 * high), (mouth, high))
    return _line(crown, flare)


def box(sizes: Sizes) -> Profile:
    """A flat oval base with upright walls."""
    r = sizes["width"] / 2
    form = _line(((0.0, 0.0), (r, 0.0), (r, sizes["height"])))
    return replace(form, straight_mm=sizes["length"] - sizes["width"])


def hat(sizes: Sizes) -> Profile:
    """A flat crown as wide as the head, then straight down."""
    r = sizes["circumference"] / (2 * pi)
    wall = sizes["height"] - r
    return _line(((0.0, 0.0), (r, 0.0), (r, wall)))


def frill(sizes: Sizes) -> Profile:
    """Flat as far as its depth goes; that it grows past lying flat is the planner's business (see `frill`)."""
    return _line(((0.0, 0.0), (sizes["height"], 0.0)))


@dataclass(frozen=True, slots=True)
class Form:
    """A named form: what makes it, the sizes it needs, and those it can do without (with how they follow)."""

    make: Callable[[Sizes], Profile]
    needs: tuple[str, ...]
    default: tuple[tuple[str, str, float], ...] = ()
    """A size left out, the size it follows from, and how many times that."""


FORMS: Mapping[str, Form] = {
    "ball": Form(ball, ("width",), (("width", "height", 1.0),)),
    "egg": Form(egg, ("width", "height"), (("width", "height", 0.74), ("height", "width", 1.35))),
    "capsule": Form(capsule, ("width", "height")),
    "cone": Form(cone, ("width", "height")),
    "tube": Form(tube, ("width", "height")),
    "disc": Form(disc, ("width",)),
    "bowl": Form(bowl, ("width", "height"), (("height", "width", 0.5),)),
    "ring": Form(ring, ("width", "thickness")),
    "bell": Form(bell, ("width", "height")),
    "box": Form(box, ("length", "width", "height")),
    "frill": Form(frill, ("height",)),
    "hat": Form(hat, ("circumference", "height"), (("height", "circumference", HAT),)),
}
"""Every form by the word that asks for it."""


def lid(profile: Profile, bottom: bool, top: bool) -> Profile:
    """The profile with its open ends closed flat."""
    points = profile.points
    if bottom and not profile.closed_start:
        points = ((0.0, points[0][1]), *points)
    if top and not profile.closed_end:
        points = (*points, (0.0, points[-1][1]))
    whole = points[0][0] == 0.0 and points[-1][0] == 0.0
    return Profile(points, profile.straight_mm, profile.sewn, profile.solid or (whole and not profile.straight_mm))

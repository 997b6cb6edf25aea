"""Things begun at the crown: their height is measured from the crown along the fabric to the edge, and they hang down."""

from dataclasses import replace
from math import sqrt

from generator.measures.measured import Form, Profile, ProfilePoint, Shape


def laid_flat(form: Form) -> Form:
    """A hat as its designer measures it: height along the fabric, outline with the crown at the top and rounded.

    A flat crown of radius R takes R of the height, as half a hat lying on a table shows.
    """
    if form.shape is not Shape.VESSEL or not form.courses:
        return form
    crown = next((i for i, c in enumerate(form.courses) if c.level_mm > 0), len(form.courses))
    depths: list[float] = []
    for course in form.courses:
        depths.append((depths[-1] if depths else 0.0) + course.slant_mm)
    total = depths[-1]
    top = depths[crown - 1] if crown else 0.0
    rim = max((course.radius_mm for course in form.courses[:crown]), default=0.0)
    points = [ProfilePoint(total, 0.0, form.courses[0].yarn, -1)]
    for i, (course, depth) in enumerate(zip(form.courses, depths, strict=True)):
        down = _dome(course.radius_mm / rim, top) if i < crown and rim else depth
        points.append(ProfilePoint(total - down, course.radius_mm, course.yarn, course.index))
    profile = Profile(tuple(points), form.profile.flat, form.profile.straight_mm, form.profile.corners)
    return replace(form, height_mm=total, profile=profile)


def _dome(share: float, height: float) -> float:
    """How far below the top a quarter ellipse is at that share of its radius."""
    return height * (1 - sqrt(max(0.0, 1 - min(1.0, share) ** 2)))

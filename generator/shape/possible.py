"""From a request to a profile that can be worked, or a finding that says what is possible nearest to it."""

from collections.abc import Iterator, Mapping
from itertools import pairwise

from generator.diagnostics.record import Checked, Finding, Severity
from generator.shape.hand import Hand
from generator.shape.profile import NOTHING_MM, Point, Profile
from generator.shape.request import FREE, WHERE, Request
from generator.shape.solids import FORMS, lid
from generator.source import Span

ROUNDS = 400
"""Most rounds in a plan."""
STITCHES = 3000
"""Most stitches in a planned round."""


def profile_of(request: Request) -> Checked[Profile | None]:
    """The outline asked for, in its order of working; None where it can't be made.

    Gives `shape-size-missing`, `shape-impossible` and `shape-crosses-itself`.
    """
    if request.form in FREE:
        return _free(request)
    form = FORMS.get(request.form)
    if form is None:
        return Checked(None)
    sizes = dict(request.sizes)
    for name, other, times in form.default:
        if name not in sizes and other in sizes:
            sizes[name] = sizes[other] * times
    missing = [name for name in form.needs if name not in sizes]
    if missing:
        told = [name for name in missing if f"{WHERE}.{name}" in request.spans]  # its wrong value was told already
        finding = _finding(
            "shape-size-missing", f"a {request.form} needs its {' and its '.join(missing)}", _span(request, "form"),
            "; ".join(f"{name}: {6 + 2 * i} cm" for i, name in enumerate(missing)),
        )  # fmt: skip
        return Checked(None, () if told else (finding,))
    if wrong := next(_contradictions(request, sizes), None):
        return Checked(None, (wrong,))
    return _ends(request, form.make(sizes))


def _finding(rule: str, message: str, span: Span, fits: str, severity: Severity = Severity.ERROR) -> Finding:
    return Finding(rule, severity, message, span, fits)


def _span(request: Request, *names: str) -> Span:
    return next((request.spans[f"{WHERE}.{name}"] for name in names if f"{WHERE}.{name}" in request.spans), Span(0, 0))


def _cm(mm: float) -> str:
    return f"{mm / 10:.1f}".rstrip("0").rstrip(".") + " cm"


def _contradictions(request: Request, sizes: Mapping[str, float]) -> Iterator[Finding]:
    """Sizes that no form of that name has."""

    def no(message: str, name: str, mm: float) -> Finding:
        return _finding("shape-impossible", message, _span(request, name, "form"), f"{name}: {_cm(mm)}")

    form = request.form
    if form == "capsule" and sizes["height"] < sizes["width"]:
        yield no(f"a capsule {_cm(sizes['width'])} across can't be lower than a ball", "height", sizes["width"])
    if form == "ring" and 2 * sizes["thickness"] >= sizes["width"]:
        message = f"a ring {_cm(sizes['thickness'])} thick has no hole when it is {_cm(sizes['width'])} across"
        yield no(message, "thickness", sizes["width"] / 3)
    if form == "box" and sizes["length"] <= sizes["width"]:
        yield no("an oval base is longer than it is wide", "length", sizes["width"] * 1.5)
    if form == "hat" and sizes["height"] <= sizes["circumference"] / 6.2831853:
        yield no("the crown alone is higher than the whole hat", "height", sizes["circumference"] * 0.4)
    if form == "box" and request.stitch in ("hdc", "dc"):
        message = f"an oval base is planned in sc only, not in {request.stitch}"
        yield _finding("shape-impossible", message, _span(request, "stitch"), "stitch: sc")


def _ends(request: Request, profile: Profile) -> Checked[Profile | None]:
    """The profile with its ends closed or opened as asked; an opening is cut where the outline is that wide."""
    closed = lid(profile, request.bottom == "closed", request.top == "closed")
    points = closed.points
    wide = request.sizes.get("opening", closed.widest()) / 2
    cut_top = request.top == "open" or ("opening" in request.sizes and request.bottom != "open")
    cut_bottom = request.bottom == "open"
    if "opening" in request.sizes and wide >= closed.widest():
        message = f"an opening of {_cm(2 * wide)} is wider than the piece"
        fits = f"opening: {_cm(closed.widest())}"
        return Checked(None, (_finding("shape-impossible", message, _span(request, "opening"), fits),))
    if cut_top and closed.closed_end:
        points = _cut(points, wide)
    if cut_bottom and closed.closed_start:
        points = tuple(reversed(_cut(tuple(reversed(points)), wide)))
    solid = closed.solid and points == closed.points
    return Checked(Profile(points, closed.straight_mm, closed.sewn, solid))


def _cut(points: tuple[Point, ...], radius: float) -> tuple[Point, ...]:
    """The outline up to where it last has that radius on its way in to the axis."""
    for i in range(len(points) - 1, 0, -1):
        (r0, z0), (r1, z1) = points[i - 1], points[i]
        if r0 >= radius > r1:
            part = (r0 - radius) / (r0 - r1)
            return (*points[:i], (radius, z0 + (z1 - z0) * part))
    return points


def _free(request: Request) -> Checked[Profile | None]:
    points, where = request.points, _span(request, "points", "form")
    if len(points) < 2:
        finding = _finding(
            "shape-size-missing", "a free form needs its outline", where, "points: 0 x 0, 3 x 0, 4.5 x 2, 3 x 6 cm"
        )
        return Checked(None, () if f"{WHERE}.points" in request.spans else (finding,))
    points = _sized(points, request.sizes)
    inner = [i for i, (r, _) in enumerate(points[1:-1], 1) if r <= NOTHING_MM]
    if inner:
        message = f"the outline comes back to the axis in the middle, at {_cm(points[inner[0]][1])}"
        return Checked(None, (_finding("shape-impossible", message, where, "two parts, one above the other"),))
    if crossing := _crossing(points):
        message = f"the outline crosses itself near {_cm(crossing[0])} from the axis, {_cm(crossing[1])} up"
        fits = "points in the order of working, each round further along the outline"
        return Checked(None, (_finding("shape-crosses-itself", message, where, fits),))
    if Profile(points).length <= NOTHING_MM:
        return Checked(None, (_finding("shape-impossible", "the outline has no length", where, "two points apart"),))
    whole = points[0][0] <= NOTHING_MM and points[-1][0] <= NOTHING_MM
    return _ends(request, Profile(points, solid=whole))


def _sized(points: tuple[Point, ...], sizes: Mapping[str, float]) -> tuple[Point, ...]:
    """Drawn points brought to the height or width asked for, keeping proportions."""
    levels = [z for _, z in points]
    high, wide = max(levels) - min(levels), 2 * max(r for r, _ in points)
    if "height" in sizes and high > 0:
        factor = sizes["height"] / high
    elif "width" in sizes and wide > 0:
        factor = sizes["width"] / wide
    else:
        return points
    return tuple((r * factor, z * factor) for r, z in points)


def _crossing(points: tuple[Point, ...]) -> Point | None:
    """Where two pieces of the outline cross, if they do."""
    pieces = list(pairwise(points))
    for i, (a, b) in enumerate(pieces):
        for c, d in pieces[i + 2 :]:
            if max(a[0], b[0]) < min(c[0], d[0]) or max(c[0], d[0]) < min(a[0], b[0]):
                continue
            first, second = _side(c, d, a), _side(c, d, b)
            if first * second < 0 and _side(a, b, c) * _side(a, b, d) < 0:
                part = first / (first - second)
                return a[0] + (b[0] - a[0]) * part, a[1] + (b[1] - a[1]) * part
    return None


def _side(a: Point, b: Point, p: Point) -> float:
    return (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])


def too_small_or_large(request: Request, profile: Profile, hand: Hand) -> Finding | None:
    """A form that one round already overshoots, or that nobody would live to finish."""
    narrow = hand.stitches(profile.widest()) < 5
    sizes = ("width", "height") if narrow else ("height", "width")
    where = _span(request, *sizes, "circumference", "points", "form")
    if profile.length < 1.5 * hand.height or narrow:
        least = max(2 * hand.height, 4 * hand.radius(6))
        message = f"too small for this gauge: one round of {hand.stitch} is {hand.height:.1f} mm high"
        return _finding("shape-impossible", message, where, f"about {_cm(least)} or more, or a finer yarn")
    rounds, stitches = profile.length / hand.height, hand.stitches(profile.widest())
    if rounds > ROUNDS or stitches > STITCHES:
        message = f"about {rounds:.0f} rounds of up to {stitches:.0f} stitches are more than this plans"
        factor = min(ROUNDS / rounds, STITCHES / stitches) * 0.95
        return _finding("shape-impossible", message, where, f"at most {_cm(2 * profile.widest() * factor)} across")
    return None

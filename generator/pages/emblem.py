"""The drawn cover: the piece itself as a plan, one ring a round, one dash a stitch, in its own yarns.

It stands in where there is no photo. Nothing in it is made up: a ring has as many dashes as the round has live
stitches, and is as wide as its stitches are tall. Rows are lines instead of rings. y grows downwards.
"""

import math
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from markupsafe import Markup

from generator.fabric.model import Course, Fabric, Make, Part
from generator.measures.colour import contrast
from generator.vocabulary.load import is_stitch, stitch

SIZE = 600
"""Edge of the square drawing, in its own units."""
_REACH = 272.0
_MOST = 72
"""Rings drawn at most; longer works are thinned evenly, since a ring under 3 units cannot be seen."""


@dataclass(frozen=True, slots=True)
class Ring:
    """One course of the plan: height in chain lengths, dashes, colour."""

    height: float
    stitches: int
    colour: str
    creep: float = 0.0
    """Stitches by which its start has moved from the ring below: half a one in a spiral, where a stitch stands
    between two below it; none where rounds are joined."""


def rings(part: Part, colours: Mapping[str, str], spare: str) -> tuple[Ring, ...]:
    """The plan of one part, first course first."""
    drawn = [
        Ring(_height(course), max(course.live, 1), _colour(course, colours, spare), 0.5 * (course.make is Make.SPIRAL))
        for course in part.courses
        if course.live > 0 or course.runs
    ]
    if len(drawn) <= _MOST:
        return tuple(drawn)
    return tuple(drawn[round(i * (len(drawn) - 1) / (_MOST - 1))] for i in range(_MOST))


def _height(course: Course) -> float:
    heights = [stitch(run.kind).height for run in course.runs if is_stitch(run.kind) and stitch(run.kind).counts]
    return min(max(max(heights, default=1.0), 0.6), 5.0)


def _colour(course: Course, colours: Mapping[str, str], spare: str) -> str:
    """The yarn that made most of the course."""
    tally: Counter[str] = Counter()
    for run in course.runs:
        tally[run.yarn] += run.n
    return colours.get(tally.most_common(1)[0][0], spare) if tally else spare


def main_part(fabric: Fabric) -> Part | None:
    """The part that says most of the piece: the one with the most stitches."""
    return max(fabric.parts, key=lambda part: part.count(), default=None)


def emblem(fabric: Fabric, colours: Mapping[str, str]) -> str:
    """The inside of the drawing (no `<svg>` around it), 600 by 600."""
    part = main_part(fabric)
    spare = next(iter(colours.values()), "#7d8a86")
    if part is None:
        return ""
    plan = rings(part, colours, spare)
    if not plan:
        return ""
    rows = sum(course.make is Make.ROW for course in part.courses) * 2 > len(part.courses)
    return _rows(plan) if rows else _rings(plan)


def _rings(plan: Sequence[Ring]) -> str:
    unit = _REACH / (sum(ring.height for ring in plan) + 1.2)
    radius = unit * 1.2
    out = [f'<circle cx="300" cy="300" r="{_n(unit * 0.7)}" fill="none" stroke="{plan[0].colour}" stroke-width="3"/>']
    turn = -90.0
    for ring in plan:
        turn += 360 * ring.creep / ring.stitches
        wide = ring.height * unit
        middle = radius + wide / 2
        gap = 0.16 if ring.stitches < 40 else 0.22
        out.append(
            f'<circle cx="300" cy="300" r="{_n(middle)}" fill="none" stroke="{ring.colour}" '
            f'stroke-width="{_n(max(wide * 0.8, 1.2))}" '
            f'stroke-dasharray="{_dashes(math.tau * middle / ring.stitches, gap)}" transform="rotate({_n(turn % 360)} 300 300)"/>'
        )
        radius += wide
    return "".join(out)


def _rows(plan: Sequence[Ring]) -> str:
    widest = max(ring.stitches for ring in plan)
    unit = 2 * _REACH / sum(ring.height for ring in plan)
    y = 300 + _REACH
    out = []
    for ring in plan:
        tall = ring.height * unit
        wide = 2 * _REACH * ring.stitches / widest
        y -= tall
        middle = _n(y + tall / 2)
        out.append(
            f'<path d="M{_n(300 - wide / 2)} {middle}h{_n(wide)}" fill="none" stroke="{ring.colour}" '
            f'stroke-width="{_n(tall * 0.78)}" stroke-dasharray="{_dashes(wide / ring.stitches, 0.18)}"/>'
        )
    return "".join(out)


def _dashes(stitch_width: float, gap: float) -> str:
    """Dash and gap of one stitch; thousandths, since a long round adds up every rounding."""
    return f"{stitch_width * (1 - gap):.3f} {stitch_width * gap:.3f}"


def _n(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".")


def mix(a: str, b: str, share: float) -> str:
    """`share` of colour `a` in colour `b`, both `#rrggbb`."""
    pairs = ((int(a[i : i + 2], 16), int(b[i : i + 2], 16)) for i in (1, 3, 5))
    return "#" + "".join(f"{round(x * share + y * (1 - share)):02x}" for x, y in pairs)


_GROUNDS = ("#f3efe6", "#c9c3b2", "#8d9793", "#46524f", "#27332f")
_ENOUGH = 1.4
"""Contrast of a yarn to its ground from which broad shapes are plainly seen; for pictures, not for text."""


def ground(colours: Mapping[str, str]) -> str:
    """A quiet ground, tinted by the first yarn, on which every yarn can be seen: pale where that will do."""
    yarns = list(colours.values()) or ["#7d8a86"]
    grounds = [mix(yarns[0], base, 0.13) for base in _GROUNDS]
    least = [min(contrast(yarn, one) for yarn in yarns) for one in grounds]
    return grounds[0] if least[0] >= _ENOUGH else grounds[least.index(max(least))]


def disc(fabric: Fabric, colours: Mapping[str, str]) -> str:
    """The inside of the drawing on a round ground of its own, for a page of any colour."""
    return f'<circle cx="300" cy="300" r="297" fill="{ground(colours)}"/>{emblem(fabric, colours)}'


def drawing(fabric: Fabric, colours: Mapping[str, str], title: str) -> str:
    """The drawing as a document without a ground, to be set into another picture."""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {SIZE} {SIZE}" width="{SIZE}" height="{SIZE}">'
        f"<title>{Markup.escape(title)}</title>{emblem(fabric, colours)}</svg>"
    )


def cover(fabric: Fabric, colours: Mapping[str, str], title: str) -> str:
    """The drawing as a file of its own."""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {SIZE} {SIZE}" width="{SIZE}" height="{SIZE}" role="img">'
        f"<title>{Markup.escape(title)}</title>"
        f'<rect width="{SIZE}" height="{SIZE}" fill="{ground(colours)}"/>{emblem(fabric, colours)}</svg>\n'
    )

"""The table of chart kinds, and the one way to ask for a drawing."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType

from generator.charts.begun import asked_of, numbered_back, parted
from generator.charts.kinds import band, drift, edge, ring, rows, silhouette, strip, wedge
from generator.charts.marks import Drawing, mirrored
from generator.charts.options import ChartOptions
from generator.charts.pieces import alone, numbered_on, one_under_another, options_of, pieces_of
from generator.fabric.model import Make, Part

KINDS: Mapping[str, Callable[[Part, ChartOptions], Drawing]] = MappingProxyType(
    {
        "ring": ring.draw,
        "rows": rows.draw,
        "band": band.draw,
        "strip": strip.draw,
        "silhouette": silhouette.draw,
        "edge": edge.draw,
        "drift": drift.draw,
        "wedge": wedge.draw,
    }
)


TUBE = 0.5
"""Share of rounds worked even from which a band chart is offered."""


SHOWS_STITCHES = frozenset({"ring", "rows", "band"})
"""Kinds in which several pieces of one part are drawn one under the other."""

MIRRORED = frozenset({"ring", "rows", "band", "edge", "drift", "wedge"})
"""Kinds that differ between the hands."""


def draw(part: Part, kind: str, options: ChartOptions) -> Drawing:
    """A chart of the part; mirrored for the left hand where asked.

    Raises:
        KeyError: no such kind; ask `kinds_for` first.
    """
    if not part.count():
        return Drawing(kind, (0.0, 0.0, 4.0, 2.0), (), (), (), (), options.title, options.description)
    pieces = pieces_of(part) if kind in SHOWS_STITCHES else ((0, 0),)
    drawing = _drawn(part, kind, options) if len(pieces) == 1 else _each(part, pieces, kind, options)
    mirror = options.left_handed and kind in MIRRORED
    return for_the_left_hand(drawing) if mirror else drawing


def _drawn(part: Part, kind: str, options: ChartOptions) -> Drawing:
    whole = parted(part)
    return KINDS[kind](part, options) if whole is part else numbered_back(KINDS[kind](whole, asked_of(options)))


def _each(part: Part, pieces: Sequence[tuple[int, int]], kind: str, options: ChartOptions) -> Drawing:
    """Every piece as suits it: in the kind asked for, or else in the first of its own."""
    drawings = []
    for first, last in pieces:
        piece = alone(part, first, last)
        own = kinds_for(piece)
        if not own:
            continue
        drawing = _drawn(piece, kind if kind in own else own[0], options_of(options, first, last))
        base = next(course.first for course in part.courses[first:last] if course.runs)
        drawings.append(numbered_on(drawing, first, base))
    return one_under_another(kind, drawings, options)


def for_the_left_hand(drawing: Drawing) -> Drawing:
    """The mirror image, its words still readable."""
    left, top, width, tall = drawing.box
    return replace(
        drawing,
        box=(-left - width, top, width, tall),
        ground=tuple(mirrored(p) for p in drawing.ground),
        groups=tuple(replace(g, pieces=tuple(mirrored(p) for p in g.pieces)) for g in drawing.groups),
        front=tuple(mirrored(p) for p in drawing.front),
        left_handed=True,
    )


def kinds_for(part: Part) -> tuple[str, ...]:
    """Sensible kinds for a part, best first; empty when nothing was worked."""
    courses = [c for c in part.courses if c.runs]
    if not courses:
        return ()
    in_rounds = any(c.make in (Make.SPIRAL, Make.JOINED) for c in courses)
    flat = any(c.make is Make.ROW for c in courses) or not in_rounds
    yarns = {run.yarn for c in courses for run in c.runs if run.yarn}
    strip = ("strip",) if len(yarns) > 1 else ()
    if flat:
        return ("rows", *strip)
    return ("ring", *(("band",) if _is_tube(part) else ()), *strip, "silhouette")


def _is_tube(part: Part) -> bool:
    """Whether enough of the work goes up instead of out for an unrolled drawing to say more than a ring."""
    rounds = [c for c in part.courses if c.make in (Make.SPIRAL, Make.JOINED) and c.live and not c.extra]
    even = sum(1 for c in rounds if c.live == c.below)
    chains = any(kind.startswith("sp:") for c in rounds for kind, _ in c.kinds)
    return even >= TUBE * len(rounds) and not chains

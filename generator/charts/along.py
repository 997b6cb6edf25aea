"""Along the rounds: every stitch over what it is worked into, with even spacing."""

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from generator.charts.equations import Equations
from generator.charts.foundations import stand_on_chain
from generator.charts.frames import Stadium
from generator.charts.layout import Layout, round_ends
from generator.charts.nodes import FAN, Sort, natural_width
from generator.charts.points import seat_along
from generator.charts.posts import Post
from generator.fabric.model import Make

OPEN, UNROLLED = 2.5, 8.0
"""Even spacing counts this much more in rows and in unrolled rounds: there the work may be as long as it needs."""
CLOSE, BESIDE = 3.0, 0.3
"""The stitches of a fan keep together: room that is over goes beside the fan."""
ASIDE = 0.5
"""How far before its first stitch a beginning chain stands that takes no room."""
SEAM = 1.5
"""Room beside an uncounted beginning counts this much more than even spacing: it must not run into its neighbours."""
ASIDE_OF_FAN = 0.06
"""In rows a fan stands over its place, and what is over beside it is left free."""


def place_along(layout: Layout, seams: Sequence[float], posts: Sequence[Post]) -> NDArray[np.float64]:
    graph, frame = layout.graph, layout.frame
    equations = Equations(len(graph.nodes))
    scale = dict.fromkeys(layout.shown, 1.0)
    layout.scale = scale
    unrolled = not any(layout.part.courses[c].make is Make.ROW for c in layout.shown)
    widest = max(natural_width(layout.graph, c, 0.0) for c in layout.shown)
    for c in layout.shown:
        if frame.closed:
            girth = frame.girth(layout.level[c]) - seams[c]
            scale[c] = girth / max(natural_width(layout.graph, c, 0.0), 1e-6)
        elif unrolled:  # every round is as wide as the widest
            scale[c] = widest / max(natural_width(layout.graph, c, 0.0), 1e-6)
    own = _own_scales(layout, frame, seams) if isinstance(frame, Stadium) else {}
    for a, b, c, turns in layout.links():
        here, there = graph.nodes[a], graph.nodes[b]
        if isinstance(frame, Stadium) and layout.part.courses[c].make is Make.FOUNDATION:
            continue  # the chain lies where it lies
        wide = here.width * own.get(a, scale[c]) + there.width * own.get(b, scale[c])
        gap = wide / 2 + (seams[c] if turns else 0.0)
        if layout.slope:
            gap /= math.hypot(1.0, layout.slope_between(a, b))
        stretch = frame.stretch((layout.z[a] + layout.z[b]) / 2, layout.level[c])
        step = layout.direction[c] * gap / stretch
        if isinstance(frame, Stadium):  # from a side round the end the way along is longer in z
            step = frame.onward(layout.z[a], layout.level[c], layout.direction[c] * gap) - layout.z[a]
            stretch = gap / max(abs(step), 1e-6)
        soft = (0.35 if Sort.SPACE in (here.sort, there.sort) else 1.0) * _firm(layout, c)
        if here.sharers >= FAN and here.parents == there.parents:
            soft *= CLOSE
        elif max(here.sharers, there.sharers) >= FAN:
            soft *= BESIDE if frame.closed else ASIDE_OF_FAN
        if frame.closed and (here.loose or there.loose):
            soft *= SEAM
        value = step - turns * layout.direction[c] * frame.period()
        equations.add([(b, 1.0), (a, -1.0)], value, soft * stretch)
    for a, b in graph.beside():
        step = layout.direction[graph.nodes[a].course] * ASIDE / frame.stretch(float(layout.z[b]), float(layout.r[b]))
        equations.add([(a, 1.0), (b, -1.0)], -step)
    seat_along(layout, equations)
    _stand(layout, equations, posts)
    first = graph.courses[layout.shown[0]][0]
    equations.add([(first, 1.0)], math.pi / 2 if frame.closed else 0.0, 1e-3)
    return equations.solve()


def _firm(layout: Layout, c: int) -> float:
    if layout.frame.closed:
        return 1.0
    return UNROLLED if layout.part.courses[c].make in (Make.SPIRAL, Make.JOINED) else OPEN


def _own_scales(layout: Layout, frame: Stadium, seams: Sequence[float]) -> dict[int, float]:
    """How much wider than natural the stitches of an oval stand: on its sides as the chains do, round either end as
    much as there is room."""
    found: dict[int, float] = {}
    for c in layout.shown:
        sides = frame.stretch(0.0, layout.level[c])
        found |= dict.fromkeys((n for n in layout.graph.courses[c] if n in layout.straight), sides)
        room = math.pi * layout.level[c] + sides
        for i, end in enumerate(reversed(round_ends(layout, c))):
            widths = sum(layout.graph.nodes[n].width for n in end)
            found |= dict.fromkeys(end, max(room - (seams[c] if not i else 0.0), 0.1) / max(widths, 1e-6))
    return found


def _stand(layout: Layout, equations: Equations, posts: Sequence[Post]) -> None:
    """Stitches stand over their places; where rows slope, aside of them by as much as their posts lean."""
    nodes, frame = layout.graph.nodes, layout.frame
    if isinstance(frame, Stadium):
        stand_on_chain(layout, frame, equations)
    period = frame.period()
    for post in posts:
        aside = 0.0
        if layout.slope:
            leans = (layout.slope.get(n, 0.0) * layout.level_share(n) * nodes[n].height for n in post.children)
            aside = -sum(leans) / len(post.children)
        weight = post.strength * frame.stretch(layout.z[post.children[0]], layout.level[post.course])
        equations.add(post.terms, post.turns * period + aside, weight)

"""Along the rounds: every stitch over what it is worked into, with even spacing."""

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from generator.charts.equations import Equations
from generator.charts.foundations import stand_on_chain
from generator.charts.frames import Stadium
from generator.charts.layout import Layout, links, round_ends
from generator.charts.nodes import FAN, Sort, families, natural_width
from generator.charts.points import seat_along
from generator.fabric.model import Make

STAND = 1.3
"""Weight of standing over the place worked into, against even spacing at 1."""
STAND_ON_OVAL = 0.6
"""On ovals the caps spread as the work grows; stitches of the sides must be free to follow."""
UPRIGHT = 6.0
"""On the straight sides of an oval every stitch stands over its own."""
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
WRAPPED = 0.6
"""In an unrolled round, the share of the round beyond which a post must have come round the other way."""


def place_along(layout: Layout, seams: Sequence[float]) -> NDArray[np.float64]:
    graph, frame = layout.graph, layout.frame
    equations = Equations(len(graph.nodes))
    scale = dict.fromkeys(layout.shown, 1.0)
    layout.scale = scale
    for c in layout.shown:
        if frame.closed:
            girth = frame.girth(layout.level[c]) - seams[c]
            scale[c] = girth / max(natural_width(layout.graph, c, 0.0), 1e-6)
    own = _own_scales(layout, frame, seams) if isinstance(frame, Stadium) else {}
    for a, b, c, turns in links(layout):
        here, there = graph.nodes[a], graph.nodes[b]
        if isinstance(frame, Stadium) and layout.part.courses[c].make is Make.FOUNDATION:
            continue  # the chain lies where it lies
        wide = here.width * own.get(a, scale[c]) + there.width * own.get(b, scale[c])
        gap = wide / 2 + (seams[c] if turns else 0.0)
        if layout.slope:
            gap /= math.hypot(1.0, layout.slope_between(a, b))
        stretch = frame.stretch(float(layout.z[a] + layout.z[b]) / 2, layout.level[c])
        step = layout.direction[c] * gap / stretch
        if isinstance(frame, Stadium):  # from a side round the end the way along is longer in z
            step = frame.onward(float(layout.z[a]), layout.level[c], layout.direction[c] * gap) - float(layout.z[a])
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
    _stand(layout, equations)
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


def _stand(layout: Layout, equations: Equations) -> None:
    """Stitches that share a place stand over it together; each together-stitch over the middle of its places."""
    graph, frame = layout.graph, layout.frame
    if isinstance(frame, Stadium):
        stand_on_chain(layout, frame, equations)
    places = _positions(layout)
    for c in layout.shown[2 if isinstance(frame, Stadium) else 0 :]:
        slip: float | None = None
        for children, parents in families(graph, c):
            q = sum(places[n] for n in children) / len(children)
            past = _past_the_join(places, parents) if frame.closed else 0.0
            p = sum(places[n] for n in parents) / len(parents) + past
            turns = 0
            if frame.closed:
                turns = round(q - p) if slip is None else round(q - p - slip)
                slip = q - p - turns
            elif layout.part.courses[c].make in (Make.SPIRAL, Make.JOINED) and abs(q - p) > WRAPPED:
                continue  # a round unrolled: this one stands on the far end of the round below
            stretch = frame.stretch(float(layout.z[children[0]]), layout.level[c])
            stand = (
                STAND
                if not isinstance(frame, Stadium)
                else UPRIGHT
                if children[0] in layout.straight
                else STAND_ON_OVAL
            )
            weight = stand * stretch * math.sqrt(len(children)) / (0.5 + graph.nodes[children[0]].height ** 0.5)
            terms = [(n, 1.0 / len(children)) for n in children] + [(n, -1.0 / len(parents)) for n in parents]
            aside = -sum(layout.slope.get(n, 0.0) * layout.level_share(n) * graph.nodes[n].height for n in children)
            equations.add(terms, (turns + past) * frame.period() + aside / len(children), weight)


def _past_the_join(places: Sequence[float], parents: Sequence[int]) -> float:
    """Mean turns by which parents lie past the end of their course: the last stitch of a round and its first are
    neighbours."""
    first = places[parents[0]]
    return -sum(round(places[n] - first) for n in parents) / len(parents)


def _positions(layout: Layout) -> list[float]:
    """How far round its own course each node is, in turns and in the direction of z; past 1 for levelling stitches."""
    found = [0.0] * len(layout.graph.nodes)
    for c in layout.shown:
        whole = max(natural_width(layout.graph, c, 0.0), 1e-6)
        at = 0.0
        for n in layout.graph.courses[c]:
            node = layout.graph.nodes[n]
            found[n] = layout.direction[c] * (at + node.width / 2) / whole
            at += node.width
    for root, riding in layout.graph.points.items():
        for n in riding:
            found[n] = found[root]
    return found

"""Along the rounds: every stitch over what it is worked into, with even spacing."""

import math
from collections.abc import Mapping, Sequence

import numpy as np
from numpy.typing import NDArray

from generator.charts.closers import ride_on_arches
from generator.charts.elimination import Real
from generator.charts.equations import Equations, Ties
from generator.charts.foundations import stand_on_chain
from generator.charts.frames import Stadium
from generator.charts.layout import Layout, round_ends
from generator.charts.nodes import HALF_FAN, LOW, Node, Sort
from generator.charts.points import seat_along
from generator.charts.posts import Post
from generator.charts.shells import LEANS, leans
from generator.fabric.model import Make

OPEN, UNROLLED = 2.5, 8.0
"""Even spacing counts this much more in rows and in unrolled rounds: there the work may be as long as it needs."""
CLOSE, BESIDE = 3.0, 0.3
"""The stitches of a fan keep together: room that is over goes beside the fan."""
EDGE = 0.35
"""Half shells stand this far off the edge, away from the shell beside them in the row below."""
TIGHT, APART = 0.12, 8.0
"""Crosses that miss more than this share of their room are held apart by so much more, for every share, in the next
pass."""
ASIDE = 0.5
"""How far before its first stitch a beginning chain stands that takes no room."""
SEAM = 1.5
"""Room beside an uncounted beginning counts this much more than even spacing: it must not run into its neighbours."""
ASIDE_OF_FAN = 0.06
"""In rows a fan stands over its place, and what is over beside it is left free."""


class Along:
    """The places along the rounds of one layout, asked for again in every pass: who is tied to whom stays."""

    def __init__(self, layout: Layout, seams: Sequence[float], posts: Sequence[Post]) -> None:
        self.layout, self.seams, self.posts = layout, seams, posts
        self.natural = {c: layout.natural(c) for c in layout.shown}
        oval, nodes = isinstance(layout.frame, Stadium), layout.graph.nodes
        on_segment = {c for c in layout.shown if oval and layout.part.courses[c].make is Make.FOUNDATION}
        self.links = [link for link in layout.links() if link[2] not in on_segment]
        self.ties = Ties.steps([link[:2] for link in self.links])
        self.posted = Ties.of([post.terms for post in posts])
        self.courses = np.asarray([c for _, _, c, _ in self.links], np.int64)
        self.here = np.asarray([nodes[a].width for a, _, _, _ in self.links])
        self.there = np.asarray([nodes[b].width for _, b, _, _ in self.links])
        self.soft = np.asarray([_soft(layout, a, b, c) for a, b, c, _ in self.links])
        petals = {node.parents for node in nodes if node.fan and node.height > LOW}
        crosses = (node for node in nodes if node.sort is Sort.STITCH and node.height <= LOW)
        low = {node.index for node in crosses if not node.fan or node.parents not in petals}
        self.low = np.asarray([(a in low and b in low) * (1 + turns) for a, b, _, turns in self.links])
        self.held: Real = np.ones(len(self.links))
        self.turns = np.asarray([turns for _, _, _, turns in self.links], np.int64)
        self.sign = np.asarray(layout.direction)[self.courses]
        self.room = np.asarray(seams)[self.courses] * (self.turns > 0)
        self.offsets = _offsets(layout, posts)

    def placed(self) -> NDArray[np.float64]:
        """The labels z of all nodes, with levels and labels as they are now."""
        layout, frame = self.layout, self.layout.frame
        equations = Equations(len(layout.graph.nodes))
        layout.scale = self._scales()
        steps, stretch = self._steps(self._gaps())
        wanted = steps - self.turns * self.sign * frame.period()
        equations.extend(self.ties, wanted, self.soft * stretch * self._crowded(wanted, steps))
        for a, b in layout.graph.beside():
            step = layout.direction[layout.graph.nodes[a].course] * ASIDE / frame.stretch(layout.z[b], layout.r[b])
            equations.add([(a, 1.0), (b, -1.0)], -step)
        seat_along(layout, equations)
        ride_on_arches(layout, equations)
        if isinstance(frame, Stadium):
            stand_on_chain(layout, frame, equations)
        equations.extend(self.posted, self.offsets, self._strengths())
        first = layout.graph.courses[layout.shown[0]][0]
        equations.add([(first, 1.0)], math.pi / 2 if frame.closed else 0.0, 1e-3)
        return equations.solve()

    def _crowded(self, wanted: Real, steps: Real) -> Real:
        """Factors that hold apart crosses that stood too close in the pass before."""
        if not self.layout.frame.closed or not any(self.layout.z):
            return self.held
        z = np.asarray(self.layout.z)
        missing = wanted - z[self.ties.columns[::2]] + z[self.ties.columns[1::2]]
        short = missing * self.sign / np.maximum(np.abs(steps), 1e-9)
        self.held = np.maximum(self.held, 1.0 + APART * self.low * np.clip(short - TIGHT, 0.0, 1.0))
        return self.held

    def _scales(self) -> dict[int, float]:
        """How much every course is stretched; in unrolled work every round is as wide as the widest."""
        layout, frame = self.layout, self.layout.frame
        if frame.closed:
            girths = {c: frame.girth(layout.level[c]) - self.seams[c] for c in layout.shown}
            return {c: girths[c] / max(self.natural[c], 1e-6) for c in layout.shown}
        if any(layout.part.courses[c].make is Make.ROW for c in layout.shown):
            return dict.fromkeys(layout.shown, 1.0)
        widest = max(self.natural.values())
        return {c: widest / max(self.natural[c], 1e-6) for c in layout.shown}

    def _gaps(self) -> Real:
        """Distances the linked nodes want on paper, as seen from below where rows slope."""
        layout = self.layout
        if isinstance(layout.frame, Stadium):
            own = _own_scales(layout, layout.frame, self.seams)
            before = np.asarray([own.get(a, layout.scale[c]) for a, _, c, _ in self.links])
            after = np.asarray([own.get(b, layout.scale[c]) for _, b, c, _ in self.links])
        else:
            before = after = self._by_course(layout.scale)
        gaps: Real = (self.here * before + self.there * after) / 2 + self.room
        if layout.slope:
            gaps /= np.asarray([math.hypot(1.0, layout.slope_between(a, b)) for a, b, _, _ in self.links])
        return gaps

    def _steps(self, gaps: Real) -> tuple[Real, Real]:
        """The gaps in z, and the length on paper of a unit of z at each."""
        layout, frame = self.layout, self.layout.frame
        if not isinstance(frame, Stadium):
            stretch = self._by_course({c: frame.stretch(0.0, layout.level[c]) for c in layout.shown})
            return self.sign * gaps / stretch, stretch
        ways = zip(self.links, (self.sign * gaps).tolist(), strict=True)  # from a side round the end z runs faster
        steps = np.asarray(
            [frame.onward(layout.z[a], layout.level[c], far) - layout.z[a] for (a, _, c, _), far in ways]
        )
        return steps, gaps / np.maximum(np.abs(steps), 1e-6)

    def _by_course(self, values: Mapping[int, float]) -> Real:
        """For every link the value of its course."""
        return np.asarray([values.get(c, 0.0) for c in range(len(self.seams))])[self.courses]

    def _strengths(self) -> list[float]:
        """How firmly posts stand, as lengths on paper."""
        layout, frame = self.layout, self.layout.frame
        if isinstance(frame, Stadium):
            z, level = layout.z, layout.level
            return [post.strength * frame.stretch(z[post.children[0]], level[post.course]) for post in self.posts]
        stretch = {c: frame.stretch(0.0, layout.level[c]) for c in layout.shown}
        return [post.strength * stretch[post.course] for post in self.posts]


def _soft(layout: Layout, a: int, b: int, c: int) -> float:
    """How much even spacing counts between two neighbours."""
    here, there = layout.graph.nodes[a], layout.graph.nodes[b]
    soft = (0.35 if here.sort is Sort.SPACE or there.sort is Sort.SPACE else 1.0) * _firm(layout, c)
    if here.fan and here.parents == there.parents:
        soft *= CLOSE
    elif (here.fan or there.fan) and not any(_begins_alone(n) for n in (here, there)):
        soft *= BESIDE if layout.frame.closed else ASIDE_OF_FAN
    return soft * SEAM if layout.frame.closed and (here.loose or there.loose) else soft


def _off_edge(layout: Layout, post: Post) -> float:
    """How far onward a half shell at the end of a row stands; one at its beginning as far back."""
    row = layout.graph.courses[post.course]
    if (
        layout.frame.closed
        or len(post.children) < HALF_FAN
        or (post.children[0] == row[0] and post.children[-1] == row[-1])
    ):
        return 0.0
    return EDGE if post.children[-1] == row[-1] else -EDGE if post.children[0] == row[0] else 0.0


def _begins_alone(node: Node) -> bool:
    """A beginning chain that stands on nothing is held by its neighbour only."""
    return node.sort is Sort.COLUMN and not node.parents


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


def _offsets(layout: Layout, posts: Sequence[Post]) -> list[float]:
    """How far in z stitches stand from their places: whole turns, and where rows slope as much as their posts lean."""
    period = layout.frame.period()
    nodes, found = layout.graph.nodes, []
    for post in posts:
        aside = layout.direction[post.course] * LEANS if leans([nodes[n] for n in post.children]) else 0.0
        aside += layout.direction[post.course] * _off_edge(layout, post)
        tilts = (layout.slope.get(n, 0.0) * layout.level_share(n) * nodes[n].height for n in post.children)
        lean = sum(tilts) / len(post.children) if layout.slope else 0.0
        found.append(post.turns * period + aside / layout.frame.stretch(0.0, layout.level[post.course]) - lean)
    return found

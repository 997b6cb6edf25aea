"""Holding a finished drawing against the fabric it was drawn from.

The audit reads marks, not the layout: what it measures is what the reader sees. Distances are in stitches (one chain
of the drawing), the symmetry error in shares of the radius.
"""

import itertools
import math
import re
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from generator.charts.crowding import crowding
from generator.charts.free import Ink, box_of
from generator.charts.marks import Drawing, Point, Sign, Text, placed, trace
from generator.charts.nodes import LOW
from generator.charts.pieces import gathers, pieces_of
from generator.charts.repeats import pattern_of, repeats_of
from generator.fabric.model import Into, Make, Part, Role, Stitch

FOOT = 0.15
"""A foot may stand this far from its place."""
CHAIN_RIM = 0.42
"""A foot on a chain stands on its rim, this far from its middle at most."""


@dataclass(frozen=True, slots=True)
class Audit:
    """What was measured. `overlaps` are pairs of stitch numbers."""

    symbols: int
    worst_foot: float
    overlaps: tuple[tuple[int, int], ...]
    least_gap: float
    fold: int
    """How many times the motif repeats round the middle; 1 for none."""
    symmetry_error: float
    order_kept: bool
    words_on_ink: int
    miscounted: tuple[tuple[int, int, int], ...]
    """Courses whose symbols don't add up: (course, drawn, worked)."""

    @property
    def clean(self) -> bool:
        """Whether the chart may be published."""
        return (
            self.worst_foot <= FOOT
            and not self.overlaps
            and self.order_kept
            and not self.words_on_ink
            and not self.miscounted
            and (self.fold == 1 or self.symmetry_error <= 0.01)
        )


def audit(drawing: Drawing, part: Part) -> Audit:
    """Measures a ring, row or band chart."""
    signs = [p for g in drawing.groups for p in g.pieces if isinstance(p, Sign)]
    owner = {s: sign for sign in signs for s in sign.stitches}
    overlaps, gap = crowding(signs, part)
    fold, error = symmetry(signs, part)
    return Audit(
        len(signs), worst_foot(drawing, part, owner), overlaps, gap, fold, error,
        order_kept(drawing, part), words_on_ink(drawing), miscounted(drawing, part),
    )  # fmt: skip


def worst_foot(drawing: Drawing, part: Part, owner: dict[int, Sign]) -> float:
    """Greatest distance of a drawn foot from the symbol it should stand on.

    Left out are stitches above a folded run (they stand on the band that stands for it), post stitches (they go round
    the stem), and in a band chart those that stand on the other end of the round. Where a levelling stitch lies on a
    place, it is the place.
    """
    apart = {c for g in drawing.groups if g.apart for c in g.courses}
    apart |= {c for c, course in enumerate(part.courses) if gathers(course)}  # they stand on pieces drawn above
    over: dict[int, list[int]] = {}
    for s in part.stitches():
        if s.role is Role.EXTRA:
            over.setdefault(s.parents[0], []).append(s.number)
    columns, closers = _columns(part), _closers(part)
    worst, stitches = 0.0, part.stitches()
    for stitch in stitches:
        sign = owner.get(stitch.number)
        if sign is None or not sign.feet or stitch.course in apart:
            continue
        near = [q for p in stitch.parents if p in owner for q in (p, *over.get(p, ()), *columns.get(p, ()))]
        closed = owner.get(closers.get(stitch.parents[-1], -1)) if stitch.into is Into.SPACE else None
        places = [owner[q] for q in near if q in owner and q != stitch.number]
        if any(p.kind == "picot" for p in places):  # the arch goes on beyond its picot
            after = itertools.dropwhile(lambda s: s.role is Role.PICOT, stitches[stitch.parents[-1] + 1 :])
            beyond = itertools.takewhile(lambda s: s.kind == "ch", after)
            places += [owner[s.number] for s in beyond if s.number in owner]
        post = stitch.loop.value.endswith("post") or stitch.kind.startswith(("fp", "bp"))
        if places and not post and not (drawing.kind == "band" and _came_round(sign, places)):
            worst = max(worst, max(_off(foot, stitch, places, closed) for foot in sign.feet))
    return worst


def _columns(part: Part) -> dict[int, tuple[int, ...]]:
    """The chains of every upright beginning, by each of its chains: whoever works into it works into its top."""
    found: dict[int, tuple[int, ...]] = {}
    for course in part.courses:
        for run in course.runs:
            if run.kind == "ch" and run.role in (Role.START, Role.FOUNDATION):
                numbers = tuple(range(run.first, run.first + run.n))
                found |= dict.fromkeys(numbers, numbers if run.role is Role.START else numbers[-1:])
    return found


def _closers(part: Part) -> dict[int, int]:
    """The stitch that closes the last loop of a round (`ch 2, dc in first sc`), by the chain before it."""
    found: dict[int, int] = {}
    for course in part.courses:
        runs = [run for run in course.runs if run.kind != "sl-st"]
        if course.make is Make.JOINED and len(runs) > 1 and runs[-1].kind != "ch" and runs[-2].kind == "ch":
            found[runs[-2].first + runs[-2].n - 1] = runs[-1].first
    return found


def _came_round(sign: Sign, places: list[Sign]) -> bool:
    return any(abs(p.x - sign.x) > 4 for p in places)


def _off(foot: Point, stitch: Stitch, places: list[Sign], closed: Sign | None) -> float:
    """Distance of one foot from its place: a head, the rim of an arch of chains, or the gap between two heads."""
    if stitch.into is Into.GAP and len(places) > 1:
        places = [p for p in places if not set(p.stitches).isdisjoint(stitch.parents)]
        x, y = sum(p.x for p in places) / len(places), sum(p.y for p in places) / len(places)
        rim = CHAIN_RIM if any(p.kind == "ch" for p in places) else 0.0
        return max(math.dist(foot, (x, y)) - math.dist((places[0].x, places[0].y), (x, y)) - rim, 0.0)
    chains = [p for p in places if p.kind == "ch"]  # a picot on an arch hangs there without being part of it
    if chains and all(p.kind in ("ch", "picot") for p in places):
        far = _from_arch(foot, chains)
        if closed is not None and closed.feet:
            line = ((chains[-1].x, chains[-1].y), (closed.x, closed.y), closed.feet[0])
            far = min(far, *(_from_stretch(foot, a, b) for a, b in itertools.pairwise(line)))
        return max(far - CHAIN_RIM, 0.0)
    return min(math.dist(foot, (p.x, p.y)) for p in places)


def _from_arch(foot: Point, chains: list[Sign]) -> float:
    """Distance of a foot from the line through the chains of a space, which bends as they lie and goes on half a chain
    past either end."""
    ends = []
    for end, turn in ((chains[0], math.pi), (chains[-1], 0.0)):
        a = math.radians(end.turn) + turn
        ends.append((end.x + 0.5 * math.cos(a), end.y + 0.5 * math.sin(a)))
    bends = [(_bend(a, b), (b.x, b.y)) for a, b in itertools.pairwise(chains)]
    line = [ends[0], (chains[0].x, chains[0].y), *(p for pair in bends for p in pair), ends[1]]
    return min(_from_stretch(foot, a, b) for a, b in itertools.pairwise(line))


def _bend(a: Sign, b: Sign) -> Point:
    """The middle of the curve from one chain to the next (the middle of a cubic Hermite curve, elementary geometry)."""
    dx, dy = b.x - a.x, b.y - a.y
    x, y = (a.x + b.x) / 2, (a.y + b.y) / 2
    for chain, share in ((a, 0.125), (b, -0.125)):
        ux, uy = math.cos(math.radians(chain.turn)), math.sin(math.radians(chain.turn))
        along = math.copysign(math.hypot(dx, dy), ux * dx + uy * dy) * share
        x, y = x + ux * along, y + uy * along
    return (x, y)


def _from_stretch(point: Point, a: Point, b: Point) -> float:
    dx, dy = b[0] - a[0], b[1] - a[1]
    far = dx * dx + dy * dy
    t = max(0.0, min(1.0, ((point[0] - a[0]) * dx + (point[1] - a[1]) * dy) / far)) if far else 0.0
    return math.dist(point, (a[0] + t * dx, a[1] + t * dy))


def symmetry(signs: list[Sign], part: Part) -> tuple[int, float]:
    """How many-fold the motif is, and how far the drawing is from being so, as a share of its radius.

    A beginning chain that stands for a stitch is one stitch of the pattern, but looks like none of the others: the
    stitches that would have to fall on it are not measured.
    """
    fold = repeats_of(part) if len(pieces_of(part)) == 1 else 1
    plain = [s for s in signs if s.role == "" and len(s.stitches) == 1]
    if fold < 2 or not plain:
        return 1, 0.0
    radius = max(math.hypot(s.x, s.y) for s in plain)
    course = {s.number: s.course for s in part.stitches()}
    groups: dict[tuple[int, str], list[Sign]] = {}
    for s in plain:
        groups.setdefault((course[s.stitches[0]], s.kind), []).append(s)
    a = 2 * math.pi / fold
    worst = 0.0
    for (c, kind), group in groups.items():
        off = []
        for s in group:
            x, y = s.x * math.cos(a) - s.y * math.sin(a), s.x * math.sin(a) + s.y * math.cos(a)
            off.append(min(math.dist((x, y), (o.x, o.y)) for o in group))
        begun = sum(1 for k, _, chain in pattern_of(part, c) if chain and k == kind)
        worst = max(worst, sorted(off)[-1 - begun] if len(off) > begun else 0.0)
    return fold, worst / radius


def order_kept(drawing: Drawing, part: Part) -> bool:
    """Whether the stitches of every course lie in the order they are worked, all going the same way."""
    ways = {"band": (False, True) if len(pieces_of(part)) > 1 else (False,)}  # a piece that is no tube stands as a ring
    flat = {c for a, b in pieces_of(part) for c in range(a, b) if any(x.make is Make.ROW for x in part.courses[a:b])}
    parents = {s.number: s.parents for s in part.stitches()}
    for group in drawing.groups:
        rounds = ways.get(drawing.kind, (flat.isdisjoint(group.courses),))
        signs = [p for p in group.pieces if isinstance(p, Sign) and p.role == "" and p.kind != "ch"]
        heads = _heads(signs, parents)
        if len(heads) > 3 and not any(_one_way(heads, way) for way in rounds):
            return False
    return True


def _heads(signs: Sequence[Sign], parents: Mapping[int, tuple[int, ...]]) -> list[Point]:
    """Where stitches end, without crosses on the place of a fan: they stand under its outermost stitch."""
    tall = {p.stitches[0]: max((math.dist((p.x, p.y), foot) for foot in p.feet), default=0.0) > LOW for p in signs}
    fans = {parents[p.stitches[0]] for p in signs if tall[p.stitches[0]]}
    return [(p.x, p.y) for p in signs if tall[p.stitches[0]] or parents[p.stitches[0]] not in fans]


def _one_way(heads: list[Point], rounds: bool) -> bool:
    if not rounds:
        steps = [b[0] - a[0] for a, b in itertools.pairwise(heads)]
        return all(s > 0 for s in steps) or all(s < 0 for s in steps)
    x, y = sum(p[0] for p in heads) / len(heads), sum(p[1] for p in heads) / len(heads)
    angles = [math.atan2(p[1] - y, p[0] - x) for p in heads]
    steps = [(b - a + math.pi) % (2 * math.pi) - math.pi for a, b in itertools.pairwise(angles)]
    return all(s > -1e-6 for s in steps) or all(s < 1e-6 for s in steps)


def words_on_ink(drawing: Drawing) -> int:
    """How many numbers stand on a symbol."""
    pieces = [p for g in drawing.groups for p in g.pieces]
    used = Ink(p for p in pieces if isinstance(p, Sign))
    return sum(1 for p in pieces if isinstance(p, Text) and not p.ring and not used.free(box_of(p), air=0.0))


def miscounted(drawing: Drawing, part: Part) -> tuple[tuple[int, int, int], ...]:
    """Counting the chart back: stitches drawn (or told in a folded band) against stitches worked, course by course."""
    course = {s.number: s.course for s in part.stitches()}
    pieces = [*drawing.front, *drawing.ground, *(p for g in drawing.groups for p in g.pieces)]
    drawn = Counter(course[s] for p in pieces if isinstance(p, Sign) for s in p.stitches)
    told = {c for g in drawing.groups if g.folded for c in g.courses}
    return tuple(
        (i, drawn[i], c.size) for i, c in enumerate(part.courses) if c.size != drawn[i] and i not in told
    )  # fmt: skip


_GROUP = re.compile(r'<g class="course[^"]*" data-course="([0-9 ]+)"(?: data-folded="([0-9]+)")?')


def symbols_in(svg: str) -> dict[str, int]:
    """Symbols in the finished SVG by round group (its `data-course`): the drawing itself is counted, not its plan."""
    starts = list(_GROUP.finditer(svg))
    ends = [m.start() for m in starts[1:]] + [len(svg)]
    found = {}
    for match, end in zip(starts, ends, strict=True):
        body = svg[match.end() : end].split('<g class="key"')[0].split("<g aria-hidden")[0]
        found[match.group(1)] = int(match.group(2) or 0) or body.count("<use ")
    return found


def feet_drawn(sign: Sign) -> float:
    """How far the lowest ink of a symbol stays from the place it stands for, at the nearest foot."""
    points = [placed(sign, p) for stroke in sign.shape for p in trace(stroke)]
    return min((math.dist(p, f) for p in points for f in sign.feet), default=0.0)

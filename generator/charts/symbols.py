"""Symbols composed from the parts a stitch's record names, so that a stitch nobody drew draws itself.

Geometry in chart units (one chain long = 1), head at (0, 0), feet below. Shapes follow the descriptions of the
published symbol sets (the trade council's list, JIS L 0201 as described by readers of Japanese charts): one slash a
yarn-over, an oval for a chain, a dot for a slip stitch, legs that meet for stitches closed together, a lens for
clusters, a cap for popcorns. Proportions are our own. The drawings of hooks (posts) and arcs (loops) are conventions
the published sources describe but do not settle; the key always names them.
"""

import math
from functools import cache

from generator.charts.marks import Bow, Line, Oval, Point, Shape, Stroke
from generator.notation.tree import Loop
from generator.vocabulary.load import is_stitch, stitch
from generator.vocabulary.records import Stitch

GRAIN = 16
"""Lengths of symbols are rounded to 1/16 of a chain, so that equal stitches share one drawing."""
TOP = 0.1
FOOT = 0.17
BAR = 0.31
ARM = 0.36

CHAIN_OVAL: Shape = (Oval((0.0, 0.0), 0.36, 0.17),)
DOT: Shape = (Oval((0.0, 0.0), 0.2, 0.135, filled=True),)


def grain(value: float) -> float:
    """A length rounded to the grain."""
    return round(value * GRAIN) / GRAIN


@cache
def symbol(kind: str, feet: tuple[Point, ...], touching: bool, loop: Loop, sc_sign: str) -> Shape:
    """The drawing of a stitch.

    Args:
        kind: identity; one nobody knows is drawn as a lozenge on a stem, for the key to explain.
        feet: where its legs stand, in its own frame, rounded to the grain.
        touching: several stitches share the foot, so it is drawn right down to it.
        sc_sign: `+` or `x`, the same throughout a chart.
    """
    if not is_stitch(kind):
        return (Line(((0.0, 0.75), feet[0])), Line(_lozenge(0.42, 0.24, 0.34)), *_loop_mark(loop, feet[0]))
    record = stitch(kind)
    parts = [part.partition(":")[::2] for part in record.symbol]
    names = {name for name, _ in parts}
    if "dot" in names:
        return (*_slip(feet), *_loop_mark(loop, feet[0]))
    counts = {name: int(n) for name, n in parts if n}
    for bunch in ("cluster", "puff", "bobble", "popcorn"):
        if bunch in counts:
            return (*_bunch(record, bunch, counts[bunch], feet[0]), *_loop_mark(loop, feet[0]))
    if record.family == "together" and len(feet) == 1 and record.legs > 1:  # all its legs in one space
        return (*_bunch(record, "cluster", record.legs, feet[0]), *_loop_mark(loop, feet[0]))
    return _plain(record, names, counts, feet, touching, loop, sc_sign)


def _plain(
    record: Stitch,
    names: set[str],
    counts: dict[str, int],
    feet: tuple[Point, ...],
    touching: bool,
    loop: Loop,
    sc: str,
) -> Shape:
    strokes: list[Stroke] = []
    hooked = "fp" in names or "bp" in names or loop in (Loop.FRONT_POST, Loop.BACK_POST)
    chained = "foot-chain" in names
    foot_gap = 0.42 if chained else 0.05 if touching or hooked or len(feet) > 1 else FOOT
    for foot in feet:
        strokes += _leg(
            record,
            foot,
            foot_gap,
            counts.get("slash", 0),
            full=touching or len(feet) > 1 or hooked,
            sc=sc,
            alone=len(feet) == 1,
        )
    if "bar" in names:
        strokes.append(Line(((-BAR, TOP), (BAR, TOP))))
    if "cross" in names and len(feet) > 1:
        strokes.append(Line((_down(feet[0]), _down(feet[-1])), thin=True))
    foot = feet[len(feet) // 2] if len(feet) % 2 else ((feet[0][0] + feet[-1][0]) / 2, feet[0][1])
    if chained:
        strokes.append(Oval((foot[0], foot[1] - 0.2), 0.26, 0.13))
    if hooked:
        strokes += _hook(foot, -1 if "bp" in names or loop is Loop.BACK_POST else 1)
    if "tilde" in names:
        strokes += [Bow((-0.36, 0.02), (-0.18, -0.2), (0.0, 0.02)), Bow((0.0, 0.02), (0.18, 0.24), (0.36, 0.02))]
    if "loop-mark" in names:
        strokes.append(Oval((0.0, foot[1] / 2 + 0.52), 0.14, 0.2))
    if "front-loop" in names and loop is Loop.BOTH:
        loop = Loop.FRONT
    return (*strokes, *_loop_mark(loop, foot))


def _down(foot: Point) -> Point:
    """Where the bar that closes stitches together meets a leg, however far the legs are spread."""
    length = math.dist(foot, (0.0, TOP)) or 1.0
    return (foot[0] * 0.4 / length, TOP + (foot[1] - TOP) * 0.4 / length)


def _leg(record: Stitch, foot: Point, gap: float, slashes: int, full: bool, sc: str, alone: bool) -> list[Stroke]:
    length = math.hypot(*foot)
    ux, uy = (foot[0] / length, foot[1] / length) if length else (0.0, 1.0)
    end = (ux * (length - gap), uy * (length - gap))
    if record.symbol[0] == "cross":
        return _cross(foot, end, full or length > 1.7 or "spike" in record.symbol, sc, alone, gap > 0.4)
    strokes: list[Stroke] = [Line(((0.0, TOP), end))]
    middle = (TOP + length - gap) / 2
    for i in range(slashes):
        at = middle + (i - (slashes - 1) / 2) * 0.3
        x, y = ux * at, uy * at
        strokes.append(Line(((x - 0.21, y - 0.12), (x + 0.21, y + 0.12)), thin=True))
    return strokes


def _cross(foot: Point, end: Point, full: bool, sc: str, alone: bool, on_chain: bool) -> list[Stroke]:
    """A cross of two strokes; where the foot must be seen, one of them is drawn down to it."""
    length = math.hypot(*foot)
    ux, uy = foot[0] / length, foot[1] / length
    if not alone:  # a leg of an inverted V: the bar sits at the apex instead
        return [Line(((0.0, TOP), end))]
    if on_chain and sc == "+" and length < 1.4:  # little room above the chain it makes for itself
        return [Line(((0.0, TOP), (0.0, length - 0.42))), Line(((-ARM, 0.4), (ARM, 0.4)))]
    at = length / 2 if not full else min(max(length * 0.3, 0.34), 0.62)
    if sc == "x":
        d = ARM * 0.78
        cross: list[Stroke] = [
            Line(((ux * at - d, uy * at - d), (ux * at + d, uy * at + d))),
            Line(((ux * at + d, uy * at - d), (ux * at - d, uy * at + d))),
        ]
        return [*cross, Line(((ux * at, uy * at), end), thin=True)] if full else cross
    low = end if full else (0.0, at + ARM)
    return [Line(((0.0, max(at - ARM, TOP) if full else at - ARM), low)), Line(((-ARM, at), (ARM, at)))]


def _slip(feet: tuple[Point, ...]) -> list[Stroke]:
    y = min(math.hypot(*feet[0]) / 2, 0.3)
    dot: list[Stroke] = [Oval((0.0, y), 0.2, 0.135, filled=True)]
    if len(feet) > 1:
        dot += [Line(((0.0, y), foot), thin=True) for foot in feet]
    return dot


def _bunch(record: Stitch, name: str, legs: int, foot: Point) -> list[Stroke]:
    """Unfinished stitches in one place closed together: a lens of bowed stems; a popcorn ends under a cap."""
    length = math.hypot(*foot) - 0.08
    slashes = sum(int(part.partition(":")[2]) for part in record.symbol if part.startswith("slash"))
    popcorn = name == "popcorn"
    half = {"puff": 0.3, "cluster": 0.34, "bobble": 0.44, "popcorn": 0.42}[name] * (1 if legs > 2 else 0.8)
    top = 0.3 if popcorn else TOP
    strokes: list[Stroke] = []
    for i in range(legs):
        side = (2 * i / (legs - 1) - 1) * half if legs > 1 else 0.0
        head = (side * 0.85, top) if popcorn else (0.0, top)
        over = (side * 1.15 if popcorn else side * 2, length * (0.45 if popcorn else 0.5))
        strokes.append(Bow((0.0, length), over, head))
        if slashes:
            x, y = 0.25 * head[0] + 0.5 * over[0], 0.25 * (length + top) + 0.5 * over[1]
            strokes.append(Line(((x - 0.13, y - 0.08), (x + 0.13, y + 0.08)), thin=True))
    if popcorn:
        strokes.append(Oval((0.0, 0.17), 0.44, 0.13))
    else:
        strokes.append(Line(((-BAR, TOP), (BAR, TOP))))
    return strokes


def _hook(foot: Point, side: int) -> list[Stroke]:
    """The stem's end curling round the post below: to the right in front, to the left behind (seen from the RS)."""
    x, y = foot
    return [Bow((x, y - 0.05), (x + side * 0.02, y + 0.24), (x + side * 0.22, y + 0.2)),
            Bow((x + side * 0.22, y + 0.2), (x + side * 0.42, y + 0.16), (x + side * 0.34, y - 0.08))]  # fmt: skip


def _loop_mark(loop: Loop, foot: Point) -> list[Stroke]:
    """Which loop the hook takes: an arc under the foot, bulging up for the back loop and down for the front one."""
    x, y = foot[0], foot[1] - 0.08
    if loop is Loop.BACK:
        return [Bow((x - 0.28, y + 0.08), (x, y - 0.16), (x + 0.28, y + 0.08), thin=True)]
    if loop is Loop.FRONT:
        return [Bow((x - 0.28, y - 0.06), (x, y + 0.18), (x + 0.28, y - 0.06), thin=True)]
    if loop is Loop.THIRD:
        return [Line(((x - 0.28, y), (x + 0.28, y)), thin=True)]
    return []


def _lozenge(middle: float, rx: float, ry: float) -> tuple[Point, ...]:
    return ((0.0, middle - ry), (rx, middle), (0.0, middle + ry), (-rx, middle), (0.0, middle - ry))


def sample(kind: str, loop: Loop, sc_sign: str) -> Shape:
    """The symbol as the key and the specimen page show it."""
    from generator.charts.nodes import rise

    if kind == "ch":
        return CHAIN_OVAL
    record = stitch(kind) if is_stitch(kind) else None
    if record and record.family == "picot":
        return picot(3)
    tall = rise(kind) or 1.0
    legs = record.legs if record and record.family == "together" else 1
    feet = tuple((grain((i - (legs - 1) / 2) * 0.8), grain(tall)) for i in range(legs))
    return symbol(kind, feet, False, loop, sc_sign)


def picot(chains: int) -> Shape:
    """A small loop of chains standing off the edge, closed with a dot at its foot (0, 0)."""
    if chains <= 1:
        return (Oval((0.0, -0.3), 0.15, 0.26),)
    lean = {2: 24.0, 3: 27.0}.get(chains, 30.0)
    ovals: list[Stroke] = []
    if chains == 2:
        ovals = [Oval((-0.2, -0.34), 0.13, 0.27, -lean), Oval((0.2, -0.34), 0.13, 0.27, lean)]
    else:
        radius = chains * 0.56 / (2 * math.pi) + 0.05
        for i in range(chains):
            a = 2 * math.pi * (i + 0.5) / chains
            ovals.append(
                Oval((-radius * math.sin(a), -radius * 1.05 - 0.1 + radius * math.cos(a)), 0.25, 0.12, -math.degrees(a))
            )
    return (*ovals, Oval((0.0, 0.02), 0.12, 0.09, filled=True))

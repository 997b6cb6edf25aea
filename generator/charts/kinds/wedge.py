"""The wedge: one repeat of a motif, between two rays, with how often it is worked.

Cut where the least ink would be cut, and where no round begins, so that what is shown is the plain repeat. A piece
without equal repeats is drawn whole.
"""

import math
from dataclasses import replace

from generator.charts.compose import box_round
from generator.charts.free import ink
from generator.charts.kinds import ring
from generator.charts.marks import CourseGroup, Drawing, Line, Mark, Piece, Sign, Text, turned
from generator.charts.options import ChartOptions
from generator.charts.repeats import repeats_of
from generator.fabric.model import Part

TRIES = 24
"""Places tried for the cut within one repeat."""


def draw(part: Part, options: ChartOptions) -> Drawing:
    """One repeat of the motif, pointing up."""
    whole = ring.draw(part, replace(options, fold=False))
    n = repeats_of(part)
    if n < 3:
        return replace(whole, kind="wedge")
    wide = 2 * math.pi / n
    begin = _cut(whole, n)
    up = -90.0 + math.degrees(begin + wide / 2)  # clockwise turn that brings the middle of the wedge to the top
    groups = tuple(_kept(group, begin, wide, up) for group in whole.groups)
    far = max((math.hypot(p.x, p.y) for g in groups for p in g.pieces if isinstance(p, Sign)), default=1.0) + 0.9
    rays: list[Piece] = []
    for side in (-1, 1):
        a = side * wide / 2
        rays.append(
            Mark(Line(((0.9 * math.sin(a), -0.9 * math.cos(a)), (far * math.sin(a), -far * math.cos(a)))), "fold")
        )
    front: list[Piece] = [*(p for p in whole.front if _near_middle(p)), *rays, Text(0.0, -far - 0.7, f"× {n}", 0.9)]
    groups = tuple(replace(g, pieces=(*g.pieces, *_number(g, wide))) for g in groups)
    box = box_round([*front, *(p for g in groups for p in g.pieces)])
    return replace(whole, kind="wedge", box=box, ground=(), groups=groups, front=tuple(front))


def _angle(x: float, y: float) -> float:
    """Anticlockwise from the right, in radians, from 0 to one turn."""
    return math.atan2(-y, x) % (2 * math.pi)


def _middle(sign: Sign) -> float:
    """The direction in which a symbol lies, half way between its head and its feet."""
    points = [(sign.x, sign.y), *sign.feet]
    return _angle(sum(p[0] for p in points) / len(points), sum(p[1] for p in points) / len(points))


def _cut(whole: Drawing, n: int) -> float:
    """Where the wedge begins: little ink on its rays, and no beginning or join within it."""
    wide = 2 * math.pi / n
    signs = [p for g in whole.groups for p in g.pieces if isinstance(p, Sign)]
    points = [_angle(x, y) for s in signs for x, y in ink(s, 0.3) if math.hypot(x, y) > 1.0]
    starts = [_middle(s) for s in signs if s.role in ("start", "join", "travel")]

    def cost(begin: float) -> tuple[int, int, float]:
        within = sum((a - begin) % (2 * math.pi) < wide for a in starts)
        close = sum(min((a - begin) % wide, wide - (a - begin) % wide) < 0.02 for a in points)
        return (within, close, begin)

    return min((wide * k / TRIES for k in range(n * TRIES)), key=cost)


def _kept(group: CourseGroup, begin: float, wide: float, up: float) -> CourseGroup:
    """The symbols of a course within the wedge, turned to the top."""
    kept: list[Piece] = []
    for piece in group.pieces:
        if isinstance(piece, Sign) and (_middle(piece) - begin) % (2 * math.pi) < wide:
            x, y = turned((piece.x, piece.y), up)
            feet = tuple(turned(f, up) for f in piece.feet)
            kept.append(replace(piece, x=x, y=y, turn=piece.turn + up, feet=feet))
    return replace(group, pieces=tuple(kept))


def _number(group: CourseGroup, wide: float) -> list[Piece]:
    """The course's number beside the ray where its repeat begins."""
    signs = [p for p in group.pieces if isinstance(p, Sign)]
    if not signs or not group.label:
        return []
    r = sum(math.hypot(s.x, s.y) for s in signs) / len(signs) - 0.5
    a = wide / 2 + 0.75 / max(r, 1.0)
    return [Text(r * math.sin(a), -r * math.cos(a), group.label, 0.7)]


def _near_middle(piece: Piece) -> bool:
    """What the first round is worked into is kept whole."""
    if isinstance(piece, Sign):
        return math.hypot(piece.x, piece.y) < 2.5
    return (isinstance(piece, Mark) and piece.style == "ring") or (isinstance(piece, Text) and not (piece.x or piece.y))

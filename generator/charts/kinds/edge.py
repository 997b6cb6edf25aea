"""The live edge: what is left to work into at the end of a round, with the false stitches that are not, as ghosts.

Joining slip stitches, travelling slip stitches and beginning chains that count for nothing look like stitches and are
none. They are drawn faint, where they lie: at the start.
"""

import math
from dataclasses import replace

from generator.charts.compose import arrow, box_round, course_group, inks_of, key_of
from generator.charts.marks import Drawing, Mark, Oval, Piece, Sign, Text, turned
from generator.charts.nodes import CHAIN, arch_room
from generator.charts.options import ChartOptions
from generator.charts.symbols import CHAIN_OVAL, grain, symbol
from generator.fabric.model import Course, Live, Part, Role, Stitch
from generator.notation.tree import Loop
from generator.vocabulary.load import is_stitch

SEAM = 1.4
TALL = 1.25


def draw(part: Part, options: ChartOptions) -> Drawing:
    """The live edge of the course in `options.course`, of the last one when none is named."""
    worked = [i for i, c in enumerate(part.courses) if c.edge]
    index = options.course if options.course in worked else worked[-1] if worked else 0
    course = part.courses[index]
    seam = SEAM + 0.45 * len(false_tops(part, index))
    around = sum(_room(live) for live in course.edge) + seam
    radius = max(around / (2 * math.pi), 1.2)
    step, at = 2 * math.pi / around, seam / 2
    yarns = {s.number: s for s in part.stitches()}
    pieces: list[Piece] = []
    count = 0
    for live in course.edge:
        if live.kind == "ch" and not live.counted:
            pieces += _space(live, at, step, radius, yarns)
            at += _room(live)
            continue
        for k in range(live.n):
            count += live.counted
            pieces += _top(live, live.first + live.step * k, (at + 0.5) * step, radius, yarns, count)
            at += 1.0
    pieces += _ghosts(part, index, step, radius)
    front = [*_middle(course, radius), *_way(radius, seam * step / 2)]
    group = course_group(part, index, pieces, options)
    box = box_round([*pieces, *front])
    key = key_of([group], options)
    return Drawing(
        "edge", box, (), (group,), tuple(front), key, options.title, options.description, inks_of(part, options)
    )


def false_tops(part: Part, index: int) -> tuple[Stitch, ...]:
    """Stitches of a course that lie on the edge and must not be worked into: joins and chains that count for nothing."""
    live = {n.first + n.step * k for n in part.courses[index].edge for k in range(n.n)}
    spent = (Role.JOIN, Role.TRAVEL, Role.START)
    return tuple(s for s in part.stitches() if s.course == index and s.role in spent and s.number not in live)


def _room(live: Live) -> float:
    return arch_room(live.n) + 0.4 if live.kind == "ch" and not live.counted else float(live.n)


def _spot(angle: float, r: float) -> tuple[float, float]:
    """Anticlockwise from the top."""
    return (-r * math.sin(angle), -r * math.cos(angle))


def _top(live: Live, number: int, angle: float, radius: float, by: dict[int, Stitch], count: int) -> list[Piece]:
    """One place: the upper end of its stitch, with every fifth counted."""
    kind = live.kind if is_stitch(live.kind) and live.kind not in ("ch", "sl-st") else "sc"
    x, y = _spot(angle, radius)
    yarn = by[number].yarn if number in by else ""
    shape = symbol(kind, ((0.0, grain(TALL)),), False, Loop.BOTH, "+")
    pieces: list[Piece] = [Sign(shape, x, y, -math.degrees(angle), (number,), (), kind, yarn)]
    if count % 5 == 0:
        pieces.append(Text(*_spot(angle, radius + 0.6), str(count), 0.5))
    return pieces


def _space(live: Live, at: float, step: float, radius: float, by: dict[int, Stitch]) -> list[Piece]:
    wide, pieces = _room(live), list[Piece]()
    for k in range(live.n):
        number = live.first + live.step * k
        share = (k + 0.5) / live.n
        angle = (at + wide * (0.1 + 0.8 * share)) * step
        x, y = _spot(angle, radius + CHAIN * math.sin(math.pi * share) * min(live.n, 4) / 5)
        yarn = by[number].yarn if number in by else ""
        pieces.append(Sign(CHAIN_OVAL, x, y, -math.degrees(angle), (number,), (), "ch", yarn))
    return pieces


def _ghosts(part: Part, index: int, step: float, radius: float) -> list[Piece]:
    """False tops, side by side in the gap at the start."""
    tops = false_tops(part, index)
    pieces: list[Piece] = []
    for i, _ in enumerate(tops):
        angle = (i - (len(tops) - 1) / 2) * 0.45 * step
        x, y = turned((0.0, -radius + 0.3), -math.degrees(angle))
        pieces.append(Mark(replace(Oval((x, y), 0.13, 0.2), turn=-math.degrees(angle)), "ghost"))
    return pieces


def _middle(course: Course, radius: float) -> list[Piece]:
    """The round's number in its middle."""
    words = "" if course.number is None else str(course.number)
    return [Text(0.0, 0.0, words, min(radius * 0.6, 2.0), "number bold")] if words else []


def _way(radius: float, begin: float) -> list[Piece]:
    spots = [_spot(begin + k / (radius + 1.2), radius + 1.2) for k in (0.0, 0.9, 1.8)]
    return list(arrow(spots[0], spots[1], spots[2]))

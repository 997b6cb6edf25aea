"""Whether symbols keep clear of each other: ink that meets, and the least gap, where nothing in the work ties them."""

import math

from generator.charts.free import ink
from generator.charts.marks import Sign
from generator.fabric.model import Into, Part, Role, Stitch

CLEAR = 0.04
"""Ink of unrelated symbols nearer than this overlaps (half a stroke's width)."""


def crowding(signs: list[Sign], part: Part) -> tuple[tuple[tuple[int, int], ...], float]:
    """Pairs of unrelated symbols whose ink meets, and the least gap between unrelated symbols.

    Related are a stitch and its place, stitches on one place, neighbours along a chain, and what hangs on a stitch.
    """
    stitches = {s.number: s for s in part.stitches()}
    cells: dict[tuple[int, int], list[tuple[float, float, int]]] = {}
    size = 0.4
    for i, sign in enumerate(signs):
        for x, y in ink(sign, 0.07):
            cells.setdefault((math.floor(x / size), math.floor(y / size)), []).append((x, y, i))
    nearest: dict[tuple[int, int], float] = {}
    for (cx, cy), points in cells.items():
        around = [p for dx in (-1, 0, 1) for dy in (-1, 0, 1) for p in cells.get((cx + dx, cy + dy), ())]
        for x, y, i in points:
            for u, v, j in around:
                if i < j:
                    d = (x - u) ** 2 + (y - v) ** 2
                    if d < nearest.get((i, j), 0.16):
                        nearest[(i, j)] = d
    overlaps, least = [], 0.4
    for (i, j), d in sorted(nearest.items()):
        if not _related(signs[i], signs[j], stitches):
            least = min(least, math.sqrt(d))
            if math.sqrt(d) < CLEAR:
                overlaps.append((signs[i].stitches[0], signs[j].stitches[0]))
    return tuple(overlaps), least


def _related(one: Sign, other: Sign, stitches: dict[int, Stitch]) -> bool:
    a, b = (stitches[s.stitches[0]] for s in (one, other))
    if _cross(a, b):
        return True
    hanging = {Role.JOIN, Role.PICOT, Role.TRAVEL}
    if a.role in hanging or b.role in hanging:
        return True
    if set(one.stitches) & set(b.parents) or set(other.stitches) & set(a.parents) or set(a.parents) & set(b.parents):
        return True
    beside = abs(one.stitches[-1] - other.stitches[0]) == 1 or abs(other.stitches[-1] - one.stitches[0]) == 1
    return beside and (a.kind == "ch" or b.kind == "ch")


def _cross(a: Stitch, b: Stitch) -> bool:
    """Whether two stitches are a crossed pair: the second is worked into the place before that of the first."""
    first, second = (a, b) if a.number < b.number else (b, a)
    if second.number != first.number + 1 or a.course != b.course or len(a.parents) != 1 or len(b.parents) != 1:
        return False
    return a.into is b.into is Into.STITCH and second.parents[0] == first.parents[0] - 1

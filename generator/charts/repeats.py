"""Motifs that repeat round their middle: joined rounds whose kinds and places come again and again."""

from generator.fabric.model import Make, Part, Role


def repeats_of(part: Part) -> int:
    """How many times a motif repeats round its middle; 1 for none.

    Only open work is asked: in plain discs the beginning is given room of its own, so that it can be found.
    """
    if not any(kind.startswith("sp:") for course in part.courses for kind, _ in course.kinds):
        return 1
    rounds = [i for i, c in enumerate(part.courses) if c.runs and c.make is not Make.FOUNDATION]
    if not rounds or any(part.courses[i].make is not Make.JOINED or not part.courses[i].forward for i in rounds):
        return 1
    patterns = [p for p in (pattern_of(part, i) for i in rounds) if p]
    for n in (12, 10, 8, 6, 5, 4, 3, 2):
        if all(
            _repeats([k for k, _, _ in p], n) and _repeats(_steps([place for _, place, _ in p]), n) for p in patterns
        ):
            return n
    return 1


def pattern_of(part: Part, c: int) -> list[tuple[str, int, bool]]:
    """A course as (kind, first place, is a beginning chain), joins and uncounted beginnings left out."""
    stands = {live.first: live.kind for live in part.courses[c].edge if live.counted and live.n == 1}
    base = part.stitches()[0].number
    found = []
    for run in part.courses[c].runs:
        for s in part.stitches()[run.first - base : run.first - base + run.n]:
            if s.role is Role.STITCH:
                found.append((s.kind, min(s.parents, default=-1), False))
            elif s.role is Role.START and s.number in stands:
                found.append((stands[s.number], min(s.parents, default=-1), True))
    return found


def _steps(places: list[int]) -> list[int]:
    """Whether the place moves on from each stitch to the next, cyclically: 0 where it stays or none is known."""
    return [int(a >= 0 and b >= 0 and a != b) for a, b in zip(places, places[1:] + places[:1], strict=True)]


def _repeats(values: list[int] | list[str], n: int) -> bool:
    if len(values) % n:
        return False
    k = len(values) // n
    return all(v == values[(i + k) % len(values)] for i, v in enumerate(values))

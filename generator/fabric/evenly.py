"""Places at equal distances: shaping told in words, and every other stitch."""

from generator.fabric.edge import Taken


def spread(left: int, by: int, kind: str) -> list[tuple[str, int, int]]:
    """`by` increases (or decreases) spread evenly over `left` places: (stitch, stitches in each, places) in order."""
    out: list[tuple[str, int, int]] = []
    n = abs(by)
    if not n:
        return [(kind, 1, left)]
    used = 0
    for k in range(n):
        end = left * (k + 1) // n
        plain = end - used - (1 if by > 0 else 2)
        if plain > 0:
            out.append((kind, 1, plain))
        out.append((kind, 2, 1) if by > 0 else (f"{kind}2tog", 1, 2))
        used = end
    return out


def every_nth(taken: list[Taken], n: int) -> list[Taken]:
    """Every nth of the places, the first one included."""
    flat = [
        t if t.space else Taken(t.first + t.step * k, 1, t.step, kind=t.kind)
        for t in taken
        for k in range(1 if t.space else t.n)
    ]
    return flat[::n]


def last_of(taken: list[Taken]) -> Taken:
    last = taken[-1]
    return Taken(last.first + last.step * (last.n - 1), 1, last.step, kind=last.kind)

"""Rounds on an oval: two straight sides that never change, two ends that share the shaping.

Begun on a chain worked along both its sides (published: 2 (c - 1) + 2 stitches on c chains, then 6 more a round). The
round starts in one end, one repeat before the first straight side, so that end is told in two pieces.
"""

from generator.shape.rounds import along, listed, more


def oval_round(stitch: str, have: int, want: int, straight: int, first: bool) -> str:
    """The words of one round. `have` and `want` count the two ends together; `straight` is one side."""
    if first:
        end = want // 2
        side = f"{stitch} in next ch" if straight == 1 else f"{stitch} in next {straight} ch"
        return (
            f"{stitch} in 2nd ch from hook, {side}, {end} {stitch} in last ch, "
            f"working along other side of chain, {side}, {end - 1} {stitch} in last ch"
        )
    if have == want:
        return f"{stitch} in each st around"
    units = abs(want - have) // 2
    plain = have // 2 // units - (1 if want > have else 2)
    shaping = f"2 {stitch} in next st" if want > have else f"{stitch}2tog"
    unit, side = listed(along(stitch, plain), shaping), along(stitch, straight)
    if not plain and want > have:
        return listed(unit, side, _each(stitch, units), side, _each(stitch, units - 1))
    return listed(unit, side, _times(unit, units), side, _times(unit, units - 1))


def _each(stitch: str, n: int) -> str:
    """Two in each of `n` stitches."""
    return f"2 {stitch} in next st" if n == 1 else f"2 {stitch} in each of next {n} sts" if n else ""


def _times(unit: str, n: int) -> str:
    """A unit worked n times over."""
    if n <= 1:
        return unit if n else ""
    return f"*{unit}; {more(n - 1)}"

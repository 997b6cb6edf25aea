"""One round in the trade's words: where its increases or decreases stand.

Increases on top of each other make corners; so every second shaped round begins in the middle of its plain stretch
(the split published as `1 sc, [inc, 2 sc] x5, inc, 1 sc`: monkeyhousefull.blogspot.com/2010/03), unless corners are wanted.
"""

from collections.abc import Sequence
from itertools import groupby


def spread(plain: int, shapings: int) -> tuple[int, ...]:
    """Plain stitches before each shaping, as even as whole numbers can be."""
    return tuple((i + 1) * plain // shapings - i * plain // shapings for i in range(shapings))


def worked_round(stitch: str, have: int, want: int, shift: bool = False) -> str:
    """The words that bring `have` stitches to `want` (at most twice, at least half as many)."""
    change = abs(want - have)
    if not change:
        return f"{stitch} in each st around"
    shaping = f"2 {stitch} in next st" if want > have else f"{stitch}2tog"
    if change == have:
        return f"2 {stitch} in each st around"
    gaps = spread(have - change if want > have else have - 2 * change, change)
    if not any(gaps):
        return f"*{shaping}; rep from * around"
    period = _period(gaps)
    if shift and period == 1:
        return _split(stitch, gaps[0], change, shaping)
    if period < len(gaps):
        unit = _unit(stitch, gaps[:period], shaping)
        return f"*{unit}; rep from * around"
    return _runs(stitch, gaps, shaping)


def _period(gaps: Sequence[int]) -> int:
    """Length of the shortest stretch that the gaps repeat (1 where they are all alike)."""
    n = len(gaps)
    if len(set(gaps)) == 1:
        return 1 if n > 1 else n
    return next((p for p in range(1, n) if n % p == 0 and all(gaps[i] == gaps[i % p] for i in range(n))), n)


def along(stitch: str, n: int) -> str:
    """`n` plain stitches; empty for none."""
    if not n:
        return ""
    return f"{stitch} in next st" if n == 1 else f"{stitch} in next {n} sts"


def more(passes: int) -> str:
    """How often a repeat is worked again after the first pass."""
    return "rep from * once more" if passes == 1 else f"rep from * {passes} more times"


def listed(*phrases: str) -> str:
    """Phrases that are not empty, with commas."""
    return ", ".join(phrase for phrase in phrases if phrase)


def _unit(stitch: str, gaps: Sequence[int], shaping: str) -> str:
    """Plain stretches and shapings in turn; increases side by side are told as one."""
    phrases: list[str] = []
    together = 0
    for gap, following in zip(gaps, (*gaps[1:], 1), strict=True):
        phrases.append(along(stitch, gap))
        together += 1
        if following == 0 and "tog" not in shaping:
            continue
        phrases.append(shaping if together == 1 else f"2 {stitch} in each of next {together} sts")
        together = 0
    return listed(*phrases)


def _split(stitch: str, gap: int, change: int, shaping: str) -> str:
    """The repeat begun half-way through its plain stretch."""
    first = gap // 2
    middle = ""
    if change > 2:
        middle = f"*{listed(along(stitch, gap), shaping)}; {more(change - 2)}"
    elif change == 2:
        middle = listed(along(stitch, gap), shaping)
    return listed(along(stitch, first), shaping, middle, along(stitch, gap - first))


def _runs(stitch: str, gaps: Sequence[int], shaping: str) -> str:
    """Gaps without a period: written out, equal neighbours as repeats."""
    phrases = []
    for gap, run in groupby(gaps):
        unit, times = listed(along(stitch, gap), shaping), len(list(run))
        phrases.append(unit if times == 1 else f"*{unit}; {more(times - 1)}")
    return listed(*phrases)

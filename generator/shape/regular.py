"""How pleasant a round is to work: does its shaping repeat evenly, and is it the repeat of the round before?"""

from functools import cache
from math import gcd

STRAY = 0.12
"""For a count that is no multiple of the repeat the piece is built on."""
SHAPED = 0.04
"""For any shaping at all, so that a straight wall stays plain."""
HALF = 0.06
"""For half or twice the usual number of repeats."""
OTHER = 0.4
"""For another number of repeats: a maker has to count anew."""
LONE = 1.0
"""For one or two shapings in a round, which push the piece to one side."""
FEW = 8
"""Up to this many stitches one or two shapings are no fault: there is no room for more."""


def regular(have: int, want: int) -> bool:
    """Whether going from `have` to `want` stitches is one repeat, worked all the way round."""
    change = abs(want - have)
    return change == 0 or have % change == 0


@cache
def unevenness(have: int, want: int, base: int) -> float:
    """What a maker would complain of, 0 for nothing, about 1 for a round without any repeat."""
    change = abs(want - have)
    if not change:
        return 0.0
    cost = SHAPED + (STRAY if want % base else 0.0)
    if not regular(have, want):
        return cost + (0.9 if gcd(have, change) >= 3 else 1.4)
    if change < 3:
        return cost + (LONE if have > FEW else 0.0)
    if change == base:
        return cost
    return cost + (HALF if 2 * change == base or change == 2 * base else OTHER)

"""What a hook and a hand can do: the size of one stitch and the limits on one round.

The limits are craft knowledge (common practice, no source): at most two stitches in one, at most two worked together,
a ring of a handful of stitches to begin with.
"""

from dataclasses import dataclass
from math import pi

from generator.measures.gauge import Scale
from generator.measures.surface import EASE

REPEATS = {"sc": 6, "hdc": 8, "dc": 12}
"""Increases a round that lie flat by the usual rule, and so the repeat makers expect (mkcarroll.com/blog/2009/5/14
and craftymaria.blogspot.com/2009/06: sc 6, hdc 8, dc 10 to 12)."""


@dataclass(frozen=True, slots=True)
class Hand:
    """One stitch worked by one hand: its name, its width and the height of a round of it, in mm."""

    stitch: str
    width: float
    height: float
    repeat: int = 0
    """The repeat to prefer; 0 for the usual one of the stitch."""

    @property
    def base(self) -> int:
        """How many repeats a round should have where it can."""
        return self.repeat or REPEATS[self.stitch]

    @property
    def starts(self) -> range:
        """Stitches a ring may begin with (and the last round may be drawn shut with)."""
        usual = REPEATS[self.stitch]
        return range(max(4, usual - 2), usual + 3)

    def radius(self, count: float) -> float:
        """Radius in mm of a round of that many stitches."""
        return count * self.width / (2 * pi)

    def stitches(self, radius: float) -> float:
        """Stitches (not rounded) of a round of that radius in mm."""
        return 2 * pi * radius / self.width

    @property
    def flat(self) -> float:
        """Increases a round that lie exactly flat: 2 pi h / w."""
        return 2 * pi * self.height / self.width

    @property
    def most(self) -> float:
        """Most increases or decreases a round before it can only ruffle."""
        return max(self.flat * EASE, REPEATS[self.stitch])


def hand_of(scale: Scale, stitch: str, repeat: int = 0) -> Hand:
    """The hand that a gauge (or hook and yarn) shows, for rounds of `stitch`."""
    return Hand(stitch, scale.width_mm, scale.height(stitch, in_round=True), repeat)

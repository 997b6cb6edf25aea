"""What a line has said so far that later words lean on."""

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from generator.notation.tree import (
    Loop,
    Picot,
    Step,
)

if TYPE_CHECKING:
    from generator.notation.named import Named


@dataclass(slots=True)
class Memory:
    """What the line has said so far that later words lean on."""

    stitch: str = "sc"
    """The stitch `inc` and `dec` are made of."""
    loop: Loop = Loop.BOTH
    yarns: tuple[str, ...] = ()
    """Yarn keys and colour names known from the header, lower case."""
    names: dict[str, str] = field(default_factory=dict)
    """Lower-case colour name or key to key."""
    started: bool = False
    open_mark: bool = False
    """A `*` is open, so the next one may close it."""
    specials: dict[str, tuple[Step, ...]] = field(default_factory=dict)
    """Stitches defined on the spot or in the header: name to what they are worked as."""
    units: dict[str, int] = field(default_factory=dict)
    """Figures that rounds are counted in, by their stitches (`cross`: 3)."""
    named: tuple["Named", ...] = ()
    """The pattern's own stitches by every name they have."""

    picot: Picot = field(default_factory=Picot)
    """What the text's picots are, once it has said so."""

    def copied(self) -> "Memory":
        """A copy to go back to."""
        return replace(self, specials=dict(self.specials), units=dict(self.units))

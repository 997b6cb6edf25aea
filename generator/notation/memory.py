"""What a line has said so far that later words lean on."""

from dataclasses import dataclass, field, fields
from operator import attrgetter
from typing import TYPE_CHECKING, Any

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
    short: dict[str, str] = field(default_factory=dict)
    """The pattern's own abbreviations of stitches that have a name: lower case to identity."""
    mesh: int = 0
    """Chains of a filet space, once a row has spelled one out."""
    legs: bool = False
    """Stitches are spelled out on this line (see `spelled`)."""

    heap: tuple[Step, ...] = ()
    """The group worked last, which the text may go on to call a shell."""
    picot: Picot = field(default_factory=Picot)
    """What the text's picots are, once it has said so."""

    def begin(self) -> None:
        """Forget what holds for one line only."""
        self.loop, self.open_mark, self.legs = Loop.BOTH, False, False

    def state(self) -> tuple[Any, ...]:
        """Everything in mind, as a value that can be compared and kept."""
        return tuple([tuple(value.items()) if type(value) is dict else value for value in _values(self)])

    def become(self, state: tuple[Any, ...]) -> None:
        """Have in mind what `state` says."""
        for name, value in zip(_FIELDS, state, strict=True):
            setattr(self, name, dict(value) if type(getattr(self, name)) is dict else value)


_FIELDS = tuple(field.name for field in fields(Memory))
_values = attrgetter(*_FIELDS)

"""What a maker needs, as printed: quantities in both systems of units, yarns, hooks, and how all of it was reckoned."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Both:
    """One quantity in both systems of units."""

    metric: str = ""
    imperial: str = ""

    def __bool__(self) -> bool:
        return bool(self.metric or self.imperial)


UNKNOWN = Both()
"""A quantity nobody knows; prints as nothing."""


@dataclass(frozen=True, slots=True)
class YarnRow:
    """One yarn of the materials table."""

    key: str
    colour: str
    swatch: str
    """`#rrggbb`, never empty: a neutral one stands in."""
    weight: str
    fibre: str
    length: Both
    mass: Both
    note: str = ""


@dataclass(frozen=True, slots=True)
class HookRow:
    """One hook: millimetres first, then what the tables call it."""

    mm: str
    us: str = ""
    uk: str = ""
    contested: str = ""
    """What the tables disagree about; empty when they agree."""


@dataclass(frozen=True, slots=True)
class Spread:
    """One yarn with the range another hand may take."""

    key: str
    colour: str
    range: Both


@dataclass(frozen=True, slots=True)
class Instead:
    """Another yarn: its weight, a hook for it, and what the piece becomes."""

    weight: str
    hook: str
    stitches: str
    """To 10 cm or 4 in."""
    size: Both
    yarn: Both


@dataclass(frozen=True, slots=True)
class Reckoned:
    """Everything under `How this was reckoned`; empty when nothing could be measured."""

    notes: tuple[str, ...] = ()
    spreads: tuple[Spread, ...] = ()
    instead: tuple[Instead, ...] = ()
    warning: str = ""
    """What to remember of `instead`."""
    limits: tuple[str, ...] = ()
    """The published limits behind the cautions, each with its edition."""
    credit: str = ""
    """What the publisher of the tables asks to see."""

    def __bool__(self) -> bool:
        return bool(self.notes)


NOT_RECKONED = Reckoned()

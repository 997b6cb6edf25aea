"""What a caller may ask of a chart."""

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Ink:
    """How a yarn looks in a chart: the word for it, its colour (`#rrggbb`), and the number of its pattern.

    The pattern tells yarns apart without colour; see `inks.PATTERNS`.
    """

    name: str
    colour: str
    pattern: int = 0


@dataclass(frozen=True, slots=True)
class ChartOptions:
    """Everything a drawing needs beyond the fabric. All words come from the caller: charts know no language."""

    inks: Mapping[str, Ink] = field(default_factory=dict)
    """By yarn key."""
    left_handed: bool = False
    sc_sign: str = "+"
    title: str = ""
    description: str = ""
    course_texts: Mapping[int, str] = field(default_factory=dict)
    """Course index to what a screen reader says for it."""
    names: Mapping[str, str] = field(default_factory=dict)
    """Stitch identity to its word in the key."""
    short: Mapping[str, str] = field(default_factory=dict)
    """Stitch identity to its abbreviation, for folded rounds (`9–15: 18 sc`)."""
    fold: bool = True
    """Runs of like rounds become a labelled band."""
    course: int | None = None
    """For the live edge: the index of the course at whose end it is drawn; None for the last."""
    profile: tuple[tuple[float, float], ...] = ()
    """For the silhouette: (radius, height) in millimetres, in the order of working, beginning first."""
    profile_courses: tuple[int, ...] = ()
    """For the silhouette: the course each point of `profile` ends, -1 for the beginning; rings of chains and levelling
    stitches have none. Empty when it isn't known."""
    profile_words: Mapping[str, str] = field(default_factory=dict)
    """For the silhouette: `width` and `height` as the page prints them."""

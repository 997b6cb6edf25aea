"""Everything a maker asks before picking up the hook, as plain numbers. Lengths mm unless named metres; angles none.

Which number answers which check:

- stated size against computed: `Measured.parts[i].form.width_mm`, `height_mm`, `circumference_mm`, `opening_mm`
- tie against opening: `Measured.ties[i]` (`length_mm`, `around_mm`, `wanted_mm`, `enough`)
- eyelets: `PartMeasure.eyelets` (`count`, `even`, `regular`, `spacing_mm`)
- stated yarn against computed: `Measured.yarns[i]` (`metres`, `low_metres`, `high_metres`, `grams`) beside the header's
- stated time: `Measured.hours` (low, high)
- head sizes: `measures.heads.head(size)` and `measures.heads.hat_range_mm(size)`
- gauge against size: `Form.basis` and `Form.circumference_mm`
- hook against yarn, label against millimetres: `Measured.hooks[i]` (`plausible`, `labels`)
- swatch against gauge: `Measured.swatch_ratio` (measured yarn per stitch over the model's)
"""

from dataclasses import dataclass
from enum import StrEnum


class Basis(StrEnum):
    """Where the size of a stitch comes from; the page says which."""

    GAUGE = "gauge"
    """stitches and rows of the designer's gauge"""
    STITCHES = "stitches of the gauge"
    """her stitches; height by the published ratio"""
    HOOK = "hook and yarn"
    """no gauge: width from hook and yarn thickness, height by the published ratio"""
    NONE = "nothing"
    """neither gauge nor hook nor yarn weight: no length can be told"""


class Shape(StrEnum):
    """What kind of thing a part is."""

    DISC = "disc"
    """round and flat (or meant to be)"""
    POLYGON = "polygon"
    """flat with corners: square, hexagon"""
    OVAL = "oval"
    """flat, from a chain worked along both sides"""
    VESSEL = "vessel"
    """closed at the bottom, open at the top"""
    SOLID = "solid"
    """closed at both ends"""
    TUBE = "tube"
    """open at both ends"""
    ROWS = "rows"
    """a flat piece in rows"""
    CORD = "cord"
    """a chain or a strip one course high"""
    NOTHING = "nothing"


class Lie(StrEnum):
    """How a part (or a course) lies."""

    FLAT = "lies flat"
    CUPS = "cups"
    RUFFLES = "ruffles"
    RISES = "rises"
    """on purpose: walls, cones, balls"""


@dataclass(frozen=True, slots=True)
class CourseForm:
    """One round or row in space."""

    index: int
    """Index in `Part.courses`."""
    around_mm: float
    """Length of its live edge: circumference of a round, width of a row."""
    radius_mm: float
    """Distance of its edge from the axis; half its width for a row."""
    slant_mm: float
    """Its height along the fabric."""
    level_mm: float
    """How high its edge stands above the beginning; grows upwards (or with the rows)."""
    lie: Lie
    yarn: str
    """Key of the yarn most of it is worked in."""


@dataclass(frozen=True, slots=True)
class ProfilePoint:
    """One step of the outline: where the edge of a course stands."""

    height_mm: float
    """Above the lowest point; grows upwards. 0 for all points of a flat part."""
    radius_mm: float
    """Half of its extent seen from the long side: of an oval, half of its straight middle included."""
    yarn: str
    course: int
    """Index in `Part.courses`; -1 for the beginning."""


@dataclass(frozen=True, slots=True)
class Profile:
    """Silhouette of a part, first point at its beginning; the chart mirrors it at the axis.

    `flat` parts are to be drawn from above (rings of `radius_mm`), the others from the side. `straight_mm` is the
    straight middle of an oval (0 for round things), `corners` the corners of a polygon (0 for round).
    """

    points: tuple[ProfilePoint, ...]
    flat: bool = False
    straight_mm: float = 0.0
    corners: int = 0


@dataclass(frozen=True, slots=True)
class Form:
    """Size and shape of one part (one piece of it). 0.0 where a measure makes no sense for the shape."""

    shape: Shape
    basis: Basis
    courses: tuple[CourseForm, ...]
    width_mm: float
    """Greatest extent sideways: diameter, side of a square, width of a row piece, length of a cord."""
    depth_mm: float
    """The other way across: equal to the width for round things, the short way of an oval."""
    height_mm: float
    """Standing height, or length of a row piece; 0.0 for flat rounds. Of a hat: from the crown along the fabric."""
    circumference_mm: float
    """Greatest way round."""
    opening_mm: float
    """Way round the open end; 0.0 where there is none."""
    area_mm2: float
    """Of fabric."""
    volume_mm3: float
    """Enclosed; 0.0 for flat parts."""
    lie: Lie
    lie_from: int | None
    """Index of the course from which it cups or ruffles; None where it doesn't."""
    corners: int
    """Corners of a polygon, 0 for round."""
    stuffed: bool
    profile: Profile


@dataclass(frozen=True, slots=True)
class Eyelets:
    """A course of holes for a cord: how many, how far apart, whether evenly."""

    course: int
    count: int
    spacing_mm: float
    """Mean distance from hole to hole."""
    regular: bool
    """The same number of stitches between all of them (the seam may differ by one)."""
    around_mm: float

    @property
    def even(self) -> bool:
        """An even number: what two cords drawn from opposite sides need."""
        return self.count % 2 == 0


@dataclass(frozen=True, slots=True)
class PartMeasure:
    """One part of the pattern, measured."""

    name: str
    make: int
    form: Form
    stitches: int
    """Of all kinds, in one piece."""
    eyelets: tuple[Eyelets, ...]


@dataclass(frozen=True, slots=True)
class YarnAmount:
    """What one yarn takes, all pieces, ends and ties included, the allowance not. Yarn held double counts twice."""

    key: str
    colour: str
    metres: float
    low_metres: float
    high_metres: float
    buy_metres: float
    """With the allowance: what to have at hand."""
    grams: float | None
    """None where neither the ball nor the weight is known; the others alike."""
    low_grams: float | None
    high_grams: float | None
    buy_grams: float | None
    balls: int | None
    """Whole balls for `buy_metres`; None where the ball isn't known."""
    grams_from: str
    """`ball` (her ball band), `weight` (middle of its category) or empty."""


@dataclass(frozen=True, slots=True)
class TieMeasure:
    """A cord or tie against the opening it has to close."""

    name: str
    length_mm: float
    loop: bool
    around_mm: float
    """Way round where it runs (eyelet round, else the opening); 0.0 when there is no opening."""
    wanted_mm: float
    """About twice the way round, for drawing up and knotting: common practice, no source."""
    metres: float
    """Yarn in it as a chain cord; 0.0 when its chains are already counted in the working."""

    @property
    def enough(self) -> bool:
        """Whether it reaches round and leaves something to knot."""
        return self.loop or self.length_mm >= self.wanted_mm


@dataclass(frozen=True, slots=True)
class HookMeasure:
    """One hook of the pattern with its labels and whether it suits the yarn."""

    mm: float
    us: str
    """Council label; empty where there is none or tables disagree."""
    us_note: str
    """`tables disagree: …` where they do."""
    uk: str
    uk_note: str
    listed: bool
    """Whether the tables have this size."""
    neighbours_mm: tuple[float, ...]
    """The listed sizes on either side of one that isn't listed."""
    plausible: bool | None
    """Against the council's hooks for the yarn weight (see `measures.hooks.plausible`); None when the weight is unknown."""


@dataclass(frozen=True, slots=True)
class Limit:
    """A published limit behind a caution."""

    name: str
    value: float
    unit: str
    what: str
    edition: str
    source: str


@dataclass(frozen=True, slots=True)
class Caution:
    """Something to take care of."""

    name: str
    title: str
    text: str
    because: str
    """What in the pattern called for it, for the designer: `cord (drawstring)`."""
    limits: tuple[Limit, ...]
    source: str


@dataclass(frozen=True, slots=True)
class Substitution:
    """What to expect of another yarn or hook at the same stitch counts. An estimate from tables: a swatch decides."""

    category: int
    """Council weight."""
    hook_mm: float
    stitches: float
    """Of the pattern's gauge stitch to 4 in (10 cm)."""
    size_ratio: float
    """Every length of the piece, new over old."""
    yarn_ratio: float
    """Metres, new over old."""
    in_table: bool
    """Whether gauge and hook both lie within the council's ranges for that weight."""


@dataclass(frozen=True, slots=True)
class Measured:
    """A pattern, measured. Present for every pattern, however partial: what can't be told is None, 0.0 or ()."""

    basis: Basis
    stitch_width_mm: float
    stitch_height_mm: float
    """Of the gauge's stitch (single crochet when there is no gauge)."""
    stitch: str
    """Whose width and height these are."""
    calibrated: bool
    """Yarn taken from the designer's swatch rather than the model alone."""
    swatch_ratio: float | None
    """Swatch's yarn per stitch over the model's; None without swatch or scale. Far from 1: swatch and gauge disagree."""
    parts: tuple[PartMeasure, ...]
    yarns: tuple[YarnAmount, ...]
    ties: tuple[TieMeasure, ...]
    hooks: tuple[HookMeasure, ...]
    hours: tuple[float, float]
    """Rough range; (0.0, 0.0) when nothing is worked."""
    cautions: tuple[Caution, ...]
    signs: tuple[str, ...]
    """What the pattern was seen to contain (`cord`, `stuffing`, …), see the table content-signs."""
    needs_audience: bool
    """Nobody has said for whom it is, and a caution depends on it."""
    substitutions: tuple[Substitution, ...] = ()
    """One weight thinner and one thicker, each with the hook that keeps the designer's own hand; () when the pattern's
    weight or hook is unknown."""

    def largest(self) -> PartMeasure | None:
        """The part that decides the finished size; None when nothing is worked."""
        sized = [part for part in self.parts if part.form.shape is not Shape.NOTHING]
        return max(sized, key=lambda part: part.form.area_mm2, default=None)

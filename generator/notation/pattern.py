"""A pattern as read from its file: structured header, prose, working parts. Lengths are millimetres.

Read by `header` and `document`; `spans` keeps where every value stands, so that a finding about it can point there.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date

from generator.notation.tree import Piece
from generator.source import NOWHERE, Source, Span


@dataclass(frozen=True, slots=True)
class YarnSpec:
    """One yarn of the pattern."""

    key: str
    """What the working lines call it: `A`, `MC`."""
    colour: str
    """Its name for readers: `reed green`."""
    swatch: str = ""
    """sRGB as `#rrggbb`; empty when not given."""
    weight: int | None = None
    """Council category 0 to 7."""
    fibre: str = ""
    grams_per_ball: float | None = None
    metres_per_ball: float | None = None
    stated_grams: float | None = None
    stated_metres: float | None = None
    """What the designer says is needed, when she says it."""
    strands: int = 1


@dataclass(frozen=True, slots=True)
class Gauge:
    """`stitches` and `rows` (0.0 when not given) over `over_mm`, in `stitch`; `in_round` when measured so."""

    stitches: float
    rows: float
    over_mm: float
    stitch: str = "sc"
    in_round: bool = False


@dataclass(frozen=True, slots=True)
class Swatch:
    """A measured or weighed swatch: what `stitches` by `rows` of `stitch` used."""

    stitches: int
    rows: int
    stitch: str = "sc"
    metres: float | None = None
    grams: float | None = None


@dataclass(frozen=True, slots=True)
class Photo:
    """A picture beside the source file, with its text alternative."""

    file: str
    alt: str
    round: int | None = None
    """The round it shows, when it belongs to one."""


@dataclass(frozen=True, slots=True)
class Revision:
    """One open correction. Optional fields stay empty."""

    date: date
    note: str
    part: str = ""
    rounds: tuple[int, ...] = ()
    was: str = ""
    now: str = ""
    changes_work: bool = True


@dataclass(frozen=True, slots=True)
class FilmMark:
    """A moment of the film: seconds from its start, and what is shown (a round's label or words)."""

    seconds: int
    title: str


@dataclass(frozen=True, slots=True)
class Film:
    """The demonstration on camera."""

    address: str = ""
    seconds: int = 0
    marks: tuple[FilmMark, ...] = ()


@dataclass(frozen=True, slots=True)
class Special:
    """A stitch defined in the header from known ones: `bead: {abbreviation: bd, worked: "4 hdc in next st", ...}`."""

    key: str
    name: str
    abbreviation: str
    worked: str
    """Working text in the pattern's own terms that it expands to."""
    symbol: str = ""
    counts: int = 1


@dataclass(frozen=True, slots=True)
class Tie:
    """A cord, tie or loop that belongs to the piece: what it is and its finished length."""

    name: str
    length_mm: float
    loop: bool = False


@dataclass(frozen=True, slots=True)
class Size:
    """A finished size as the designer states it; 0.0 where she doesn't."""

    width_mm: float = 0.0
    height_mm: float = 0.0
    circumference_mm: float = 0.0
    opening_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class Header:
    """The structured facts of a pattern. What the author left out is empty, None or (); nothing is invented here."""

    title: str = ""
    slug: str = ""
    published: date | None = None
    draft: bool = False
    terms: str = ""
    """`US`, `UK` or empty."""
    level: str = ""
    """`basic`, `easy`, `intermediate`, `complex` or empty."""
    summary: str = ""
    tags: tuple[str, ...] = ()
    photos: tuple[Photo, ...] = ()
    hooks_mm: tuple[float, ...] = ()
    hook_label: str = ""
    """A letter or number the author wrote beside the millimetres, to compare with the table."""
    gauge: Gauge | None = None
    swatch: Swatch | None = None
    yarns: tuple[YarnSpec, ...] = ()
    notions: tuple[str, ...] = ()
    ties: tuple[Tie, ...] = ()
    rounds: str = ""
    """`spiral`, `joined` or empty."""
    start_chain: str = ""
    """`counts`, `does not count` or empty."""
    audience: str = ""
    """`for:` adult, child, under-3, baby, pet, home or empty."""
    kind: str = ""
    """What it is: toy, hat, blanket, mat, vessel, garland, ornament, cover ... or empty."""
    size: Size | None = None
    fits: str = ""
    """A named size it is made for (`Woman`), from the published tables."""
    hours: tuple[float, float] | None = None
    stuffed: bool | None = None
    film: Film | None = None
    stitches: tuple[Special, ...] = ()
    revisions: tuple[Revision, ...] = ()
    intended: Mapping[str, str] = field(default_factory=dict)
    """Rules answered for the whole pattern: rule name to the author's reason."""
    spans: Mapping[str, Span] = field(default_factory=dict)
    """Where each value stands, by dotted path: `hook`, `yarns.A.weight`, `photo.alt`, `revisions.0.date`."""


@dataclass(frozen=True, slots=True)
class Prose:
    """Markdown between the working blocks."""

    text: str
    span: Span = NOWHERE


@dataclass(frozen=True, slots=True)
class Working:
    """A working block under the heading that names its part. A part may go on in a second block after some prose."""

    piece: Piece
    """This block's lines only."""
    part: int = 0
    """Which of `Pattern.pieces()` (and of `Fabric.parts`) they belong to."""


@dataclass(frozen=True, slots=True)
class ShapeBlock:
    """A shape to be planned into rounds: `key: value` lines as written (see `shape`)."""

    text: str
    part: str = ""
    span: Span = NOWHERE


@dataclass(frozen=True, slots=True)
class Pattern:
    """A source file, read."""

    source: Source
    header: Header
    blocks: tuple[Prose | Working | ShapeBlock, ...] = ()

    def pieces(self) -> tuple[Piece, ...]:
        """The working parts, in order; blocks of one part are put together, its span runs over all of them."""
        parts: dict[int, Piece] = {}
        for block in self.blocks:
            if isinstance(block, Working):
                piece, begun = block.piece, parts.get(block.part)
                if begun is not None:
                    piece = replace(begun, lines=begun.lines + piece.lines, span=begun.span.cover(piece.span))
                parts[block.part] = piece
        return tuple(parts.values())

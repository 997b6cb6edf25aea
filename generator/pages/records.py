"""What templates print: strings, numbers and finished SVG, nothing to decide.

`views` makes these from a compiled pattern. Everything here is ready for a reader's eyes in both dialects and both
systems of units; `Markup` fields are HTML or SVG already, plain `str` fields are escaped by the template.
"""

from dataclasses import dataclass

from markupsafe import Markup

from generator.pages.amounts import NOT_RECKONED, UNKNOWN, Both, HookRow, Reckoned, YarnRow

NOTHING = Markup("")


@dataclass(frozen=True, slots=True)
class Said:
    """One saying in both dialects."""

    us: str = ""
    uk: str = ""

    @property
    def same(self) -> bool:
        """Whether one wording serves both."""
        return self.us == self.uk


@dataclass(frozen=True, slots=True)
class Picture:
    """A photo made ready: one file per width and format."""

    alt: str
    src: str
    """The file every browser shows."""
    width: int
    height: int
    sources: tuple[tuple[str, str], ...] = ()
    """(media type, srcset) of the better formats, best first."""
    srcset: str = ""

    @property
    def small(self) -> tuple[str, int, int]:
        """The smallest file that every browser shows, for lists, with its width and height."""
        file, _, width = self.srcset.partition(",")[0].rpartition(" ")
        if not file:
            return self.src, self.width, self.height
        edge = int(width.removesuffix("w"))
        return file, edge, max(1, round(self.height * edge / self.width))


@dataclass(frozen=True, slots=True)
class ChartView:
    """One drawing of a part."""

    kind: str
    title: str
    svg: Markup
    mirrored: bool = False
    """Whether the left-handed drawing is a mirror image of it."""
    opened: tuple[str, str] | tuple[()] = ()
    """Where rounds of it are folded: pictures beside the page with every round drawn, for the right hand and the left."""


@dataclass(frozen=True, slots=True)
class RoundRow:
    """One working line as printed."""

    anchor: str
    """Identity in the page, such as `base-r3`; deep links point here."""
    kind: str
    """`work`, `note` or `setup`."""
    figure: str
    """The number as a big figure: `3`, `4–8`; empty without one."""
    word: Said
    """What stands before the figure: `Rnd`."""
    spelled_word: Said
    text: Said
    spelled: Said
    count: Said
    spelled_count: Said
    left: Said = Said()
    """Wording for left-handed makers where it differs."""
    courses: tuple[int, ...] = ()
    """Indices of its courses, as the chart's groups name them."""
    boxes: tuple[str, ...] = ()
    """What each box to tick says is done: `Round 3`."""
    pins: tuple[str, ...] = ()
    """Further anchors, for the rounds of a range after its first."""
    repeats: int = 0
    """How often the repeat inside it is worked, 0 without one worth counting."""
    colours: tuple[tuple[str, str], ...] = ()
    """(colour name, `#rrggbb`) of its yarns, first used first."""
    change: str = ""
    """The colour's name where it differs from the line before."""
    film: str = ""
    film_at: str = ""
    correction: str = ""
    picture: Picture | None = None
    line: int = -1
    """Index of its line in the part."""


@dataclass(frozen=True, slots=True)
class PartView:
    """One piece of the work, or what goes on with it after some prose (`more`)."""

    name: str
    anchor: str
    make: int
    rows: tuple[RoundRow, ...]
    charts: tuple[ChartView, ...] = ()
    hook: str = ""
    more: bool = False


@dataclass(frozen=True, slots=True)
class Section:
    """A stretch of the page in the author's order: prose or a part."""

    prose: Markup = NOTHING
    part: PartView | None = None


@dataclass(frozen=True, slots=True)
class Tag:
    """A tag and the name of its page."""

    label: str
    slug: str


@dataclass(frozen=True, slots=True)
class Correction:
    """One open correction."""

    date: str
    shown_date: str
    where: str
    note: str
    was: str = ""
    now: str = ""


@dataclass(frozen=True, slots=True)
class Download:
    """A file beside the page."""

    label: str
    path: str
    size: str


@dataclass(frozen=True, slots=True)
class FilmView:
    """The film and its moments: address, running time, (time, title, link)."""

    address: str
    length: str
    iso: str
    marks: tuple[tuple[str, str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Card:
    """What lists, feeds and search know of a pattern; small, kept in the ledger so that no list needs a pattern again.

    Numbers are for filters: minutes, metres, council categories. `yarns` are (colour name, `#rrggbb`).
    """

    slug: str
    title: str
    summary: str
    level: str = ""
    kind: str = ""
    published: str = ""
    updated: str = ""
    terms: str = "US"
    tags: tuple[str, ...] = ()
    weights: tuple[int, ...] = ()
    weight_label: str = ""
    metres: float = 0.0
    length: Both = UNKNOWN
    minutes: float = 0.0
    hours: str = ""
    size: Both = UNKNOWN
    rounds: int = 0
    stitches: tuple[str, ...] = ()
    """Identities used, sorted."""
    yarns: tuple[tuple[str, str], ...] = ()
    cover: str = ""
    """File that shows it, relative to the site's top."""
    cover_alt: str = ""
    cover_width: int = 600
    cover_height: int = 600
    card: str = ""
    """Picture for sharing, 1200 by 630, relative to the top; empty when none was made."""
    corrections: tuple[tuple[str, str], ...] = ()
    """(date, what) of corrections that change the work."""
    film: str = ""


@dataclass(frozen=True, slots=True)
class PatternView:
    """A pattern's page."""

    card: Card
    slug: str
    title: str
    summary: str
    terms: str
    level: str
    level_note: str
    published: str
    shown_date: str
    sections: tuple[Section, ...]
    intro: Markup = NOTHING
    emblem: Markup = NOTHING
    picture: Picture | None = None
    more_pictures: tuple[Picture, ...] = ()
    yarns: tuple[YarnRow, ...] = ()
    hooks: tuple[HookRow, ...] = ()
    gauge: tuple[Both, Both] = (UNKNOWN, UNKNOWN)
    """In US words and in UK words."""
    sizes: tuple[tuple[str, Both], ...] = ()
    hours: str = ""
    notions: tuple[str, ...] = ()
    cautions: tuple[tuple[str, str], ...] = ()
    reckoned: Reckoned = NOT_RECKONED
    abbreviations: tuple[tuple[tuple[str, str], ...], tuple[tuple[str, str], ...]] = ((), ())
    """(abbreviation, meaning) in US terms and in UK terms."""
    signs: tuple[tuple[tuple[str, str], ...], tuple[tuple[str, str], ...]] = ((), ())
    """(sample, meaning) of the brackets and stars the lines use, in US terms and in UK terms."""
    conventions: tuple[Said, ...] = ()
    tags: tuple[Tag, ...] = ()
    corrections: tuple[Correction, ...] = ()
    film: FilmView | None = None
    proved: str = ""
    downloads: tuple[Download, ...] = ()
    first_anchor: str = ""
    chart_css: bool = False
    """Whether a style sheet with the charts' rules lies beside the page."""

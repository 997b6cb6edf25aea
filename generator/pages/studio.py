"""The studio: who publishes, under which address, in which theme and colours. `library` reads it, pages print it.

It stands here and not in `library` because imports run one way: pages may not import the edge.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from generator.notation.pattern import Photo
from generator.source import NOWHERE, Span


@dataclass(frozen=True, slots=True)
class Studio:
    """What `content/studio.toml` says. Everything has a default, so an empty studio publishes too."""

    title: str = "A crochet studio"
    tagline: str = ""
    address: str = ""
    """Where the site will stand, ending in a slash (a path below the host is fine); empty when not known yet."""
    author: str = ""
    language: str = "en"
    theme: str = "quire"
    colours: Mapping[str, str] = field(default_factory=dict)
    """Colours of its own, `#rrggbb` by name: `paper`, `ink`, `accent`, and the same with `-dark` for the dark page."""
    sc_sign: str = "+"
    """Symbol of the single crochet in charts: `+` or `x`."""
    terms: str = "US"
    """What a page shows first: `US` or `UK`."""
    units: str = "metric"
    """What a page shows first: `metric` or `imperial`."""
    links: tuple[tuple[str, str], ...] = ()
    """Label and address for the foot of the page."""
    howto: bool = False
    """Whether HowTo data is written too; search engines dropped it in 2023."""
    templates: Mapping[str, str] = field(default_factory=dict)
    """Single templates of the theme that the studio replaces: file name to text."""
    spans: Mapping[str, Span] = field(default_factory=dict)
    """Where each value stands in studio.toml, by dotted path, as far as known."""


@dataclass(frozen=True, slots=True)
class Post:
    """A journal entry, or a page such as `about` (without a date)."""

    slug: str
    title: str
    body: str
    """Markdown."""
    published: date | None = None
    summary: str = ""
    tags: tuple[str, ...] = ()
    photo: Photo | None = None
    draft: bool = False
    path: str = ""
    span: Span = NOWHERE

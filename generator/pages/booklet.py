"""The printed booklet: a leaflet on a kind of paper, as tagged PDF with the drawings as vectors.

Templates print, this module decides: what size a drawing gets, whether a line may be split at all, which letters need
another font. Lengths are millimetres, type sizes points.
"""

import math
import re
from collections.abc import Iterator, Mapping
from dataclasses import asdict, dataclass
from typing import Any

from generator.diagnostics.record import Checked, Finding, Severity
from generator.pages.leaflet import Entry, Figure, Leaflet, Section
from generator.pages.typesetting import SANS, Printed, outside_house, typeset
from generator.source import NOWHERE, Span

MM_PER_POINT = 25.4 / 72
_GROUND = re.compile(r'<rect class="paper"[^>]*/>')
"""A drawing's own paper: what it is printed on is white already, and ink is dear."""
LEAST_SCALE = 0.55
"""A drawing is turned, and told of, when its symbols come out smaller than this part of their readable size."""


@dataclass(frozen=True, slots=True)
class Paper:
    """A page and its type. `blocks`: every round is a block of its own instead of a row of a table.

    Type sizes: 12 pt is the least of clear print, 18 pt of large print, 22 to 24 pt are asked for by makers with low
    vision, with 1 in margins, one column and no italics. Source: clear-print guidelines (studylib.net/doc/18866603),
    large-print guidelines 2022 (acb.org/node/173), accessibility tips for patterns (accessiblepatternsindex.com).
    """

    name: str
    width: float
    height: float
    margin: float
    size: float
    large: bool = False
    blocks: bool = False

    @property
    def measure(self) -> float:
        """Width of the text."""
        return self.width - 2 * self.margin

    @property
    def depth(self) -> float:
        """Height of the text."""
        return self.height - 2 * self.margin - 4


A4 = Paper("A4", 210, 297, 18, 12)
LETTER = Paper("US Letter", 215.9, 279.4, 18, 12)
# As wide as A4 and as high as Letter: printed without scaling, it fits either.
STEPS = Paper("A4 and US Letter", 210, 279.4, 20, 14, blocks=True)
LARGE_18 = Paper("A4 and US Letter", 210, 279.4, 25.4, 18, large=True, blocks=True)
LARGE_24 = Paper("A4 and US Letter", 210, 279.4, 25.4, 24, large=True, blocks=True)


def template(templates: Mapping[str, str], body: str) -> str:
    """A theme's booklet template, put together: its look, the house rules, the body (`booklet`, `cues`, `sheet`)."""
    return "\n".join(templates[name] for name in ("look.typ", "house.typ", f"{body}.typ"))


def booklet(
    leaflet: Leaflet, paper: Paper, edition: str, templates: Mapping[str, str], accent: str = "", place: Span = NOWHERE
) -> Checked[Printed]:
    """A leaflet printed.

    Args:
        leaflet: what it says.
        paper: page and type.
        edition: what this edition is called on its first page.
        templates: texts of the theme's booklet folder by file name.
        accent: `#rrggbb` of headings in standard print; the theme's own when empty.
        place: the title's place in the source, for findings.

    Gives `letters-not-in-font` and `chart-wider-than-page`.
    """
    printed = typeset(template(templates, "booklet"), breaking(data(leaflet, paper, edition, accent), paper))
    return Checked(printed, (*letter_findings(leaflet.title, printed, place), *_wide(leaflet, paper, place)))


def data(leaflet: Leaflet, paper: Paper, edition: str, accent: str = "") -> dict[str, Any]:
    """What the template prints."""
    return {
        **frame(leaflet.title, leaflet, paper, accent),
        "edition": edition,
        "summary": leaflet.summary,
        "terms": leaflet.terms,
        "dateline": dateline(leaflet),
        "warning": leaflet.warning(),
        "photo": fitted(leaflet.photo, paper) if leaflet.photo else None,
        "facts": [list(pair) for pair in leaflet.facts],
        "threads": [asdict(thread) for thread in leaflet.threads],
        "notions": list(leaflet.notions),
        "cautions": [list(pair) for pair in leaflet.cautions],
        "abbreviations": [list(pair) for pair in leaflet.abbreviations],
        "sections": [_section(section, paper) for section in leaflet.sections],
        "changes": [asdict(change) for change in leaflet.changes],
        "checked": list(leaflet.checked),
        "about": [asdict(passage) for passage in leaflet.about],
        "colophon": list(_colophon(leaflet)),
        "blocks": paper.blocks,
    }


def frame(title: str, leaflet: Leaflet, paper: Paper, accent: str = "") -> dict[str, Any]:
    """What every printed thing needs: paper, language, names."""
    lang, _, region = leaflet.language.partition("-")
    return {
        "paper": {
            "width": paper.width,
            "height": paper.height,
            "margin": paper.margin,
            "size": paper.size,
            "large": paper.large,
        },
        "title": title.strip() or "Pattern without a title",
        "author": leaflet.author or leaflet.studio,
        "description": leaflet.summary,
        "keywords": ["crochet pattern", leaflet.terms],
        "lang": lang,
        "region": region,
        "studio": leaflet.studio,
        "footer": _footer(leaflet, paper),
        "accent": accent or "#1f5a52",
    }


def _footer(leaflet: Leaflet, paper: Paper) -> str:
    """Title and terms on one line: a title too long for it is cut there, for it stands whole on the first page."""
    size = paper.size if paper.large else 9
    room = int(paper.measure * 0.7 / (size * MM_PER_POINT * 0.55)) - len(leaflet.terms) - 2
    title = leaflet.title if len(leaflet.title) <= room else leaflet.title[: room - 1].rstrip() + "…"
    return f"{title}, {leaflet.terms}"


def dateline(leaflet: Leaflet) -> str:
    """`first published 4 September 2026, corrected 20 September 2026`."""
    said = [f"first published {leaflet.published}"] if leaflet.published else []
    return ", ".join(said + [f"corrected {leaflet.revised}"] * bool(leaflet.revised))


def _colophon(leaflet: Leaflet) -> Iterator[str]:
    by = f" by {leaflet.author}" if leaflet.author else ""
    yield f"{leaflet.title}{by}, {leaflet.studio}. {leaflet.terms}."
    if leaflet.address:
        yield f"The newest edition, with any corrections: {leaflet.address}"


def _section(section: Section, paper: Paper) -> dict[str, Any]:
    return {
        "name": section.name,
        "make": section.make,
        "goes-on": section.goes_on,
        "lines": [
            {**asdict(entry), "text": _tied(entry.text), "splits": _splits(entry, paper)} for entry in section.lines
        ],
        "figures": [fitted(figure, paper) for figure in section.figures],
        "prose": [asdict(passage) for passage in section.prose],
    }


def breaking(value: Any, paper: Paper) -> Any:
    """The data with a place to break put into words wider than a column; such a word would run off the paper."""
    if isinstance(value, dict):
        return {key: inner if key == "svg" else breaking(inner, paper) for key, inner in value.items()}
    if isinstance(value, list):
        return [breaking(inner, paper) for inner in value]
    if not isinstance(value, str):
        return value
    # A title is about three times as large as the text.
    room = max(6, int(paper.measure / (paper.size * MM_PER_POINT * 0.6) / 3))
    return re.sub(rf"[^\s/\-]{{{room}}}(?=[^\s/\-]{{4}})", "\\g<0>\u200b", value) if len(value) > room else value


def _tied(text: str) -> str:
    """An asterisk alone at the head of a line is lost on the reader."""
    return text.replace("from *", "from\u00a0*")


def _splits(entry: Entry, paper: Paper) -> bool:
    """Whether a line is longer than a page, so that it has to be split after all."""
    wide = paper.measure * (1.0 if paper.blocks else 0.6) / (paper.size * MM_PER_POINT * 0.55)
    high = paper.depth / (paper.size * MM_PER_POINT * 1.9)
    lines = sum(math.ceil(len(text) / wide) + 0.4 for text in entry.steps or (entry.text,))
    return lines + 3 > high


def fitted(figure: Figure, paper: Paper) -> dict[str, Any]:
    """A drawing with its size on the page: as large as its kind deserves, turned where that shows much more."""
    wide, high = paper.measure, paper.depth * (0.8 if paper.large else 0.62 if figure.scale else 0.28)
    upright = min(wide / figure.width, high / figure.height, _most(figure))
    across = min(wide / figure.height, paper.depth * 0.9 / figure.width, _most(figure))
    turned = upright < figure.scale * LEAST_SCALE and across > 1.25 * upright
    scale = across if turned else upright
    return {
        "svg": _GROUND.sub("", figure.svg),
        "title": figure.title,
        "description": figure.description,
        "width": figure.width * scale,
        "height": figure.height * scale,
        "turned": turned,
    }


def _most(figure: Figure) -> float:
    """No drawing grows far beyond its readable size; small things look better small."""
    return figure.scale * 1.5 if figure.scale else math.inf


def _wide(leaflet: Leaflet, paper: Paper, place: Span) -> Iterator[Finding]:
    for section in leaflet.sections:
        for figure in section.figures:
            shown = fitted(figure, paper)
            unit = shown["width"] / figure.width
            if figure.scale and unit < figure.scale * LEAST_SCALE:
                wanted = figure.width * figure.scale
                message = (
                    f"the chart `{figure.title}` is {wanted:.0f} mm wide at a readable size, {paper.name} holds"
                    f" {paper.measure:.0f} mm; it is printed smaller"
                )
                fits = "the words carry every stitch; a chart of fewer rounds, or of one repeat, prints well"
                yield Finding("chart-wider-than-page", Severity.NOTE, message, place, fits)


def letter_findings(title: str, printed: Printed, place: Span) -> Iterator[Finding]:
    """What there is to say of letters that the house font lacks."""
    if printed.absent:
        said = ", ".join(f"`{letter}`" for letter in printed.absent[:8])
        message = f"no font here has {said}; it is printed as its code point"
        yield Finding("letters-not-in-font", Severity.WARNING, message, place, "a font that has it, on this computer")
    strange = outside_house(frozenset(title))
    borrowed = tuple(dict.fromkeys((*printed.borrowed, *strange)))
    borrowed = tuple(letter for letter in borrowed if letter not in printed.absent)
    if borrowed:
        said = ", ".join(f"`{letter}`" for letter in borrowed[:8])
        message = f"{SANS} has no {said}; another font stands in"
        yield Finding("letters-not-in-font", Severity.NOTE, message, place, "nothing, if the print looks right")

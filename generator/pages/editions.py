"""Editions, not compromises: one pattern for the page, the printer, tired eyes, listening hands and other programs.

`editions` makes what is public; the designer's own papers are in `desk`. The statement of which editions exist is made
from the files themselves, so it can't promise one that isn't there.
"""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from generator.diagnostics.record import Checked, Finding, Severity
from generator.notation.pattern import Header
from generator.pages.binding import author_language, bind
from generator.pages.booklet import A4, LARGE_18, LARGE_24, LETTER, STEPS, Paper, booklet
from generator.pages.figures import Kept
from generator.pages.leaflet import Figure, Leaflet
from generator.pages.patternjson import pattern_json
from generator.pages.plaintext import plain_text
from generator.pages.plates import plates
from generator.pages.studio import Studio
from generator.pages.testreport import Report, merge
from generator.pages.testsheet import questions
from generator.pages.typesetting import TypesettingError, picture
from generator.pipeline import Compiled
from generator.source import NOWHERE, Span
from generator.vocabulary import load
from generator.wording.voice import Style

DIALECTS = {"us": "en-US", "uk": "en-GB"}
"""Part of the file name, and language."""


@dataclass(frozen=True, slots=True)
class Edition:
    """One way to have a pattern. `paper` is None for plain text."""

    key: str
    title: str
    serves: str
    style: Style
    paper: Paper | None
    left: bool = False
    """Whether it is for the left hand."""


EDITIONS = (
    Edition("a4", "Booklet, A4", "for printing: charts, tick boxes, no round split over two pages", Style.SHORT, A4),
    Edition("letter", "Booklet, US Letter", "the same on the other paper", Style.SHORT, LETTER),
    Edition("left-a4", "Left-handed booklet, A4", "charts mirrored, sides in the rounds changed", Style.SHORT, A4, True),
    Edition("left-letter", "Left-handed booklet, US Letter", "the same on the other paper", Style.SHORT, LETTER, True),
    Edition("steps", "Step by step", "every repeat written out, one box to tick for each step", Style.STEPS, STEPS),
    Edition("large-18", "Large print, 18 point", "one column, no italics, black on white", Style.SHORT, LARGE_18),
    Edition("large-24", "Large print, 24 point", "the same, larger still", Style.SHORT, LARGE_24),
    Edition(
        "spoken", "Spelled out, plain text", "for screen readers and braille: no abbreviation, one round a line",
        Style.SPELLED, None,
    ),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Available:
    """One edition that exists."""

    title: str
    serves: str
    terms: str
    """`US terms`; empty where one file serves both."""
    file: str
    bytes: int


@dataclass(frozen=True, slots=True)
class Bound:
    """A pattern bound for printing: leaflets by dialect and style, drawings by dialect. Made once, used by all."""

    compiled: Compiled
    studio: Studio
    leaflets: Mapping[tuple[str, Style], Leaflet] = field(default_factory=dict)
    left: Mapping[str, Leaflet] = field(default_factory=dict)
    """Leaflets for the left hand, by dialect."""
    test: Report | None = None
    """What a test brought, when there are filled sheets."""
    findings: tuple[Finding, ...] = ()
    """What there is to say of the sheets."""
    figures: Mapping[str, Mapping[int, tuple[Figure, ...]]] = field(default_factory=dict)


def bind_all(
    compiled: Compiled,
    studio: Studio,
    sheets: Sequence[tuple[str, bytes]] = (),
    photo: Figure | None = None,
    kept: Kept | None = None,
) -> Bound:
    """All leaflets of a pattern.

    `sheets` are filled test sheets: file name and content; `kept` are drawings the page has made already.

    Gives (in `Bound.findings`) what `testreport.merge` gives.
    """
    test = tested(compiled, studio, sheets)
    languages = {key: load.language(code) for key, code in DIALECTS.items()}
    spoken = tuple(languages.values())
    drawn = plates(compiled.pattern.header, compiled.fabric.parts, compiled.measured, studio, spoken, kept)
    figures = {key: drawn[language.code, False] for key, language in languages.items()}
    styles = tuple(dict.fromkeys(edition.style for edition in EDITIONS))
    leaflets = {
        (key, style): replace(bind(compiled, studio, language, style, figures[key], test.value), photo=photo)
        for key, language in languages.items()
        for style in styles
    }
    left = {
        key: replace(
            bind(compiled, studio, language, Style.SHORT, drawn[language.code, True], test.value, left=True),
            photo=photo,
        )
        for key, language in languages.items()
    }
    return Bound(compiled, studio, leaflets, left, test.value, test.findings, figures)


def tested(compiled: Compiled, studio: Studio, sheets: Sequence[tuple[str, bytes]]) -> Checked[Report | None]:
    """What filled test sheets say of a pattern; None without any."""
    if not sheets:
        return Checked(None)
    own = bind(compiled, studio, author_language(compiled.pattern.header), Style.SHORT, {})
    merged = merge(questions(own), sheets)
    return Checked(merged.value, merged.findings)


def editions(bound: Bound, templates: Mapping[str, str]) -> Checked[dict[str, bytes]]:
    """All public editions as files by name, in the order of the statement.

    Args:
        bound: the pattern.
        templates: the theme's booklet templates by file name (see `booklet.template`).

    Gives what `booklet.booklet` gives, each thing said once, and `booklet-not-set` where a template is wrong.
    """
    header, studio = bound.compiled.pattern.header, bound.studio
    place = header.spans.get("title", NOWHERE)
    accent = studio.colours.get("accent", "")
    files: dict[str, bytes] = {}
    findings: list[Finding] = list(bound.findings)
    said = False
    for key in _first_own(header, studio):
        for edition in EDITIONS:
            leaflet = bound.left[key] if edition.left else bound.leaflets[key, edition.style]
            if edition.paper is None:
                files[f"{header.slug}-{key}-{edition.key}.txt"] = plain_text(leaflet).encode()
                continue
            try:
                made = booklet(leaflet, edition.paper, edition.title, templates, accent, place)
            except TypesettingError as fault:
                findings.append(_not_set(fault, place))
                continue
            files[f"{header.slug}-{key}-{edition.key}.pdf"] = made.value.content
            if not said:
                said = True
                findings.extend(made.findings)  # the others would only say it again
    files.update(_charts(bound))
    short = {code: bound.leaflets[key, Style.SHORT] for key, code in DIALECTS.items()}
    files[f"{header.slug}.json"] = pattern_json(bound.compiled, short).encode()
    return Checked(files, tuple(dict.fromkeys(findings)))


def _not_set(fault: TypesettingError, place: Span) -> Finding:
    """A theme's or a studio's own template that does not compile; the other editions are made all the same."""
    said = str(fault).split("\n", 1)[0].removeprefix("error: ").rstrip(".")
    fits = "a look at the templates in content/templates/booklet, if there are any"
    return Finding("booklet-not-set", Severity.ERROR, f"the booklets could not be set: {said}", place, fits)


def all_editions(compiled: Compiled, studio: Studio, templates: Mapping[str, str]) -> Checked[dict[str, bytes]]:
    """All public editions of a pattern, from the compiled pattern in one step (see `editions`)."""
    return editions(bind_all(compiled, studio), templates)


def _first_own(header: Header, studio: Studio) -> tuple[str, ...]:
    """Dialects, the studio's first."""
    return ("uk", "us") if studio.terms == "UK" else ("us", "uk")


def _charts(bound: Bound) -> Iterator[tuple[str, bytes]]:
    """Every chart of the studio's own dialect, as SVG and as PNG of at most 1200 pixels."""
    key = _first_own(bound.compiled.pattern.header, bound.studio)[0]
    for figures in bound.figures[key].values():
        for figure in figures:
            name = f"{bound.compiled.pattern.header.slug}-{figure.name}"
            scale = 1200 / max(figure.width, figure.height)
            yield f"{name}.svg", figure.svg.encode()
            yield (
                f"{name}.png",
                picture(figure.svg, round(figure.width * scale) or 1, round(figure.height * scale) or 1),
            )


_FILE = re.compile(r".*?-(?P<terms>us|uk)-(?P<key>" + "|".join(edition.key for edition in EDITIONS) + r")\.\w+")


def statement(files: Mapping[str, bytes]) -> tuple[Available, ...]:
    """Which editions exist, from the files alone, in their order."""
    return listed({name: len(content) for name, content in files.items()})


def listed(sizes: Mapping[str, int]) -> tuple[Available, ...]:
    """The same from the names of the files and their sizes in bytes."""
    slug = next((name.removesuffix(".json") for name in sizes if name.endswith(".json")), "")
    return tuple(found for name, size in sizes.items() if (found := _available(name, size, slug)))


_DRAWN = {"silhouette": "Outline", "strip": "Colours"}
_PICTURES = {"svg": "sharp at any size", "png": "a picture for anything that shows pictures"}


def _available(name: str, size: int, slug: str) -> Available | None:
    if match := _FILE.fullmatch(name):
        edition = next(edition for edition in EDITIONS if edition.key == match["key"])
        terms = load.language(DIALECTS[match["terms"]]).title
        return Available(edition.title, edition.serves, terms, name, size)
    stem, _, ending = name.rpartition(".")
    if ending in _PICTURES:
        # Named apart by their parts: eleven links that all say `Chart` help nobody who hears them one by one.
        part, _, kind = stem.removeprefix(f"{slug}-").rpartition("-")
        title = f"{_DRAWN.get(kind, 'Chart')} of the {part.replace('-', ' ')}, {ending.upper()}"
        return Available(title, _PICTURES[ending], "", name, size)
    if ending == "json":
        return Available("Pattern as data", "for other programs, both dialects", "", name, size)
    return None


def statement_text(available: tuple[Available, ...]) -> str:
    """The statement in plain text, one edition a line."""
    return "".join(
        f"{one.title}{f', {one.terms}' if one.terms else ''}: {one.serves} ({one.file}, {_size(one.bytes)})\n"
        for one in available
    )


def _size(n: int) -> str:
    return f"{n / 1e6:.1f} MB" if n >= 1_000_000 else f"{max(1, round(n / 1000))} kB"

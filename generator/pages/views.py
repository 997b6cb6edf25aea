"""A compiled pattern as the record its page prints. Here everything is decided; templates only print."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from markupsafe import Markup

from generator.fabric.model import Fabric, Make, Part
from generator.measures.measured import Measured
from generator.notation.pattern import Header, Pattern, Prose, Working
from generator.pages import emblem, figures, materials, particulars, rounds
from generator.pages.amounts import Both
from generator.pages.prose import anchor, to_html
from generator.pages.reckoning import reckoned
from generator.pages.records import Card, Download, PartView, PatternView, Picture, Section
from generator.pages.studio import Studio
from generator.vocabulary.load import language
from generator.wording import numbers
from generator.wording.instructions import Written
from generator.wording.reference import abbreviations, kinds_used, own_stitches, signs, unnamed


@dataclass(frozen=True, slots=True)
class Shots:
    """The pattern's photos made ready, by file name; the pictures cut for sharing, relative to the pattern's folder."""

    pictures: Mapping[str, Picture] = field(default_factory=dict)
    card: str = ""


@dataclass(frozen=True, slots=True)
class Made:
    """A page's record with the files that belong beside it."""

    view: PatternView
    css: str
    files: Mapping[str, Callable[[], bytes]]


def pattern_view(
    pattern: Pattern,
    fabric: Fabric,
    measured: Measured | None,
    studio: Studio,
    shots: Shots | None = None,
    drawer: figures.Drawer = figures.figures,
) -> Made:
    """The page of a pattern."""
    header, shots = pattern.header, shots or Shots()
    colours = materials.colours(header)
    taken = {"main", "need", "before", "words", "about", "film", "downloads", "proof", "corrections", "pictures", "q"}
    css: list[str] = []
    files: dict[str, Callable[[], bytes]] = {}
    swatches = {key: colour for key, (_, colour) in colours.items()}
    yarns = {key: name for key, (name, _) in colours.items()}
    said = [rounds.write(part, header, yarns) for part in fabric.parts]
    intro, sections = _sections(pattern, fabric, measured, studio, shots, colours, taken, css, files, drawer, said)
    files["cover.svg"] = lambda: emblem.cover(fabric, swatches, header.title).encode()
    card = _card(pattern, fabric, measured, shots)
    us, uk = (
        _reference(header, fabric, code, [line for part in said for line in part[n].values()], yarns)
        for n, code in enumerate(("en-US", "en-GB"))
    )
    view = PatternView(
        card=card,
        slug=header.slug,
        title=header.title or header.slug,
        summary=header.summary,
        terms=header.terms,
        level=header.level,
        level_note=materials.level_note(header.level),
        published=header.published.isoformat() if header.published else "",
        shown_date=particulars.shown(header.published, studio),
        sections=sections,
        intro=intro,
        emblem=Markup(emblem.disc(fabric, swatches)),
        picture=_main_picture(header, shots),
        more_pictures=_more_pictures(header, shots),
        yarns=materials.yarn_rows(header, measured),
        hooks=materials.hook_rows(header, measured),
        gauge=materials.gauge(header),
        sizes=materials.sizes(header, measured),
        hours=card.hours,
        notions=header.notions,
        cautions=materials.cautions(measured),
        reckoned=reckoned(header, measured),
        abbreviations=(us[0], uk[0]),
        signs=(us[1], uk[1]),
        conventions=particulars.conventions(fabric),
        tags=particulars.tags(header.tags),
        corrections=particulars.corrections(header.revisions, studio),
        film=particulars.film_view(header.film),
        proved=particulars.proved(fabric),
        first_anchor=next(
            (row.anchor for one in sections if one.part for row in one.part.rows if row.kind == "work"), ""
        ),
        chart_css=any(css),
    )
    return Made(view, "".join(css), files)


def _sections(
    pattern: Pattern,
    fabric: Fabric,
    measured: Measured | None,
    studio: Studio,
    shots: Shots,
    colours: Mapping[str, tuple[str, str]],
    taken: set[str],
    css: list[str],
    files: dict[str, Callable[[], bytes]],
    drawer: figures.Drawer,
    said: Sequence[Sequence[Mapping[int, Written]]],
) -> tuple[Markup, tuple[Section, ...]]:
    """What stands before the first part (it goes last on the page), and the rest in the author's order."""
    intro: list[Markup] = []
    found: list[Section] = []
    known: dict[int, PartView] = {}
    extras = _extras(pattern.header, shots)
    for index, block in enumerate(pattern.blocks):
        if isinstance(block, Prose):
            html = to_html(_without_part_heading(block.text, pattern, index), shots.pictures, shift=1, prefix="p-")
            if html.strip():
                (found.append(Section(prose=html)) if found else intro.append(html))
        elif isinstance(block, Working) and block.part < len(fabric.parts):
            part = fabric.parts[block.part]
            if block.part not in known:
                name = rounds.unique(anchor(part.name or "work"), taken)
                scene = figures.Scene(colours, studio.sc_sign, part.name or pattern.header.title, len(known))
                measure = measured.parts[block.part] if measured and block.part < len(measured.parts) else None
                drawn = drawer(part, measure, name, scene)
                css.append(drawn.css)
                files.update(drawn.files)
                hook = f"Hook: {numbers.hook(block.piece.hook_mm)}" if block.piece.hook_mm else ""
                rows = rounds.rows(part, said[block.part], pattern.header, studio, colours, taken, extras)
                known[block.part] = PartView(part.name, name, part.make, rows, drawn.charts, hook)
                found.append(Section(part=_stretch(known[block.part], part, block, more=False)))
            else:
                found.append(Section(part=_stretch(known[block.part], part, block, more=True)))
    return Markup("").join(intro), tuple(found)


def _stretch(whole: PartView, part: Part, block: Working, *, more: bool) -> PartView:
    """What of a part stands in one block."""
    span = block.piece.span
    inside = [span.start <= line.line.span.start < max(span.end, span.start + 1) for line in part.lines]
    rows = tuple(row for row in whole.rows if inside[row.line])
    return replace(whole, rows=rows, charts=() if more else whole.charts, more=more)


def _without_part_heading(text: str, pattern: Pattern, index: int) -> str:
    """Prose right before a part ends with the part's heading, which the part prints itself."""
    following = pattern.blocks[index + 1] if index + 1 < len(pattern.blocks) else None
    lines = text.rstrip().splitlines()
    if isinstance(following, Working) and lines and lines[-1].lstrip().startswith("##"):
        return "\n".join(lines[:-1])
    return text


def _extras(header: Header, shots: Shots) -> rounds.Extras:
    pictures = {
        photo.round: shots.pictures[photo.file]
        for photo in header.photos
        if photo.round and photo.file in shots.pictures
    }
    film = {}
    for mark in header.film.marks if header.film else ():
        film[mark.title.lower()] = (particulars.clock(mark.seconds), particulars.film_link(header.film, mark.seconds))
    return rounds.Extras(pictures, film)


def _main_picture(header: Header, shots: Shots) -> Picture | None:
    return next(
        (shots.pictures[photo.file] for photo in header.photos if photo.file in shots.pictures and not photo.round),
        None,
    )


def _more_pictures(header: Header, shots: Shots) -> tuple[Picture, ...]:
    whole = [shots.pictures[photo.file] for photo in header.photos if photo.file in shots.pictures and not photo.round]
    return tuple(whole[1:])


def _rounds(fabric: Fabric) -> int:
    return sum(sum(course.make is not Make.FOUNDATION for course in part.courses) for part in fabric.parts)


def _card(pattern: Pattern, fabric: Fabric, measured: Measured | None, shots: Shots) -> Card:
    header = pattern.header
    base = f"patterns/{header.slug}/"
    main = _main_picture(header, shots)
    metres = materials.total_metres(header, measured)
    words, minutes = materials.hours(header, measured)
    weights = tuple(sorted({yarn.weight for yarn in header.yarns if yarn.weight is not None}))
    moving = [revision for revision in header.revisions if revision.changes_work]
    dates = [one for one in (header.published, *(revision.date for revision in moving)) if one]
    return Card(
        slug=header.slug,
        title=header.title or header.slug,
        summary=header.summary,
        level=header.level,
        kind=header.kind,
        published=header.published.isoformat() if header.published else "",
        updated=max(dates).isoformat() if dates else "",
        terms=header.terms or "US",
        tags=tuple(dict.fromkeys(header.tags)),
        weights=weights,
        weight_label=materials.weight_name(weights[0]) if len(weights) == 1 else "",
        metres=metres,
        length=materials.both(metres, numbers.yarn_length) if metres else Both(),
        minutes=minutes,
        hours=words,
        size=materials.size_line(header, measured),
        rounds=_rounds(fabric),
        stitches=tuple(sorted(kinds_used(fabric))),
        yarns=tuple((yarn.colour, yarn.swatch or materials.SPARE) for yarn in header.yarns),
        cover=base + (main.small[0] if main else "cover.svg"),
        cover_alt=main.alt if main else _drawn_alt(header, fabric),
        cover_width=main.small[1] if main else emblem.SIZE,
        cover_height=main.small[2] if main else emblem.SIZE,
        card=base + shots.card if shots.card else "",
        corrections=tuple((one.date.isoformat(), one.note) for one in moving),
        film=header.film.address if header.film else "",
    )


def _drawn_alt(header: Header, fabric: Fabric) -> str:
    names = [yarn.colour for yarn in header.yarns if yarn.colour]
    colours = f" in {', '.join(names[:-1])} and {names[-1]}" if len(names) > 1 else f" in {names[0]}" if names else ""
    count = _rounds(fabric)
    return f"{header.title}, drawn as its {count} rounds{colours}" if count else f"{header.title}, not yet drawn"


def with_files(view: PatternView, downloads: tuple[Download, ...], card: str = "") -> PatternView:
    """The view once it is known which files lie beside the page."""
    made = replace(view.card, card=f"patterns/{view.slug}/{card}") if card else view.card
    return replace(view, downloads=downloads, card=made)


_Pairs = tuple[tuple[str, str], ...]


def _reference(
    header: Header, fabric: Fabric, code: str, said: Sequence[Written], yarns: Mapping[str, str]
) -> tuple[_Pairs, _Pairs]:
    """The abbreviations the lines use; and what they use besides: the pattern's own stitches, brackets and stars."""
    words, own = language(code), {special.key: special.name for special in header.stitches}
    lines = unnamed(said, words, yarns)
    return abbreviations(fabric, words, lines), (*own_stitches(fabric, words, own), *signs(words, lines))

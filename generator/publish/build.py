"""One pattern: from its text to its folder of files. Runs in several processes side by side."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from functools import partial
from pathlib import Path

from jinja2 import Environment, TemplateError

from generator import bindery, library
from generator.diagnostics.record import Finding, Severity
from generator.ledger import Record
from generator.notation.pattern import Pattern
from generator.pages import cards, emblem, figures, html, jsonld, photos
from generator.pages.page import head, with_menu
from generator.pages.records import Card, Download, PatternView, Picture
from generator.pages.studio import Studio
from generator.pages.views import Made, Shots, pattern_view, with_files
from generator.pages.wanted import Wanted, of_compiled
from generator.pipeline import Compiled, compile_pattern
from generator.publish import corrections
from generator.publish.compiled import environment
from generator.publish.shelf import Shelved
from generator.source import NOWHERE


@dataclass(frozen=True, slots=True)
class Setting:
    """What every pattern of a build shares."""

    content: Path
    studio: Studio
    shelved: Shelved
    menu: tuple[tuple[str, str, str], ...]
    today: date
    editions: bool = True
    """Whether booklets and the other editions are made too."""
    pictures: bool = True
    """Whether pictures for sharing are made."""


@dataclass(frozen=True, slots=True)
class Built:
    """What became of one pattern."""

    pattern: Pattern
    """Header only; the blocks stay in the process that read them."""
    findings: tuple[Finding, ...]
    held: bool = False
    """A draft, or dated in the future."""
    card: Card | None = None
    files: Mapping[str, int] = field(default_factory=dict)
    """Path relative to the pattern's folder, with its size."""
    record: Record | None = None
    """What the ledger of published rounds is to know of it."""


_MINE: dict[str, tuple[Setting, Environment]] = {}


def start(setting: Setting) -> None:
    """Get one process ready."""
    _MINE["setting"] = (setting, environment(setting.shelved.theme, setting.studio))


def build(text: library.Text, folder: Path) -> Built:
    """Make one pattern's folder. Whatever goes wrong is a finding; then nothing is written."""
    setting, env = _MINE["setting"]
    source = text.source
    compiled = compile_pattern(source)
    pictures = of_compiled(compiled)
    looked = library.find_photos(pictures, text.folder, setting.content).findings
    findings = [*text.findings, *compiled.findings, *looked]
    header = compiled.pattern.header
    slim = replace(compiled.pattern, blocks=())
    waits = waiting(compiled.pattern, setting.today)
    if waits or any(finding.severity is Severity.ERROR for finding in findings):
        return Built(slim, (*findings, *waits), held=bool(waits))
    ready, said = prepare(pictures, text.folder, setting.content)
    findings += said
    if any(finding.severity is Severity.ERROR for finding in said):
        return Built(slim, tuple(findings))
    try:
        sheets = bindery.filled_sheets(text.folder / Path(source.path).name)
        files, card, more = pattern_files(compiled, ready, setting, env, sheets=sheets)
    except TemplateError as error:
        return Built(slim, (*findings, html.template_finding(error)))
    findings += more
    for name, data in files.items():
        place = folder / name
        place.parent.mkdir(parents=True, exist_ok=True)
        place.write_bytes(data)
    sizes = {name: len(data) for name, data in files.items()}
    return Built(replace(slim, header=header), tuple(findings), False, card, sizes, corrections.of_pattern(compiled))


def waiting(pattern: Pattern, today: date) -> tuple[Finding, ...]:
    """Why a pattern is not published yet, as a note."""
    header = pattern.header
    if header.draft:
        span = header.spans.get("draft", NOWHERE)
        return (Finding("draft", Severity.NOTE, "this is a draft and stays out of the site", span, "draft: no"),)
    if header.published and header.published > today:
        span = header.spans.get("published", NOWHERE)
        message = f"the date {header.published.isoformat()} is in the future, so the pattern waits"
        return (Finding("date-in-future", Severity.NOTE, message, span, f"published: {today.isoformat()}"),)
    return ()


def prepare(
    pictures: Sequence[Wanted], folder: Path, content: Path
) -> tuple[dict[str, photos.Ready], tuple[Finding, ...]]:
    """Photos made ready, by the name the text uses; those that are not there are left out. Gives `photo-unusable`."""
    files = library.find_photos(pictures, folder, content).value
    ready: dict[str, photos.Ready] = {}
    findings: list[Finding] = []
    for one in pictures:
        if one.file not in files:
            continue
        try:
            ready[one.file] = photos.prepare(files[one.file].read_bytes(), one.file.rpartition("/")[2], one.alt)
        except (photos.NoPhoto, OSError) as fault:
            findings.append(unusable(one, fault))
    return ready, tuple(findings)


def unusable(one: Wanted, fault: photos.NoPhoto | OSError) -> Finding:
    """What there is to say of a file that can't be shown."""
    reason = f"read: {fault.strerror or fault}".lower() if isinstance(fault, OSError) else f"used: {fault}"
    message = f"the photo `{one.file}` can't be {reason}"
    return Finding("photo-unusable", Severity.ERROR, message, one.span, "a JPEG, PNG or WebP picture")


def pattern_files(
    compiled: Compiled,
    ready: Mapping[str, photos.Ready],
    setting: Setting,
    env: Environment,
    drawer: figures.Drawer | None = None,
    sheets: Sequence[tuple[str, bytes]] = (),
) -> tuple[dict[str, bytes], Card, list[Finding]]:
    """All files of a pattern's folder, its card for the lists, and what there is to say. `sheets` are filled test sheets."""
    pattern, studio = compiled.pattern, setting.studio
    pictures: dict[str, Picture] = {name: one.picture for name, one in ready.items()}
    kept: figures.Kept = {}
    drawer = drawer or partial(figures.figures, kept=kept)
    made = pattern_view(pattern, compiled.fabric, compiled.measured, studio, Shots(pictures), drawer)
    files: dict[str, bytes] = {name: draw() for name, draw in made.files.items()}
    for one in ready.values():
        files.update(one.files)
    findings: list[Finding] = []
    names: dict[str, str] = {}
    if setting.pictures:
        files.update(_sharing(made, compiled, ready, studio))
    if made.css:
        files["chart.css"] = made.css.encode()
    if setting.editions:
        from generator.publish.editions import editions, labels

        more, said = editions(compiled, studio, setting.shelved.booklet, sheets, _main(compiled, ready), kept)
        files.update(more)
        findings.extend(said)
        names = labels(more)
    card = next((name for name in ("card.png", "card.jpg") if name in files), "")
    view = with_files(made.view, downloads(files, names), card)
    if sheets:
        view = _with_testers(view, compiled, studio, sheets)
    files["index.html"] = _page(view, setting, env)
    return files, view.card, findings


def _with_testers(
    view: PatternView, compiled: Compiled, studio: Studio, sheets: Sequence[tuple[str, bytes]]
) -> PatternView:
    """The page saying how many made the piece, from their sheets."""
    from generator.pages.checked import made_by
    from generator.pages.editions import tested

    test = tested(compiled, studio, sheets).value
    return replace(view, proved=f"{view.proved} {made_by(test)}") if test and test.testers else view


def _page(view: PatternView, setting: Setting, env: Environment) -> bytes:
    studio = setting.studio
    path = f"patterns/{view.slug}/index.html"
    page = head(studio, path, view.title, view.summary, "pattern")
    page = replace(
        page,
        og="article",
        image=studio.address + view.card.card if studio.address and view.card.card else "",
        image_alt=view.card.cover_alt,
        data=jsonld.pattern(view, studio, page.canonical) if studio.address else "",
        scripts=("assets/choices.js", "assets/place.js"),
        sheet="chart.css" if view.chart_css else "",
        storage=view.slug,
        crumbs=True,
    )
    return html.render(env, "pattern.html", path, page=with_menu(page, setting.menu), root="../../", view=view)


def _sharing(made: Made, compiled: Compiled, ready: Mapping[str, photos.Ready], studio: Studio) -> dict[str, bytes]:
    """Pictures for sharing: cut from the first photo, else set from the drawn cover."""
    header = compiled.pattern.header
    if photo := _main(compiled, ready):
        return {"card.jpg": photo.wide, "pin.jpg": photo.tall}
    swatches = {yarn.key: yarn.swatch for yarn in header.yarns if yarn.swatch}
    drawing = emblem.drawing(compiled.fabric, swatches, header.title)
    both = cards.sharing(made.view.card, drawing, emblem.ground(swatches), studio)
    return {"card.png": both.wide, "pin.png": both.tall}


def _main(compiled: Compiled, ready: Mapping[str, photos.Ready]) -> photos.Ready | None:
    """The first photo that shows the whole piece."""
    photographed = compiled.pattern.header.photos
    return next((ready[photo.file] for photo in photographed if photo.file in ready and not photo.round), None)


def downloads(files: Mapping[str, bytes], names: Mapping[str, str]) -> tuple[Download, ...]:
    """What a reader may want to take along, with its size, in the editions' own order."""
    found = [Download(words, name, size(len(files[name]))) for name, words in names.items()]
    pin = next((name for name in ("pin.png", "pin.jpg") if name in files), "")
    if pin:
        found.append(Download("Picture for pinning", pin, size(len(files[pin]))))
    return tuple(found)


def size(count: int) -> str:
    """Bytes in words: `84 KB`, `1.2 MB`."""
    return f"{count / 1e6:.1f} MB" if count >= 1e6 else f"{max(1, round(count / 1000))} KB"

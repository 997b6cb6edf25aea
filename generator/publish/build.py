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
from generator.notation.pattern import Header, Pattern
from generator.pages import figures, html, photos
from generator.pages.records import Card
from generator.pages.wanted import of_compiled
from generator.pipeline import Compiled, compile_pattern
from generator.publish import corrections, folders
from generator.publish.compiled import environment
from generator.publish.files import Files, main_photo, page, sharing, work
from generator.publish.finished import Finished, Shot, pack, unpack
from generator.publish.setting import Setting as Setting  # the preview sets up the same
from generator.publish.shots import Shown, prepare, shared_of
from generator.publish.shots import unusable as unusable  # the preview says the same
from generator.publish.steps import EDITIONS, PAGE, READY, SHARING, WORK, Step, seen_by
from generator.source import NOWHERE, Source


@dataclass(frozen=True, slots=True)
class Built:
    """What became of one pattern."""

    pattern: Pattern
    """Header only; the blocks stay in the process that read them."""
    findings: tuple[Finding, ...]
    held: bool = False
    """A draft, or dated in the future."""
    card: Card | None = None
    made: Mapping[str, Mapping[str, int]] = field(default_factory=dict)
    """The steps that were made: path relative to the pattern's folder, with its size."""
    record: Record | None = None
    """What the ledger of published rounds is to know of it; None where the text was not worked again."""


_MINE: dict[str, tuple[Setting, Environment]] = {}


def start(setting: Setting) -> None:
    """Get one process ready."""
    _MINE["setting"] = (setting, environment(setting.shelved.theme, setting.studio))


def build(text: library.Text, folder: Path, kept: Mapping[str, Step] | None = None) -> Built:
    """Make one pattern's folder. Whatever goes wrong is a finding; then nothing is written.

    Args:
        kept: steps of the last build that are as they would be made; without `editions` among them, where there are
            any, the text is worked again.
    """
    setting, env = _MINE["setting"]
    if kept and (finished := _finished(kept, setting)):
        return _again(text.source, folder, finished, kept, setting, env)
    return _anew(text, folder, kept or {}, setting, env)


def _finished(kept: Mapping[str, Step], setting: Setting) -> Finished | None:
    """The record of a pattern whose text need not be worked: it and the editions are as they would be made."""
    if WORK not in kept or (setting.editions and EDITIONS not in kept):
        return None
    ready = next((path for path in kept[WORK].files if path.startswith(READY)), "")
    return unpack((setting.site / ready).read_bytes()) if ready else None


def _again(
    source: Source, folder: Path, finished: Finished, kept: Mapping[str, Step], setting: Setting, env: Environment
) -> Built:
    """The page printed anew, and what else does not ask for the stitches."""
    made: dict[str, Files] = {}
    if setting.pictures and SHARING not in kept:
        made[SHARING] = sharing(finished, seen_by(SHARING, setting.studio))
    view = finished.view
    pattern = Pattern(source, Header(title=view.title, slug=view.slug))
    try:
        view, made[PAGE] = page(view, _beside(kept, made, view.slug), setting, env)
    except TemplateError as error:
        return Built(pattern, (html.template_finding(error),))
    return Built(pattern, (), False, view.card, _lay(folder, view.slug, made, setting.site))


def _anew(text: library.Text, folder: Path, kept: Mapping[str, Step], setting: Setting, env: Environment) -> Built:
    """The text worked, and everything made from it that is not kept."""
    source = text.source
    compiled = compile_pattern(source)
    pictures = of_compiled(compiled)
    looked = library.find_photos(pictures, text.folder, setting.content).findings
    findings = [*text.findings, *compiled.findings, *looked]
    slim = replace(compiled.pattern, blocks=())
    waits = waiting(compiled.pattern, setting.today)
    if waits or any(finding.severity is Severity.ERROR for finding in findings):
        return Built(slim, (*findings, *waits), held=bool(waits))
    header, site = compiled.pattern.header, setting.site
    before = _before(site / READY / header.slug)
    shown = prepare(pictures, text.folder, setting.content, shared_of(header), before, site / "patterns" / header.slug)
    findings += shown.findings
    if any(finding.severity is Severity.ERROR for finding in shown.findings):
        return Built(slim, tuple(findings))
    sheets = bindery.filled_sheets(text.folder / Path(source.path).name)
    try:
        made, card, more = _steps(compiled, shown, sheets, kept, setting, env)
    except TemplateError as error:
        return Built(slim, (*findings, html.template_finding(error)))
    sizes = _lay(folder, card.slug, made, setting.site)
    return Built(slim, (*findings, *more), False, card, sizes, corrections.of_pattern(compiled))


def _before(ready: Path) -> tuple[Shot, ...]:
    """Photos of the last build."""
    finished = unpack(ready.read_bytes()) if ready.is_file() else None
    return finished.photos if finished else ()


def _steps(
    compiled: Compiled,
    shown: Shown,
    sheets: Sequence[tuple[str, bytes]],
    kept: Mapping[str, Step],
    setting: Setting,
    env: Environment,
) -> tuple[dict[str, Files], Card, tuple[Finding, ...]]:
    """Every step that is not kept (`work` is made in any case), the card for the lists, what there is to say."""
    studio = setting.studio
    drawings: figures.Kept = {}
    drawer = partial(figures.figures, kept=drawings)
    finished, files = work(compiled, shown.ready, seen_by(WORK, studio), drawer, sheets, setting.pictures)
    made = {WORK: files | {READY: pack(replace(finished, photos=shown.shots))}}
    said: tuple[Finding, ...] = ()
    if setting.pictures and SHARING not in kept:
        made[SHARING] = sharing(finished, seen_by(SHARING, studio))
    if setting.editions and EDITIONS not in kept:
        from generator.publish.editions import editions

        seen, photo = seen_by(EDITIONS, studio), main_photo(compiled, shown.ready)
        made[EDITIONS], said = editions(compiled, seen, setting.shelved.booklet, sheets, photo, drawings)
    view, made[PAGE] = page(finished.view, _beside(kept, made, finished.view.slug), setting, env)
    return made, view.card, said


def pattern_files(
    compiled: Compiled, ready: Mapping[str, photos.Ready], setting: Setting, env: Environment, drawer: figures.Drawer
) -> tuple[Files, Card, list[Finding]]:
    """A pattern's page and what is drawn beside it, for a preview; its card, and what there is to say."""
    finished, files = work(compiled, ready, seen_by(WORK, setting.studio), drawer)
    view, printed = page(finished.view, {}, setting, env)
    return files | printed, view.card, []


def _beside(kept: Mapping[str, Step], made: Mapping[str, Files], slug: str) -> dict[str, dict[str, int]]:
    """Files beside a page, kept or made now, with their sizes."""
    top = f"patterns/{slug}/"
    old = {name: {path.removeprefix(top): size for path, size in step.files.items()} for name, step in kept.items()}
    return old | {name: _sizes(files) for name, files in made.items()}


def _sizes(files: Files) -> dict[str, int]:
    return {name: len(data) for name, data in files.items()}


def _lay(folder: Path, slug: str, made: Mapping[str, Files], site: Path) -> dict[str, dict[str, int]]:
    """Write what was made, and tell its sizes by step; a file that has not changed keeps its old self (and its date)."""
    for files in made.values():
        for name, data in files.items():
            ready = name == READY
            place = folder.with_name(f"{folder.name}{READY}") if ready else folder / name
            folders.put(site / (f"{READY}/{slug}" if ready else f"patterns/{slug}/{name}"), place, data)
    return {step: _sizes(files) for step, files in made.items()}


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

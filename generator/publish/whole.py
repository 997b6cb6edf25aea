"""A build from beginning to end."""

import shutil
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from jinja2 import TemplateError

from generator import bindery, library
from generator.diagnostics.record import Finding, Severity
from generator.pages import html, palette
from generator.pages import site as pages
from generator.pages.studio import Post, Studio
from generator.publish import compiled, corrections, folders, fulltext, record, shelf
from generator.publish.guide import guide
from generator.publish.laying import Laying, Progress, bases
from generator.publish.patterns import lay_patterns
from generator.publish.posts import due, lay_pictures
from generator.publish.record import Entry, Report, Said
from generator.publish.setting import Setting
from generator.publish.steps import WORK, Step, print_of
from generator.source import NOWHERE, Source

STATIC = "static"
LISTS = "the site itself"
"""What the record calls the pages about the whole catalogue: no card changes where a pattern's rounds alone were mended."""


@dataclass(frozen=True, slots=True)
class Order:
    """What was asked for."""

    site: Path
    today: date
    jobs: int
    fresh: bool
    editions: bool
    pictures: bool
    full_text: bool
    progress: Progress | None


def publish(
    content: Path,
    site: Path,
    *,
    today: date,
    jobs: int = 0,
    fresh: bool = False,
    editions: bool = True,
    pictures: bool = True,
    full_text: bool = True,
    progress: Progress | None = None,
) -> Report:
    """Build `site` from `content`.

    Args:
        today: patterns dated later wait.
        jobs: processes; 0 for as many as there are cores.
        fresh: make everything again.
        editions, pictures: whether booklets and pictures for sharing are made too.
        full_text: whether words inside pages can be searched too, where the library for it is installed.
        progress: told after each pattern: how many are done, of how many, and which.

    Gives `site-not-writable`, `site-not-ours`, `slug-taken`, `could-not-build` and what compiling gives. A pattern
    with an error keeps its last good page.
    """
    report = Report()
    place = Source(site.as_posix(), "")
    if not record.ours(site):
        message = f"the folder {site.as_posix()} holds files that publish did not make, so it is left alone"
        return _stopped(report, place, Finding("site-not-ours", Severity.ERROR, message, NOWHERE, "an empty folder"))
    try:
        folder = folders.fresh(site)
        order = Order(site, today, jobs, fresh, editions, pictures, full_text, progress)
        _build(content, folder, order, report)
    except OSError as error:
        folders.discard(site)
        reason = (error.strerror or str(error)).lower()
        message = f"the site can't be written to {site.as_posix()}: {reason}; the last one is untouched"
        return _stopped(report, place, Finding("site-not-writable", Severity.ERROR, message, NOWHERE))
    except TemplateError as error:
        folders.discard(site)
        return _stopped(report, place, html.template_finding(error))
    except BaseException:
        folders.discard(site)
        raise
    return report


def _stopped(report: Report, source: Source, finding: Finding) -> Report:
    report.said.append(Said(source, (finding,)))
    return report


def _build(content: Path, folder: Path, order: Order, report: Report) -> None:
    """Lay out the new site and put it in its place."""
    catalogue = library.load_catalogue(content)
    report.said.extend(Said(said.source, said.findings) for said in catalogue.said)
    shelved, studio = _dressed(catalogue.studio, content, report)
    prose = loose_pages(catalogue)
    menu = pages.menu_extras(prose)
    setting = Setting(content, studio, shelved, menu, order.today, order.editions, order.pictures, order.site)
    before = {} if order.fresh else record.read(order.site)
    there = folders.listing(order.site) if order.site.exists() else {}
    laying = Laying(setting, order.site, folder, there, before, bases(setting), report)
    made = lay_patterns(catalogue.patterns, laying, order.jobs, order.progress)
    remembered = corrections.remember(content, studio, made, {entry.slug for entry in laying.entries.values()})
    report.said.extend(remembered.said)
    # What changed in silence is made again, so that it is told again, until a revision answers for it.
    laying.entries.update({path: laying.entries[path].doubtful() for path in remembered.silent})
    prose = tuple(remembered.page if post == corrections.PLACE else post for post in prose)
    _lay_site(catalogue, prose, laying)
    searched = order.full_text and fulltext.available()
    _finish(laying, searched)
    if remembered.ledger is not None and (failed := bindery.save_ledger(content, remembered.ledger)):
        report.said.append(Said(Source(bindery.LEDGER, ""), failed))
    if searched and (said := fulltext.lay_index(order.site, laying.entries.values())):
        report.said.append(Said(Source(order.site.as_posix(), ""), said))


def _lay_site(catalogue: library.Catalogue, prose: tuple[Post, ...], laying: Laying) -> None:
    """Everything that is not a pattern's own."""
    setting = laying.setting
    posts = due(catalogue.posts, setting.today, laying.report)
    shown = lay_pictures((*posts, *prose), catalogue, laying)
    cards = tuple(entry.card for entry in laying.entries.values() if entry.card)
    known = (setting.studio, cards, posts, prose, sorted(shown.items()))
    key = print_of(shelf.tool_print(), setting.shelved.theme.print, known)
    if old := laying.unchanged(LISTS, key):
        laying.entries[LISTS] = old
    else:
        manual = guide(prose)
        theme = setting.shelved.theme
        whole = pages.Whole(setting.studio, theme, cards, posts, manual.prose, shown, manual.posts)
        laying.entries[LISTS] = Entry("", "", {WORK: Step(key, _lay_lists(whole, laying))})
    laying.entries[STATIC] = _as_they_are(laying)


def _lay_lists(whole: pages.Whole, laying: Laying) -> dict[str, int]:
    """Contents, tags, journal, feed and the rest; gives their sizes."""
    made = pages.site_pages(whole, compiled.environment(whole.theme, whole.studio))
    for path, data in made.items():
        folders.put(laying.site / path, laying.folder / path, data)
    return {path: len(data) for path, data in made.items()}


def _finish(laying: Laying, searched: bool) -> None:
    """Put all that is new in its place, and take away what nothing names any more."""
    shutil.rmtree(laying.folder / ".made", ignore_errors=True)
    record.write(laying.folder, laying.entries)
    named = {path for entry in laying.entries.values() for path in entry.files} | {record.FILE, *folders.KEPT}
    gone = [path for path in laying.there.keys() - named if not (searched and path.startswith(fulltext.FOLDER + "/"))]
    laying.report.removed = len(gone)
    folders.take_place(laying.site, gone)
    laying.report.swapped = True


def loose_pages(catalogue: library.Catalogue) -> tuple[Post, ...]:
    """The studio's own pages, and the place of the corrections unless she has such a page herself."""
    prose = tuple(post for post in catalogue.pages if not post.draft)
    own_page = any(post.slug == corrections.SLUG for post in prose)
    return prose if own_page else (*prose, corrections.PLACE)


def _dressed(studio: Studio, content: Path, report: Report) -> tuple[shelf.Shelved, Studio]:
    """The theme, and the studio without colours nobody could read."""
    checked = shelf.load_theme(studio, content)
    said = (*checked.findings, *palette.contrast_findings(studio, checked.value.colours))
    if said:
        file = content / library.STUDIO
        source = library.load_text(file, content).source if file.exists() else Source(library.STUDIO, "")
        report.said.append(Said(source, said))
    if any(finding.rule == "colour-contrast" for finding in said):
        studio = replace(studio, colours={})
    return checked.value, studio


def _as_they_are(laying: Laying) -> Entry:
    """Files of `content/static/` go to the site's top as they are; none of ours is overwritten."""
    static = laying.setting.content / "static"
    root, files = static.resolve(), {}
    ours = {path for entry in laying.entries.values() for path in entry.files} | {record.FILE}
    for path in sorted(folders.listing(static)) if static.is_dir() else ():
        file = static / path
        if file.is_file() and file.resolve().is_relative_to(root) and path not in ours:
            data = file.read_bytes()
            folders.put(laying.site / path, laying.folder / path, data)
            files[path] = len(data)
    return Entry("", "", {WORK: Step("", files)})

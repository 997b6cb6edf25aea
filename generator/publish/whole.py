"""A build from beginning to end."""

import multiprocessing
import os
import shutil
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace
from datetime import date
from hashlib import sha256
from pathlib import Path

from jinja2 import TemplateError

from generator import bindery, library
from generator.diagnostics.record import Finding, Severity
from generator.notation.pattern import Header, Pattern
from generator.pages import html, palette
from generator.pages import site as pages
from generator.pages.prose import pictures_in
from generator.pages.records import Picture
from generator.pages.studio import Post, Studio
from generator.publish import corrections, folders, record, shelf
from generator.publish.build import Built, Setting, build, prepare, start
from generator.publish.guide import guide
from generator.publish.record import Entry, Report, Said
from generator.source import NOWHERE, Source, Span

Progress = Callable[[int, int, str], None]
FEW = 3
"""So few patterns are not worth a second process."""


@dataclass(frozen=True, slots=True)
class Job:
    """One pattern to be made or taken over."""

    index: int
    text: library.Text
    key: str
    old: Entry | None

    @property
    def path(self) -> str:
        """Name of its source."""
        return self.text.source.path


def publish(
    content: Path,
    site: Path,
    *,
    today: date,
    jobs: int = 0,
    fresh: bool = False,
    editions: bool = True,
    pictures: bool = True,
    progress: Progress | None = None,
) -> Report:
    """Build `site` from `content`.

    Args:
        today: patterns dated later wait.
        jobs: processes; 0 for as many as there are cores.
        fresh: make everything again.
        editions, pictures: whether booklets and pictures for sharing are made too.
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
        _build(content, site, folder, report, today, jobs, fresh, editions, pictures, progress)
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


def _build(
    content: Path, site: Path, folder: Path, report: Report, today: date, jobs: int, fresh: bool,
    editions: bool, pictures: bool, progress: Progress | None,
) -> None:  # fmt: skip
    catalogue = library.load_catalogue(content)
    report.said.extend(Said(said.source, said.findings) for said in catalogue.said)
    shelved, studio = _dressed(catalogue.studio, content, report)
    prose = loose_pages(catalogue)
    own_page = corrections.PLACE not in prose
    setting = Setting(content, studio, shelved, pages.menu_extras(prose), today, editions, pictures)
    before = {} if fresh else record.read(site)
    base = _base(setting)
    work = [
        Job(index, text, _key(base, text, today), before.get(text.source.path))
        for index, text in enumerate(catalogue.patterns)
    ]
    entries, made = _patterns(work, setting, site, folder, report, jobs, progress)
    remembered = corrections.remember(content, studio, made, {entry.slug for entry in entries.values()})
    report.said.extend(remembered.said)
    # What changed in silence is made again, so that it is told again, until a revision answers for it.
    entries |= {path: replace(entries[path], key="") for path in remembered.silent}
    prose = prose if own_page else (*prose[:-1], remembered.page)
    posts = _due(catalogue.posts, today, report)
    shown = _post_pictures((*posts, *prose), catalogue, base, before, site, folder, entries, report)
    cards = tuple(entry.card for entry in entries.values() if entry.card)
    env = html.environment(shelved.theme, studio)
    manual = guide(prose)
    whole = pages.Whole(studio, shelved.theme, cards, posts, manual.prose, shown, manual.posts)
    for path, data in pages.site_pages(whole, env).items():
        folders.put(site, folder, path, data)
    _as_they_are(content / "static", site, folder)
    record.write(folder, entries)
    old = folders.listing(site) if site.exists() else set()
    shutil.rmtree(folder / ".made", ignore_errors=True)
    report.removed = len(old - folders.listing(folder))
    folders.swap(site)
    report.swapped = True
    if remembered.ledger is not None and (failed := bindery.save_ledger(content, remembered.ledger)):
        report.said.append(Said(Source(bindery.LEDGER, ""), failed))


def loose_pages(catalogue: library.Catalogue) -> tuple[Post, ...]:
    """The studio's own pages, and the place of the corrections unless she has such a page herself."""
    taken = ("index", "404", "search", "glossary")
    prose = tuple(post for post in catalogue.pages if not post.draft and post.slug not in taken)
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


def _base(setting: Setting) -> str:
    """Fingerprint of everything that all patterns share."""
    studio = setting.studio
    values = (studio.title, studio.tagline, studio.address, studio.author, studio.language, studio.sc_sign, studio.terms,
              studio.units, studio.links, studio.howto, sorted(studio.colours.items()), sorted(studio.templates.items()))  # fmt: skip
    shared = (values, setting.menu, setting.editions, setting.pictures, sorted(setting.shelved.booklet.items()))
    text = "\0".join((shelf.tool_print(), setting.shelved.theme.print, repr(shared)))
    return sha256(text.encode()).hexdigest()


def _key(base: str, text: library.Text, today: date) -> str:
    """Fingerprint of one pattern: its text, the files beside it (by name, size and date), and what all share."""
    digest = sha256(
        base.encode()
        + b"\0"
        + text.source.path.encode("utf-8", "replace")
        + b"\0"
        + text.source.text.encode("utf-8", "replace")
    )
    for entry in sorted(os.scandir(text.folder), key=lambda one: one.name) if text.folder.is_dir() else ():
        if not entry.name.endswith((".md", ".markdown")) and entry.is_file():
            status = entry.stat()
            digest.update(f"\0{entry.name}\0{status.st_size}\0{status.st_mtime_ns}".encode("utf-8", "replace"))
    return digest.hexdigest()


def _patterns(
    work: Sequence[Job],
    setting: Setting,
    site: Path,
    folder: Path,
    report: Report,
    jobs: int,
    progress: Progress | None,
) -> tuple[dict[str, Entry], list[corrections.Now]]:
    """Every pattern made or taken over, and what the ledger is to know of those made; the first of two with one address
    wins."""
    entries: dict[str, Entry] = {}
    now: list[corrections.Now] = []
    due = [job for job in work if not (job.old and job.old.key == job.key and folders.whole(site, job.old.files))]
    made = dict(zip((job.index for job in due), _made(due, setting, folder, jobs, progress), strict=True))
    twins = library.twins(_slim(job, made) for job in work if _counts(job, made))
    for job in work:
        built = made.get(job.index)
        findings = (*built.findings, *_twin(job, twins)) if built else tuple(_twin(job, twins))
        if findings:
            # The text that was worked: in it a shape block has been written out.
            report.said.append(Said(built.pattern.source if built else job.text.source, findings))
        if built is None and job.old and not _twin(job, twins):
            _keep(job, job.old, entries, site, folder)
            report.kept += 1
        elif built and built.card and not _twin(job, twins):
            entries[job.path] = _settle(job, built, folder)
            if built.record:
                now.append(corrections.Now(job.path, job.text.source, built.pattern.header, built.record))
            report.made += 1
        elif built and built.held:
            report.held += 1
        elif job.old and job.old.card and folders.whole(site, job.old.files) and not _slug_lost(job.old, entries, made):
            # Nothing is lost: what was good before stays until it is good again. Its key is dropped, so it is tried again.
            _keep(job, replace(job.old, key=""), entries, site, folder)
            report.kept += 1
    return entries, now


def _counts(job: Job, made: dict[int, Built]) -> bool:
    built = made.get(job.index)
    return built is None or not built.held


def _slug_lost(old: Entry, entries: dict[str, Entry], made: dict[int, Built]) -> bool:
    """Whether another pattern has taken a kept one's address meanwhile."""
    taken = {entry.slug for entry in entries.values()}
    return old.slug in taken or any(built.card and built.card.slug == old.slug for built in made.values())


def _slim(job: Job, made: dict[int, Built]) -> Pattern:
    built = made.get(job.index)
    if built:
        return built.pattern
    assert job.old is not None
    return Pattern(job.text.source, Header(title=job.old.title, slug=job.old.slug))


def _twin(job: Job, twins: dict[str, Finding]) -> tuple[Finding, ...]:
    finding = twins.get(job.path)
    return (finding,) if finding else ()


def _keep(job: Job, old: Entry, entries: dict[str, Entry], site: Path, folder: Path) -> None:
    folders.take_over(site, folder, old.files)
    entries[job.path] = old


def _settle(job: Job, built: Built, folder: Path) -> Entry:
    """Move a pattern's folder to its place."""
    assert built.card is not None
    slug = built.card.slug
    target = folder / "patterns" / slug
    target.parent.mkdir(exist_ok=True)
    _waiting(folder, job.index).rename(target)
    files = {f"patterns/{slug}/{name}": size for name, size in built.files.items()}
    return Entry(job.key, slug, built.card.title, files, built.card)


def _waiting(folder: Path, index: int) -> Path:
    return folder / ".made" / str(index)


def _made(due: Sequence[Job], setting: Setting, folder: Path, jobs: int, progress: Progress | None) -> list[Built]:
    """Make patterns, side by side where there are enough of them."""
    done: list[Built] = []
    calls = [(job.text, _waiting(folder, job.index)) for job in due]
    for n, built in enumerate(_run(calls, setting, jobs or os.cpu_count() or 1)):
        done.append(built)
        if progress:
            progress(n + 1, len(due), due[n].path)
    return done


def _run(calls: Sequence[tuple[library.Text, Path]], setting: Setting, jobs: int) -> Iterator[Built]:
    if jobs == 1 or len(calls) <= FEW:
        start(setting)
        for call in calls:
            yield one(call)
        return
    method = "fork" if "fork" in multiprocessing.get_all_start_methods() else None
    context = multiprocessing.get_context(method)
    with ProcessPoolExecutor(min(jobs, len(calls)), mp_context=context, initializer=start, initargs=(setting,)) as pool:
        yield from pool.map(one, calls, chunksize=max(1, min(8, len(calls) // (jobs * 4))))


def one(call: tuple[library.Text, Path]) -> Built:
    """Make one pattern; a fault of our own is told as such and takes nothing else along."""
    text, folder = call
    try:
        return build(text, folder)
    except OSError:
        raise
    except Exception as fault:
        if os.environ.get("SPIRALBOUND_TRACE"):
            raise
        message = f"this pattern could not be built, by a fault of our own ({type(fault).__name__}: {str(fault)[:200]})"
        return Built(Pattern(text.source, Header()), (Finding("could-not-build", Severity.ERROR, message, Span(0, 0)),))


def _due(posts: Sequence[Post], today: date, report: Report) -> tuple[Post, ...]:
    """Journal entries that are out; of two with one name the first."""
    found: dict[str, Post] = {}
    for post in posts:
        if post.draft or (post.published and post.published > today):
            report.held += 1
        else:
            found.setdefault(post.slug, post)
    return tuple(found.values())


def _post_pictures(
    posts: Sequence[Post], catalogue: library.Catalogue, base: str, before: dict[str, Entry], site: Path, folder: Path,
    entries: dict[str, Entry], report: Report,
) -> dict[str, Picture]:  # fmt: skip
    """Photos of journal and pages, made ready under `pictures/`; by `slug|address`."""
    shown: dict[str, Picture] = {}
    for post in posts:
        wanted = [(post.photo.file, post.photo.alt, post.span)] if post.photo else []
        wanted += [(address, alt, post.span) for address, alt in pictures_in(post.body)] if "![" in post.body else []
        if not wanted:
            continue
        file = catalogue.content.parent / post.path
        text = library.load_text(file, catalogue.content)
        key, old = _key(base, text, date.min), before.get(post.path)
        if old and old.key == key and folders.whole(site, old.files):
            folders.take_over(site, folder, old.files)
            entries[post.path] = old
        else:
            entries[post.path] = _photographed(post, wanted, text, key, catalogue.content, folder, report)
        top = "../" if post.published or "journal" in post.path else ""
        for name, picture in entries[post.path].pictures.items():
            shown[f"{post.slug}|{name}"] = _under(picture, f"{top}pictures/{post.slug}/")
    return shown


def _photographed(
    post: Post,
    wanted: list[tuple[str, str, Span]],
    text: library.Text,
    key: str,
    content: Path,
    folder: Path,
    report: Report,
) -> Entry:
    ready, findings = prepare(wanted, text.folder, content)
    if findings:
        report.said.append(Said(text.source, tuple(findings)))
    files: dict[str, int] = {}
    for photo in ready.values():
        for name, data in photo.files.items():
            path = f"pictures/{post.slug}/{name}"
            (folder / path).parent.mkdir(parents=True, exist_ok=True)
            (folder / path).write_bytes(data)
            files[path] = len(data)
    return Entry(
        "" if findings else key, post.slug, post.title, files, None, {name: one.picture for name, one in ready.items()}
    )


def _under(picture: Picture, base: str) -> Picture:
    """A picture's files as seen from another folder."""
    moved = tuple((kind, ", ".join(base + part for part in srcset.split(", "))) for kind, srcset in picture.sources)
    srcset = ", ".join(base + part for part in picture.srcset.split(", ")) if picture.srcset else ""
    return replace(picture, src=base + picture.src, sources=moved, srcset=srcset)


def _as_they_are(static: Path, site: Path, folder: Path) -> None:
    """Files of `content/static/` go to the site's top as they are; none of ours is overwritten."""
    root = static.resolve()
    for path in sorted(folders.listing(static)) if static.is_dir() else ():
        file = static / path
        if file.resolve().is_relative_to(root) and not (folder / path).exists():
            folders.put(site, folder, path, file.read_bytes())

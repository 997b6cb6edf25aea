"""What the browser is shown: pages as `publish` would write them, made when asked for or when their text is saved.

A text that does not come out keeps its last good page in view; what is wrong stands in the margin.
"""

import threading
import time
from collections.abc import Collection, Iterable, Iterator
from contextlib import suppress
from dataclasses import replace
from datetime import date
from pathlib import Path

from jinja2 import TemplateError

from generator import library
from generator.diagnostics.panel import slip
from generator.diagnostics.placing import ordered
from generator.pages import html, site
from generator.pages.photos import Ready
from generator.pages.records import Card
from generator.pages.wanted import of_compiled
from generator.pipeline import compile_pattern
from generator.preview.album import Album
from generator.preview.around import Around
from generator.preview.easel import Easel
from generator.preview.facts import facts
from generator.preview.records import News, Shown, dressed, message, page_of, stands_in_the_way, told, wishes
from generator.preview.titles import quick_slug, quick_title
from generator.publish import build, compiled, record, shelf
from generator.publish.whole import loose_pages

GRACE = 0.08
"""Seconds that an editor gets to fill a file it has just emptied."""


class Desk:
    """All texts of a studio and what was made of them. One thread at a time."""

    def __init__(self, content: Path, published: Path, today: date) -> None:
        self.content, self.published, self.today = content, published, today
        self.lock = threading.RLock()
        self.version = 0
        self._open()

    def _open(self) -> None:
        """Read the studio anew; patterns are worked when somebody looks at them."""
        catalogue = library.load_catalogue(self.content)
        shelved = shelf.load_theme(catalogue.studio, self.content)
        self.catalogue = catalogue
        menu = site.menu_extras(loose_pages(catalogue))
        self.setting = build.Setting(self.content, catalogue.studio, shelved.value, menu, self.today, False, False)
        self.env = compiled.environment(shelved.value.theme, catalogue.studio)
        self.texts = {text.source.path: text for text in catalogue.patterns}
        self.slugs = {path: quick_slug(text.source) for path, text in self.texts.items()}
        self._places: dict[Path, str] | None = None
        self.shown: dict[str, Shown] = {}
        self.easels: dict[str, Easel] = {}
        self.cards = {path: entry.card for path, entry in record.read(self.published).items() if entry.card}
        self.whole: dict[str, bytes] = {}
        self.album = Album(self.content)
        self.around = Around(catalogue, self.setting, self.env, self.album)
        dress = (library.Said(self.around.source(), shelved.findings),) if shelved.findings else ()
        self.said = (*catalogue.said, *dress)

    def _by_place(self) -> dict[Path, str]:
        """Texts by where they lie. Nobody needs it before the first save, so the first page does not wait for it."""
        if self._places is None:
            self._places = {self._place(path): path for path in self.texts}
        return self._places

    def _place(self, path: str) -> Path:
        """Where a text lies, as the watch names it."""
        return (self.content.parent / path).resolve()

    # ---- asked by the server ----

    def page(self, path: str, kept: Collection[str] = ()) -> bytes | None:
        """The bytes of a page or of a file beside it; pages come with the preview's script, less drawings `kept`."""
        with self.lock:
            path = path + "index.html" if path.endswith("/") or not path else path
            found = self._found(path)
            return dressed(found, kept) if found is not None and path.endswith(".html") else found

    def _found(self, path: str) -> bytes | None:
        if path == "worker.js":
            return None  # a kept copy of a page being written would be a stale one
        if path.startswith("patterns/"):
            _, slug, name = (*path.split("/", 2), "")[:3]
            source = self._by_slug().get(slug)
            if source is None:
                return None
            made, easel = self._make(source).files.get(name), self.easels.get(source)
            return made or (easel and easel.file(name)) or self.album.file(f"patterns/{slug}", name)
        if path.startswith("assets/") and (data := self.around.asset(path)) is not None:
            return data
        if not self.whole:
            # Patterns nobody looked at yet stand there as last published.
            self.whole = self.around.pages(self._cards())
        folder, _, name = path.rpartition("/")
        return self.whole.get(path) or self.album.file(folder, name) or self.around.static(path)

    def _cards(self) -> Iterator[Card]:
        few = len(self.texts) <= 40
        for path, text in self.texts.items():
            shown = self._make(path) if few else self.shown.get(path)
            slug = self.slugs[path]
            card = shown.card if shown and shown.card else self.cards.get(path)
            yield replace(card, slug=slug) if card else Card(slug, quick_title(text.source) or slug, "")

    def _by_slug(self) -> dict[str, str]:
        found: dict[str, str] = {}
        for path in self.texts:
            found.setdefault(self.slugs[path], path)
        return found

    def newest(self) -> str:
        """Address of the page whose text was saved last: what the writer is at."""
        dated: list[tuple[float, str]] = []
        for path in self.texts:
            with suppress(OSError):
                dated.append(((self.content.parent / path).stat().st_mtime, path))
        return page_of(self.slugs[max(dated)[1]]) if dated else ""

    def get_ready(self) -> None:
        """Make the page the writer is at, then what the first save will need."""
        self.page(self.newest())
        with self.lock:
            self._by_place()

    def state(self, path: str) -> dict[str, object]:
        """What stands in the margin beside a page."""
        with self.lock:
            parts = path.split("/")
            source = self._by_slug().get(parts[1]) if parts[0] == "patterns" and len(parts) > 1 else None
            if source is None:
                slips = [
                    slip(said.source, finding, named=True)
                    for said in (*self.said, *self.around.said)
                    for finding in said.findings
                ]
                return told(self.version, message(slips, False, False), slips)
            shown = self._make(source)
            slips = [slip(shown.text.source, finding) for finding in ordered(shown.findings)]
            running = facts(shown.compiled) if shown.compiled else ()
            state = told(self.version, message(slips, shown.stale, shown.good), slips, running, shown.stale)
            return state | {"drawings": wishes(shown.text.source)}

    # ---- making ----

    def _make(self, path: str) -> Shown:
        if path not in self.shown:
            self.shown[path] = self._made(self.texts[path], None)
        return self.shown[path]

    def _made(self, text: library.Text, before: Shown | None) -> Shown:
        compiled = compile_pattern(text.source)
        pictures = of_compiled(compiled)
        looked = library.find_photos(pictures, text.folder, self.content).findings
        findings = (*(text.findings or compiled.findings), *looked)
        faulty = bool(text.findings) or any(stands_in_the_way(finding, compiled) for finding in findings)
        if faulty and before is not None and before.good:
            return replace(before, text=text, compiled=compiled, findings=findings, stale=True)
        easel = self.easels.setdefault(text.source.path, Easel())
        try:
            slug = compiled.pattern.header.slug
            shown, unusable = self.album.place(pictures, text.folder, f"patterns/{slug}")
            findings = (*findings, *unusable)
            ready = {name: Ready(picture, {}, b"", b"") for name, picture in shown.items()}
            files, card, more = build.pattern_files(compiled, ready, self.setting, self.env, easel.quickly)
        except TemplateError as error:
            files, card, more = {}, None, [html.template_finding(error)]
        return Shown(text, slug, compiled, files, (*findings, *more), card, False, not faulty)

    # ---- told by the watch ----

    def changed(self, paths: Iterable[Path]) -> News | None:
        """Take in a burst of saves; None when nothing that is shown changed."""
        with self.lock:
            news = self._changed(tuple(paths))
            if news is not None:
                self.version += 1
                self.whole = {}
            return news

    def settle(self) -> News | None:
        """Draw what the last pages had to do without. Drawing takes long, so nobody waits for the desk meanwhile."""
        with self.lock:
            due = [(path, easel, job) for path, easel in self.easels.items() for job in tuple(easel.due.values())]
        for _, easel, job in due:
            easel.draw(job)
        pages = set()
        with self.lock:
            for path in dict.fromkeys(path for path, _, _ in due):
                if path in self.texts and path in self.shown and not self.shown[path].stale:
                    self.shown[path] = self._made(self.texts[path], self.shown[path])
                    pages.add(page_of(self.slugs[path]))
            self.version += bool(pages)
        return News(tuple(sorted(pages))) if pages else None

    def _changed(self, paths: tuple[Path, ...]) -> News | None:
        patterns = (self.content / library.PATTERNS).resolve()
        inside = [path for path in paths if path.is_relative_to(patterns)]
        if len(inside) < len(paths):
            outside = [path for path in paths if path not in inside and path.name != "published.json"]
            if outside:
                self._reopen()
                return News(all=True, styles=True, pictures=True)
        if not inside:
            return None
        return self._patterns(inside)

    def _reopen(self) -> None:
        """The theme, the studio or the journal changed: everything is made again when looked at."""
        before = self.shown
        self._open()
        for path in before.keys() & self.texts.keys():
            kept = before[path]
            self.shown[path] = self._made(self.texts[path], replace(kept, good=False) if not kept.stale else kept)

    def _patterns(self, paths: list[Path]) -> News | None:
        pages: set[str] = set()
        if any(path not in self._by_place() or not path.exists() for path in paths):
            pages |= self._found_anew()
        folders = {path.parent for path in paths if path not in self._by_place()}
        saved = [path for place in paths if (path := self._by_place().get(place))]
        beside = [path for path in self.shown if folders and self._place(path).parent in folders]
        for path in dict.fromkeys(saved):
            pages |= self._saved(path)
        for path in beside:  # a photo, it may be
            pages |= self._saved(path, photo=True)
        return News(tuple(sorted(pages)), pictures=bool(folders)) if pages else None

    def _found_anew(self) -> set[str]:
        """Files that came or went."""
        now = {library.shown_name(file, self.content): file for file in library.pattern_files(self.content)}
        gone = self.texts.keys() - now.keys()
        pages = {page_of(self.slugs[path]) for path in gone}
        for path in gone:
            del self.slugs[path], self._by_place()[self._place(path)]
            del self.texts[path]
            self.shown.pop(path, None)
            self.cards.pop(path, None)
        for path in now.keys() - self.texts.keys():
            self.texts[path] = library.load_text(now[path], self.content)
            self.slugs[path] = quick_slug(self.texts[path].source)
            self._by_place()[self._place(path)] = path
            pages.add(page_of(self.slugs[path]))
        return pages | {"index.html"} if pages else pages

    def _saved(self, path: str, photo: bool = False) -> set[str]:
        """One text that may have changed; the pages it is on."""
        file = self.content.parent / path
        text = library.load_text(file, self.content)
        if not text.source.text.strip():
            time.sleep(GRACE)
            text = library.load_text(file, self.content)
        before = self.shown.get(path)
        if not photo and text == self.texts[path]:
            return set()
        old = self.slugs[path]
        self.texts[path] = text
        self.slugs[path] = quick_slug(text.source)
        self.shown[path] = self._made(text, before)
        return {page_of(old), page_of(self.slugs[path]), "index.html"}

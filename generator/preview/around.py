"""Everything a preview shows that is not a pattern's own: contents, tags, journal, the studio's pages, styles, scripts."""

from collections.abc import Iterable
from functools import cached_property

from jinja2 import Environment, TemplateError

from generator import library
from generator.pages import html, site
from generator.pages.records import Card, Picture
from generator.pages.wanted import of_post
from generator.preview.album import Album
from generator.publish import posts
from generator.publish.build import Setting
from generator.publish.guide import Guide, guide
from generator.publish.whole import loose_pages
from generator.source import Source


class Around:
    """The studio as it was read once; opened anew when one of its own texts changes. One thread at a time."""

    def __init__(self, catalogue: library.Catalogue, setting: Setting, env: Environment, album: Album) -> None:
        self.catalogue, self.setting, self.env, self.album = catalogue, setting, env, album
        self.unusable: dict[str, library.Said] = {}
        self.broken: tuple[library.Said, ...] = ()

    @property
    def said(self) -> tuple[library.Said, ...]:
        """What making the pages brought up."""
        return (*self.unusable.values(), *self.broken)

    @cached_property
    def _guide(self) -> Guide:
        return guide(loose_pages(self.catalogue))

    @cached_property
    def _assets(self) -> dict[str, bytes]:
        return site.assets(site.Whole(self.catalogue.studio, self.setting.shelved.theme, ()))

    def asset(self, path: str) -> bytes | None:
        """A style sheet, a script or the site's sign."""
        return self._assets.get(path)

    def static(self, path: str) -> bytes | None:
        """A file the studio publishes as it is."""
        folder = self.catalogue.content / "static"
        file = library.photo_file(folder, path, folder)
        return file.read_bytes() if file else None

    def pages(self, cards: Iterable[Card]) -> dict[str, bytes]:
        """Contents, tags, journal and the rest, by path."""
        studio, theme = self.catalogue.studio, self.setting.shelved.theme
        prose, manual = self._guide.prose, self._guide.posts
        whole = site.Whole(studio, theme, tuple(cards), self.catalogue.posts, prose, self._pictures(), manual)
        try:
            self.broken = ()
            return site.site_pages(whole, self.env)
        except TemplateError as error:
            self.broken = (library.Said(self.source(), (html.template_finding(error),)),)
            return {}

    def source(self) -> Source:
        """The studio's own file."""
        return library.load_text(self.catalogue.content / library.STUDIO, self.catalogue.content).source

    def _pictures(self) -> dict[str, Picture]:
        """The pictures of the journal and of loose pages, as their pages name them."""
        content = self.catalogue.content
        found: dict[str, Picture] = {}
        self.unusable = {}
        for post in (*self.catalogue.posts, *self.catalogue.pages):
            if post.photo or "![" in post.body:
                text = library.load_text(content.parent / post.path, content)
                place = f"{posts.PICTURES}/{post.slug}"
                shown, unusable = self.album.place(of_post(post, text.source), text.folder, place)
                found |= posts.seen_from(post, shown)
                if unusable:
                    self.unusable[post.path] = library.Said(text.source, unusable)
        return found

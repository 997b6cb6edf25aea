"""Records and a theme's templates to HTML. A template prints; whatever needs deciding was decided in `views`.

A theme arrives as texts, so nothing here touches a disk. Templates are looked up in the studio's own, then the
theme's, then the ground every theme stands on. Everything is escaped unless it is `Markup` already.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from hashlib import sha256
from typing import Any
from urllib.parse import quote

from jinja2 import ChoiceLoader, DictLoader, Environment, StrictUndefined, TemplateError

from generator.diagnostics.record import Finding, Severity
from generator.pages.prose import picture_html
from generator.pages.studio import Studio
from generator.source import NOWHERE


@dataclass(frozen=True, slots=True)
class Theme:
    """A theme as read: its templates and the ground's, and files to be published as they are."""

    name: str
    templates: Mapping[str, str]
    ground: Mapping[str, str]
    assets: Mapping[str, bytes]
    """Style sheets and scripts by file name."""
    print: str = ""
    """Fingerprint of all of it."""
    pages_print: str = ""
    """Fingerprint of what pages are printed with: a style sheet or a script changes no page."""

    @staticmethod
    def of(name: str, templates: Mapping[str, str], ground: Mapping[str, str], assets: Mapping[str, bytes]) -> "Theme":
        """A theme with its fingerprints."""
        digest = sha256(name.encode())
        for folder in (templates, ground):
            for key in sorted(folder):
                digest.update(key.encode() + b"\0" + folder[key].encode() + b"\0")
        pages_print = digest.hexdigest()
        for key in sorted(assets):
            digest.update(key.encode() + b"\0" + assets[key] + b"\0")
        return Theme(name, templates, ground, assets, digest.hexdigest(), pages_print)


def environment(theme: Theme, studio: Studio) -> Environment:
    """Jinja set up for one theme and studio."""
    env = Environment(
        loader=ChoiceLoader([DictLoader(dict(studio.templates)), DictLoader(dict(theme.templates)), DictLoader(dict(theme.ground))]),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
        cache_size=-1,
        auto_reload=False,
    )  # fmt: skip
    env.globals["studio"] = studio
    env.globals["picture"] = picture_html
    env.filters["url"] = address
    return env


def address(path: str) -> str:
    """A path as it stands in a link: non-Latin letters and spaces percent-encoded, `#` and `?` too."""
    return quote(path, safe="/#") if "#" in path else quote(path, safe="/")


def to_top(path: str) -> str:
    """From a page's path to the site's top: empty for `index.html`, `../` for `journal/x.html`."""
    return "../" * path.count("/")


def render(env: Environment, template: str, path: str, **values: Any) -> bytes:
    """One page.

    Raises:
        TemplateError: a template is wrong; `publish` turns it into a finding about the file.
    """
    page = env.get_template(template).render(path=path, top=to_top(path), **values)
    return page.encode("utf-8")


def template_finding(error: TemplateError) -> Finding:
    """What to say about a template that does not work."""
    where = getattr(error, "name", "") or "a template"
    line = getattr(error, "lineno", None)
    place = f"{where}, line {line}" if line else str(where)
    return Finding("template-broken", Severity.ERROR, f"`{place}` cannot be used: {error.message}", NOWHERE)

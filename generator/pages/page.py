"""What the head of every page needs, and the policy it stands under."""

from dataclasses import dataclass, replace
from urllib.parse import quote

from markupsafe import Markup

from generator.pages.studio import Studio

POLICY = (
    "default-src 'none'; img-src 'self' data:; style-src 'self'; script-src 'self'; connect-src 'self'; "
    "manifest-src 'self'; worker-src 'self'; form-action 'self'; base-uri 'none'"
)
"""Nothing from another host, nothing inline. (`frame-ancestors` is not allowed in a page, only in a host's headers.)"""

SEARCH_POLICY = POLICY.replace("script-src 'self'", "script-src 'self' 'wasm-unsafe-eval'")
"""The search page alone may run the full-text index, which is compiled code of this site's own."""

MENU = (
    ("Patterns", "index.html", "index"),
    ("Journal", "journal/index.html", "journal"),
    ("Glossary", "glossary.html", "glossary"),
    ("Search", "search.html", "search"),
)


@dataclass(frozen=True, slots=True)
class Page:
    """The head of one page."""

    path: str
    title: str
    description: str
    kind: str
    canonical: str = ""
    og: str = "website"
    image: str = ""
    image_alt: str = ""
    data: Markup | str = ""
    scripts: tuple[str, ...] = ("assets/choices.js",)
    sheet: str = ""
    storage: str = ""
    """Name under which ticks are kept."""
    hidden: bool = False
    crumbs: bool = False
    policy: str = POLICY
    menu: tuple[tuple[str, str, str], ...] = MENU
    foot: tuple[tuple[str, str, str], ...] = ()
    """Further pages, linked at the foot: (words, address, kind)."""


def head(studio: Studio, path: str, title: str, description: str, kind: str) -> Page:
    """A page's head. Without an address of the site there is no canonical one either."""
    canonical = studio.address + quote(path) if studio.address else ""
    if path == "index.html":
        canonical = studio.address
    words = " ".join(description.split()) or title
    return Page(path, title, words[:300], kind, canonical)


def with_menu(page: Page, extra: tuple[tuple[str, str, str], ...]) -> Page:
    """The page with the studio's own pages: `about` in the menu, the others at the foot."""
    about = tuple(entry for entry in extra if entry[2] == "about")
    return replace(
        page, menu=(*MENU[:2], *about, *MENU[2:]), foot=tuple(entry for entry in extra if entry not in about)
    )

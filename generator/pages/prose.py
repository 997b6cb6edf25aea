"""Markdown prose to HTML: raw HTML stays text, pictures become our own ready-made ones, no other host is asked.

Rendering is the dearest step of a page, so it is kept by content (see `lab` figures in DEVELOPERS.md).
"""

import re
import unicodedata
from collections.abc import Mapping
from functools import cache, lru_cache
from typing import TYPE_CHECKING
from urllib.parse import unquote, urlsplit

from markupsafe import Markup

if TYPE_CHECKING:
    from markdown_it import MarkdownIt

    from generator.pages.records import Picture


def is_elsewhere(address: str) -> bool:
    """Whether an address leads to another host."""
    parts = urlsplit(address)
    return bool(parts.scheme or parts.netloc)


def picture_html(picture: "Picture", *, eager: bool = False, sizes: str = "(min-width: 60rem) 36rem, 92vw") -> Markup:
    """A `<picture>` with its better formats, dimensions set so that nothing jumps."""
    sources = Markup("").join(
        Markup('<source type="{}" srcset="{}" sizes="{}">').format(kind, srcset, sizes)
        for kind, srcset in picture.sources
    )
    more = Markup(' srcset="{}" sizes="{}"').format(picture.srcset, sizes) if picture.srcset else Markup("")
    lazy = Markup("") if eager else Markup(' loading="lazy"')
    return Markup('<picture>{}<img src="{}"{} alt="{}" width="{}" height="{}"{} decoding="async"></picture>').format(
        sources, picture.src, more, picture.alt, picture.width, picture.height, lazy
    )


@cache
def _markdown() -> "MarkdownIt":
    from generator.pages.rendering import markdown  # brings the Markdown library, which a proof seldom needs

    return markdown()


def to_html(text: str, pictures: "Mapping[str, Picture] | None" = None, *, shift: int = 0, prefix: str = "") -> Markup:
    """Markdown as HTML. `shift` lowers its headings, `prefix` keeps their anchors apart."""
    env = {"pictures": pictures or {}, "shift": shift, "prefix": prefix}
    return Markup(_markdown().render(text, env))


def pictures_in(text: str) -> tuple[tuple[str, str], ...]:
    """(address, description) of every picture the prose shows, addresses as written (spaces and all)."""
    if "![" not in text:
        return ()
    found: list[tuple[str, str]] = []
    for token in _markdown().parse(text):
        for child in token.children or ():
            if child.type == "image":
                found.append((unquote(str(child.attrGet("src") or "")), child.content))
    return tuple(found)


def plain(text: str) -> str:
    """The words of a piece of Markdown, for search and summaries."""
    words: list[str] = []
    for token in _markdown().parse(text):
        words.extend(child.content for child in token.children or () if child.type in ("text", "code_inline"))
    return re.sub(r"\s+", " ", " ".join(words)).strip()


@lru_cache(maxsize=4096)
def anchor(words: str) -> str:
    """A name for links and files, from any words in any script: lower case, hyphens, nothing that needs quoting in HTML.

    It is cut to 100 bytes, since disks take 255 for the name of a file and others stand beside it there.
    """
    kept = unicodedata.normalize("NFC", words).lower()
    kept = re.sub(r"[^\w]+", "-", kept, flags=re.UNICODE).strip("-_")
    return kept.encode()[:100].decode(errors="ignore").strip("-_") or "part"

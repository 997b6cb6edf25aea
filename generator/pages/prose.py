"""Markdown prose to HTML: raw HTML stays text, pictures become our own ready-made ones, no other host is asked.

Rendering is the dearest step of a page, so it is kept by content (see `lab` figures in DEVELOPERS.md).
"""

import re
import unicodedata
from collections.abc import Mapping, Sequence
from functools import cache, lru_cache
from typing import Any
from urllib.parse import unquote, urlsplit

from markdown_it import MarkdownIt
from markdown_it.renderer import RendererHTML
from markdown_it.token import Token
from markupsafe import Markup, escape

from generator.pages.records import Picture


def is_elsewhere(address: str) -> bool:
    """Whether an address leads to another host."""
    parts = urlsplit(address)
    return bool(parts.scheme or parts.netloc)


def picture_html(picture: Picture, *, eager: bool = False, sizes: str = "(min-width: 60rem) 36rem, 92vw") -> Markup:
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


class _Renderer(RendererHTML):
    """HTML with our pictures, and headings one level below the page's own."""

    def image(self, tokens: Sequence[Token], idx: int, options: Any, env: Any) -> str:
        """A known photo as a picture; anything else as its own description."""
        token = tokens[idx]
        alt = self.renderInlineAsText(token.children or [], options, env)
        picture = env.get("pictures", {}).get(unquote(str(token.attrGet("src") or "")))
        if picture is not None:
            return str(picture_html(picture))
        return str(Markup('<em class="no-picture">{}</em>').format(alt))

    def heading_open(self, tokens: Sequence[Token], idx: int, options: Any, env: Any) -> str:
        """`##` of the source is `h3` of the page, and has an anchor."""
        level = min(int(tokens[idx].tag[1]) + env.get("shift", 0), 6)
        level = max(level, env.get("least", 2))
        env.setdefault("levels", []).append(level)
        name = anchor(tokens[idx + 1].content)
        seen = env.setdefault("anchors", {})
        seen[name] = seen.get(name, 0) + 1
        name = name if seen[name] == 1 else f"{name}-{seen[name]}"
        return f'<h{level} id="{escape(env.get("prefix", "") + name)}">'

    def heading_close(self, tokens: Sequence[Token], idx: int, options: Any, env: Any) -> str:
        """Closes what `heading_open` opened."""
        return f"</h{env['levels'].pop()}>\n"


@cache
def _markdown() -> MarkdownIt:
    return MarkdownIt("commonmark", {"html": False}, renderer_cls=_Renderer).enable("table")


def to_html(text: str, pictures: Mapping[str, Picture] | None = None, *, shift: int = 0, prefix: str = "") -> Markup:
    """Markdown as HTML. `shift` lowers its headings, `prefix` keeps their anchors apart."""
    env = {"pictures": pictures or {}, "shift": shift, "prefix": prefix}
    return Markup(_markdown().render(text, env))


def pictures_in(text: str) -> tuple[tuple[str, str], ...]:
    """(address, description) of every picture the prose shows, addresses as written (spaces and all)."""
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
    """A name for links, from any words in any script: lower case, hyphens, nothing that needs quoting in HTML."""
    kept = unicodedata.normalize("NFC", words).lower()
    kept = re.sub(r"[^\w]+", "-", kept, flags=re.UNICODE).strip("-_")
    return kept or "part"

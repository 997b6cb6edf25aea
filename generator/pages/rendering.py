"""Markdown tokens to HTML: our pictures in place of plain ones, headings that know where on the page they stand."""

from collections.abc import Sequence
from typing import Any
from urllib.parse import unquote

from markdown_it import MarkdownIt
from markdown_it.renderer import RendererHTML
from markdown_it.token import Token
from markupsafe import Markup, escape

from generator.pages.prose import anchor, picture_html


class Renderer(RendererHTML):
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


def markdown() -> MarkdownIt:
    """The parser: raw HTML is text, tables are tables."""
    return MarkdownIt("commonmark", {"html": False}, renderer_cls=Renderer).enable("table")

"""Pictures for sharing, 1200 by 630 and 1000 by 1500, set from the drawn cover and the title.

Set by typst, which needs no system library and no font of this computer; cairo is not needed here.
"""

import io
import json
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

from generator.measures.colour import contrast
from generator.pages.palette import nearest
from generator.pages.records import Card
from generator.pages.studio import Studio

if TYPE_CHECKING:
    import typst

WIDE, TALL = (1200, 630), (1000, 1500)
LONGEST = 100
"""Letters of a title in a picture for sharing."""


@dataclass(frozen=True, slots=True)
class Sharing:
    """The two pictures of a pattern, PNG."""

    wide: bytes
    tall: bytes


_TEMPLATE = """
#let data = json(bytes(sys.inputs.data))
#let get(key) = data.at(key, default: "")
#let wide = get("shape") == "wide"
#set page(width: if wide {1200pt} else {1000pt}, height: if wide {630pt} else {1500pt}, margin: 0pt, fill: rgb(get("ground")))
#set text(font: "Libertinus Serif", fill: rgb(get("ink")), lang: get("lang"))
#set par(leading: 0.42em)
#let drawing(edge) = image(bytes(get("cover")), format: "svg", width: edge)
#if wide [
  #place(right + horizon, dx: 90pt, drawing(690pt))
  #place(left + top, dx: 64pt, dy: 64pt, block(width: 500pt)[
    #text(size: 27pt, style: "italic", fill: rgb(get("accent")), get("studio"))
    #v(14pt)
    #text(size: if get("title").len() > 70 {40pt} else if get("title").len() > 34 {52pt} else if get("title").len() > 18 {66pt} else {82pt}, hyphenate: true, get("title"))
  ])
  #place(left + bottom, dx: 64pt, dy: -60pt, block(width: 560pt, text(size: 25pt, get("line"))))
] else [
  #place(center + top, dy: 70pt, text(size: 34pt, style: "italic", fill: rgb(get("accent")), get("studio")))
  #place(center + top, dy: 150pt, drawing(920pt))
  #place(center + bottom, dy: -80pt, block(width: 860pt)[
    #set align(center)
    #text(size: if get("title").len() > 60 {50pt} else if get("title").len() > 30 {74pt} else {96pt}, get("title"))
    #v(6pt)
    #text(size: 36pt, get("line"))
  ])
]
"""


def sharing(card: Card, cover: str, ground: str, studio: Studio) -> Sharing:
    """Both pictures of a pattern from its drawn cover (an SVG document)."""
    words = [word for word in (card.level, card.hours, card.length.metric) if word]
    base = {
        "title": _cut(card.title),
        "studio": studio.title,
        "line": "Crochet pattern" + "".join(f" · {word}".replace("–", "\u2060–\u2060") for word in words),
        "cover": cover,
        "ground": ground,
        "ink": max(("#26241d", "#fbf7ee"), key=lambda ink: contrast(ink, ground)),
        "accent": nearest(studio.colours.get("accent", "#8c3321"), ground),
        "lang": studio.language.split("-")[0],
    }
    wide, tall = (_png({**base, "shape": shape}) for shape in ("wide", "tall"))
    return Sharing(wide, tall)


def _cut(title: str) -> str:
    """A title that fits beside its drawing; the page has it whole."""
    if len(title) <= LONGEST:
        return title
    kept = title[:LONGEST].rpartition(" ")[0]
    return (kept if len(kept) > LONGEST // 2 else title[:LONGEST]).rstrip(" ,;:.-") + "…"


@cache
def _compiler() -> "typst.Compiler":
    import typst

    # Fonts built into the typesetter only: the same bytes on every computer.
    return typst.Compiler(font_paths=typst.Fonts(False, True, []))


def _png(inputs: dict[str, str]) -> bytes:
    made = _compiler().compile(_TEMPLATE.encode(), format="png", ppi=72.0, sys_inputs={"data": json.dumps(inputs)})
    assert isinstance(made, bytes)
    return _small(made)


def _small(png: bytes) -> bytes:
    """The same picture in 128 colours: a quarter of the bytes, and nobody sees it on a drawing of few colours."""
    from PIL import Image

    out = io.BytesIO()
    Image.open(io.BytesIO(png)).convert("RGB").quantize(128, method=Image.Quantize.FASTOCTREE).save(out, "PNG")
    return out.getvalue()

"""Drawings as SVG text: symbols once, `<use>` after, one number formatter, attributes in a fixed order.

Plain strings, because a chart has thousands of elements. Every coordinate is in units of 1/32 chain. Presentation
attributes carry the light colours, so the picture is right where style sheets are not read; the style block then
answers dark mode, contrast and print in a browser.
"""

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from html import escape
from itertools import groupby

from generator.charts.book import Book
from generator.charts.inks import LIGHT_INK, LIGHT_PAPER
from generator.charts.marks import Area, CourseGroup, Drawing, Mark, Piece, Point, Shape, Sign, Text, trace
from generator.charts.paths import fine, is_filled, number, outlines, pair, path_of, whole
from generator.charts.styles import patterns_of, spelled_out, style_of, tile

FONT = "'Libertinus Serif','Source Serif 4',Georgia,serif"


@dataclass(frozen=True, slots=True)
class _Sheet:
    """What the pieces of one drawing share while they are written."""

    prefix: str
    book: Book
    order: Mapping[str, int]
    """Yarn key to the number of its ink."""
    patterned: frozenset[int]
    """Inks that are told apart by a pattern as well."""
    defs: list[str] = field(default_factory=list)
    """Paths that are used by their id."""

    def define(self, data: str) -> str:
        """The id of a path that is written once and used where it is needed."""
        key = f"{self.prefix}-{len(self.defs)}"
        self.defs.append(f'<path id="{key}" d="{data}"/>')
        return key

    def tone(self, piece: Piece) -> str:
        """The classes of the group a symbol stands in; none for other pieces."""
        if not isinstance(piece, Sign):
            return ""
        yarn = [f"y{self.order[piece.yarn]}"] if len(self.order) > 1 and piece.yarn in self.order else []
        return " ".join([*yarn, "extra"] if piece.role == "extra" else yarn)


def _sheet(drawing: Drawing, prefix: str) -> _Sheet:
    pieces = (p for part in (drawing.ground, *(g.pieces for g in drawing.groups), drawing.front) for p in part)
    book = Book(prefix, (p for p in pieces if isinstance(p, Sign)))
    patterned = frozenset(i for i, (_, ink) in enumerate(drawing.inks) if tile(ink))
    return _Sheet(prefix, book, {key: i for i, (key, _) in enumerate(drawing.inks)}, patterned)


def _text(text: Text, sheet: _Sheet) -> str:
    size = fine(text.size)
    words = escape(text.words)
    if not text.ring:
        anchor = f' text-anchor="{text.anchor}"' if text.anchor != "middle" else ""
        return f'<text class="{text.style}" x="{fine(text.x)}" y="{fine(text.y + text.size * 0.34)}" font-size="{size}"{anchor}>{words}</text>'
    r = text.ring - text.size * 0.33
    cx, cy = text.about
    a = math.atan2(text.x - cx, cy - text.y)
    left, right = (
        (cx + r * math.sin(a - 2), cy - r * math.cos(a - 2)),
        (cx + r * math.sin(a + 2), cy - r * math.cos(a + 2)),
    )
    key = sheet.define(f"M{pair(left)}A{fine(r)} {fine(r)} 0 1 1 {pair(right)}")
    return f'<text class="{text.style}" font-size="{size}"><textPath href="#{key}" startOffset="50%">{words}</textPath></text>'


def _mark(mark: Mark) -> str:
    fill = ' fill="currentColor"' if is_filled(mark.stroke) else ""
    return f'<path class="{mark.style}"{fill} d="{path_of(mark.stroke)}"/>'


SHORT = 60
"""Letters of an outline that may as well be written twice."""


def _area(area: Area, sheet: _Sheet) -> str:
    """The ground in its tint and, over it, the pattern; a long outline is written once for both."""
    data, i = outlines(area.outlines), sheet.order.get(area.yarn, 0)
    if i not in sheet.patterned:
        return f'<path class="{area.style} z{i}" d="{data}"/>'
    long = len(data) > SHORT
    shape = f'<use href="#{sheet.define(data)}"' if long else f'<path d="{data}"'
    fill = f'fill="url(#{sheet.prefix}-p{i})" stroke="none"'
    return f'{shape} class="{area.style} z{i}"/>{shape} class="{area.style}" {fill}/>'


def _piece(piece: Piece, sheet: _Sheet) -> str:
    if isinstance(piece, Sign):
        return sheet.book.use(piece.shape, piece.x, piece.y, piece.turn)
    if isinstance(piece, Text):
        return _text(piece, sheet)
    return _mark(piece) if isinstance(piece, Mark) else _area(piece, sheet)


def _pieces(pieces: Iterable[Piece], sheet: _Sheet) -> str:
    """Pieces in order; runs of signs of one yarn share a group that carries its colour."""
    out = []
    for tone, run in groupby(pieces, sheet.tone):
        inner = "".join(_piece(piece, sheet) for piece in run)
        out.append(f'<g class="{tone}">{inner}</g>' if tone else inner)
    return "".join(out)


def _group(group: CourseGroup, place: int, inner: str, reachable: bool) -> str:
    tone = " even" if place % 2 else ""
    courses = " ".join(str(c) for c in group.courses)
    words = group.text or group.label
    label = f' aria-label="{escape(words)}"' if words else ""
    focus = ' tabindex="0"' if reachable else ""
    folded = f' data-folded="{group.folded}"' if group.folded else ""
    return (
        f'<g class="course{tone}" data-course="{courses}"{folded} role="graphics-object"'
        f' aria-roledescription="round"{label}{focus}>{inner}</g>'
    )  # fmt: skip


def to_svg(
    drawing: Drawing,
    prefix: str = "c",
    *,
    standalone: bool = False,
    plain: bool = False,
    reachable: bool = True,
    sheet: str = "",
) -> str:
    """The drawing as an `<svg>` element.

    Args:
        prefix: letters that keep the ids of several charts on one page apart.
        standalone: with namespace and paper, for a file of its own.
        plain: no style block, light colours only, as rasterisers want it.
        reachable: every round can be reached with the keyboard.
        sheet: further rules for the style block.
    """
    shared = _sheet(drawing, prefix)
    ground = _pieces(drawing.ground, shared)
    groups = [_group(g, i, _pieces(g.pieces, shared), reachable) for i, g in enumerate(drawing.groups)]
    front = _pieces(drawing.front, shared)
    key, height = _key(drawing, shared.book)
    left, top, width, tall = (whole(v) for v in (*drawing.box[:3], drawing.box[3] + height))
    space = ' xmlns="http://www.w3.org/2000/svg"' if standalone or plain else ""
    names = f"{prefix}-title" + (f" {prefix}-desc" if drawing.description else "")
    style = "" if plain else f"<style>{style_of(drawing, prefix, standalone)}{sheet}</style>"
    paper = f'<rect class="paper" x="{left}" y="{top}" width="{width}" height="{tall}" fill="{LIGHT_PAPER}" stroke="none"/>' \
        if standalone or plain else ""  # fmt: skip
    body = "".join(groups)
    return (
        f'<svg{space} class="chart {drawing.kind}" id="{prefix}" viewBox="{left} {top} {width} {tall}"'
        f' role="graphics-document document" aria-roledescription="chart" aria-labelledby="{names}"'
        f' fill="none" stroke="currentColor" stroke-width="2.7" stroke-linecap="round" stroke-linejoin="round"'
        f' color="{LIGHT_INK}" font-family="{FONT}" text-anchor="middle">'
        f'<title id="{prefix}-title">{escape(drawing.title)}</title>'
        + (f'<desc id="{prefix}-desc">{escape(drawing.description)}</desc>' if drawing.description else "")
        + f"{style}<defs>{shared.book.defs()}{''.join(shared.defs)}{patterns_of(drawing, prefix)}</defs>"
        + f'{paper}<g aria-hidden="true">{spelled_out(ground, drawing, plain)}</g>{spelled_out(body, drawing, plain)}'
        + f'<g aria-hidden="true">{spelled_out(front, drawing, plain)}</g>{spelled_out(key, drawing, plain)}</svg>'
    )


KEY_SIZE = 0.62


def _key(drawing: Drawing, book: Book) -> tuple[str, float]:
    """The key under the chart and its height: every symbol used with its word."""
    if not drawing.key:
        return "", 0.0
    left, top, width, tall = drawing.box
    scale = max(1.0, width / 22)
    size = KEY_SIZE * scale
    sides = {entry.identity: max(0.0, max(abs(x) for x, _ in _box(entry.shape)) - 0.45) * 0.8 for entry in drawing.key}
    cells = [(e, (1.7 + 0.5 * len(e.word) * KEY_SIZE + 2 * sides[e.identity]) * scale) for e in drawing.key]
    high = max((-min(y for _, y in _box(entry.shape)) + max(y for _, y in _box(entry.shape))) for entry in drawing.key)
    line = max(high * 0.8, 1.1) * scale + 0.3
    x, y, out = left + 0.4 * scale, top + tall + line * 0.75, []
    for entry, wide in cells:
        if x + wide > left + width and x > left + scale:
            x, y = left + 0.4 * scale, y + line
        box, side = _box(entry.shape), sides[entry.identity] * scale
        middle = (min(p[1] for p in box) + max(p[1] for p in box)) / 2
        shown = book.use(entry.shape, 0.0, 0.0, 0.0)
        out.append(
            f'<g transform="translate({whole(x + 0.5 * scale + side)} {whole(y - middle * 0.8 * scale)})scale({number(0.8 * scale, 2)})">{shown}</g>'
        )
        out.append(
            f'<text class="word" x="{fine(x + 1.15 * scale + 2 * side)}" y="{fine(y + size * 0.34)}" font-size="{fine(size)}" text-anchor="start">{escape(entry.word)}</text>'
        )
        x += wide
    return f'<g class="key" role="group">{"".join(out)}</g>', y + line * 0.55 - (top + tall)


def _box(shape: Shape) -> list[Point]:
    return [p for stroke in shape for p in trace(stroke)]

"""Drawings as SVG text: symbols once, `<use>` after, one number formatter, attributes in a fixed order.

Plain strings, because a chart has thousands of elements. Every coordinate is in units of 1/32 chain. Presentation
attributes carry the light colours, so the picture is right where style sheets are not read; the style block then
answers dark mode, contrast and print in a browser.
"""

import math
from collections.abc import Iterable
from html import escape

from generator.charts.inks import LIGHT_INK, LIGHT_PAPER
from generator.charts.marks import (
    Area,
    Bow,
    CourseGroup,
    Drawing,
    Line,
    Mark,
    Oval,
    Piece,
    Point,
    Shape,
    Sign,
    Stroke,
    Text,
)
from generator.charts.styles import patterns_of, spelled_out, style_of

UNIT = 32
FONT = "'Libertinus Serif','Source Serif 4',Georgia,serif"


def number(value: float, places: int = 0) -> str:
    """The one way numbers are written: rounded, no trailing zeros, no minus zero."""
    text = f"{value:.{places}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def _n(value: float) -> str:
    return number(value * UNIT)


def _d(value: float) -> str:
    return number(value * UNIT, 1)


def _pair(point: Point) -> str:
    return f"{_d(point[0])} {_d(point[1])}"


def path_of(stroke: Stroke) -> str:
    """The stroke as path data."""
    if isinstance(stroke, Line):
        return "M" + "L".join(_pair(p) for p in stroke.points) + ("Z" if stroke.filled else "")
    if isinstance(stroke, Bow):
        return f"M{_pair(stroke.start)}Q{_pair(stroke.over)} {_pair(stroke.end)}"
    a = math.radians(stroke.turn)
    dx, dy = stroke.rx * math.cos(a), stroke.rx * math.sin(a)
    cx, cy = stroke.centre
    arc = f"A{_d(stroke.rx)} {_d(stroke.ry)} {number(stroke.turn, 1)} 1 1 "
    return f"M{_pair((cx - dx, cy - dy))}{arc}{_pair((cx + dx, cy + dy))}{arc}{_pair((cx - dx, cy - dy))}"


def _filled(stroke: Stroke) -> bool:
    return isinstance(stroke, Line | Oval) and stroke.filled


def shape_paths(shape: Shape) -> str:
    """The inside of a symbol: one path for plain strokes, one for thin ones, one for filled ones."""
    plain = "".join(path_of(s) for s in shape if not _filled(s) and not s.thin)
    thin = "".join(path_of(s) for s in shape if not _filled(s) and s.thin)
    filled = "".join(path_of(s) for s in shape if _filled(s))
    return "".join(
        f'<path{extra} d="{data}"/>'
        for data, extra in ((plain, ""), (thin, ' stroke-width="2"'), (filled, ' fill="currentColor"'))
        if data
    )


def _letters(i: int) -> str:
    """Short ids: a..z, aa.."""
    text = ""
    i += 1
    while i:
        i, rest = divmod(i - 1, 26)
        text = chr(97 + rest) + text
    return text


class _Book:
    """Symbols met so far and the ids they were given."""

    def __init__(self, prefix: str) -> None:
        self.prefix = prefix
        self.ids: dict[Shape, str] = {}

    def use(self, shape: Shape, x: float, y: float, turn: float) -> str:
        """One `<use>`."""
        if shape not in self.ids:
            self.ids[shape] = self.prefix + _letters(len(self.ids))
        rotate = number((turn + 180) % 360 - 180)
        turned = f"rotate({rotate})" if rotate != "0" else ""
        return f'<use href="#{self.ids[shape]}" transform="translate({_n(x)} {_n(y)}){turned}"/>'

    def defs(self) -> str:
        """Definitions of all symbols used."""
        return "".join(f'<g id="{key}">{shape_paths(shape)}</g>' for shape, key in self.ids.items())


def _text(text: Text, prefix: str, arcs: list[str]) -> str:
    size = _d(text.size)
    words = escape(text.words)
    if not text.ring:
        anchor = f' text-anchor="{text.anchor}"' if text.anchor != "middle" else ""
        return f'<text class="{text.style}" x="{_d(text.x)}" y="{_d(text.y + text.size * 0.34)}" font-size="{size}"{anchor}>{words}</text>'
    r, key = text.ring - text.size * 0.33, f"{prefix}-t{len(arcs)}"
    cx, cy = text.about
    a = math.atan2(text.x - cx, cy - text.y)
    left, right = (
        (cx + r * math.sin(a - 2), cy - r * math.cos(a - 2)),
        (cx + r * math.sin(a + 2), cy - r * math.cos(a + 2)),
    )
    arcs.append(f'<path id="{key}" d="M{_pair(left)}A{_d(r)} {_d(r)} 0 1 1 {_pair(right)}"/>')
    return f'<text class="{text.style}" font-size="{size}"><textPath href="#{key}" startOffset="50%">{words}</textPath></text>'


def _mark(mark: Mark) -> str:
    fill = ' fill="currentColor"' if _filled(mark.stroke) else ""
    return f'<path class="{mark.style}"{fill} d="{path_of(mark.stroke)}"/>'


def _area(area: Area, prefix: str, order: dict[str, int]) -> str:
    data = "".join("M" + "L".join(_pair(p) for p in line) + "Z" for line in area.outlines)
    i = order.get(area.yarn, 0)
    return f'<path class="{area.style} z{i}" d="{data}"/><path class="{area.style}" fill="url(#{prefix}-p{i})" stroke="none" d="{data}"/>'


def _pieces(pieces: Iterable[Piece], book: _Book, arcs: list[str], order: dict[str, int]) -> str:
    """Pieces in order; runs of signs of one yarn share a group that carries its colour."""
    out: list[str] = []
    yarn: str | None = None
    for piece in pieces:
        here = (f"y{order[piece.yarn]}" if piece.yarn in order else "") + (" extra" if piece.role == "extra" else "") \
            if isinstance(piece, Sign) else None  # fmt: skip
        if here != yarn:
            out.append("</g>" if yarn is not None else "")
            out.append(f'<g class="{here.strip()}">' if here else "<g>" if here is not None else "")
            yarn = here
        if isinstance(piece, Sign):
            out.append(book.use(piece.shape, piece.x, piece.y, piece.turn))
        elif isinstance(piece, Text):
            out.append(_text(piece, book.prefix, arcs))
        elif isinstance(piece, Mark):
            out.append(_mark(piece))
        else:
            out.append(_area(piece, book.prefix, order))
    return "".join(out) + ("</g>" if yarn is not None else "")


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
    drawing: Drawing, prefix: str = "c", *, standalone: bool = False, plain: bool = False, reachable: bool = True
) -> str:
    """The drawing as an `<svg>` element.

    Args:
        prefix: letters that keep the ids of several charts on one page apart.
        standalone: with namespace and paper, for a file of its own.
        plain: no style block, light colours only, as rasterisers want it.
        reachable: every round can be reached with the keyboard.
    """
    book, arcs = _Book(prefix), list[str]()
    order = {key: i for i, (key, _) in enumerate(drawing.inks)}
    ground = _pieces(drawing.ground, book, arcs, order)
    groups = [
        _group(g, i, _pieces(g.pieces, book, arcs, order), reachable) for i, g in enumerate(drawing.groups)
    ]  # fmt: skip
    front = _pieces(drawing.front, book, arcs, order)
    key, height = _key(drawing, book)
    left, top, width, tall = (_n(v) for v in (*drawing.box[:3], drawing.box[3] + height))
    space = ' xmlns="http://www.w3.org/2000/svg"' if standalone or plain else ""
    names = f"{prefix}-title" + (f" {prefix}-desc" if drawing.description else "")
    style = "" if plain else f"<style>{style_of(drawing, prefix, standalone)}</style>"
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
        + f"{style}<defs>{book.defs()}{''.join(arcs)}{patterns_of(drawing, prefix)}</defs>"
        + f'{paper}<g aria-hidden="true">{spelled_out(ground, drawing, plain)}</g>{spelled_out(body, drawing, plain)}'
        + f'<g aria-hidden="true">{spelled_out(front, drawing, plain)}</g>{spelled_out(key, drawing, plain)}</svg>'
    )


KEY_SIZE = 0.62


def _key(drawing: Drawing, book: _Book) -> tuple[str, float]:
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
            f'<g transform="translate({_n(x + 0.5 * scale + side)} {_n(y - middle * 0.8 * scale)})scale({number(0.8 * scale, 2)})">{shown}</g>'
        )
        out.append(
            f'<text class="word" x="{_d(x + 1.15 * scale + 2 * side)}" y="{_d(y + size * 0.34)}" font-size="{_d(size)}" text-anchor="start">{escape(entry.word)}</text>'
        )
        x += wide
    return f'<g class="key" role="group">{"".join(out)}</g>', y + line * 0.55 - (top + tall)


def _box(shape: Shape) -> list[Point]:
    from generator.charts.marks import trace

    return [p for stroke in shape for p in trace(stroke)]

"""How a chart looks: the style block, the looks it falls back on, and the fills that tell yarns apart."""

from generator.charts.inks import (
    DARK_INK,
    DARK_PAPER,
    DARK_SECOND,
    LIGHT_INK,
    LIGHT_PAPER,
    LIGHT_SECOND,
    PATTERNS,
    readable,
    tint,
)
from generator.charts.marks import Drawing
from generator.charts.options import Ink

LOOKS = {
    "guide": 'stroke-width="1.2" stroke-opacity=".35"',
    "fold": 'stroke-width="1.6" stroke-dasharray="1 7"',
    "ghost": 'stroke-width="1.6" stroke-opacity=".35"',
    "arrow": 'stroke-width="2"',
    "swatch": 'stroke-width="1.6"',
    "outline": 'stroke-width="3"',
}


def style_of(drawing: Drawing, prefix: str, standalone: bool) -> str:
    """Rules scoped to this chart: light and dark, more contrast, print, and the lit round."""
    root, several = f"#{prefix}", len(drawing.inks) > 1
    rules = [":root{color-scheme:light dark}"] if standalone else []
    rules.append(f"{root}{{color:{LIGHT_INK};color:var(--chart-ink,light-dark({LIGHT_INK},{DARK_INK}))}}")
    rules.append(f"{root} .paper{{fill:{LIGHT_PAPER};fill:var(--chart-paper,light-dark({LIGHT_PAPER},{DARK_PAPER}))}}")
    rules.append(f"{root} text{{fill:currentColor;stroke:none}}{root} .bold{{font-weight:700}}")
    rules += [
        f"{root} .{name}{{{attributes.replace('=', ':').replace(chr(34), '').replace(' stroke', ';stroke')}}}"
        for name, attributes in LOOKS.items()
    ]
    if several:
        for i, (_, ink) in enumerate(drawing.inks):
            light, dark = tint(ink.colour, LIGHT_PAPER), tint(ink.colour, DARK_PAPER)
            on_light, on_dark = readable(ink.colour, light), readable(ink.colour, dark)
            rules.append(f"{root} .y{i}{{color:{on_light};color:light-dark({on_light},{on_dark})}}")
            rules.append(
                f"{root} .z{i}{{fill:{light};fill:light-dark({light},{dark});stroke:{light};stroke:light-dark({light},{dark});stroke-width:5}}"
            )
    else:
        rules.append(
            f"{root} .even{{color:{LIGHT_SECOND};color:var(--chart-second,light-dark({LIGHT_SECOND},{DARK_SECOND}))}}"
        )
    rules.append(f"{root} .course{{outline:none}}{root} .course:is(:hover,:focus-visible,.lit) use{{stroke-width:5.4}}")
    rules.append(f"{root} .course:is(:focus-visible,.lit) .number{{font-weight:700;text-decoration:underline}}")
    rules.append(
        f"@media (prefers-contrast:more){{{root}{{stroke-width:3.8}}{root} .zone{{opacity:.45}}{root} .y0,{root} .y1,{root} .even{{color:inherit}}}}"
    )
    black = f"{root},{root} .even{{color:#000}}{root} .paper{{fill:none}}"
    rules.append(f"@media print{{{black}}}@media (forced-colors:active){{{root},{root} g{{color:CanvasText}}}}")
    return "".join(rules)


_TILES = {
    "plain": "",
    "dots": '<circle cx="8" cy="8" r="1.7" fill="currentColor" stroke="none"/>',
    "slant": '<path d="M-4 4L4-4M0 16L16 0M12 20L20 12"/>',
    "level": '<path d="M0 8H16"/>',
    "crossed": '<path d="M0 16L16 0M0 0L16 16"/>',
    "upright": '<path d="M8 0V16"/>',
    "rings": '<circle cx="8" cy="8" r="3.4"/>',
    "dashes": '<path d="M2 4H9M10 12H16M0 12H1"/>',
}


def tile(ink: Ink) -> str:
    """The pattern that tells a yarn from the others; empty for the one that has none."""
    return _TILES[PATTERNS[ink.pattern % len(PATTERNS)]]


def patterns_of(drawing: Drawing, prefix: str) -> str:
    """The patterns of a drawing's yarns."""
    return "".join(
        f'<pattern id="{prefix}-p{i}" width="16" height="16" patternUnits="userSpaceOnUse">'
        f'<g color="{readable(ink.colour, LIGHT_PAPER, 2.0)}" stroke-width="1.2" stroke-opacity=".55" fill-opacity=".6">'
        f"{tile(ink)}</g></pattern>"
        for i, (_, ink) in enumerate(drawing.inks)
        if tile(ink)
    )


def spelled_out(text: str, drawing: Drawing, plain: bool) -> str:
    """Where no style sheet is read, the classes that carry a look are spelled out as attributes."""
    if not plain:
        return text
    several = len(drawing.inks) > 1
    for i, (_, ink) in enumerate(drawing.inks):
        colour = readable(ink.colour, tint(ink.colour, LIGHT_PAPER)) if several else ""
        if colour:
            text = text.replace(f'<g class="y{i}"', f'<g class="y{i}" color="{colour}" stroke="{colour}"')
            text = text.replace(f'<g class="y{i} extra"', f'<g class="y{i} extra" color="{colour}" stroke="{colour}"')
        text = text.replace(
            f'class="zone z{i}"',
            f'class="zone z{i}" fill="{tint(ink.colour, LIGHT_PAPER)}" stroke="{tint(ink.colour, LIGHT_PAPER)}" stroke-width="5"',
        )
    if not several:
        text = text.replace(
            'class="course even"', f'class="course even" color="{LIGHT_SECOND}" stroke="{LIGHT_SECOND}"'
        )
    text = text.replace("<text ", '<text fill="currentColor" stroke="none" ')
    for name, attributes in LOOKS.items():
        text = text.replace(f'class="{name}"', f'class="{name}" {attributes}')
    return text

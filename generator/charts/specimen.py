"""The specimen sheet: every symbol on one page, as a type foundry shows its letters.

Drawn with svgwrite, because a sheet of fifty symbols has time for objects; charts of thousands write plain strings.
"""

from collections.abc import Mapping

import svgwrite  # type: ignore[import-untyped]

from generator.charts.inks import LIGHT_INK, LIGHT_PAPER
from generator.charts.marks import Line, Oval, Shape, trace
from generator.charts.paths import UNIT, path_of
from generator.charts.symbols import picot, sample, symbol
from generator.notation.tree import Loop
from generator.vocabulary.load import stitches

COMPOSED = ("sc2tog", "sc3tog", "hdc2tog", "dc2tog", "dc3tog", "tr2tog", "fpdc", "bpdc", "fptr", "bptr",
            "dc-cluster-3", "tr-cluster-3", "hdc-puff-3", "dc-bobble-5", "dc-popcorn-5")  # fmt: skip
"""Stitches composed by rule that a reader is likely to meet."""
CELL = (4.0, 7.6)
COLUMNS = 8


def entries(sc_sign: str = "+") -> tuple[tuple[str, Shape], ...]:
    """Every symbol with the name it goes by here, in a fixed order."""
    found = [(kind, sample(kind, Loop.BOTH, sc_sign)) for kind in ("ch", *(k for k in sorted(stitches()) if k != "ch"))]
    found += [(kind, sample(kind, Loop.BOTH, sc_sign)) for kind in COMPOSED]
    found += [
        (f"dc, {loop.value}", symbol("dc", ((0.0, 3.0),), False, loop, sc_sign))
        for loop in (Loop.FRONT, Loop.BACK, Loop.THIRD)
    ]
    found += [(f"picot of {n}", picot(n)) for n in (2, 3, 4)]
    return tuple(found)


def specimen(names: Mapping[str, str], sc_sign: str = "+") -> str:
    """The sheet as SVG text. `names` gives words for identities; what it lacks is shown as the identity."""
    shown = entries(sc_sign)
    rows = -(-len(shown) // COLUMNS)
    wide, tall = COLUMNS * CELL[0] * UNIT, rows * CELL[1] * UNIT
    sheet = svgwrite.Drawing(debug=False, viewBox=f"0 0 {wide:.0f} {tall:.0f}")
    sheet.add(sheet.rect((0, 0), (round(wide), round(tall)), fill=LIGHT_PAPER))
    page = sheet.g(fill="none", stroke=LIGHT_INK, stroke_width=2.7, stroke_linecap="round", stroke_linejoin="round")
    for i, (kind, shape) in enumerate(shown):
        page.add(_cell(sheet, names.get(kind, kind), shape, i % COLUMNS, i // COLUMNS))
    sheet.add(page)
    return str(sheet.tostring())


def _cell(sheet: "svgwrite.Drawing", word: str, shape: Shape, column: int, row: int) -> "svgwrite.container.Group":
    """One symbol standing on the line of its row, its word below."""
    low = max(y for stroke in shape for _, y in trace(stroke))
    x, base = (column + 0.5) * CELL[0] * UNIT, (row + 1) * CELL[1] * UNIT
    cell = sheet.g()
    inner = sheet.g(transform=f"translate({x:.0f} {base - (low + 0.9) * UNIT:.0f})")
    for stroke in shape:
        filled = isinstance(stroke, Line | Oval) and stroke.filled
        inner.add(
            sheet.path(d=path_of(stroke), fill=LIGHT_INK if filled else "none", stroke_width=2 if stroke.thin else 2.7)
        )
    cell.add(inner)
    cell.add(
        sheet.text(
            word,
            (round(x), round(base - 0.3 * UNIT)),
            fill=LIGHT_INK,
            stroke="none",
            font_size=15,
            text_anchor="middle",
        )
    )
    return cell

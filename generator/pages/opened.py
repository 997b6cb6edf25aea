"""A chart whose folded rounds are opened: pictures of their own beside the page, one for each hand.

The page stays light and needs no script: it only links to them. They carry their styles in them, so that they can be
saved, printed and opened from a disk.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import cache

from generator.charts.draw import draw, for_the_left_hand
from generator.charts.inks import DARK_PAPER, LIGHT_PAPER
from generator.charts.marks import Drawing
from generator.charts.options import ChartOptions
from generator.charts.svg import to_svg
from generator.fabric.model import Part

CHAIN_PX = 18
"""Width of a chain in the picture: signs can be told apart, and a wide window holds most charts whole."""
SAID = (
    "Every round is drawn, also those that only repeat the one before. The rounds are written out on the pattern's page, "
    "one by one; the words alone are enough to work from."
)


@dataclass(frozen=True, slots=True)
class Opened:
    """Names of the two pictures, relative to the page, and how each is made: a preview draws them only when asked."""

    right: str
    left: str
    files: Mapping[str, Callable[[], bytes]]


def opened(part: Part, folded: Drawing, options: ChartOptions, place: int) -> Opened | None:
    """The chart drawn again with every round; None where nothing of `folded` is.

    Args:
        place: which part of the page it is, from 0; names the files, since the names of parts may be of any length.
    """
    if not any(group.folded for group in folded.groups):
        return None
    title = f"{options.title}, every round drawn"

    @cache
    def drawing() -> Drawing:
        return draw(part, folded.kind, replace(options, fold=False, title=title, description=SAID))

    def other() -> Drawing:
        return replace(for_the_left_hand(drawing()), title=f"{title}, for the left hand")

    right, left = f"every-round-{place + 1}.svg", f"every-round-{place + 1}-left.svg"
    return Opened(right, left, {right: lambda: _picture(drawing()), left: lambda: _picture(other())})


def _picture(drawing: Drawing) -> bytes:
    """The drawing in a size that can be read, however small the window is; on paper, within the sheet."""
    sheet = (
        f":root{{display:block;margin:0 auto;width:{round(drawing.box[2] * CHAIN_PX)}px;height:auto;"
        f"background:{LIGHT_PAPER};background:light-dark({LIGHT_PAPER},{DARK_PAPER})}}"
        "@media print{:root{width:100%;max-height:100vh;background:none}}"
    )
    return to_svg(drawing, standalone=True, sheet=sheet).encode()

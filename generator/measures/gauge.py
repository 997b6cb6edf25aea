"""How wide and how high one stitch is: from the gauge when there is one, else from hook and yarn."""

from dataclasses import dataclass
from functools import cache

from generator.measures.measured import Basis
from generator.measures.published import rows, value
from generator.measures.units import MM_PER_INCH
from generator.notation.pattern import Gauge, Header
from generator.vocabulary.load import is_stitch, stitch

LEAST, MOST = 0.2, 200.0
"""Millimetres between which a stitch can be; anything else is a slip of the pen and no gauge."""


@cache
def ratio(kind: str, in_round: bool = False) -> float:
    """Height of a course of `kind` over the width of a stitch, from the table stitch-sizes.

    A stitch without a row of its own has the height of the stitch it is built from.
    """
    known = {row["stitch"]: row for row in rows("stitch-sizes")}
    column = "rounds" if in_round else "rows"
    name = kind
    while name not in known:
        if not is_stitch(name) or stitch(name).base in (name, ""):
            return float(known["sc"][column])
        name = stitch(name).base
    return float(known[name][column])


@dataclass(frozen=True, slots=True)
class Scale:
    """The size of stitches in one pattern. Millimetres; `width_mm` 0.0 when nothing is known."""

    width_mm: float
    basis: Basis
    stitch: str = "sc"
    """The gauge's stitch."""
    given_height_mm: float = 0.0
    """Height of a course of `stitch` as the gauge gives it; 0.0 when it doesn't."""

    def height(self, kind: str, in_round: bool = False) -> float:
        """Height of a course of `kind`."""
        if self.given_height_mm:
            return self.given_height_mm * ratio(kind, in_round) / ratio(self.stitch, in_round)
        return self.width_mm * ratio(kind, in_round)

    def free_chain(self) -> float:
        """Length of one chain that hangs free."""
        return self.width_mm * value("yarn-model", "free-chain-width")

    def space(self, chains: int) -> float:
        """Width of a space of `chains`: the first two stand for a stitch each (mesh, filet), more hang in an arch."""
        return self.width_mm * min(chains, 2) + self.free_chain() * max(0, chains - 2)


@cache
def thickness_mm(category: int | None) -> float:
    """Thickness of a yarn: one wrap of the middle of its wraps per inch. Medium (4) when the category is unknown."""
    table = {int(row["category"]): row for row in rows("yarn-weights")}
    row = table.get(4 if category is None else category, table[4])
    return MM_PER_INCH / ((float(row["wpi_low"]) + float(row["wpi_high"])) / 2)


def width_from_hook(hook_mm: float, category: int | None) -> float:
    """Width of a single crochet worked with that hook in that yarn (model and misses: table yarn-model)."""
    hook, wrap = value("yarn-model", "width-per-hook"), value("yarn-model", "width-per-wrap")
    return hook * hook_mm + wrap * thickness_mm(category)


def usual_hook_mm(category: int) -> float:
    """Middle of the council's hooks for a yarn category; its lower end where it names no upper one."""
    row = next(row for row in rows("yarn-weights") if row["category"] == category)
    low = float(row["hook_low_mm"])
    return (low + float(row.get("hook_high_mm", low))) / 2


def scale_of(header: Header) -> Scale:
    """The scale of a pattern. A gauge of nothing, or of the impossible, is no gauge."""
    gauge = header.gauge
    if gauge and gauge.stitches > 0 and LEAST < gauge.over_mm / gauge.stitches < MOST:
        return from_gauge(gauge)
    category = next((yarn.weight for yarn in header.yarns if yarn.weight is not None), None)
    hook = next((mm for mm in header.hooks_mm if LEAST < mm < MOST), 0.0)
    if not hook and category is not None and 0 <= category <= 7:
        hook = usual_hook_mm(category)
    if not hook:
        return Scale(0.0, Basis.NONE)
    return Scale(width_from_hook(hook, category), Basis.HOOK)


def from_gauge(gauge: Gauge) -> Scale:
    """The scale a gauge gives."""
    kind = gauge.stitch if is_stitch(gauge.stitch) else "sc"
    width = gauge.over_mm / gauge.stitches
    if gauge.rows > 0 and LEAST < gauge.over_mm / gauge.rows < MOST:
        return Scale(width, Basis.GAUGE, kind, gauge.over_mm / gauge.rows)
    return Scale(width, Basis.STITCHES, kind)

"""Another yarn or another hook: what gauge, size and yarn to expect. A swatch decides; this only says where to begin."""

from dataclasses import dataclass

from generator.measures.gauge import Scale, usual_hook_mm, width_from_hook
from generator.measures.units import GAUGE_MM
from generator.measures.weights import weight
from generator.measures.yarn import stitch_length_mm

WARNING = "An estimate from tables. Work a swatch before you begin: hands differ more than tables do."


@dataclass(frozen=True, slots=True)
class Substitution:
    """What to expect. Ratios are new over old."""

    category: int
    hook_mm: float
    stitches: float
    """Single crochet to 4 in (10 cm)."""
    size_ratio: float
    """Every length of the piece, at the same stitch counts."""
    yarn_ratio: float
    """Metres, at the same stitch counts."""
    in_table: bool
    """Whether gauge and hook both lie within the council's ranges for that weight."""
    warning: str = WARNING


def substitute(
    scale: Scale, hook_mm: float, category: int, to_category: int, to_hook_mm: float | None = None
) -> Substitution:
    """What the piece becomes in another weight, with another hook (None: the middle of the council's range).

    The old size is taken from the pattern's own scale; only the *ratio* between the two comes from the model, so a
    designer's firm or loose hand carries over.
    """
    hook = to_hook_mm or usual_hook_mm(to_category)
    ratio = width_from_hook(hook, to_category) / width_from_hook(hook_mm, category)
    old = stitch_length_mm("sc", scale)
    new = stitch_length_mm(
        "sc", Scale(scale.width_mm * ratio, scale.basis, scale.stitch, scale.given_height_mm * ratio)
    )
    stitches = GAUGE_MM / (scale.width_mm * ratio)
    return Substitution(to_category, hook, stitches, ratio, new / old, _in_table(to_category, hook, stitches))


def _in_table(category: int, hook_mm: float, stitches: float) -> bool:
    row = weight(category)
    if row is None:
        return False
    low, high = float(row["hook_low_mm"]), float(row.get("hook_high_mm", 1e9))
    return low <= hook_mm <= high and float(row.get("gauge_low", 0)) <= stitches <= float(row["gauge_high"])


def rework(count: float, pattern_per_unit: float, yours_per_unit: float) -> float:
    """Stitches for the same size at another gauge; not rounded."""
    return count * yours_per_unit / pattern_per_unit

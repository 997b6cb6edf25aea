"""Another yarn or another hook: what gauge, size and yarn to expect. A swatch decides; this only says where to begin."""

from collections.abc import Iterator

from generator.measures.gauge import Scale, width_from_hook
from generator.measures.measured import Substitution
from generator.measures.published import rows
from generator.measures.units import GAUGE_MM
from generator.measures.weights import weight
from generator.measures.yarn import stitch_length_mm
from generator.notation.pattern import Header

WARNING = "An estimate from tables. Work a swatch before you begin: hands differ more than tables do."


def substitute(scale: Scale, hook_mm: float, category: int, to_category: int, to_hook_mm: float) -> Substitution:
    """What the piece becomes in another weight or with another hook.

    The old size is taken from the pattern's own scale; only the *ratio* between the two comes from the model, so a
    designer's firm or loose hand carries over.
    """
    ratio = width_from_hook(to_hook_mm, to_category) / width_from_hook(hook_mm, category)
    new = Scale(scale.width_mm * ratio, scale.basis, scale.stitch, scale.given_height_mm * ratio)
    return Substitution(
        category=to_category,
        hook_mm=to_hook_mm,
        stitches=GAUGE_MM / new.width_mm,
        size_ratio=ratio,
        yarn_ratio=stitch_length_mm("sc", new) / stitch_length_mm("sc", scale),
        in_table=_in_table(to_category, to_hook_mm, GAUGE_MM / new.width_mm),
    )


def neighbours(header: Header, scale: Scale) -> Iterator[Substitution]:
    """One weight thinner and one thicker, with a hook as far from the council's as the designer's own is."""
    category = next((yarn.weight for yarn in header.yarns if yarn.weight is not None), None)
    hook = next((mm for mm in header.hooks_mm if mm > 0), 0.0)
    if category is None or weight(category) is None or not hook or not scale.width_mm:
        return
    for other in (category - 1, category + 1):
        if weight(other) is not None:
            wanted = hook * _middle(other) / _middle(category)
            yield substitute(scale, hook, category, other, nearest_hook(wanted))


def _middle(category: int) -> float:
    row = weight(category)
    low = float(row["hook_low_mm"]) if row else 0.0
    return (low + float(row.get("hook_high_mm", low))) / 2 if row else low


def nearest_hook(mm: float) -> float:
    """The published size closest to a diameter, odd quarter-millimetre makers' sizes left out."""
    sizes = [
        float(row["mm"]) for row in rows("hooks") if row["confidence"] != "low" and row["us"] not in ("G", "I", "J")
    ]
    return min(sizes, key=lambda size: abs(size - mm))


def _in_table(category: int, hook_mm: float, stitches: float) -> bool:
    row = weight(category)
    if row is None:
        return False
    low, high = float(row["hook_low_mm"]), float(row.get("hook_high_mm", 1e9))
    return low <= hook_mm <= high and float(row.get("gauge_low", 0)) <= stitches <= float(row["gauge_high"])

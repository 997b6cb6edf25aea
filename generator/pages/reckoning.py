"""How the numbers of a page were reckoned, how far to trust them, and what another yarn would make of the piece."""

from collections.abc import Iterator

from generator.measures.measured import Basis, Form, Measured, Substitution
from generator.measures.substitute import WARNING
from generator.measures.units import MM_PER_INCH
from generator.notation.pattern import Header
from generator.pages.amounts import Both, Instead, Reckoned, Spread
from generator.pages.materials import both, weight_name
from generator.vocabulary.load import table
from generator.wording import numbers


def reckoned(header: Header, measured: Measured | None) -> Reckoned:
    """What a page says of its own numbers."""
    if measured is None or measured.basis is Basis.NONE or not measured.parts:
        return Reckoned()
    limits = {limit.name: limit for caution in measured.cautions for limit in caution.limits}
    return Reckoned(
        notes=tuple(_notes(header, measured)),
        spreads=tuple(_spreads(measured)),
        instead=tuple(_instead(measured, other) for other in measured.substitutions),
        limits=tuple(
            f"{each.what}: {numbers.plain(each.value)}{numbers.TIE}{each.unit} ({each.edition})"
            for each in limits.values()
        ),
        warning=WARNING,
        credit=table("hooks").credit,
    )


CUBIC_INCH = MM_PER_INCH**3
ROOM = 5000.0
"""mm³ of filling under which nobody weighs it."""
_SIZES = {
    Basis.GAUGE: "Sizes are reckoned from the stitches and rows above.",
    Basis.STITCHES: "Widths are reckoned from the stitches above; no rows are given, so heights come from published gauges.",
    Basis.HOOK: "No stitch count over a length is given, so sizes are estimated from hook and yarn. Expect them to differ.",
}


def _notes(header: Header, measured: Measured) -> Iterator[str]:
    if header.size is None:
        yield _SIZES[measured.basis]
    source = "from the designer’s own swatch" if measured.calibrated else "stitch by stitch from their size"
    stated = [yarn for yarn in header.yarns if yarn.stated_metres or yarn.stated_grams]
    if len(stated) < len(header.yarns):
        yield f"Yarn is reckoned {source}, ends and cords included; the table above has a tenth to spare."
        if any(yarn.grams_from == "weight" for yarn in measured.yarns):
            yield "Weights go by what is usual for a yarn of that thickness; go by the length."
    room = sum(part.form.volume_mm3 * part.make for part in measured.parts if part.form.stuffed)
    if room > ROOM:
        yield f"There is room inside for about {room / 1000:.0f}{numbers.TIE}cm³ ({room / CUBIC_INCH:.0f}{numbers.TIE}in³) of filling."
    if header.hours is None:
        yield "Time runs from a practised hand to a new one, rests included."


def _spreads(measured: Measured) -> Iterator[Spread]:
    for yarn in measured.yarns:
        if yarn.metres:
            low, high = both(yarn.low_metres, numbers.yarn_length), both(yarn.high_metres, numbers.yarn_length)
            span = Both(numbers.between(low.metric, high.metric), numbers.between(low.imperial, high.imperial))
            yield Spread(yarn.key, yarn.colour or yarn.key, span)


def _instead(measured: Measured, other: Substitution) -> Instead:
    largest = measured.largest()
    metres = sum(yarn.buy_metres for yarn in measured.yarns) * other.yarn_ratio
    return Instead(
        weight=weight_name(other.category),
        hook=numbers.hook(other.hook_mm),
        stitches=numbers.plain(other.stitches, 0),
        size=_size(largest.form, other.size_ratio) if largest else Both(),
        yarn=both(metres, numbers.yarn_length) if metres else Both(),
    )


def _size(form: Form, ratio: float) -> Both:
    width, height = form.width_mm * ratio, form.height_mm * ratio
    if height <= 5:
        return both(width, numbers.length)
    return Both(*(numbers.size(width, height, system) for system in numbers.System))

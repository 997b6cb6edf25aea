"""What the maker needs, as rows to print: yarns, hooks, gauge, sizes, time."""

from collections.abc import Callable, Mapping

from generator.measures.measured import HookMeasure, Measured, PartMeasure, Shape, YarnAmount
from generator.notation.pattern import Header, YarnSpec
from generator.pages.amounts import Both, HookRow, YarnRow
from generator.vocabulary.load import language, table
from generator.wording import numbers
from generator.wording.numbers import System

SPARE = "#8d948f"
"""Stands in for a swatch nobody gave."""


def both(value: float, write: Callable[[float, System], str]) -> Both:
    """A measure written in both systems."""
    return Both(write(value, System.METRIC), write(value, System.IMPERIAL))


def between(low: float, high: float, write: Callable[[float, System], str]) -> Both:
    """A range in both systems."""
    metric, imperial = (numbers.between(write(low, system), write(high, system)) for system in System)
    return Both(metric, imperial)


def colours(header: Header) -> Mapping[str, tuple[str, str]]:
    """(name, `#rrggbb`) of every yarn by key."""
    return {yarn.key: (yarn.colour or yarn.key, yarn.swatch or SPARE) for yarn in header.yarns}


def weight_name(category: int | None) -> str:
    """`worsted, aran (category 4)` style naming is the council's; empty when the weight is not known."""
    if category is None:
        return ""
    for row in table("yarn-weights").rows:
        if row["category"] == category:
            return f"{row['name']} ({category})"
    return f"category {category}"


def yarn_rows(header: Header, measured: Measured | None) -> tuple[YarnRow, ...]:
    """The materials table, in the header's order."""
    amounts = {amount.key: amount for amount in measured.yarns} if measured else {}
    return tuple(_yarn(yarn, amounts.get(yarn.key)) for yarn in header.yarns)


def _yarn(yarn: YarnSpec, amount: YarnAmount | None) -> YarnRow:
    metres = yarn.stated_metres or (amount.buy_metres if amount else 0.0)
    grams = yarn.stated_grams or (amount.buy_grams if amount else None)
    notes = []
    if amount and amount.balls:
        notes.append(f"{amount.balls} {'ball' if amount.balls == 1 else 'balls'}")
    if yarn.strands > 1:
        notes.append(f"{yarn.strands} strands held together")
    return YarnRow(
        key=yarn.key,
        colour=yarn.colour or yarn.key,
        swatch=yarn.swatch or SPARE,
        weight=weight_name(yarn.weight),
        fibre=yarn.fibre,
        length=both(metres, numbers.yarn_length) if metres else Both(),
        mass=both(grams, numbers.mass) if grams else Both(),
        note=", ".join(notes),
    )


def hook_rows(header: Header, measured: Measured | None) -> tuple[HookRow, ...]:
    """Hooks in millimetres with the tables' labels; where tables disagree, that is what is printed."""
    if measured and measured.hooks:
        return tuple(_hook(hook) for hook in measured.hooks)
    return tuple(HookRow(numbers.hook(mm)) for mm in header.hooks_mm)


def _hook(hook: HookMeasure) -> HookRow:
    notes = [
        f"{where} tables disagree: {note.removeprefix('tables disagree: ')}"
        if "disagree" in note
        else f"{where}: {note}"
        for where, note in (("US", hook.us_note), ("UK", hook.uk_note))
        if note
    ]
    return HookRow(numbers.hook(hook.mm), hook.us, hook.uk, "; ".join(notes))


def gauge(header: Header) -> tuple[Both, Both]:
    """Gauge in US words and in UK words."""
    if header.gauge is None:
        return Both(), Both()
    us, uk = (_gauge(header, code) for code in ("en-US", "en-GB"))
    return us, uk


def _gauge(header: Header, code: str) -> Both:
    known = header.gauge
    assert known is not None
    words = language(code)
    stitch = words.stitches[known.stitch].abbreviation if known.stitch in words.stitches else known.stitch
    course = words.terms["round" if known.in_round else "row"].plural
    written = []
    for system in System:
        stitches, rows, over = numbers.gauge(known.stitches, known.rows, known.over_mm, system)
        tail = f" and {rows}{numbers.TIE}{course}" if rows else ""
        written.append(f"{stitches}{numbers.TIE}{stitch}{tail} to {over}")
    return Both(*written)


_NAMES = (("width_mm", "Across"), ("height_mm", "High"), ("circumference_mm", "Round"), ("opening_mm", "Opening"))


def sizes(header: Header, measured: Measured | None) -> tuple[tuple[str, Both], ...]:
    """Finished size: what the designer states, else what the form comes to (said so)."""
    found: list[tuple[str, Both]] = []
    if header.fits:
        found.append(("To fit", Both(header.fits)))
    if header.size:
        values = [(name, getattr(header.size, key)) for key, name in _NAMES]
        return (*found, *((name, both(value, numbers.length)) for name, value in values if value))
    largest = measured.largest() if measured else None
    return (*found, *_reckoned(largest)) if largest else tuple(found)


def _reckoned(part: PartMeasure) -> list[tuple[str, Both]]:
    form = part.form
    if form.shape in (Shape.NOTHING, Shape.CORD) or not form.width_mm:
        return []
    rows = [("About across", both(form.width_mm, numbers.length))]
    if form.height_mm > 5:
        rows.append(("About high", both(form.height_mm, numbers.length)))
    return rows


def size_line(header: Header, measured: Measured | None) -> Both:
    """The one measure a list shows."""
    for _, value in sizes(header, measured):
        if value.imperial:
            return value
    return Both()


def total_metres(header: Header, measured: Measured | None) -> float:
    """Yarn of all colours together, as printed; 0.0 when it can't be told."""
    stated = [yarn.stated_metres or 0.0 for yarn in header.yarns]
    reckoned = {amount.key: amount.buy_metres for amount in measured.yarns} if measured else {}
    return sum(said or reckoned.get(yarn.key, 0.0) for said, yarn in zip(stated, header.yarns, strict=True))


def hours(header: Header, measured: Measured | None) -> tuple[str, float]:
    """Working time in words, and its upper end in minutes; empty and 0 when it can't be told."""
    span = header.hours or (measured.hours if measured else (0.0, 0.0))
    if not span[1]:
        return "", 0.0
    return numbers.hours(*span), span[1] * 60


_LEVELS = {
    "basic": "a few stitches, repeated",
    "easy": "plain stitches, simple shaping and colour changes",
    "intermediate": "several stitches, shaping, some finishing",
    "complex": "intricate stitches or shaping, for practised hands",
}


def level_note(level: str) -> str:
    """What a level asks of the maker, in a few words of our own."""
    return _LEVELS.get(level, "")


def cautions(measured: Measured | None) -> tuple[tuple[str, str], ...]:
    """Title and text of every caution the contents call for."""
    return tuple((caution.title, caution.text) for caution in measured.cautions) if measured else ()

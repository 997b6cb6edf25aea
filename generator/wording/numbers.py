"""Numbers as a reader of patterns expects them: rounding, units, fractions, ranges.

`measures` gives millimetres, grams and metres; only here are they rounded and given a unit. Number and unit are tied by
a no-break space. Definitions: international yard and pound agreement of 1959 (1 yd = 0.9144 m, 1 lb = 0.45359237 kg, so
1 in = 25.4 mm and 1 oz = 28.349523125 g), from memory. Steps of rounding: common practice, no source.
"""

import math
from datetime import date
from enum import StrEnum

MM_PER_INCH = 25.4
METRES_PER_YARD = 0.9144
GRAMS_PER_OUNCE = 28.349523125
TIE = "\u00a0"
"""No-break space: a number never leaves its unit."""


class System(StrEnum):
    """Which units: what the reader sews with."""

    METRIC = "metric"
    IMPERIAL = "imperial"


_QUARTERS = ("", "¼", "½", "¾")
_EIGHTHS = ("", "⅛", "¼", "⅜", "½", "⅝", "¾", "⅞")


def nearest(value: float, step: float) -> float:
    """The multiple of `step` nearest to a value; halves go up, as makers round."""
    return math.floor(value / step + 0.5 + 1e-9) * step


def plain(value: float, places: int = 1) -> str:
    """A number without needless zeros: 4, 3.5."""
    text = f"{nearest(value, 10.0**-places):.{places}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def mixed(value: float, parts: int = 4) -> str:
    """A number in quarters (or eighths): `4¾`, `¼`; whole when it comes out so. Never nothing: the least is one part."""
    signs = _EIGHTHS if parts == 8 else _QUARTERS
    count = int(nearest(value * parts, 1))
    if count == 0 and value > 0:
        count = 1
    whole, rest = divmod(count, parts)
    return (str(whole) if whole or not rest else "") + signs[rest]


def length(mm: float, system: System) -> str:
    """A finished length: half centimetres below 30 cm, whole above; quarter inches; small things in mm and eighths."""
    if system is System.METRIC:
        if mm < 20:
            return f"{plain(mm, 0)}{TIE}mm"
        return f"{plain(nearest(mm / 10, 0.5 if mm < 300 else 1))}{TIE}cm"
    return f"{mixed(mm / MM_PER_INCH, 8 if mm < 20 else 4)}{TIE}in"


def hook(mm: float) -> str:
    """A hook by its shaft, the size makers trust: `3.5 mm`. Steel hooks go to hundredths."""
    return f"{plain(mm, 2)}{TIE}mm"


def mass(grams: float, system: System) -> str:
    """Yarn by weight: whole grams, or tenths of an ounce. Rounded up, so that nobody runs out for a rounding."""
    if system is System.METRIC:
        return f"{math.ceil(grams - 1e-9)}{TIE}g"
    return f"{plain(math.ceil(grams / GRAMS_PER_OUNCE * 10 - 1e-9) / 10)}{TIE}oz"


def yarn_length(metres: float, system: System) -> str:
    """Yarn by length: whole metres or yards, rounded up for the same reason."""
    if system is System.METRIC:
        return f"{math.ceil(metres - 1e-9)}{TIE}m"
    return f"{math.ceil(metres / METRES_PER_YARD - 1e-9)}{TIE}yd"


def both(written: tuple[str, str]) -> str:
    """Two ways of saying one measure, the reader's own first: `10 cm (4 in)`."""
    return f"{written[0]} ({written[1]})"


def _order(first: System) -> tuple[System, System]:
    return (System.METRIC, System.IMPERIAL) if first is System.METRIC else (System.IMPERIAL, System.METRIC)


def length_both(mm: float, first: System = System.METRIC) -> str:
    """A length in both systems: `12 cm (4¾ in)`."""
    a, b = _order(first)
    return both((length(mm, a), length(mm, b)))


def mass_both(grams: float, first: System = System.METRIC) -> str:
    """A weight in both systems: `50 g (1.8 oz)`."""
    a, b = _order(first)
    return both((mass(grams, a), mass(grams, b)))


def yarn_length_both(metres: float, first: System = System.METRIC) -> str:
    """A length of yarn in both systems: `92 m (101 yd)`."""
    a, b = _order(first)
    return both((yarn_length(metres, a), yarn_length(metres, b)))


def size(width_mm: float, height_mm: float, system: System) -> str:
    """Two measures with one unit: `12 × 8 cm`."""
    first, second = length(width_mm, system), length(height_mm, system)
    unit = second.rsplit(TIE, 1)[1]
    if first.endswith(TIE + unit):
        first = first.rsplit(TIE, 1)[0]
    return f"{first}{TIE}×{TIE}{second}"


def between(low: str, high: str) -> str:
    """A range of two written measures: `20–25 g`; one of them when they are written alike."""
    if low == high:
        return low
    low_number, _, low_unit = low.rpartition(TIE)
    high_unit = high.rpartition(TIE)[2]
    return f"{low_number if low_unit == high_unit else low}–{high}"


def hours(low: float, high: float) -> str:
    """Working time: quarter hours below three, halves below ten, whole above; `1½–2 hours`."""

    def part(value: float) -> str:
        step = 0.25 if value < 3 else 0.5 if value < 10 else 1.0
        return mixed(max(nearest(value, step), step))

    first, second = part(low), part(high)
    word = "hour" if second in ("1", "¼", "½", "¾") else "hours"
    return f"{first}{TIE}{word}" if first == second else f"{first}–{second}{TIE}{word}"


def gauge(stitches: float, rows: float, over_mm: float, system: System) -> tuple[str, str, str]:
    """Stitches, rows and the stretch they are counted over; tenths at most. Rows are empty when not known."""
    return plain(stitches), plain(rows) if rows else "", length(over_mm, system)


def film_time(seconds: int) -> str:
    """A moment of a film as players show it: `0:00`, `12:30`, `1:02:05`."""
    minutes, rest = divmod(seconds, 60)
    whole, minutes = divmod(minutes, 60)
    return f"{whole}:{minutes:02}:{rest:02}" if whole else f"{minutes}:{rest:02}"


_SUFFIX = {1: "st", 2: "nd", 3: "rd"}


def ordinal(n: int) -> str:
    """`1st`, `2nd`, `11th`, `23rd`."""
    return f"{n}th" if 10 <= n % 100 <= 20 else f"{n}{_SUFFIX.get(n % 10, 'th')}"


_ORDINAL_WORDS = ("", "first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth")


def ordinal_word(n: int) -> str:
    """`first` to `tenth`, as said aloud; figures beyond."""
    return _ORDINAL_WORDS[n] if 0 < n < len(_ORDINAL_WORDS) else ordinal(n)


_MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip


def day(when: date, code: str) -> str:
    """A date as a reader of that dialect writes it: `4 September 2026`, `September 4, 2026`."""
    month = _MONTHS[when.month - 1]
    return f"{month} {when.day}, {when.year}" if code == "en-US" else f"{when.day} {month} {when.year}"


def number_list(numbers: tuple[int, ...], and_word: str = "and", dash: str = "–") -> str:
    """Numbers as a label lists them: `4–8`, `3, 5 and 7`, `2 and 3`, `2 and 4–6`."""
    runs: list[list[int]] = []
    for n in numbers:
        if runs and n == runs[-1][-1] + 1:
            runs[-1].append(n)
        else:
            runs.append([n])
    parts: list[str] = []
    for run in runs:
        if len(run) < 3:
            parts.extend(str(n) for n in run)
        else:
            parts.append(f"{run[0]}{dash}{run[-1]}")
    return parts[0] if len(parts) == 1 else ", ".join(parts[:-1]) + f" {and_word} {parts[-1]}"

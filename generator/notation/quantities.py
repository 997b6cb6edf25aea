"""Numbers, lengths, masses and times as people write them: `4.0mm`, `1½ in`, `3,5 cm`, `1:20`.

Everything leaves here in one unit (millimetres, grams, metres, seconds, hours); `None` means it was not understood.
"""

import re

FRACTIONS = {
    "½": 0.5,
    "⅓": 1 / 3,
    "⅔": 2 / 3,
    "¼": 0.25,
    "¾": 0.75,
    "⅕": 0.2,
    "⅛": 0.125,
    "⅜": 0.375,
    "⅝": 0.625,
    "⅞": 0.875,
}

_GLYPH = "".join(FRACTIONS)
NUMBER = rf"(?:\d{{1,6}}\s*[{_GLYPH}]|\d{{1,6}}\s+\d{{1,3}}/\d{{1,3}}|\d{{1,3}}/\d{{1,3}}|[{_GLYPH}]|\d{{1,6}}(?:[.,]\d{{1,4}})?)"
"""One number: whole, decimal with point or comma, fraction as glyph or with a stroke, whole and fraction."""

# Exact by definition since the international yard and pound of 1959 (1 in = 25.4 mm, 1 yd = 0.9144 m,
# 1 oz = 28.349523125 g): NIST Special Publication 811, appendix B (figures from memory).
_MILLIMETRES = {
    "mm": 1.0, "millimetre": 1.0, "millimetres": 1.0, "millimeter": 1.0, "millimeters": 1.0,
    "cm": 10.0, "centimetre": 10.0, "centimetres": 10.0, "centimeter": 10.0, "centimeters": 10.0,
    "m": 1000.0, "metre": 1000.0, "metres": 1000.0, "meter": 1000.0, "meters": 1000.0,
    "in": 25.4, "in.": 25.4, "ins": 25.4, "inch": 25.4, "inches": 25.4, '"': 25.4, "″": 25.4, "”": 25.4, "''": 25.4,
    "yd": 914.4, "yds": 914.4, "yard": 914.4, "yards": 914.4, "ft": 304.8, "foot": 304.8, "feet": 304.8,
}  # fmt: skip
_GRAMS = {
    "g": 1.0, "gr": 1.0, "gram": 1.0, "grams": 1.0, "gramme": 1.0, "grammes": 1.0, "kg": 1000.0,
    "oz": 28.349523125, "ounce": 28.349523125, "ounces": 28.349523125,
}  # fmt: skip
_HOURS = {
    "h": 1.0, "hr": 1.0, "hrs": 1.0, "hour": 1.0, "hours": 1.0, "min": 1 / 60, "mins": 1 / 60, "minute": 1 / 60,
    "minutes": 1 / 60,
}  # fmt: skip

_QUANTITY = re.compile(rf"\s*({NUMBER})\s*([^\W\d_]+\.?|\"|″|”|'')?\s*")
_HOURS_RANGE = re.compile(rf"\s*({NUMBER})\s*(?:(?:-|–|—|to)\s*({NUMBER}))?\s*([^\W\d_]+)?\s*")
_CLOCK = re.compile(r"\s*(?:(\d{1,2}):)?(\d{1,3}):(\d{2})\s*")


def number(text: str) -> float | None:
    """The number that `text` is, and nothing besides."""
    text = text.strip()
    if not re.fullmatch(NUMBER, text):
        return None
    if text[-1] in FRACTIONS:
        return float(text[:-1].strip() or 0) + FRACTIONS[text[-1]]
    if "/" in text:
        whole, _, rest = text.rpartition(" ")
        over, _, under = rest.partition("/")
        return float(whole.strip() or 0) + int(over) / int(under) if int(under) else None
    return float(text.replace(",", "."))


def _measured(text: str, units: dict[str, float]) -> float | None:
    match = _QUANTITY.fullmatch(text)
    if not match or not match[2]:
        return None
    value, unit = number(match[1]), units.get(match[2].lower())
    return None if value is None or unit is None else value * unit


def millimetres(text: str) -> float | None:
    """A length in millimetres: `70 cm`, `4 in`, `1½"`."""
    return _measured(text, _MILLIMETRES)


def grams(text: str) -> float | None:
    """A mass in grams: `50 g`, `1.75 oz`."""
    return _measured(text, _GRAMS)


def metres(text: str) -> float | None:
    """A length of yarn in metres: `85 m`, `93 yd`."""
    length = millimetres(text)
    return None if length is None else length / 1000


def hours(text: str) -> tuple[float, float] | None:
    """Least and most hours: `3`, `2-3`, `2 to 3 hours`, `45 minutes`."""
    match = _HOURS_RANGE.fullmatch(text)
    if not match:
        return None
    unit = _HOURS.get((match[3] or "h").lower())
    low = number(match[1])
    high = number(match[2]) if match[2] else low
    if unit is None or low is None or high is None or not 0 < low <= high:
        return None
    return low * unit, high * unit


def seconds(text: str) -> int | None:
    """A moment or length of a film in seconds: `1:20`, `1:02:05`."""
    match = _CLOCK.fullmatch(text)
    if not match or int(match[3]) > 59:
        return None
    return int(match[1] or 0) * 3600 + int(match[2]) * 60 + int(match[3])


def plain(value: float) -> str:
    """The shortest way to write a number: `4`, `3.5`."""
    return f"{value:.4f}".rstrip("0").rstrip(".")

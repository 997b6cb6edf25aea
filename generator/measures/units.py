"""Exact ratios between the trade's units. Inside the project lengths are mm, masses g, times minutes."""

MM_PER_INCH = 25.4
"""Exact: international yard and pound agreement, 1959 (tested against a units library's constants)."""
MM_PER_YARD = 36 * MM_PER_INCH
G_PER_OUNCE = 28.349523125
"""Exact: avoirdupois ounce, 1/16 of 453.59237 g."""
GAUGE_MM = 4 * MM_PER_INCH
"""The length over which the trade counts a gauge: 4 in, printed as 10 cm."""


def inches(mm: float) -> float:
    """Millimetres in inches."""
    return mm / MM_PER_INCH


def yards(metres: float) -> float:
    """Metres in yards."""
    return metres * 1000 / MM_PER_YARD


def ounces(grams: float) -> float:
    """Grams in avoirdupois ounces."""
    return grams / G_PER_OUNCE

"""Rounding and units, against a general library's constants."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import constants

from generator.wording import numbers
from generator.wording.numbers import System


def test_definitions_are_the_international_ones() -> None:
    """scipy.constants: inch, yard and avoirdupois ounce in SI units."""
    assert pytest.approx(constants.inch * 1000) == numbers.MM_PER_INCH
    assert pytest.approx(constants.yard) == numbers.METRES_PER_YARD
    assert pytest.approx(constants.oz * 1000) == numbers.GRAMS_PER_OUNCE


@pytest.mark.parametrize(
    ("mm", "metric", "imperial"),
    [
        (100, "10 cm", "4 in"),  # the trade's gauge square: 4 in is called 10 cm in published gauges
        (120, "12 cm", "4¾ in"),
        (57, "5.5 cm", "2¼ in"),
        (8, "8 mm", "⅜ in"),
        (2, "2 mm", "⅛ in"),
        (1524, "152 cm", "60 in"),
        (25.4, "2.5 cm", "1 in"),
    ],
)
def test_lengths(mm: float, metric: str, imperial: str) -> None:
    assert numbers.length(mm, System.METRIC).replace("\u00a0", " ") == metric
    assert numbers.length(mm, System.IMPERIAL).replace("\u00a0", " ") == imperial


def test_both_systems_put_the_readers_first() -> None:
    assert numbers.length_both(100) == "10\u00a0cm (4\u00a0in)"
    assert numbers.length_both(100, System.IMPERIAL) == "4\u00a0in (10\u00a0cm)"
    assert numbers.mass_both(50) == "50\u00a0g (1.8\u00a0oz)"  # ball bands print 50 g / 1.76 oz
    assert numbers.yarn_length_both(92) == "92\u00a0m (101\u00a0yd)"
    assert numbers.size(120, 80, System.METRIC) == "12\u00a0×\u00a08\u00a0cm"
    assert numbers.size(15, 80, System.METRIC) == "15\u00a0mm\u00a0×\u00a08\u00a0cm"


@given(st.floats(0.01, 5000))
def test_yarn_is_never_rounded_down(amount: float) -> None:
    def number(text: str) -> float:
        return float(text.split("\u00a0")[0])

    assert number(numbers.mass(amount, System.METRIC)) >= amount - 1e-6
    assert number(numbers.mass(amount, System.IMPERIAL)) * 28.349523125 >= amount - 1e-5
    assert number(numbers.yarn_length(amount, System.METRIC)) >= amount - 1e-6
    assert number(numbers.yarn_length(amount, System.IMPERIAL)) * 0.9144 >= amount - 1e-5


@given(st.floats(0.01, 1000))
def test_mixed_numbers_are_within_half_a_part(value: float) -> None:
    signs = {"¼": 0.25, "½": 0.5, "¾": 0.75}
    text = numbers.mixed(value)
    back = (float(text[:-1] or 0) + signs[text[-1]]) if text[-1] in signs else float(text)
    assert abs(back - value) <= 0.125 + 1e-9 or (value < 0.125 and back == 0.25)


def test_ranges() -> None:
    assert numbers.between("20\u00a0g", "25\u00a0g") == "20–25\u00a0g"
    assert numbers.between("9\u00a0mm", "2\u00a0cm") == "9\u00a0mm–2\u00a0cm"
    assert numbers.between("20\u00a0g", "20\u00a0g") == "20\u00a0g"
    assert numbers.hours(1.6, 2.1) == "1½–2\u00a0hours"
    assert numbers.hours(0.05, 0.05) == "¼\u00a0hour"
    assert numbers.hours(4.1, 6.3) == "4–6½\u00a0hours"
    assert numbers.hours(18, 23.4) == "18–23\u00a0hours"


def test_ordinals() -> None:
    assert [numbers.ordinal(n) for n in (1, 2, 3, 4, 11, 12, 13, 21, 22, 103, 111)] == [
        "1st", "2nd", "3rd", "4th", "11th", "12th", "13th", "21st", "22nd", "103rd", "111th",
    ]  # fmt: skip
    assert [numbers.ordinal_word(n) for n in (1, 2, 10, 11)] == ["first", "second", "tenth", "11th"]


@pytest.mark.parametrize(
    ("given_numbers", "text"),
    [
        ((7,), "7"),
        ((2, 3), "2 and 3"),
        ((4, 5, 6, 7, 8), "4–8"),
        ((3, 5, 7), "3, 5 and 7"),
        ((2, 4, 5, 6), "2 and 4–6"),
    ],
)
def test_lists_of_numbers(given_numbers: tuple[int, ...], text: str) -> None:
    assert numbers.number_list(given_numbers) == text


def test_dates_follow_the_dialect() -> None:
    assert numbers.day(date(2026, 9, 4), "en-US") == "September 4, 2026"
    assert numbers.day(date(2026, 9, 4), "en-GB") == "4 September 2026"


def test_hooks_keep_their_hundredths() -> None:
    """Steel and small hooks are made in 3.25, 2.25 and 1.75 mm: Craft Yarn Council hook table."""
    assert [numbers.hook(mm) for mm in (4, 3.5, 3.25, 1.75)] == [
        "4\u00a0mm",
        "3.5\u00a0mm",
        "3.25\u00a0mm",
        "1.75\u00a0mm",
    ]

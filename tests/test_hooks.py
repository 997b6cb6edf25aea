"""Hook labels against the published tables carried in reference/ (source ids in reference/sources.csv)."""

import csv
from pathlib import Path

import pytest

from generator.measures.hooks import candidates, label_fits, measure_hook, neighbours, plausible
from generator.measures.published import rows
from generator.vocabulary.load import table

REFERENCE = Path(__file__).parent / "reference"


def carried(name: str) -> list[dict[str, str]]:
    text = (REFERENCE / name).read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader(line for line in text if not line.startswith("#")))


HOOKS = carried("hooks.csv")


@pytest.mark.parametrize("row", HOOKS, ids=lambda row: row["mm"])
def test_labels_of_every_published_size(row: dict[str, str]) -> None:
    hook = measure_hook(float(row["mm"]), None)
    assert hook.listed
    council = row["us_council"].replace("10 1/2", "10½")
    assert hook.us in ("", council)
    if row["confidence"] == "high":
        assert hook.us == council
    if row["uk_status"] in ("agreed", "agreed but one"):
        assert hook.uk == row["uk_old"]


@pytest.mark.parametrize(
    "row", [row for row in HOOKS if row["uk_status"] == "contested" or row["mm"] == "3.75"], ids=lambda r: r["mm"]
)
def test_contested_uk_numbers_are_never_one_number(row: dict[str, str]) -> None:
    hook = measure_hook(float(row["mm"]), None)
    assert hook.uk == ""
    assert hook.uk_note


@pytest.mark.parametrize("mm", [2.0, 2.5])
def test_contested_us_labels_are_never_one_label(mm: float) -> None:
    """B-1 stands on 2.0 and 2.25, C-2 on 2.5 and 2.75, depending on the table."""
    hook = measure_hook(mm, None)
    assert hook.us == ""
    assert hook.us_note.startswith("tables disagree")


def sizes(label: str) -> set[float]:
    return {candidate.mm for candidate in candidates(label)}


@pytest.mark.parametrize(
    ("label", "expected"),
    [
        ("H-8", {5.0}), ("H/8", {5.0}), ("US H-8", {5.0}), ("h 8", {5.0}), ("4 mm", {4.0}), ("4,5mm", {4.5}),
        ("UK 9", {3.5, 3.75}), ("UK 12", {2.5, 2.75}), ("UK 8", {3.75, 4.0}), ("US G", {4.0, 4.25}), ("B-1", {2.0, 2.25}),
        ("C-2", {2.5, 2.75}), ("US K", {6.5, 7.0}), ("N", {9.0, 10.0}), ("steel 7", {1.5, 1.65}), ("K-10 1/2", {6.5}),
        ("US 7", {4.5}), ("Z", set()), ("", set()),
    ],
)  # fmt: skip
def test_label_gives_every_size_it_may_mean(label: str, expected: set[float]) -> None:
    assert sizes(label) == expected


def test_bare_seven_has_three_meanings() -> None:
    """standards tables: US 4.5 mm and UK 4.5 mm agree, steel 7 is 1.5 or 1.65 mm by maker."""
    assert {(c.mm, c.system) for c in candidates("7")} == {(4.5, "US"), (4.5, "UK"), (1.5, "steel"), (1.65, "steel")}
    assert not any(c.certain for c in candidates("steel 7"))


def test_a_printed_pair_that_stands_in_no_row_is_seen() -> None:
    """A 2013 free pattern prints G beside 4.50 and F beside 4.00 (S33): each a step off every table."""
    assert label_fits("G", 4.5) is False
    assert label_fits("F", 4.0) is False
    assert label_fits("G-6", 4.0) is True
    assert label_fits("Q9", 4.0) is None


def test_hook_between_sizes() -> None:
    hook = measure_hook(4.7, 4)
    assert not hook.listed
    assert hook.neighbours_mm == neighbours(4.7) == (4.5, 5.0)
    assert neighbours(0.3) == (2.0,)
    assert neighbours(40.0) == (30.0,)


@pytest.mark.parametrize(
    ("mm", "category", "fits"),
    [(3.5, 4, True), (4.0, 3, True), (6.0, 5, True), (8.0, 6, True), (2.0, 4, False), (15.0, 1, False), (20.0, 7, True),
     (5.0, None, None), (5.0, 9, None)],
)  # fmt: skip
def test_hook_against_yarn(mm: float, category: int | None, fits: bool | None) -> None:
    """Printed practice (reference/gauges.csv) lies at or under the council's range and must pass."""
    assert plausible(mm, category) is fits


@pytest.mark.parametrize(
    "row",
    [row for row in carried("gauges.csv") if row["hook_mm"] and row["yarn_category"].isdigit()],
    ids=lambda r: r["id"],
)
def test_published_hooks_are_plausible(row: dict[str, str]) -> None:
    assert plausible(float(row["hook_mm"]), int(row["yarn_category"]))


def test_steel_series_disagree() -> None:
    """US steel 7: 1.65 mm in one series, 1.50 in the other (S24); so no label gives one size."""
    seven = next(row for row in rows("steel-hooks") if row["us"] == "7")
    assert (seven["series_a_mm"], seven["series_b_mm"]) == ([1.65, 1.65], [1.5, 1.5])


def test_steel_hooks_against_the_carried_table() -> None:
    for row in carried("steel-hooks.csv"):
        ours = next(each for each in rows("steel-hooks") if each["us"] == row["us_steel"])
        assert ours["series_a_mm"][0] == float(row["mm_series_A"])


def test_council_tables_carry_the_credit_line() -> None:
    """The council asks for this line wherever its tables are used (introduction of its booklet, 2015 edition)."""
    for name in ("hooks", "steel-hooks", "yarn-weights", "heads"):
        assert table(name).credit == "Source: Craft Yarn Council's www.YarnStandards.com"

"""The tables in standards/ against the values carried in reference/, and the manners every table keeps."""

import csv
import re
import tomllib
from importlib import resources
from pathlib import Path

import pytest

from generator.measures.heads import hat_range_mm, head, heads_mm
from generator.measures.published import rows
from generator.vocabulary.load import table, tables
from generator.vocabulary.weights import categories_for

REFERENCE = Path(__file__).parent / "reference"


def carried(name: str) -> list[dict[str, str]]:
    text = (REFERENCE / name).read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader(line for line in text if not line.startswith("#")))


@pytest.mark.parametrize("name", tables())
def test_every_table_has_source_date_and_a_source_in_each_row(name: str) -> None:
    read = table(name)
    assert read.source
    assert re.fullmatch(r"\d{4}(-\d\d)?(-\d\d)?", read.date)
    assert read.rows
    local = {"heads-by-age", "content-signs"}
    assert name in local or all(row.get("source") for row in read.rows)


@pytest.mark.parametrize("name", tables())
def test_every_source_id_is_spelled_out(name: str) -> None:
    text = resources.files("generator.vocabulary").joinpath("standards", name + ".toml").read_text(encoding="utf-8")
    data = tomllib.loads(text)
    spelled = set(data.get("sources", {}))
    used = {each for row in data["rows"] for each in re.findall(r"\b[SG]\d\d+\b", str(row))}
    assert used <= spelled


@pytest.mark.parametrize("row", carried("yarn-weights.csv"), ids=lambda row: row["name"])
def test_yarn_weights(row: dict[str, str]) -> None:
    """Council table as quoted in S02 by way of S08 and in S03; wraps S41 S42; metres S45 S46 (reference/sources.csv)."""
    ours = next(each for each in rows("yarn-weights") if each["category"] == int(row["category"]))
    assert ours["name"] == row["name"]
    assert ours["gauge_stitch"] == row["gauge_stitch"]
    gauge = [float(n) for n in re.findall(r"\d+", row["council_gauge_4in"])]
    assert [n for n in (ours.get("gauge_low"), ours["gauge_high"]) if n is not None] == gauge
    hooks = [float(n) for n in re.findall(r"[\d.]+", row["council_hook_mm"])]
    assert {ours["hook_low_mm"], ours.get("hook_high_mm", ours["hook_low_mm"])} <= set(hooks)
    wraps = [int(n) for n in re.findall(r"\d+", row["council_wpi"])]
    assert [ours["wpi_low"], ours["wpi_high"]] == wraps
    metres = {int(n) for n in re.findall(r"\d+", row["m_per_100g_common"])}
    assert ours["metres_high"] in metres or ours["category"] == 7


@pytest.mark.parametrize(
    ("word", "found"),
    [("4 ply", (1, 2)), ("DK", (3,)), ("aran", (4,)), ("worsted", (4,)), ("chunky", (5,)), ("cloud", ())],
)
def test_yarn_words(word: str, found: tuple[int, ...]) -> None:
    """UK 4 ply is category 1 in most tables and 2 in some: never one number."""
    assert categories_for(word) == found


@pytest.mark.parametrize("row", carried("gauges.csv"), ids=lambda row: row["id"])
def test_gauges(row: dict[str, str]) -> None:
    ours = next(each for each in rows("gauges") if each["source"] == row["id"])
    assert (ours["stitches"], ours["rows"]) == (float(row["sts_per_4in"]), float(row["rows_per_4in"]))
    assert ours["stitches"] / ours["rows"] == pytest.approx(float(row["height_over_width"]), abs=0.02)


@pytest.mark.parametrize("row", carried("heads-by-age.csv"), ids=lambda row: row["age_months"])
def test_heads_by_age(row: dict[str, str]) -> None:
    """WHO child growth standards, percentiles of the LMS table (address in the file)."""
    both = sorted(float(row[who]) * 10 for who in ("girls_p50", "boys_p50"))
    assert heads_mm(f"{row['age_months']} months") == pytest.approx(both)
    if int(row["age_months"]) % 12 == 0:
        assert heads_mm(f"{int(row['age_months']) // 12} years") == pytest.approx(both)


def test_ages_between_and_beyond_the_table() -> None:
    """Straight between two ages; a span takes the smallest and the greatest; nothing is made up beyond the table."""
    ages = {n: heads_mm(f"{n} months") for n in (6, 9, 12)}
    assert ages[6] and ages[9] and ages[12]
    assert ages[6] < ages[9] < ages[12]
    assert heads_mm("6-12 months") == (ages[6][0], ages[12][1])
    assert heads_mm("9 years") is None
    assert heads_mm("12 moons") is None


def test_heads_that_disagree_are_both_kept() -> None:
    """The council's woman is 51 cm, the measured mean 55.2 (operativeneurosurgery.com, head size)."""
    assert heads_mm("woman") == (510.0, 552.0)
    assert heads_mm("giant") is None


@pytest.mark.parametrize(
    "row", [row for row in carried("heads.csv") if row["mark"].find("not on") < 0], ids=lambda r: r["size"]
)
def test_council_heads(row: dict[str, str]) -> None:
    ours = head(row["size"])
    assert ours is not None
    assert ours["head_in"] == float(row["council_head_in"])
    assert str(ours["head_cm"]).removesuffix(".0") in row["council_head_cm"]


def test_printed_hats_fit_their_heads() -> None:
    """Head 22 in less 1 in of ease (mamas2hands.com/2017/03/04); 5 to 10 % less (thedietdiary.com/knittingfiend)."""
    low, high = hat_range_mm("Man") or (0, 0)
    assert low <= 21 * 25.4 <= high
    assert low <= 560 * 0.93 <= high


@pytest.mark.parametrize("row", carried("care.csv"), ids=lambda row: row["group"] + row["order"])
def test_care_words(row: dict[str, str]) -> None:
    assert any(each["meaning"] == row["meaning"] for each in rows("care"))


def test_blankets() -> None:
    ours = {(row["use"], row["width_in"], row["length_in"]) for row in rows("blankets")}
    theirs = {(row["use"], *(float(n) for n in row["size_in"].split(" x "))) for row in carried("blankets.csv")}
    assert ours == theirs


def test_flat_circle_rules_agree_with_stitch_sizes() -> None:
    """The usual count of each rule is flat, within a tenth, at the ratio the project uses in rounds."""
    from generator.measures.flatness import flat_increases
    from generator.measures.gauge import ratio

    for row in rows("flat-circles"):
        assert flat_increases(ratio(row["stitch"], True)) == pytest.approx(row["usual"], rel=0.1)

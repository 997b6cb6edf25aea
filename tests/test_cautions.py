"""Cautions come from what a pattern contains and whom it is for, and promise nothing."""

import re

import pytest

from generator.fabric.model import Fabric
from generator.measures.cautions import cautions, signs_of
from generator.measures.measure import measure
from generator.measures.published import rows
from generator.notation.pattern import Header, Pattern, Tie, YarnSpec
from generator.source import Source
from tests.round_parts import part_of


def named(**header: object) -> set[str]:
    found = measure(Pattern(Source("x", ""), Header(**header)), Fabric((part_of([6, 12, 18, 18, 18], name="Body"),)))  # type: ignore[arg-type]
    return {caution.name for caution in found.cautions}


@pytest.mark.parametrize(
    ("header", "wanted", "unwanted"),
    [
        ({"kind": "toy", "ties": (Tie("leash", 400),), "audience": "child"}, {"toy-cord", "selling-toys"}, {"cord"}),
        ({"kind": "toy", "ties": (Tie("ear loop", 200, loop=True),)}, {"toy-loop"}, {"toy-cord"}),
        ({"title": "Jar lantern", "notions": ("cord of 70 cm",)}, {"flame", "cord"}, {"toy-cord"}),
        ({"kind": "hat", "audience": "baby", "notions": ("ribbon",)}, {"hat-ties", "baby-hat"}, {"waist-ties"}),
        ({"title": "Hood for a wader", "notions": ("drawstring",), "audience": "child"}, {"neck-drawstring"}, {"hat-ties"}),
        ({"kind": "blanket", "audience": "baby"}, {"sleep"}, set()),
        ({"kind": "blanket", "audience": "adult"}, set(), {"sleep"}),
        ({"kind": "toy", "notions": ("two 9 mm safety eyes",), "audience": "under-3"}, {"plastic-eyes"}, set()),
        ({"notions": ("4 buttons",), "audience": "child"}, {"small-parts"}, set()),
        ({"notions": ("4 buttons",), "audience": "adult"}, set(), {"small-parts"}),
        ({"title": "Reed coaster", "yarns": (YarnSpec("A", "reed", fibre="acrylic"),)}, {"hot-things", "hot-synthetic"}, set()),
        ({"title": "Bootees", "audience": "baby"}, {"loose-ends"}, set()),
        ({"title": "Tide garland", "audience": "baby"}, {"hanging", "cot-string"}, set()),
        ({"title": "Mouse", "audience": "pet"}, {"pet"}, set()),
        ({"title": "Harbour cat", "kind": "toy", "audience": "child"}, {"selling-toys"}, {"pet"}),
        ({"title": "Bell heather mat", "tags": ("beads",), "audience": "child"}, set(), {"small-parts"}),
        ({"title": "Plain mat"}, set(), {"cord", "flame", "stuffing", "pet"}),
        ({"title": "Scarf", "yarns": (YarnSpec("A", "reed", fibre="wool"),), "audience": "adult"}, {"animal-fibre"}, {"scarf"}),
    ],
)  # fmt: skip
def test_cautions(header: dict[str, object], wanted: set[str], unwanted: set[str]) -> None:
    found = named(**header)
    assert wanted <= found
    assert not unwanted & found


def test_openwork_for_a_baby() -> None:
    signs = signs_of(Header(), Fabric(()), openwork=True, stuffed=False)
    assert [c.name for c in cautions(signs, "baby")] == ["openwork-baby"]
    assert cautions(signs, "adult") == ()


@pytest.mark.parametrize("summary", ["Worked without stuffing.", "No stuffing needed.", "There is no cord."])
def test_what_is_not_there_calls_for_nothing(summary: str) -> None:
    assert not {"stuffing", "cord"} & named(summary=summary)


def test_a_warning_against_candles_still_counts() -> None:
    assert "flame" in named(summary="Not for candles.")


def test_audience_is_asked_for_only_when_it_matters() -> None:
    part = part_of([6, 12, 18, 18, 18])
    plain = measure(Pattern(Source("x", ""), Header(title="Mat")), Fabric((part,)))
    toy = measure(Pattern(Source("x", ""), Header(title="Mat", notions=("3 beads",))), Fabric((part,)))
    said = measure(
        Pattern(Source("x", ""), Header(title="Mat", notions=("3 beads",), audience="adult")), Fabric((part,))
    )
    assert [found.needs_audience for found in (plain, toy, said)] == [False, True, False]


DEFERS = re.compile(
    r"\b(local|where you (?:live|are)|in your (?:area|country)|health professional|vet|health service|rules that apply|"
    r"with care|its label|first wear|do not use it)\b"
)


@pytest.mark.parametrize("row", rows("cautions"), ids=lambda row: str(row["name"]))
def test_every_caution_defers_and_certifies_nothing(row: dict[str, object]) -> None:
    text = str(row["text"])
    assert DEFERS.search(text)
    assert not re.search(r"\b(is|are) safe\b|\bcomplies\b|\bcertified\b", text)


def test_limits_stand_behind_the_numbers() -> None:
    toy = measure(
        Pattern(Source("x", ""), Header(kind="toy", ties=(Tie("leash", 400),))), Fabric((part_of([6, 12, 18]),))
    )
    cord = next(caution for caution in toy.cautions if caution.name == "toy-cord")
    assert {limit.value for limit in cord.limits} == {220.0, 304.8, 1.5}
    assert all("read" in limit.edition or "seen" in limit.edition for limit in cord.limits)
    assert cord.because == "toy (toy); cord (leash)"


def test_every_word_of_the_tables_is_known() -> None:
    signs = {str(row["sign"]) for row in rows("content-signs")} | {"openwork"}
    limits = {str(row["name"]) for row in rows("safety-limits")}
    audiences = {"", "adult", "child", "under-3", "baby", "pet", "home"}
    for row in rows("cautions"):
        assert {*row["all"], *row["unless"]} <= signs
        assert set(row["limits"]) <= limits
        assert set(row["for"]) <= audiences


def test_every_sign_calls_for_something() -> None:
    used = {sign for row in rows("cautions") for sign in row["all"]}
    assert {str(row["sign"]) for row in rows("content-signs")} <= used

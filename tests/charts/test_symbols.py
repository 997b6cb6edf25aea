"""Symbols against published descriptions of them (drawings of the standards themselves were not to be had).

- Slashes: one a yarn-over. "Crochet chart symbols", cozycrochet.ca/crochet-chart-symbols.
- Heights 0/1/2/3/4/5 for sl st/sc/hdc/dc/tr/dtr: crazypatterns.net/en/blog/243.
- hdc is a T without a slash: dailyhandmade.com/?p=2036; code-knacker.de/haekelschrift.htm.
- sc is a plus or a cross of two strokes: the same, and yuuunag.com/single-crochet.
- Popcorns end under a small ellipse; lines that meet below are worked into one stitch:
  handsmake-en.techinfus.com/uslovnye-oboznacheniya-vyazaniya-kryuchkom.html.
- Posts curl right in front, left behind; arcs under the foot for loops: from memory, and named in every key.
"""

import itertools

import pytest

from generator.charts.audit import feet_drawn
from generator.charts.marks import Bow, Line, Oval, Shape, Sign, mirrored, mirrored_stroke, trace
from generator.charts.symbols import CHAIN_OVAL, DOT, picot, sample, symbol
from generator.notation.tree import Loop
from generator.vocabulary.load import stitch, stitches

COMPOSED = ("sc2tog", "sc3tog", "dc2tog", "dc3tog", "tr2tog", "fpdc", "bpdc", "fptr", "dc-cluster-3", "dc-cluster-4",
            "hdc-puff-3", "hdc-puff-5", "dc-bobble-5", "dc-popcorn-4", "dc-popcorn-5", "fpdc2tog")  # fmt: skip
TALL = [name for name, record in sorted(stitches().items()) if record.family == "post"]


def bottom(shape: Shape) -> float:
    return max(y for stroke in shape for _, y in trace(stroke))


def slashes(shape: Shape) -> int:
    return sum(isinstance(s, Line) and s.thin and s.points[0][1] < s.points[1][1] for s in shape)


@pytest.mark.parametrize("kind", sorted(stitches()) + list(COMPOSED))
@pytest.mark.parametrize("sign", ["+", "x"])
def test_every_stitch_draws_itself(kind: str, sign: str) -> None:
    shape = sample(kind, Loop.BOTH, sign)
    assert shape
    points = [p for stroke in shape for p in trace(stroke)]
    assert all(-1.3 < x < 1.3 and -1.6 < y < 8 for x, y in points)


@pytest.mark.parametrize("kind", ["hdc", "dc", "tr", "dtr", "trtr", "qtr"])
def test_one_slash_a_yarn_over_after_the_first(kind: str) -> None:
    drawn = slashes(sample(kind, Loop.BOTH, "+"))
    assert drawn == {"hdc": 0, "dc": 1, "tr": 2, "dtr": 3, "trtr": 4, "qtr": 5}[kind]
    if kind != "hdc":
        assert drawn == stitch(kind).yarn_overs


def test_heights_follow_the_published_table() -> None:
    heights = [bottom(sample(kind, Loop.BOTH, "+")) for kind in ("sc", "hdc", "dc", "tr", "dtr")]
    assert heights == sorted(heights)
    steps = [b - a for a, b in itertools.pairwise(heights)]
    assert all(step == pytest.approx(1.0, abs=0.1) for step in steps)


def test_chain_is_open_and_slip_stitch_filled() -> None:
    assert isinstance(CHAIN_OVAL[0], Oval) and not CHAIN_OVAL[0].filled and CHAIN_OVAL[0].rx > CHAIN_OVAL[0].ry
    assert isinstance(DOT[0], Oval) and DOT[0].filled and DOT[0].rx < CHAIN_OVAL[0].rx


def test_plus_and_cross() -> None:
    plus, cross = (sample("sc", Loop.BOTH, sign) for sign in "+x")
    assert {s.points[0][0] == s.points[1][0] for s in plus if isinstance(s, Line)} == {True, False}
    assert all(s.points[0][0] != s.points[1][0] for s in cross if isinstance(s, Line))


@pytest.mark.parametrize("kind", ["dc2tog", "dc3tog", "tr2tog"])
def test_stitches_closed_together_have_a_leg_each_and_one_bar(kind: str) -> None:
    legs = stitch(kind).legs
    feet = tuple((i - (legs - 1) / 2, 3.0) for i in range(legs))
    shape = symbol(kind, feet, False, Loop.BOTH, "+")
    stems = [s for s in shape if isinstance(s, Line) and not s.thin and s.points[0] == (0.0, 0.1)]
    bars = [s for s in shape if isinstance(s, Line) and s.points[0][1] == s.points[1][1] and not s.thin]
    assert (len(stems), len(bars)) == (legs, 1)
    assert slashes(shape) == legs * stitch(kind).yarn_overs


def test_clusters_have_slashes_puffs_none_and_popcorns_a_cap() -> None:
    cluster, puff, popcorn = (sample(k, Loop.BOTH, "+") for k in ("dc-cluster-3", "hdc-puff-3", "dc-popcorn-5"))
    assert sum(isinstance(s, Bow) for s in cluster) == 3 and slashes(cluster) == 3
    assert sum(isinstance(s, Bow) for s in puff) == 3 and slashes(puff) == 0
    assert sum(isinstance(s, Bow) for s in popcorn) == 5
    caps = [s for s in popcorn if isinstance(s, Oval)]
    assert len(caps) == 1 and caps[0].rx > caps[0].ry


def test_posts_curl_apart_and_loops_bulge_apart() -> None:
    front, back = sample("fpdc", Loop.BOTH, "+"), sample("bpdc", Loop.BOTH, "+")
    assert max(x for s in front if isinstance(s, Bow) for x, _ in trace(s)) > 0.3
    assert min(x for s in back if isinstance(s, Bow) for x, _ in trace(s)) < -0.3
    feet = ((0.0, 3.0),)
    up, down = (symbol("dc", feet, False, loop, "+")[-1] for loop in (Loop.BACK, Loop.FRONT))
    assert isinstance(up, Bow) and isinstance(down, Bow)
    assert up.over[1] < up.start[1] and down.over[1] > down.start[1]


def test_left_hand_swaps_front_and_back_posts_hooks() -> None:
    front, back = sample("fpdc", Loop.BOTH, "+"), sample("bpdc", Loop.BOTH, "+")
    hooks = [tuple(s for s in shape if isinstance(s, Bow)) for shape in (front, back)]
    assert tuple(mirrored_stroke(s) for s in hooks[0]) == hooks[1]


@pytest.mark.parametrize("chains", [1, 2, 3, 4, 5])
def test_picot_has_its_chains_and_stands_off_the_edge(chains: int) -> None:
    shape = picot(chains)
    assert sum(isinstance(s, Oval) and not s.filled for s in shape) == chains
    assert max(y for s in shape for _, y in trace(s)) < 0.2


@pytest.mark.parametrize("kind", TALL)
@pytest.mark.parametrize("touching", [False, True])
def test_ink_reaches_the_foot(kind: str, touching: bool) -> None:
    feet = ((0.0, 3.0),)
    sign = Sign(symbol(kind, feet, touching, Loop.BOTH, "+"), 5.0, 5.0, 30.0, (1,), ())
    turned = Sign(sign.shape, 0.0, 0.0, 0.0, (1,), feet)
    gap = feet_drawn(turned)
    assert gap < (0.5 if not touching else 0.2)


def test_unknown_stitch_is_drawn_for_the_key_to_explain() -> None:
    assert symbol("bead", ((0.0, 1.0),), False, Loop.BOTH, "+")


def test_mirror_twice_is_the_same() -> None:
    sign = Sign(sample("fpdc", Loop.BOTH, "+"), 3.0, 4.0, 50.0, (1,), ((2.0, 1.0),))
    assert mirrored(mirrored(sign)) == sign

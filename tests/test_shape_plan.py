"""Rounds for a form: held to closed forms, to published counts, and to the promise of half a round."""

import itertools
import math
import tomllib
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import integrate

from generator.shape.fit import fit
from generator.shape.frill import constant, curvature, growing
from generator.shape.hand import Hand
from generator.shape.plan import Plan, finish, plain, plan
from generator.shape.profile import Profile
from generator.shape.regular import regular
from generator.shape.solids import EGG, FORMS
from generator.shape.worked import height, outline

PRINTED = tomllib.loads((Path(__file__).parent / "reference" / "shape-counts.toml").read_text(encoding="utf-8"))
HANDS = (Hand("sc", 4.545, 4.348), Hand("sc", 5.0, 4.762), Hand("hdc", 7.407, 9.524), Hand("dc", 6.25, 11.765))
ONE = Hand("sc", 1.0, 1.0)
FORMED = {
    "ball": {"width": 120.0},
    "egg": {"width": 90.0, "height": 122.0},
    "capsule": {"width": 90.0, "height": 180.0},
    "cone": {"width": 140.0, "height": 160.0},
    "tube": {"width": 120.0, "height": 100.0},
    "disc": {"width": 160.0},
    "bowl": {"width": 160.0, "height": 90.0},
    "ring": {"width": 240.0, "thickness": 80.0},
    "bell": {"width": 180.0, "height": 170.0},
    "hat": {"circumference": 500.0, "height": 200.0},
}


@cache
def _planned(form: str, hand: Hand, sizes: tuple[tuple[str, float], ...]) -> Plan:
    return plan(FORMS[form].make(dict(sizes)), hand)


def planned(form: str, hand: Hand, **sizes: float) -> Plan:
    return _planned(form, hand, tuple((sizes or FORMED[form]).items()))


@pytest.mark.parametrize("rule", PRINTED["rule"], ids=lambda rule: rule["stitch"])
def test_a_disc_is_the_published_flat_circle(rule: dict[str, object]) -> None:
    # source: beside each rule in reference/shape-counts.toml
    ratio, counts = float(str(rule["height_over_width"])), tuple(rule["counts"])  # type: ignore[arg-type]
    hand = Hand(str(rule["stitch"]), 5.0, 5.0 * ratio)
    found = planned("disc", hand, width=2 * len(counts) * hand.height)
    assert found.counts == counts and found.uneven == 0


def test_rounding_each_round_gives_the_published_sphere() -> None:
    # source: crochettycrochet.blogspot.com/2021/05/crocheting-perfect-sphere.html
    sphere = PRINTED["sphere"]
    ball = FORMS["ball"].make({"width": sphere["around"] / math.pi})
    assert plain(ball, ONE).counts == tuple(sphere["counts"])


def test_the_published_sphere_rebuilt() -> None:
    # computed for h = w = 1 (reference/shape-counts.toml)
    sphere = PRINTED["sphere"]
    ball = FORMS["ball"].make({"width": sphere["around"] / math.pi})
    rising = Profile(((0.0, 0.0), (0.0, 100.0)))  # as the reference does it: every round climbs
    points = outline(rising, sphere["counts"], ONE)
    assert len(points) == len(sphere["counts"]) + 2 and ball.closed_end
    across = 2 * max(r for r, _ in points)
    assert [height(points), across] == pytest.approx(sphere["rebuilt"], abs=6e-5)


def test_the_published_cone_rebuilt() -> None:
    # source: revedreams.com/crochet/cones-shaping-one-loop-stitching/
    cone = PRINTED["cone"]
    profile = Profile(((0.0, 0.0), (cone["radius"], cone["height"])))
    last = outline(profile, cone["counts"], ONE)[-1]
    assert last == pytest.approx((cone["radius"], cone["height"]), abs=6e-5)


def test_a_cone_gains_what_its_angle_says() -> None:
    # closed form: d = 2 pi (h / w) sin(half the angle at the tip)
    hand = HANDS[0]
    found = planned("cone", hand)
    half = math.atan2(70.0, 160.0)
    gain = (found.counts[-1] - found.counts[3]) / (len(found.counts) - 4)
    assert gain == pytest.approx(hand.flat * math.sin(half), rel=0.08)


def test_a_tube_never_changes() -> None:
    # closed form: n = 2 pi r / w
    for hand in HANDS:
        found = planned("tube", hand)
        assert set(found.counts) == {found.foundation}
        assert found.foundation == pytest.approx(hand.stitches(60.0), abs=0.5 * hand.height / hand.radius(1))


def _area(form: str) -> float:
    """Surface in mm2 by closed form, or by scipy's quadrature where there is none."""
    if form == "ball":
        return math.pi * 120.0**2
    if form == "disc":
        return math.pi * 80.0**2
    if form == "tube":
        return math.pi * 120.0 * 100.0
    if form == "cone":
        return math.pi * 70.0 * math.hypot(70.0, 160.0)
    if form == "ring":  # Pappus: 4 pi2 R r
        return 4 * math.pi**2 * 80.0 * 40.0
    if form == "capsule":
        return math.pi * 90.0 * 180.0
    if form == "egg":

        def radius(t: float) -> float:
            return math.sin(t) * (1 + EGG * math.cos(t))

        widest = max(radius(i * math.pi / 5000) for i in range(5001))

        def band(t: float) -> float:
            slope = (math.cos(t) * (1 + EGG * math.cos(t)) - EGG * math.sin(t) ** 2) * 45 / widest
            return 2 * math.pi * radius(t) * 45 / widest * math.hypot(slope, 61.0 * math.sin(t))

        return float(integrate.quad(band, 0, math.pi)[0])
    raise AssertionError(form)


@pytest.mark.parametrize("form", ["ball", "disc", "tube", "cone", "ring", "capsule", "egg"])
@pytest.mark.parametrize("hand", HANDS[:2], ids=["22 sc", "20 sc"])
def test_stitches_cover_the_surface(form: str, hand: Hand) -> None:
    # a stitch covers w times h; a ring's foundation row and the last tip are not stitches of the surface
    found = planned(form, hand)
    edge = 0.0 if found.profile.closed_end else math.pi * found.profile.points[-1][0] * hand.height  # half a round
    area = _area(form)
    assert sum(found.counts) * hand.width * hand.height == pytest.approx(area, abs=0.05 * area + edge)


@pytest.mark.parametrize("form", FORMED)
@pytest.mark.parametrize("hand", HANDS, ids=["22 sc", "20 sc", "hdc", "dc"])
def test_within_half_a_round_of_the_wish(form: str, hand: Hand) -> None:
    profile = FORMS[form].make(FORMED[form])
    if hand.stitches(profile.widest()) < 2 * math.pi * 8:  # the promise begins at a radius of 8 stitches
        profile = profile.scaled(2 * math.pi * 8.5 / hand.stitches(profile.widest()))
    found = plan(profile, hand)
    assert found.deviation.mm <= hand.height / 2


def test_far_fewer_uneven_rounds_than_rounding() -> None:
    # nothing outside to compare with: plain rounding of each round by itself, on the same wishes
    hand = HANDS[0]
    wishes = [FORMS[form].make(FORMED[form]) for form in FORMED]
    ours, theirs = [planned(form, hand).uneven for form in FORMED], [plain(wish, hand).uneven for wish in wishes]
    assert all(a <= max(3, b // 4) for a, b in zip(ours, theirs, strict=True))
    assert sum(ours) * 8 <= sum(theirs)


@pytest.mark.parametrize("form", FORMED)
@pytest.mark.parametrize("hand", HANDS, ids=["22 sc", "20 sc", "hdc", "dc"])
def test_what_hands_can_do(form: str, hand: Hand) -> None:
    found = planned(form, hand)
    counts = (found.foundation or found.counts[0], *found.counts)
    assert all(b <= 2 * a and a <= 2 * b for a, b in itertools.pairwise(counts))
    if not found.foundation:
        assert found.counts[0] in hand.starts
    if found.profile.closed_end:
        assert found.counts[-1] <= max(hand.starts)


def test_ring_comes_back_to_its_foundation() -> None:
    for hand in HANDS:
        found = planned("ring", hand)
        assert found.counts[0] == found.counts[-1] == found.foundation


def test_oval_grows_as_published() -> None:
    # source: theloveofmaking.blogspot.com/2017/05: 7 chains, 14 stitches, then 6 more
    oval = PRINTED["oval"]
    hand = Hand("sc", 5.0, 4.775)
    box = FORMS["box"].make({"length": 20.0 + 25.0, "width": 20.0, "height": 15.0})
    found = plan(box, hand, (0, 6, -6))
    assert found.straight == oval["chain"] - 2
    # 2 (c - 1) + 2 stitches: the two straight sides and the first six of the ends
    ours = [found.around(1), found.around(2)]
    assert ours == [2 * (found.straight + 1) + 4, 2 * (found.straight + 1) + 10]
    assert [2 * (oval["chain"] - 1) + 2, 2 * (oval["chain"] - 1) + 8] == oval["counts"]


def test_hat_sizes_as_published() -> None:
    # source: hookthatyarn.wordpress.com/2016/06/09/how-to-size-a-hat/, printed to 0.01 and 0.1 in
    for around, crown, tall in PRINTED["hat"]["inches"]:
        hat = FORMS["hat"].make({"circumference": around, "height": FORMS["hat"].default[0][2] * around})
        assert 2 * hat.widest() == pytest.approx(crown, abs=0.005)
        assert hat.length == pytest.approx(tall, abs=0.05)


def test_a_frill_grows_as_published() -> None:
    # source: math.techqa.club (x 1.5 a round from 6); whole stitches stay within one of it
    hyperbolic = PRINTED["hyperbolic"]
    counts = growing(hyperbolic["start"], hyperbolic["every"], len(hyperbolic["exact"]))
    assert counts[:2] == (6, 9)
    assert all(abs(ours - exact) < 2.5 for ours, exact in zip(counts, hyperbolic["exact"], strict=True))


def test_radius_of_curvature() -> None:
    # closed form 1 / ln((N + 1) / N); method of Henderson and Taimina, Mathematical Intelligencer 23(2), 2001
    known = PRINTED["curvature"]
    assert [curvature(n) for n in known["every"]] == pytest.approx(known["over_height"], abs=6e-5)


def test_constant_curvature() -> None:
    # closed form 2 pi rho sinh(k h / rho) / w (course notes named in the reference)
    known = PRINTED["constant"]
    hand = Hand("sc", known["side"], known["side"])
    assert constant(known["rho"], hand, 5) == pytest.approx(known["counts"], abs=6e-4)


def test_growth_becomes_exponential() -> None:
    # ratio of neighbouring counts tends to exp(h / rho)
    counts = constant(4.0, Hand("sc", 0.5, 0.5), 80)
    assert counts[-1] / counts[-2] == pytest.approx(math.exp(0.5 / 4.0), rel=1e-6)


def test_published_sphere_counts_measured_as_a_plan() -> None:
    ball = FORMS["ball"].make({"width": 25.5 / math.pi})
    printed = finish(ball, ONE, tuple(PRINTED["sphere"]["counts"]), 0)
    assert printed.uneven >= 4 and plan(ball, ONE).uneven <= 1


@pytest.mark.parametrize(("have", "want", "rounds"), [(31, 42, 3), (6, 48, 3), (48, 6, 5), (60, 60, 2), (9, 100, 6)])
def test_fit_a_count(have: int, want: int, rounds: int) -> None:
    found = fit(have, want, rounds).value
    assert len(found) == rounds and found[-1] == want
    steps = [b - a for a, b in zip((have, *found), found, strict=False)]
    if have == 31:
        assert max(steps) - min(steps) <= 1, "as even as whole stitches allow"


@given(st.integers(3, 400), st.integers(3, 400), st.integers(1, 12))
def test_every_count_fits_or_is_told(have: int, want: int, rounds: int) -> None:
    found = fit(have, want, rounds)
    if want > have * 2**rounds or have > want * 2**rounds:
        assert not found.value and "round" in found.findings[0].fits
        return
    way = (have, *found.value)
    assert way[-1] == want and len(way) == rounds + 1
    assert all(b <= 2 * a and a <= 2 * b for a, b in itertools.pairwise(way))


def test_regular_is_what_makers_mean() -> None:
    assert regular(18, 24) and regular(24, 18) and regular(30, 30)
    assert not regular(20, 26) and not regular(31, 35)


@given(
    st.lists(st.floats(8.0, 60.0), min_size=2, max_size=5),
    st.lists(st.floats(15.0, 60.0), min_size=5, max_size=5),
    st.sampled_from(HANDS[:2]),
)
@settings(max_examples=20)
def test_free_outlines_are_planned(radii: list[float], steps: list[float], hand: Hand) -> None:
    level, points = 0.0, [(0.0, 0.0), (radii[0], 0.0)]
    for radius, step in zip(radii[1:], steps, strict=False):
        level += step
        points.append((radius, level))
    found = plan(Profile(tuple(points)), hand)
    assert all(b <= 2 * a and a <= 2 * b for a, b in zip(found.counts, found.counts[1:], strict=False))
    assert found.deviation.mm <= 1.5 * hand.height

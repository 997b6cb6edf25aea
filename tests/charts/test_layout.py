"""The layout: discs round, squares square, ovals oval, equal repeats equal, stitches over their places.

Checked against plain geometry (circle, regular polygon); no other source is needed.
"""

import math
from itertools import pairwise

import numpy as np
import pytest
from hand_worked import disc, flower, granny, oval, rows, shells
from hypothesis import given
from hypothesis import strategies as st

from generator.charts.across import sagitta
from generator.charts.audit import audit
from generator.charts.draw import draw
from generator.charts.equations import Equations
from generator.charts.frames import Circle, Polygon, Stadium
from generator.charts.kinds import ring
from generator.charts.kinds import rows as flat
from generator.charts.layout import Layout
from generator.charts.options import ChartOptions
from generator.fabric.model import Make, Part


def laid(part: Part) -> Layout:
    return ring.lay_out(part)[0][0]


def heads(layout: Layout, course: int) -> list[tuple[float, float]]:
    return [layout.head(n) for n in layout.graph.courses[course]]


def test_joined_disc_is_round() -> None:
    layout = laid(disc(6, make=Make.JOINED))
    for course in range(6):
        stitches = [n for n in layout.graph.courses[course] if not layout.graph.nodes[n].loose]
        radii = [math.hypot(*layout.head(n)) for n in stitches]
        assert max(radii) - min(radii) < 0.02 * max(radii)


def test_spiral_rises_by_one_round_in_one_turn() -> None:
    layout = laid(disc(8))
    r = [float(layout.r[n]) for n in layout.graph.courses[6]]
    rise = r[-1] - r[0]
    pitch = layout.level[6] - layout.level[5]
    assert 0.7 * pitch < rise < pitch  # the rest of the rise lies in the gap before the next round
    assert all(b >= a - 0.06 for a, b in pairwise(r))


@pytest.mark.parametrize("sides", [3, 4, 5, 6])
def test_motifs_with_corners_are_regular_polygons(sides: int) -> None:
    layout = laid(granny(4, sides))
    assert isinstance(layout.frame, Polygon) and layout.frame.sides == sides
    level = layout.level[3]
    for n in layout.graph.courses[3]:
        x, y = layout.head(n)
        # The distance from the middle to the nearest side's line is the same for every point of a regular polygon.
        normals = [layout.frame.outward(i * Polygon.STRIDE) for i in range(sides)]
        assert max(x * nx + y * ny for nx, ny in normals) == pytest.approx(level, rel=0.01)


def test_round_work_gets_no_corners() -> None:
    assert isinstance(laid(disc(6)).frame, Circle)
    assert isinstance(laid(flower()).frame, Circle)


def test_work_round_a_chain_is_an_oval() -> None:
    layout = laid(oval(10, 4))
    assert isinstance(layout.frame, Stadium)
    xs, ys = zip(*heads(layout, 4), strict=True)
    long, wide = max(xs) - min(xs), max(ys) - min(ys)
    assert long - wide == pytest.approx(layout.frame.length, rel=0.12)


def test_rows_are_level_and_square() -> None:
    layout, _ = flat.lay_out(rows(12, 5))
    for course in range(1, 6):
        ys = [y for _, y in heads(layout, course)]
        assert max(ys) - min(ys) < 0.05
        xs = sorted(x for x, _ in heads(layout, course))
        assert all(0.8 < b - a < 1.2 for a, b in pairwise(xs))


def test_right_side_rows_run_right_to_left_and_wrong_side_rows_back() -> None:
    layout, _ = flat.lay_out(rows(12, 4))
    for course, sign in ((1, -1), (2, 1), (3, -1), (4, 1)):
        xs = [x for x, _ in heads(layout, course)]
        assert all((b - a) * sign > 0 for a, b in pairwise(xs))


def test_rounds_run_anticlockwise() -> None:
    layout = laid(disc(4))
    spots = heads(layout, 3)
    turned = sum(ax * -by - -ay * bx for (ax, ay), (bx, by) in pairwise(spots))  # y grows downwards
    assert turned > 0


def test_a_fan_is_lower_at_its_sides() -> None:
    layout, _ = flat.lay_out(shells(3, 1))
    fan = [n for n in layout.graph.courses[1] if layout.graph.nodes[n].sharers == 5][:5]
    tops = [float(layout.r[n]) for n in fan]
    assert tops[2] > tops[0] + 0.2 and tops[2] > tops[4] + 0.2
    assert tops[0] == pytest.approx(tops[4], abs=0.15)


def test_repeats_come_out_equal() -> None:
    for part, fold in ((granny(4), 4), (granny(3, 6), 6), (flower(6), 6), (flower(8), 8)):
        measured = audit(draw(part, "ring", ChartOptions()), part)
        assert measured.fold == fold
        assert measured.symmetry_error < 0.01


def test_closing_work_is_two_discs() -> None:
    near, far = ring.lay_out(disc(5, even=4, down=4))
    assert near[0].shown[-1] == far[0].shown[0]
    inward = [math.hypot(*far[0].head(far[0].graph.courses[c][0])) for c in far[0].shown[1:]]
    assert inward == sorted(inward, reverse=True)


def test_like_rounds_are_folded_and_counted() -> None:
    part = disc(4, even=8)
    drawing = draw(part, "ring", ChartOptions())
    folded = [g for g in drawing.groups if g.folded]
    assert [(g.courses, g.label, g.folded) for g in folded] == [(tuple(range(5, 12)), "6–12: 24 sc", 7 * 24)]
    opened = draw(part, "ring", ChartOptions(fold=False))
    assert not any(g.folded for g in opened.groups)
    assert audit(opened, part).clean


@given(
    st.integers(3, 8),
    st.integers(2, 8),
    st.sampled_from(["sc", "hdc", "dc", "tr"]),
    st.integers(0, 6),
    st.sampled_from([Make.SPIRAL, Make.JOINED]),
)
def test_property_any_disc_passes_the_audit(by: int, rounds: int, kind: str, even: int, make: Make) -> None:
    part = disc(rounds, kind, by, even, make=make)
    measured = audit(draw(part, "ring", ChartOptions()), part)
    assert measured.worst_foot < 0.15
    assert measured.miscounted == ()
    assert measured.order_kept


@given(st.floats(0.1, 5.0), st.floats(0.1, 8.0))
def test_property_an_arch_is_as_long_as_its_chains(chord: float, length: float) -> None:
    """Arc length over chord of a circle: l = 2 r a, c = 2 r sin a, h = r (1 - cos a). Elementary geometry."""
    height = sagitta(chord, length)
    if length <= chord * 1.001:
        assert height == 0
    else:
        radius = (chord * chord / 4 + height * height) / (2 * height)
        half = math.acos(max(-1.0, min(1.0, 1 - height / radius)))
        assert 2 * radius * half == pytest.approx(length, rel=1e-3)


def test_sparse_least_squares_agrees_with_a_dense_solver() -> None:
    """numpy.linalg.lstsq as the outside reference."""
    generator = np.random.default_rng(7)
    dense, values = generator.normal(size=(30, 8)), generator.normal(size=30)
    equations = Equations(8)
    for row, value in zip(dense, values, strict=True):
        equations.add([(i, float(x)) for i, x in enumerate(row)], float(value))
    assert equations.solve() == pytest.approx(np.linalg.lstsq(dense, values, rcond=None)[0], abs=1e-6)


def test_the_same_work_gives_the_same_places() -> None:
    one, other = laid(granny(4)), laid(granny(4))
    assert np.array_equal(one.z, other.z) and np.array_equal(one.r, other.r)

"""Rows that slope, points that stand out, and picots: measured on the layout of passages worked by hand.

Plane geometry, no other source: a stitch that stands square to its row and is pushed `lean` places aside by the
increases and decreases makes the row fall by lean over height.
"""

from itertools import pairwise
from pathlib import Path

import pytest

from generator.charts.kinds import ring
from generator.charts.kinds import rows as flat
from generator.charts.layout import Layout
from generator.charts.nodes import Sort, rise
from generator.fabric.model import Part
from generator.pipeline import compile_bare
from generator.source import Source

DRAWN = Path(__file__).parents[1] / "cases" / "drawn"


def part_of(text: str) -> Part:
    return compile_bare(Source("text", text), "").fabric.parts[0]


def family(name: str) -> Part:
    return part_of((DRAWN / f"{name}.txt").read_text(encoding="utf-8"))


def heads(layout: Layout, course: int) -> list[tuple[float, float]]:
    """Heads of the stitches of a course from left to right, y upward."""
    nodes = [n for n in layout.graph.courses[course] if layout.graph.nodes[n].sort is Sort.STITCH]
    return sorted((x, -y) for x, y in (layout.head(n) for n in nodes))


def test_a_ripple_has_its_peaks_where_it_increases_and_its_valleys_where_it_decreases() -> None:
    layout, _ = flat.lay_out(family("ripple"))
    graph = layout.graph
    first = next(c for c in layout.shown if any(graph.nodes[n].kind == "dc3tog" for n in graph.courses[c]))
    ys = [y for _, y in heads(layout, first)]
    peaks = [graph.nodes[n].index for n in graph.courses[first] if graph.nodes[n].sharers == 3][1::3]
    valleys = [n for n in graph.courses[first] if graph.nodes[n].kind == "dc3tog"]
    assert len(peaks) == 3 and len(valleys) == 2
    assert min(-layout.head(n)[1] for n in peaks) > sum(ys) / len(ys) + 0.3
    assert max(-layout.head(n)[1] for n in valleys) < sum(ys) / len(ys) - 0.3


def test_a_row_falls_by_lean_over_height() -> None:
    """`3 sc in one` pushes the stitches on either side one place aside every row; a row of sc is `rise` high."""
    text = "Ch 26.\nRow 1: Sc in 2nd ch from hook, sc in next 11 ch, 3 sc in next ch, sc in next 12 ch, turn. (27)\n"
    text += "\n".join(
        f"Row {k}: Ch 1, sc in next {11 + k} sts, 3 sc in next st, sc in next {11 + k} sts, turn. ({25 + 2 * k})"
        for k in range(2, 5)
    )
    layout, _ = flat.lay_out(part_of(text))
    slope = layout.slope[layout.graph.courses[3][4]]
    assert abs(slope) == pytest.approx(1 / rise("sc"), rel=0.05)


def test_plain_rows_and_rows_shaped_at_their_ends_lie_level() -> None:
    assert not flat.lay_out(family("triangle-by-edges"))[0].slope
    assert not flat.lay_out(family("mesh-square"))[0].slope


def test_a_shawl_is_the_same_on_both_sides() -> None:
    layout, _ = flat.lay_out(family("shawl-from-ring"))
    course = layout.shown[-1]
    spots = heads(layout, course)
    middle = (spots[0][0] + spots[-1][0]) / 2
    for (x, y), (u, v) in zip(spots, reversed(spots), strict=True):
        assert x - middle == pytest.approx(middle - u, abs=0.35)
        assert y == pytest.approx(v, abs=0.6)


def test_chains_of_a_point_lie_one_after_the_other_outward() -> None:
    layout = ring.lay_out(family("leaves"))[0][0]
    assert len(layout.graph.points) == 6
    for riding in layout.graph.points.values():
        chains = [float(layout.r[n]) for n in riding if layout.graph.nodes[n].sort is Sort.CHAIN]
        assert len(chains) == 7
        assert all(0.6 < b - a < 1.1 for a, b in pairwise(chains))


def test_a_picot_told_in_full_is_one_picot_and_takes_no_room() -> None:
    graph = ring.lay_out(family("picot-edge"))[0][0].graph
    picots = [h for h in graph.hangers if h.sort == "picot"]
    assert [len(h.stitches) for h in picots] == [4] * 6
    assert not any(node.sort is Sort.SPACE for node in graph.nodes)


def test_chains_parted_by_a_picot_are_one_arch() -> None:
    graph = ring.lay_out(family("arches-with-picots"))[0][0].graph
    arches = [
        node for node in graph.nodes if node.sort is Sort.SPACE and node.course == max(n.course for n in graph.nodes)
    ]
    assert [len(node.stitches) for node in arches] == [8] * 6


def test_sides_of_an_oval_are_straight() -> None:
    text = (Path(__file__).parents[1] / "cases" / "work" / "oval.txt").read_text(encoding="utf-8")
    layout = ring.lay_out(part_of(text))[0][0]
    upper = [layout.head(n) for n in layout.graph.courses[3] if n in layout.straight and layout.head(n)[1] < 0]
    assert len(upper) >= 4
    assert max(y for _, y in upper) - min(y for _, y in upper) < 0.15

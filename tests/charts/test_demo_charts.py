"""Every chart of every demo pattern passes the audit; so does its left-handed edition."""

from functools import cache
from pathlib import Path

import pytest

from generator.charts.audit import audit
from generator.charts.draw import draw, kinds_for
from generator.charts.options import ChartOptions
from generator.charts.svg import to_svg
from generator.fabric.model import Part
from generator.pipeline import compile_bare, compile_pattern
from generator.source import Source

PATTERNS = sorted((Path(__file__).parents[2] / "content" / "patterns").glob("*/*.md"))


@cache
def parts_of(path: Path) -> tuple[Part, ...]:
    return compile_pattern(Source(path.name, path.read_text(encoding="utf-8"))).fabric.parts


@pytest.mark.parametrize("path", PATTERNS, ids=lambda p: p.stem)
def test_charts_pass_the_audit(path: Path) -> None:
    for part in parts_of(path):
        for kind in kinds_for(part):
            if kind in ("ring", "rows", "band"):
                for left in (False, True):
                    drawing = draw(part, kind, ChartOptions(left_handed=left))
                    measured = audit(drawing, part)
                    assert measured.clean, (part.name, kind, measured)


@pytest.mark.parametrize("path", PATTERNS, ids=lambda p: p.stem)
def test_every_part_has_a_chart(path: Path) -> None:
    assert all(kinds_for(part) for part in parts_of(path) if part.count())


WORK = sorted((Path(__file__).parents[1] / "cases" / "work").glob("*.txt"))


@pytest.mark.parametrize("path", WORK, ids=lambda p: p.stem)
def test_whatever_was_worked_is_drawn_and_counted_back(path: Path) -> None:
    """Published wordings of all sorts: no chart fails, and none loses a stitch."""
    for part in compile_bare(Source(path.name, path.read_text(encoding="utf-8")), "").fabric.parts:
        for kind in (*kinds_for(part), "edge", "drift"):
            drawing = draw(part, kind, ChartOptions())
            assert to_svg(drawing).startswith("<svg")
            if kind in ("ring", "rows", "band"):
                assert audit(drawing, part).miscounted == ()

"""Charts of published wordings pass the audit, and show what the written-out words say.

`cases/drawn` holds one passage a family of work (ripples, shawls, points, scales, ovals, ...): invented for this
project, each drawn clean in every kind. Of the passages in `cases/work`, which are chosen for their words and not for
their looks, most must be.
"""

import re
from collections import Counter
from functools import cache
from pathlib import Path

import pytest

from generator.charts.audit import Audit, audit
from generator.charts.draw import draw, kinds_for
from generator.charts.marks import Drawing, Sign
from generator.charts.options import ChartOptions
from generator.fabric.model import Part, Status
from generator.fabric.state import Settings
from generator.fabric.work import work
from generator.notation.parse import Context, read_lines
from generator.notation.tree import Piece
from generator.pipeline import compile_bare
from generator.source import Source, Span
from generator.vocabulary.load import language
from generator.wording.instructions import Style, write_part

CASES = Path(__file__).parents[1] / "cases"
FAMILIES = sorted((CASES / "drawn").glob("*.txt"))
WORK = sorted((CASES / "work").glob("*.txt"))
GOOD = {Status.PROVED, Status.WORKED, Status.REMARK}
CLEAN = 0.82
"""Share of the charts of `cases/work` that pass the audit."""
COMPARED = 0.8
"""Share of the parts of `cases/work` whose written-out words work to the same rounds and are held against the chart."""

UNTOLD = {"legs-with-arms-worked-in": "the chains between two legs are noted on no stitch of the round that uses them"}
"""Passages whose words tell more than their fabric keeps, and why."""


@cache
def parts_of(path: Path) -> tuple[Part, ...]:
    """The parts of a passage that were worked without a fault."""
    fabric = compile_bare(Source(path.name, path.read_text(encoding="utf-8")), "").fabric
    return tuple(part for part in fabric.parts if part.count() and {line.status for line in part.lines} <= GOOD)


@cache
def charts_of(path: Path) -> tuple[tuple[Part, Drawing, Audit], ...]:
    """Every chart that shows stitches, with its audit."""
    found = []
    for part in parts_of(path):
        for kind in kinds_for(part):
            if kind in ("ring", "rows", "band"):
                drawing = draw(part, kind, ChartOptions())
                found.append((part, drawing, audit(drawing, part)))
    return tuple(found)


@pytest.mark.parametrize("path", FAMILIES, ids=lambda p: p.stem)
def test_every_family_is_drawn_clean(path: Path) -> None:
    charts = charts_of(path)
    assert charts, "nothing of it was worked without a fault"
    for _, drawing, measured in charts:
        assert measured.clean, (drawing.kind, measured)


@pytest.mark.parametrize("path", FAMILIES, ids=lambda p: p.stem)
def test_every_family_is_drawn_clean_for_the_left_hand(path: Path) -> None:
    for part, right, _ in charts_of(path):
        left = draw(part, right.kind, ChartOptions(left_handed=True))
        assert audit(left, part).clean
        assert len([p for g in left.groups for p in g.pieces]) == len([p for g in right.groups for p in g.pieces])


def test_nearly_all_passages_are_drawn_clean() -> None:
    measured = {(path.stem, drawing.kind): one.clean for path in WORK for _, drawing, one in charts_of(path)}
    unclean = [name for name, clean in measured.items() if not clean]
    assert len(measured) > 50
    assert len(unclean) <= (1 - CLEAN) * len(measured), unclean


def from_words(part: Part) -> list[int]:
    """Stitches of every course, counted by working the sentences that are written out for a part.

    Empty where those sentences are read as other rounds than the ones drawn.
    """
    lines = write_part(part, language("en-US"), Style.SHORT, {})
    text = "\n".join(line.whole for line in lines)
    read = read_lines(Source("words", text), Span(0, len(text)), Context(terms="US")).value
    back = work((Piece(lines=read),), Settings()).parts[0]
    same = [c.number for c in back.courses] == [c.number for c in part.courses]
    return [course.size for course in back.courses] if same and {line.status for line in back.lines} <= GOOD else []


def from_chart(part: Part, drawing: Drawing) -> list[int]:
    """Stitches of every course, counted on the chart: symbols, and what folded bands tell (`9–15: 18 sc`)."""
    course = {s.number: s.course for s in part.stitches()}
    pieces = [*drawing.front, *(p for g in drawing.groups for p in g.pieces)]
    drawn = Counter(course[s] for p in pieces if isinstance(p, Sign) for s in p.stitches)
    for group in drawing.groups:
        told = re.fullmatch(r".*: (.+)", group.label) if group.folded else None
        if told:
            each = sum(int(n) for n in re.findall(r"(\d+) \S+", told.group(1)))
            chains = group.folded - each * len(group.courses)  # beginnings and joins are folded away with them
            drawn |= Counter({c: each + chains // len(group.courses) for c in group.courses})
    return [drawn[i] for i in range(len(part.courses))]


def test_charts_show_as_many_stitches_as_the_words_say() -> None:
    """The words are the other way to the same round: written from the fabric, read and worked again, and counted."""
    compared = total = 0
    for path in (*FAMILIES, *WORK):
        for part, drawing, _ in charts_of(path):
            total += 1
            words = from_words(part)
            if words:
                compared += 1
                if path.stem not in UNTOLD:
                    assert from_chart(part, drawing) == words, (path.stem, drawing.kind)
    assert compared > COMPARED * total, (compared, total)

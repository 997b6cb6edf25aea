"""What is published reads back to the same fabric, in every dialect and style.

The reader and the writer are each other's check: a text is worked, written, read again and worked again, and both
fabrics must agree course by course: stitches by kind, live edge, yarns, turning, cutting.
"""

from collections.abc import Mapping
from functools import cache
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from strategies import jumbled_texts, working_texts

from generator.fabric.model import Live, Part, Status
from generator.fabric.state import Settings
from generator.fabric.work import work
from generator.notation.document import read_document
from generator.notation.parse import Context, read_lines
from generator.notation.pattern import Pattern
from generator.notation.tree import Piece
from generator.source import Source, Span
from generator.vocabulary.load import language
from generator.wording.instructions import Style, write_part

PATTERNS = sorted((Path(__file__).parents[1] / "content" / "patterns").glob("*/*.md"))
TERMS = {"US": "en-US", "UK": "en-GB"}
GOOD = {Status.PROVED, Status.WORKED, Status.REMARK}


def edge(lives: tuple[Live, ...]) -> list[tuple[str, int, bool]]:
    """The live edge as kinds and numbers; neighbours of one kind are one stretch, spaces stay apart."""
    out: list[tuple[str, int, bool]] = []
    for live in lives:
        if out and live.kind != "ch" and out[-1][0] == live.kind and out[-1][2] == live.counted:
            out[-1] = (live.kind, out[-1][1] + live.n, live.counted)
        else:
            out.append((live.kind, live.n, live.counted))
    return out


def signature(part: Part) -> list[object]:
    """What two equal fabrics have in common."""
    return [
        (c.make, c.made, c.live, c.kinds, edge(c.edge), c.cut, c.turned, c.extra, sorted({run.yarn for run in c.runs}))
        for c in part.courses
    ]


def work_text(text: str, terms: str, yarns: Mapping[str, str], how: Settings) -> Part:
    """A bare text worked."""
    context = Context(terms=terms, yarns=tuple(yarns.items()))
    lines = read_lines(Source("text", text), Span(0, len(text)), context).value
    return work((Piece(lines=lines),), how).parts[0]


def written(part: Part, terms: str, style: Style, yarns: Mapping[str, str], author: str) -> str:
    lines = write_part(part, language(TERMS[terms]), style, yarns, author=language(TERMS[author]))
    return "\n".join(line.whole for line in lines)


@cache
def pattern(path: Path) -> tuple[Pattern, tuple[Part, ...], Settings]:
    read = read_document(Source(path.name, path.read_text(encoding="utf-8"))).value
    how = Settings(read.header.rounds, read.header.start_chain)
    return read, work(read.pieces(), how).parts, how


@pytest.mark.parametrize("style", list(Style))
@pytest.mark.parametrize("terms", list(TERMS))
@pytest.mark.parametrize("path", PATTERNS, ids=lambda path: path.stem)
def test_demo_patterns_come_back(path: Path, terms: str, style: Style) -> None:
    read, parts, how = pattern(path)
    yarns = {yarn.key: yarn.colour for yarn in read.header.yarns}
    for part in parts:
        text = written(part, terms, style, yarns, read.header.terms or "US")
        back = work_text(text, terms, yarns, how)
        assert signature(back) == signature(part), text
        assert {line.status for line in back.lines} <= GOOD, text


@pytest.mark.parametrize("path", PATTERNS, ids=lambda path: path.stem)
def test_terms_there_and_back_are_the_same_bytes(path: Path) -> None:
    read, parts, how = pattern(path)
    yarns = {yarn.key: yarn.colour for yarn in read.header.yarns}
    author = read.header.terms or "US"
    other = "UK" if author == "US" else "US"
    for part in parts:
        once = written(part, author, Style.SHORT, yarns, author)
        across = work_text(written(part, other, Style.SHORT, yarns, author), other, yarns, how)
        assert written(across, author, Style.SHORT, yarns, other) == once


@settings(suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])
@given(text=working_texts())
def test_generated_texts_are_proved_and_come_back(text: str) -> None:
    part = work_text(text, "US", {}, Settings())
    assert {line.status for line in part.lines} <= GOOD, text
    want = signature(part)
    for terms in TERMS:
        for style in Style:
            again = written(part, terms, style, {}, "US")
            assert signature(work_text(again, terms, {}, Settings())) == want, f"{text}\n\n{again}"


@settings(suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])
@given(text=jumbled_texts())
def test_whatever_is_read_can_be_written(text: str) -> None:
    part = work_text(text, "US", {}, Settings())
    for terms in TERMS:
        for style in Style:
            again = written(part, terms, style, {}, "US")
            assert "{" not in again and "None" not in again
            assert "\n\n" not in again

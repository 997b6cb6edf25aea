"""What must hold for any text at all, however senseless: the promises the compiler makes to whoever calls it."""

import json
import re
import sys
from collections.abc import Callable
from pathlib import Path
from types import FrameType
from typing import Any, TypeVar

import jsonschema

from generator import proof
from generator.fabric.model import Part, Status
from generator.notation.tree import Stated, Step
from generator.pipeline import Compiled, compile_bare, compile_pattern
from generator.source import Source, Span

T = TypeVar("T")

SCHEMA = json.loads((Path(proof.__file__).parent / "proof.schema.json").read_text(encoding="utf-8"))
VALIDATOR = jsonschema.Draft202012Validator(SCHEMA)

STEPS = 12_000_000
"""Function calls one text may cost. The passages of `cases/work` cost about 20,000 each, so this is a hang."""

OF_THE_LINE_BEFORE = re.compile(r"\s*(why|intended)\s*(\([\w-]+\))?\s*:", re.IGNORECASE)


class TooManyStepsError(AssertionError):
    """A text that keeps the compiler busy without end: found by counting calls, so that no clock is asked."""


def within_bounds(act: Callable[[], T], most: int = STEPS) -> T:
    """The result of `act`, which may make `most` calls."""
    calls = 0

    def count(_frame: FrameType, event: str, _argument: Any) -> None:
        nonlocal calls
        calls += event == "call"
        if calls > most:
            raise TooManyStepsError(f"more than {most} calls")

    before = sys.getprofile()
    sys.setprofile(count)
    try:
        return act()
    finally:
        sys.setprofile(before)


def holds_bare(text: str, terms: str = "") -> Compiled:
    """A text as pasted: every line that is not blank has its entry, in order."""
    source = Source("garbage.txt", text)
    compiled = within_bounds(lambda: compile_bare(source, terms))
    _holds(compiled)
    if compiled.fabric.parts:
        wanted = list(lines_with_entry(text))
        worked = [line.line.span for part in compiled.fabric.parts for line in part.lines]
        assert len(worked) == len(wanted)
        for span, line in zip(worked, wanted, strict=True):  # an answer may stand behind the work, on its own line
            assert line == source.words(span) or (line.startswith(source.words(span)) and ":" in line)
    else:
        assert [f.rule for f in compiled.findings] in (["not-text"], ["empty-file"], ["too-long"])
    return compiled


def holds_pattern(text: str) -> Compiled:
    """A text as a pattern's file: every line of every working block has its entry."""
    compiled = within_bounds(lambda: compile_pattern(Source("garbage.md", text)))
    _holds(compiled)
    for piece, part in zip(compiled.pattern.pieces(), compiled.fabric.parts, strict=True):
        assert [line.span for line in piece.lines] == [worked.line.span for worked in part.lines]
    return compiled


def lines_with_entry(text: str) -> list[str]:
    """The lines that are lines of work, as they stand: not blank, and not an answer to the line before (the first line
    has none before it, and is told)."""
    lines = [line.rstrip("\r") for line in text.split("\n") if line.strip()]
    return [line for k, line in enumerate(lines) if k == 0 or not OF_THE_LINE_BEFORE.match(line)]


def _holds(compiled: Compiled) -> None:
    size = len(compiled.pattern.source.text)
    for finding in compiled.findings:
        own = len(compiled.source.text)
        assert finding.message and finding.message == finding.message.strip()
        for span in (finding.span, *(label.span for label in finding.labels)):
            _inside(span, own)
        if finding.fix:
            _inside(finding.fix.span, own)
    for part in compiled.fabric.parts:
        _part_holds(part, size)
    VALIDATOR.validate(proof.proof([proof.of_pattern(compiled, compiled.findings)]))


def _part_holds(part: Part, size: int) -> None:
    here = 0
    for worked in part.lines:
        assert worked.status in Status
        assert min(worked.made, worked.used, worked.live, worked.below) >= 0
        assert all(n > 0 for _kind, n in worked.kinds)
        assert worked.courses[0] == here <= worked.courses[1] <= len(part.courses)
        here = worked.courses[1]
        _inside(worked.line.span, size)
        _inside(worked.line.label.span, size)
        _steps_inside(worked.line.steps, size)
        if worked.problem:
            _inside(worked.problem.span, size)
        if worked.status is Status.PROVED:
            _proved_as_printed(worked.line.stated, worked.live)
    assert here == len(part.courses)


def _proved_as_printed(stated: Stated | None, live: int) -> None:
    assert stated is not None
    assert stated.total is None or stated.total > 0 or live == 0


def _steps_inside(steps: tuple[Step, ...], size: int) -> None:
    for step in steps:
        _inside(step.span, size)
        _steps_inside(getattr(step, "steps", ()), size)


def _inside(span: Span, size: int) -> None:
    assert 0 <= span.start <= span.end <= size

"""Filet rows by their squares: `3 sps, 2 bls, 4 sps`, `sp over next 7 sps`, `3 sps, 7 dc, 4 sps`."""

from collections.abc import Sequence
from dataclasses import replace

from generator.notation.cursor import Cursor
from generator.notation.memory import Memory
from generator.notation.places import read_place
from generator.notation.tree import (
    NEXT,
    Chain,
    Choice,
    How,
    Repeat,
    Step,
    Times,
    Work,
)
from generator.source import Span

_BLOCKS = ("bl", "bls", "blk", "blks", "block", "blocks")


def meshes(c: Cursor, memory: Memory) -> list[Step] | None:
    """`3 sps`, `make 4 sps`, `2 bls`, `sp over next 7 sps`. A space is two chains and the stitch that closes it, a block
    as many stitches in their stead."""
    begin = c.i
    c.skip_words("work", "inc")
    numbered = c.peek().type == "number"
    n = c.take().n if numbered else 1
    c.skip_words("more", "open")
    if c.peek().value == "solid" and c.word("sp", "mesh", ahead=1):
        c.take()
        sign = "block"
    else:
        sign = "block" if _block(c) else "mesh"
    over = c.word("over", ahead=1)
    known = (_block(c) and (numbered or over)) or (c.word("sp", "mesh") and (memory.started or n > 1 or over))
    if not known:
        c.i = begin
        return None
    c.take()
    times = Times(n)
    if c.word("over"):
        said = _over(c)
        if said is None:
            c.i = begin
            return None
        times = said
    elif not (c.done() or c.sign(",", ".", ";", ")", "(") or c.peek().type in ("number", "stitch") or c.word("and")):
        c.i = begin
        return None
    memory.started = True
    tall = memory.stitch if memory.stitch in ("dc", "tr") else "dc"
    return [squares(c.span(begin), sign, times, tall)]


def _block(c: Cursor, ahead: int = 0) -> bool:
    """`bl`, `blks`: a block; the bare `bl` that elsewhere is the back loop, too."""
    token = c.peek(ahead)
    return token.value in _BLOCKS or (token.type == "loop" and token.value == "back")


def _over(c: Cursor) -> Times | None:
    """`over next 7 sps`, `over bl`, `over each sp across`: how many squares."""
    mark = c.i
    target = read_place(c)
    if target is None:
        c.i = mark + 1
        c.skip_words("the", "next", "each")
        each = c.tokens[c.i - 1].value == "each"
        n = c.take().n if c.peek().type == "number" else 1
        if not _block(c):
            return None
        c.take()
        times = Times(to_end=True) if each and n == 1 else Times(n)
    else:
        times = Times(to_end=True) if target.how is How.EACH else Times(target.count)
    if c.word("across"):
        c.take()
    return times


def squares(span: Span, sign: str, times: Times, tall: str) -> Repeat:
    """Squares of one sort, side by side; `sign` is `mesh` for spaces and `block` for blocks."""
    filling: tuple[Step, ...] = (Chain(span, 2),) if sign == "mesh" else (Work(span, tall, 2, NEXT),)
    return Repeat(span, (*filling, Work(span, tall, 1, NEXT)), times, 0, sign)


def counted_in_stitches(steps: Sequence[Step]) -> tuple[Step, ...]:
    """`3 sps, 7 dc, 4 sps`: between spaces, blocks may be said by their stitches: 4 for one, 7 for two, with the bars on
    both sides (the first is the last space's own), or 3 and 6 without."""
    if not any(isinstance(s, Repeat) and s.mark == "mesh" for s in _flat(steps)):
        return tuple(steps)
    numbers = [n for s in _flat(steps) if (n := _bare(s)) > 2]
    with_bars = all(n % 3 == 1 for n in numbers)
    if not numbers or not (with_bars or all(n % 3 == 0 for n in numbers)):
        return tuple(steps)
    return _as_blocks(steps, 1 if with_bars else 0)


def _flat(steps: Sequence[Step]) -> list[Step]:
    out: list[Step] = []
    for step in steps:
        out.append(step)
        if isinstance(step, Repeat) and step.mark not in ("mesh", "block"):
            out.extend(_flat(step.steps))
        elif isinstance(step, Choice) and step.kind != "n-st":
            out.extend(_flat(step.options[0].steps))
    return out


def _bare(step: Step) -> int:
    """Of `7 dc` with no place: 7; else 0."""
    if isinstance(step, Choice) and step.kind == "n-st":
        step = step.options[0].steps[0]
    if isinstance(step, Work) and step.target.implied and step.stitch in ("dc", "tr") and step.target.how is How.NEXT:
        return step.target.count * step.each
    return 0


def _as_blocks(steps: Sequence[Step], bars: int) -> tuple[Step, ...]:
    out: list[Step] = []
    for step in steps:
        n = _bare(step)
        if n > 2:
            first = step.options[0].steps[0] if isinstance(step, Choice) else step
            assert isinstance(first, Work)
            out.append(squares(step.span, "block", Times((n - bars) // 3), first.stitch))
        elif isinstance(step, Repeat) and step.mark not in ("mesh", "block"):
            out.append(replace(step, steps=_as_blocks(step.steps, bars)))
        elif isinstance(step, Choice) and step.kind != "n-st":
            out.append(replace(step, options=tuple(replace(o, steps=_as_blocks(o.steps, bars)) for o in step.options)))
        else:
            out.append(step)
    return tuple(out)

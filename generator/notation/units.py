"""Rounds told in figures of several stitches: `Fourteen crosses`, `36 over the 12 crosses`."""

import tomllib
from functools import cache
from importlib import resources

from generator.notation.cursor import Cursor
from generator.notation.memory import Memory
from generator.notation.multiples import plain
from generator.notation.tree import Repeat, Stated, Step, Target, Times, Work


@cache
def _sizes() -> dict[str, int]:
    data = tomllib.loads(resources.files(__package__).joinpath("words.toml").read_text(encoding="utf-8"))
    return {name: int(size) for name, size in data["units"].items()}


def _unit(c: Cursor, ahead: int) -> str:
    """The figure named there, in the singular; empty when there is none."""
    word = c.peek(ahead).value if c.peek(ahead).type in ("word", "other") else ""
    return next((name for name in _sizes() if word in (name, name + "s", name + "es")), "")


def whole_course(c: Cursor, memory: Memory) -> tuple[Step, Stated] | None:
    """`Fourteen crosses.` as a sentence: so many figures all along, each over as many stitches as one has."""
    if (
        c.peek().type != "number"
        or not (unit := _unit(c, 1))
        or not (c.sign(".", ";", ahead=2) or c.peek(2).type == "end")
    ):
        return None
    begin, n = c.i, c.take().n
    c.take()
    size = memory.units.get(unit) or _sizes()[unit]
    span = c.span(begin)
    one = Work(span, memory.stitch, 1, Target(count=size))
    return Repeat(span, (one,), Times(n), 0, ""), Stated(None, ((unit, n),), span=span)


def over_units(c: Cursor, memory: Memory) -> list[Step] | None:
    """`36 over the 12 crosses`: along all of them; it tells how many stitches one figure has."""
    begin = c.i
    c.skip_words("and", "work")
    n = c.take().n if c.peek().type == "number" else 0
    if c.peek().type == "stitch":
        memory.stitch = plain(c.take().value)
    at = 2 if c.word("the", ahead=1) else 1
    if not n or not c.word("over", "on", "in") or c.peek(at).type != "number" or not (unit := _unit(c, at + 1)):
        c.i = begin
        return None
    many = c.peek(at).n
    c.i += at + 2
    if many and n % many == 0:
        memory.units[unit] = n // many
    return [Work(c.span(begin), memory.stitch, 1, Target(count=n))]

"""Words that say along which part of the piece the work goes next: `working down the side`, `along the bottom edge:`."""

from generator.notation.cursor import Cursor
from generator.notation.memory import Memory
from generator.notation.tree import Remark, Step

_WAYS = ("along", "down", "up", "across", "around", "over", "toward", "towards")
_PARTS = frozenset(
    ("the", "this", "a", "long", "short", "left", "right", "first", "second", "third", "next", "last", "each", "side", "sides", "edge",
     "edges", "chain", "foundation", "beginning", "bottom", "base", "top", "ends", "end", "ending", "row", "rows", "of", "piece", "work",
     "square", "blanket", "motif", "outer", "outside", "whole", "entire", "and", "to", "corner", "neck", "front", "raw", "cast-on"),
)  # fmt: skip
_WHERE = frozenset(
    (
        "side",
        "sides",
        "edge",
        "edges",
        "chain",
        "foundation",
        "bottom",
        "base",
        "top",
        "ends",
        "row",
        "rows",
        "piece",
        "square",
        "blanket",
    )
)


def direction(c: Cursor, memory: Memory) -> list[Step] | None:
    """Such words, where a stitch or a sign that goes on follows them; the other side of a chain is more than that."""
    begin = c.i
    at = 0
    while c.word("work", "and", "now", ahead=at) or c.peek(at).value in ("continuing", "continue"):
        at += 1
    if c.peek(at).value not in _WAYS or (not at and begin):
        return None
    at += 1
    first = at
    while c.peek(at).value in _PARTS and c.peek(at).type in ("word", "other", "ordinal"):
        at += 1
    named = any(c.peek(k).value in _WHERE for k in range(first, at))
    works = c.peek(at).type == "stitch" or (c.peek(at).type == "number" and c.peek(at + 1).type == "stitch")
    if not named or not (works or c.sign(",", ":", ahead=at)):
        return None
    c.i += at
    return [Remark(c.span(begin), "", "note")]

"""Edges put together: a seam or a flattened opening worked through both layers, and stitches that take another piece along."""

from generator.notation.cursor import Cursor
from generator.notation.tree import How, Remark, Step, Target

_SEAMED = frozenset(
    ("edge", "edges", "ends", "end", "side", "layer", "layers", "thickness", "thicknesses", "seam", "seams", "half", "halves",
     "piece", "pieces", "panel", "panels", "motif", "motifs", "square", "squares", "row", "opening", "short", "long", "flap", "cuff"),
)  # fmt: skip
_LAYERS = frozenset(
    (
        "layer",
        "layers",
        "thickness",
        "thicknesses",
        "side",
        "edge",
        "edges",
        "piece",
        "pieces",
        "half",
        "halves",
        "panels",
    )
)
_WORKED = frozenset(("body", "head", "arm", "arms", "leg", "legs", "ear", "ears", "wing", "wings", "tail", "fin", "foot", "feet", "sleeve", "strap", "handle", "pocket"))  # fmt: skip
LAYERED = frozenset(("together", "through", "thru", "closed", "shut"))
"""One of these stands in every clause that tells a seam."""
_BETWEEN = frozenset(("the", "both", "all", "two", "2", "of", "and", "first", "second", "other", "left", "right", "next", "same", "time", "at", "once", "same", "a", "one"))  # fmt: skip


def seam(c: Cursor) -> list[Step] | None:
    """`Sl st the short ends together`, `slip stitch first and last rows together`: kept, no course of the piece."""
    begin = c.i
    at = 0
    while c.word("work", "join", "and", "to", "a", "with", ahead=at):
        at += 1
    if c.peek(at).type != "stitch" and not c.word("join", ahead=max(0, at - 1)):
        return None
    end = _clause(c, begin)
    words = c.tokens[begin:end]
    together = [k for k, token in enumerate(words) if token.value in ("together", "closed", "close", "shut")]
    named = any(token.value in _SEAMED for token in words)
    if not together or not named or any(t.type == "number" for t in words[: together[-1]]):
        return None
    c.i = end
    return [Remark(c.span(begin), "", "sew")]


def through_layers(c: Cursor) -> list[Step] | None:
    """`sc through both layers across (6 sts)`: an opening pressed flat and closed, half as many stitches as it has."""
    begin = c.i
    end = _clause(c, begin)
    for at in range(begin, end):
        if _layers(c, at) and not any(t.type == "number" or t.value == "next" for t in c.tokens[begin:at]):
            c.i = end
            return [Remark(c.span(begin), "", "sew")]
    return None


def _layers(c: Cursor, at: int) -> bool:
    """Whether `through both layers` begins at index `at`."""
    return (
        c.tokens[at].value in ("through", "thru")
        and at + 2 < c.end
        and c.tokens[at + 1].value in ("both", "all", "the", "2", "two")
        and any(token.value in _LAYERS for token in c.tokens[at + 2 : at + 4])
    )


def taken_along(c: Cursor) -> bool:
    """`attach the arm with 3 sc`, `join 2nd ear with sc in next 4 sts`: only the stitches tell something; the words up
    to them are taken."""
    if not c.word("join"):
        return False
    at = 1
    while c.peek(at).value in _BETWEEN or c.peek(at).type == "ordinal":
        at += 1
    if c.peek(at).value not in _WORKED:
        return False
    at += 1
    if not (c.word("with", "work", ahead=at) or c.peek(at).value == "by"):
        return False
    while c.word("with", "work", ahead=at) or c.peek(at).value == "by":
        at += 1
    if c.peek(at).type == "stitch" or (c.peek(at).type == "number" and c.peek(at + 1).type == "stitch"):
        c.i += at
        return True
    return False


def _clause(c: Cursor, begin: int) -> int:
    """Where the clause at `begin` ends."""
    end = begin
    while end < c.end and not (
        c.tokens[end].type == "sign" and c.tokens[end].value in (",", ".", ";", ":", "(", "[", "{")
    ):
        end += 1
    return end


def along_with(c: Cursor, target: Target) -> Target | None:
    """`sc in next 5 sts together with the arm`, `through both arm and body`: the stitches take another piece along."""
    at = 0
    if c.word("together"):
        at = 1
    if c.peek(at).value not in ("through", "thru", "with", "of") or (c.peek(at).value in ("with", "of") and not at):
        return None
    at += 1
    named = False
    while c.peek(at).type in ("word", "other", "number", "ordinal"):
        value = c.peek(at).value
        named = named or value in _WORKED or value in _LAYERS
        if value not in _BETWEEN and value not in _WORKED and value not in _LAYERS and c.peek(at).type != "ordinal":
            break
        at += 1
    if not named or target.how is How.EACH:
        return None
    c.i += at
    return target

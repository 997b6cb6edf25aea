"""Yarn joined at an opening that was left in the work: a thumb hole, an armhole, an afterthought heel."""

from generator.notation.cursor import Cursor
from generator.notation.tree import OPENING, PartRef, Step

_HOLES = frozenset(
    ("opening", "openings", "armhole", "armholes", "armpit", "underarm", "thumbhole", "slit", "leghole", "handhole")
)
_KINDS = frozenset(("thumb", "heel", "arm", "ear", "leg", "hand", "sleeve", "neck"))


def joined_at_opening(c: Cursor) -> list[Step] | None:
    """`Join yarn at one corner of the heel opening`, `attach A in first skipped st at the thumb hole`: from there on the
    work goes round the opening."""
    if not c.word("join"):
        return None
    begin, at = c.i, c.i + 1
    while at < c.end and not (c.tokens[at].type == "sign" and c.tokens[at].value in (",", ".", ";", ":", "(")):
        at += 1
    words = [token.value for token in c.tokens[begin:at]]
    hole = any(w in _HOLES or (w == "loop" and k and words[k - 1] in _KINDS) for k, w in enumerate(words))
    works = any(token.type == "stitch" and token.value != "sl-st" for token in c.tokens[begin:at])
    if not hole or works:
        return None
    c.i = at
    return [PartRef(c.span(begin), "-", OPENING)]

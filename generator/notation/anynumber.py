"""A foundation of any length that fits: `ch a multiple of 6 + 2`, `chain an even number (mine was 24)`."""

from generator.notation.cursor import Cursor
from generator.notation.tree import ANY_LENGTH, Foundation, Step

REPEATS = 10
"""Repeats that stand for any number of them, where the text names no length of its own."""
_OWN = ("mine", "sample", "shown", "example", "e", "eg", "i", "used", "chained", "for", "here", "pictured")
"""Words that lead to the length the writer has worked."""


def any_number(c: Cursor, begin: int) -> list[Step] | None:
    """`Ch a multiple of 6 + 2`, `chain a number of stitches divisible by 3`, `ch an odd number`."""
    mark = c.i
    if not c.word("chain"):
        return None
    c.take()
    each, more = _said(c)
    if not each:
        c.i = mark
        return None
    n = _own_length(c) or REPEATS * each + more
    return [Foundation(c.span(begin), n, (each, more))]


def _said(c: Cursor) -> tuple[int, int]:
    """The multiple and what is added to it; zeros where none is told."""
    c.skip_words("a", "any", "number", "of", "st", "the", "desired", "required", "in")
    even = odd = False
    while c.peek().value in ("number", "an", "even", "evenly", "odd", "uneven", "sts", "desired"):
        even, odd = even or c.peek().value in ("even", "evenly"), odd or c.peek().value in ("odd", "uneven")
        c.take()
        c.skip_words("of", "st", "chain")
    if c.peek().value not in ("multiple", "multiples", "divisible"):
        return (2, int(odd)) if even or odd else (0, 0)
    c.take()
    c.skip_words("of", "by")
    n = c.take().n if c.peek().type == "number" else 0
    more = 0
    c.skip_words("st", "chain")
    if (c.sign("+") or c.word("and") or c.peek().value == "plus") and c.peek(1).type == "number":
        c.take()
        more = c.take().n
        c.skip_words("st", "chain")
    return n, more


def _own_length(c: Cursor) -> int:
    """`(mine was 24)`, `, 41 in the sample`, `: 41`: the length the writer has worked, taken; 0 where none is told."""
    mark = c.i
    if c.sign("("):
        close = c.closing()
        words = c.tokens[c.i + 1 : close] if close is not None else []
        numbers = [token.n for token in words if token.type == "number"]
        if close is not None and numbers and any(token.value in _OWN for token in words):
            c.i = close + 1
            return numbers[0]
    if c.sign(",", ":", "-", "–", "—") and c.peek(1).type == "number" and c.peek(2).type in ("end", "word"):
        c.take()
        n = c.take().n
        while not c.done() and c.peek().type in ("word", "other"):
            c.take()
        return n
    c.i = mark
    return 0


SOME_LENGTH = 101
"""Chains that stand for as many as one likes: long enough to show a pattern, and no printed count is likely to be met."""
_LENGTH = ("length", "long")
_TO_LENGTH = (
    "of", "a", "as", "the", "any", "for", "to", "desired", "required", "necessary", "proper", "st", "in", "your", "that",
    "slightly", "longer", "than", "little", "about",
)  # fmt: skip


def any_length(c: Cursor, begin: int) -> list[Step] | None:
    """`make a ch of desired length`, `a chain the length required`, `chain for length desired`: as long as one likes."""
    mark = c.i
    if not c.word("chain"):
        return None
    c.take()
    while c.peek().value in _TO_LENGTH:
        c.take()
    if c.peek().value not in _LENGTH:
        c.i = mark
        return None
    while not c.done() and not c.sign(".", ";", ",", "("):
        c.take()
    return [Foundation(c.span(begin), SOME_LENGTH, ANY_LENGTH)]

"""A foundation told in a sentence: `Commence at the sole with a chain of 33 stitches`, `For the strap make 24 chain`."""

from generator.notation.cursor import Cursor
from generator.notation.memory import Memory
from generator.notation.tree import Remark, Step

_LEADS = ("commence", "commencing", "beginning", "as", "foundation", "the", "at", "from")
_BEFORE = ("with", "work", "a", "of", "is", "by", "foundation")
_NEVER = (
    "row", "round", "repeat", "skip", "join", "turn", "ring", "next", "each", "same", "last", "loop", "sp", "inc", "dec", "counts", "st",
    "corner", "fasten-off", "previous",
)  # fmt: skip
MOST_WORDS = 16
"""Words before the chain; what is longer tells something else."""


def commences(c: Cursor) -> list[Step] | None:
    """The words before the chain of such a sentence, as a remark; the chain itself is left to be read."""
    if not (c.word(*_LEADS) or c.peek().value in _LEADS):
        return None
    begin = c.i
    for ahead in range(1, MOST_WORDS):
        token = c.peek(ahead)
        if _chain_here(c, ahead) and (c.peek(ahead - 1).value in (*_BEFORE, ",")):
            words = " ".join(t.value for t in c.tokens[begin : begin + ahead])
            while c.peek(ahead - 1).value in ("a", "work", "foundation") and ahead > 1:
                ahead -= 1  # `make a foundation chain of …` is the instruction
            c.i += ahead
            return [Remark(c.span(begin), words, "")]
        if token.type not in ("word", "other", "sign") or token.value in (".", ";", ":", "(", "[", "*", *_NEVER):
            return None
    return None


def knots(c: Cursor, memory: Memory) -> list[Step] | None:
    """`Make a slip knot on the hook`: how a yarn is taken up; nothing is worked."""
    begin = c.i
    c.skip_words("work", "put", "place", "beginning", "with", "a", "form")
    if not c.word("slip-knot"):
        c.i = begin
        return None
    c.take()
    c.skip_words("on", "in", "the", "your", "a", "hook", "of", "with", "color")
    return [Remark(c.span(begin), "", "note")]


def _chain_here(c: Cursor, ahead: int) -> bool:
    """A number of chains (`12 chain`, `a chain of 12`, `chain 12`), no space or loop of so many."""
    if c.peek(ahead).type == "number":
        return c.word("chain", ahead=ahead + 1) and not c.word("sp", "loop", ahead=ahead + 2)
    if not c.word("chain", ahead=ahead):
        return False
    at = ahead + (2 if c.word("of", ahead=ahead + 1) else 1)
    if any(c.peek(k).value in ("length", "long") for k in range(at, at + 5)):
        return True  # `Commence with a chain the length required`
    number = c.peek(at)
    return number.type == "number" and not number.glued and not c.word("sp", "loop", ahead=at + 1)

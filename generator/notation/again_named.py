"""Words behind a place that only name it, or its course, again: `of previous rnd`, `between next 2 petals`, `over ch`."""

from generator.notation.cursor import Cursor
from generator.notation.said import Said
from generator.notation.tree import Target

_IDLE = ("only", "directly", "instead", "itself", "left", "unworked", "there", "now", "carefully", "loosely", "tightly")
_FIGURES = ("shell", "group", "loop", "picot", "petal", "petals", "sp", "block", "blocks", "cluster", "clusters", "popcorn", "leaf", "leaves", "point", "points", "wheels", "motifs")  # fmt: skip


def again_said(c: Cursor, target: Target, said: Said) -> Target | None:
    """`beneath`, `between shells`, `over ch`, `in each round`: nothing new."""
    if c.word("previous"):
        c.take()
    elif between := _between(c):
        c.i += between
        if c.word("of", "in", "on", "from"):
            tail(c)
    elif c.word("over") and c.word("chain", ahead=1):
        c.i += 2
    elif c.word("over") and c.word("the", ahead=1) and c.peek(2).type == "stitch" and c.word("previous", ahead=3):
        c.i += 4
    elif c.word("in", "on") and c.word("each", "every", "this", ahead=1) and c.word("row", "round", ahead=2):
        c.i += 3
    elif (c.word("work") and c.peek(1).type in ("end", "sign")) or (
        c.peek().type in ("word", "other") and c.peek().value in _IDLE
    ):
        c.take()
    else:
        return None
    return target


def _between(c: Cursor) -> int:
    """`between shells`, `between next 2 petals`, `between the groups`: how many words; 0 when that is not what stands."""
    if not c.word("between"):
        return 0
    at = 1
    while c.peek(at).type in ("number", "ordinal") or c.word("the", "next", "each", "last", "and", ahead=at):
        at += 1
    return at + 1 if c.peek(at).type in ("word", "other") and c.peek(at).value in _FIGURES else 0


_TAIL_WORDS = (
    "row", "round", "shell", "group", "chain", "ring", "st", "loop", "sp", "corner", "petal", "motif", "square", "previous", "v",
)  # fmt: skip
_TAIL_FILL = (
    "the", "last", "previous", "same", "first", "beginning", "work", "below", "this", "that", "side", "center",
    "foundation", "was", "were", "top", "each", "next", "before", "other", "original", "left", "unworked", "current",
    "base", "join", "square", "of", "ending", "rest", "remaining",
)  # fmt: skip
_ENOUGH = ("side", "left", "center", "unworked", "foundation", "join", "remaining")
_BEFORE_STITCH = ("the", "last", "of", "next", "each", "same", "as", "previous", "first", "with")


def tail(c: Cursor) -> bool:
    """Take words that only name the course or thing again; False (and nothing taken) when they say more."""
    at = 1
    ok = False
    while True:
        token, before = c.peek(at), c.peek(at - 1)
        if token.type in ("number", "ordinal"):
            pass
        elif token.value == "r" and c.peek(at + 1).type == "number":
            ok = True  # `of R5`
        elif (token.type == "stitch" and (before.value in _BEFORE_STITCH or before.type in ("ordinal", "number"))) or (
            token.type in ("word", "other") and token.value in _TAIL_WORDS
        ):
            ok = True
        elif token.type in ("word", "other") and token.value in _TAIL_FILL:
            ok = ok or token.value in _ENOUGH
        elif token.type == "other" and at > 1 and before.value in ("of", "the") and token.value != "both":
            ok = True
        else:
            break
        at += 1
    if ok:
        c.i += at
    return ok

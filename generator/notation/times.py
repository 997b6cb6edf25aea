"""How often: `6 times`, `x 6`, `twice`, `around`, `to last 2 sts`, `5 more times`, `until there are 60 sts`."""

from dataclasses import dataclass

from generator.notation.cursor import Cursor
from generator.notation.places import read_place
from generator.notation.tree import How, Noun, Times

_ONCE = {"once": 1, "twice": 2, "thrice": 3}
_BEGINNINGS = frozenset((*_ONCE, "all", "the", "way", "around", "across", "round", "x", "×", "*", "✕", "times", "a", "total", "to", "until", "up"))  # fmt: skip
"""What a phrase that says how often begins with, if not with a number: most clauses are asked and few say it."""


@dataclass(frozen=True, slots=True)
class Said:
    """A number of times as said. `more` counts passes after the first; `sure` is False where that is not said."""

    times: Times
    more: bool = False
    sure: bool = True


def read_times(c: Cursor, star_multiplies: bool = False) -> Said | None:
    """The times said here; None (and nothing taken) when there are none."""
    first = c.peek()
    if first.value not in _BEGINNINGS and first.type != "number":
        return None
    begin = c.i
    c.skip_words("all", "the", "way")
    if until := _up_to(c):
        return Said(until)
    if c.word("around", "across"):
        c.take()
        return Said(_end(c))
    if c.word("round") and (c.peek(1).type in ("end", "sign") or c.word("join", ahead=1)):
        c.take()  # `rep from * round`
        return Said(Times(to_end=True))
    if c.sequence("in", "each", "st") or c.sequence("in", "each"):
        c.i = begin
        return None
    if c.peek().type in ("word", "other") and c.peek().value in _ONCE:
        n = _ONCE[c.take().value]
        if c.word("more"):
            c.take()
            return Said(Times(n), more=True)
        return Said(Times(n), sure=False)
    if c.sign("x", "×", "*", "✕") or c.peek().value == "x" or c.word("times"):
        starred = c.sign("*")
        if (not starred or star_multiplies) and c.peek(1).type == "number":
            c.take()
            n = c.take().n
            c.skip_words("times")
            return Said(Times(n))
        if c.word("times") and c.sign(".", ahead=1) and c.peek(2).type == "number":
            c.i += 2
            return Said(Times(c.take().n))
    if c.word("a") and c.word("total", ahead=1):
        c.i += 2
        c.skip_words("of")
        if c.peek().type == "number":
            n = c.take().n
            c.skip_words("times")
            return Said(Times(n))
    if c.word("total") and c.peek(1).value in ("of",) and c.peek(2).type == "number":
        c.i += 2
        n = c.take().n
        c.skip_words("times")
        return Said(Times(n))
    if c.peek().type == "number":
        n = c.peek().n
        if c.word("more", ahead=1):
            c.i += 2
            if c.word("times"):
                c.take()
                return Said(Times(n), more=True)
            c.i = begin
            return None
        if c.word("times", ahead=1) or (c.peek(1).value == "x" and c.peek(2).type != "number"):
            c.i += 2
            if c.word("more"):
                c.take()
                return Said(Times(n), more=True)
            if (
                c.sequence("in", "all")
                or c.sequence("in", "total")
                or c.peek().value in ("altogether",)
                or c.word("total")
            ):
                c.skip_words("altogether", "total")
                return Said(Times(n))
            return Said(Times(n), sure=False)
        c.i = begin
        return None
    if c.word("to", "until") and _to_last(c):
        return _left(c, begin)
    if c.peek().value in ("to", "up") and c.peek(1).value in ("within",):
        c.i += 2
        if c.peek().type == "number":
            n = c.take().n
            _noun(c)
            c.skip_words("of", "the", "ending", "end", "row", "round", "middle")
            return Said(Times(to_end=True, leave=n))
    c.i = begin
    return None


def _up_to(c: Cursor) -> Times | None:
    """`(across) to next corner`, `to ch-2 sp`: as often as there is room before that place."""
    mark = c.i
    c.skip_words("around", "across", "up")
    if c.word("to", "until") and not c.word("last", ahead=1) and not c.word("last", ahead=2):
        c.skip_words("up")
        c.take()
        target = read_place(c, bare=True)
        there = target is not None and target.noun in (Noun.SPACE, Noun.CORNER) and target.how is How.NEXT
        if there and (c.done() or c.sign(",", ".", ";", "(")):
            return Times(to_end=True, until=target)
    c.i = mark
    return None


def _to_last(c: Cursor) -> bool:
    at = 1
    while c.peek(at).value in ("the", "you", "have", "a", "there", "are", "is", "reach", "come", "to", "get"):
        at += 1
    return bool(
        c.word("last", ahead=at)
        or (
            c.peek(at).type == "number"
            and _is_noun(c, at + 1)
            and c.peek(at + 2).value in ("remaining", "left", "before", "ending", "end")
        )
    )


def _is_noun(c: Cursor, at: int) -> bool:
    return c.peek(at).type == "stitch" or c.word("st", "sp", "loop", "chain", ahead=at)


def _noun(c: Cursor) -> None:
    if c.word("chain") and c.peek(1).type == "number":
        c.i += 2
    c.skip_words("st", "sp", "loop", "chain", "corner", "shell", "mesh", "group")
    if c.peek().type == "stitch":
        c.take()


def _left(c: Cursor, begin: int) -> Said | None:
    while not c.word("last") and c.peek().type != "number":
        c.take()
    c.skip_words("last")
    n = 1
    if c.peek().type == "number":
        n = c.take().n
    if c.word("row", "round"):
        c.i = begin
        return None
    _noun(c)
    c.skip_words("remaining", "left", "before", "ending", "end", "of", "row", "round", "the", "are")
    return Said(Times(to_end=True, leave=n))


def _end(c: Cursor) -> Times:
    """`around`, perhaps `to last 2 sts`."""
    c.skip_words("the", "row", "round")
    if c.word("to", "until") and _to_last(c):
        begin = c.i
        left = _left(c, begin)
        if left is not None:
            return left.times
    if c.peek().value == "except" and c.word("last", ahead=1):
        c.i += 2
        n = c.take().n if c.peek().type == "number" else 1
        _noun(c)
        return Times(to_end=True, leave=n)
    return Times(to_end=True)

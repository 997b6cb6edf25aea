"""Work that goes on without shaping: `work even for 5 rnds`, `2 rounds of dc`, `1 round without increasing`."""

from generator.notation.cursor import Cursor
from generator.notation.memory import Memory
from generator.notation.multiples import plain
from generator.notation.phrases import LENGTHS, fraction
from generator.notation.tree import (
    Again,
    How,
    Measure,
    Step,
    Target,
    Work,
)
from generator.notation.untils import read_until

_STRAIGHT = ("straight", "evenly", "plain", "even")
_ONE = ("a", "an", "another", "next", "this", "each")


def evenly(c: Cursor, memory: Memory) -> list[Step] | None:
    """`Work even for 5 rnds`, `work even until piece measures 10 cm`, `sc evenly around`, `work straight`."""
    begin = c.i
    c.skip_words("work", "make", "and", "then", "continue", "continuing")
    if counted := _courses(c, begin, memory):
        return counted
    if c.i and c.tokens[c.i - 1].value == "work" and (whole := _in_stitch(c, begin, memory)):
        return whole
    if c.i and c.tokens[c.i - 1].value == "work" and (leave := _to_the_last(c)) is not None:
        return [Work(c.span(begin), memory.stitch, 1, Target(How.EACH, leave=leave))]
    if c.i > begin and c.word("in") and c.peek(1).type == "stitch" and _unshaped(c, 2):
        memory.stitch = plain(c.peek(1).value)
        c.i += 2  # `continue in dc without increasing for 3 rounds`
    if (c.i > begin and (_straight(c) or _unshaped(c))) or c.word("evenly") or c.peek().value == "straight":
        c.i += _unshaped(c) or 1
        return _so_far(c, begin, memory)
    c.i = begin
    return None


def to_length(c: Cursor, memory: Memory) -> list[Step] | None:
    """`sc around until it measures 8 cm`: the steps before it, as often as the gauge says."""
    begin = c.i
    if c.word("until") and (until := read_until(c)).length_mm > 0 and not until.n:
        return [Measure(c.span(begin), until.length_mm)]
    c.i = begin
    return None


def _so_far(c: Cursor, begin: int, memory: Memory) -> list[Step]:
    """How far plain work goes: so many rounds, to a length, once round."""
    c.skip_words("in", "pattern", "as", "on", "these", "st", "the", "established")
    if c.peek().type == "stitch":
        memory.stitch = plain(c.take().value)
    if c.word("over"):
        c.take()
    if c.peek().type == "number" and (c.peek(1).type == "stitch" or c.word("st", ahead=1)):
        c.i += 2  # `even on 25 sc`: how many there are is known
    c.skip_words("for", "as", "in", "pattern", "work")
    if c.word("until", "to"):
        return [Measure(c.span(begin), read_until(c).length_mm)]
    if c.peek().type in ("number", "fraction", "decimal") and c.peek(1).value in LENGTHS:
        token = c.take()
        value = fraction(token.value) if token.type == "fraction" else float(token.n or token.value)
        return [Measure(c.span(begin), value * LENGTHS[c.take().value])]
    n = 1
    if c.peek().type == "number":
        n = c.take().n
        c.skip_words("more", "row", "round")
    elif c.word("around", "across"):
        c.take()
    return _so_many(c, begin, memory.stitch, n)


def _so_many(c: Cursor, begin: int, stitch: str, n: int) -> list[Step]:
    """Courses of one stitch in each."""
    each = Work(c.span(begin), stitch, 1, Target(How.EACH))
    return [each, Again(c.span(begin), (), 1, n - 1)] if n > 1 else [each]


def _courses(c: Cursor, begin: int, memory: Memory) -> list[Step] | None:
    """`1 round straight`, `3 rounds even`, `2 rounds of dc`, `another row without increasing`: so many of one stitch."""
    mark = c.i
    n = _how_many(c)
    even = _take_straight(c)
    stitch = _take_stitch(c) if n else ""
    if (n or even) and c.word("round", "row"):
        c.take()
        stitch = stitch or _of_stitch(c)
        even = _take_straight(c) or even
        stitch = stitch or _of_stitch(c)
        if (stitch or even) and (c.peek().type in ("sign", "end") or c.word("around", "across")):
            c.skip_words("around", "across")
            memory.stitch = plain(stitch) if stitch else memory.stitch
            return _so_many(c, begin, memory.stitch, n)
    c.i = mark
    return None


def _how_many(c: Cursor) -> int:
    """`2`, `another`, `3 more`, taken; 0 when no number is told."""
    if c.peek().type != "number" and c.peek().value not in _ONE:
        return 0
    token = c.take()
    c.skip_words("more")
    return token.n if token.type == "number" else 1


def _of_stitch(c: Cursor) -> str:
    """`of dc`, `in dc`, `dc`, taken."""
    at = int(c.word("of", "in", "with"))
    if c.peek(at).type != "stitch":
        return ""
    c.i += at
    return _take_stitch(c)


def _take_stitch(c: Cursor) -> str:
    return c.take().value if c.peek().type == "stitch" else ""


def _straight(c: Cursor) -> bool:
    return c.peek().value in _STRAIGHT


def _take_straight(c: Cursor) -> bool:
    """`even`, `straight`, `without increasing`, `, no decreases`, taken."""
    passed = int(_straight(c)) or _unshaped(c) or (_unshaped(c, 1) if c.sign(",") else 0)
    c.i += passed + int(c.sign(",") and passed > 0)
    return passed > 0


def _unshaped(c: Cursor, ahead: int = 0) -> int:
    """How many tokens say that nothing is shaped, from so far ahead on: `without increasing`, `with no dec`."""
    at = ahead + int(c.word("with", ahead=ahead))
    if c.peek(at).value not in ("without", "not"):
        return 0
    at += 1 + int(c.word("more", ahead=at + 1) or c.peek(at + 1).value in ("any", "further"))
    if not (c.word("inc", "dec", ahead=at) or c.peek(at).value in ("shaping", "shape")):
        return 0
    while c.word("or", ahead=at + 1) and c.word("inc", "dec", ahead=at + 2):
        at += 2
    return at + 1 - ahead


def _in_stitch(c: Cursor, begin: int, memory: Memory) -> list[Step] | None:
    """`work in sc`, `work in d c across`: one in each."""
    ends = c.peek(2).type in ("sign", "end") or c.word("around", "across", "inc", "dec", "over", "for", ahead=2)
    if not c.word("in") or c.peek(1).type != "stitch" or not ends:
        return None
    c.take()
    memory.stitch = plain(c.take().value)
    if c.word("around", "across"):
        c.take()
    elif c.sequence("over", "all", "st"):
        pass
    return [Work(c.span(begin), memory.stitch, 1, Target(How.EACH))]


def _to_the_last(c: Cursor) -> int | None:
    """`work to last 2 sts`, `work across to last sc`: how many are left, taken; None when the words say something else."""
    mark = c.i
    c.skip_words("across", "along")
    if not c.word("to") or not c.word("last", ahead=1):
        c.i = mark
        return None
    c.i += 2
    n = c.take().n if c.peek().type == "number" else 1
    if c.peek().type != "stitch" and not c.word("st"):
        c.i = mark
        return None
    c.take()
    return n

"""Colours along a row: `A x 4, B x 12`, `4A, 12B`, `sc 8 in A`, `sc in next 4 sts with B`, `MC: sc across`.

A key is a single letter, `MC`, `CC`, or a name the header gives a yarn. A colour told behind its stitches was taken up
before them.
"""

from generator.notation.cursor import Cursor
from generator.notation.memory import Memory
from generator.notation.shaping import shaping
from generator.notation.tokens import Token
from generator.notation.tree import Chain, Choice, Step, Target, Work, Yarn

_KEYS = ("mc", "cc", "cc1", "cc2")
_ENDS = (",", ".", ";", ")", "]", "-", "–", "—", "(", "[", "*")


def _is_key(token: Token, memory: Memory) -> bool:
    if token.type not in ("other", "word"):
        return False
    letter = token.type == "other" and len(token.value) == 1 and token.value != "x"
    return letter or token.value in _KEYS or token.value in memory.names


def _named(token: Token, memory: Memory) -> str:
    return memory.names.get(token.value, token.value)


def _ends(c: Cursor, ahead: int) -> bool:
    return c.peek(ahead).type == "end" or c.sign(*_ENDS, ahead=ahead) or c.word("turn", "join", ahead=ahead)


def coloured(c: Cursor, memory: Memory) -> list[Step] | None:
    """`A x 4`, `4A`, `B12`: so many of the row's stitch in that colour; `B: 8 sc`, `in B sc 8`: the colour alone."""
    begin = c.i
    at = 0 if _is_key(c.peek(), memory) else 1
    if not _is_key(c.peek(at), memory):
        return None
    key = _named(c.peek(at), memory)
    if at == 1 and c.word("in") and (c.peek(2).type in ("stitch", "number") or c.sign(",", ":", ahead=2)):
        c.i += 3 if c.sign(",", ":", ahead=2) else 2
        return [Yarn(c.span(begin), key, "with")]
    if at == 0 and c.sign(":", ahead=1):
        c.i += 2
        return [Yarn(c.span(begin), key, "with")]
    if at == 1 and c.peek().type == "number" and c.peek(1).tight and c.word("inc", "dec", ahead=2):
        n = c.take().n  # `1B inc`
        c.take()
        return [Yarn(c.span(begin), key, "with"), *(shaping(c, memory, n, begin, memory.loop) or [])]
    n = 0
    if at == 1 and c.peek().type == "number" and _ends(c, 2):
        n, c.i = c.peek().n, c.i + 2
    elif at == 0:
        times = 1 if c.sign("x", "×", "*", ahead=1) or c.peek(1).value == "x" else 0
        if c.peek(1 + times).type == "number" and _ends(c, 2 + times) and (times or c.peek(1).tight):
            n, c.i = c.peek(1 + times).n, c.i + 2 + times
    if n < 1:
        c.i = begin
        return None
    memory.started = True
    span = c.span(begin)
    return [Yarn(span, key, "with"), Work(span, memory.stitch, 1, Target(count=n, implied=True))]


def taken_up(c: Cursor, memory: Memory, steps: list[Step]) -> list[Step]:
    """Stitches with the colour that is told behind them: `sc in next 4 sts with B`, `8 sc in A`, `8 sc A`."""
    if not steps or not isinstance(steps[0], (Work, Choice, Chain)):
        return steps
    begin = c.i
    at = 1 if c.word("with", "in") else 0
    if (
        not _is_key(c.peek(at), memory)
        or (not at and c.peek().value == "a" and c.peek().type == "word")
        or not _ends(c, at + 1)
    ):
        return steps
    key = _named(c.take() if not at else c.peek(1), memory)
    c.i = begin + at + 1
    return [Yarn(c.span(begin), key, "with"), *steps]

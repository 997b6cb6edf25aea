"""Turning, not joining, fastening off, the other side of the chain."""

from generator.notation.cursor import Cursor
from generator.notation.memory import Memory
from generator.notation.multiples import chains_said
from generator.notation.tree import (
    Chain,
    FastenOff,
    OtherSide,
    Stay,
    Step,
    Turn,
)
from generator.notation.yarns import yarn_that_ends, yarn_words


def turns(c: Cursor, memory: Memory) -> list[Step] | None:
    """`turn`, `do not turn`, `do not join`, `on the other side of the chain`, `fasten off`."""
    begin = c.i
    c.skip_words("and", "now")
    if c.word("to") and c.word("turn", ahead=1):
        c.take()
    token = c.peek()
    if token.type == "word":
        if token.value == "turn" and not c.word("chain", ahead=1):
            c.take()
            c.skip_words("work", "piece", "each", "row", "round", "the", "all", "your", "over")
            return [*_with_chain(c), Turn(c.span(begin))]
        if token.value == "stay-join":
            c.take()
            c.skip_words(
                "this",
                "each",
                "round",
                "row",
                "at",
                "the",
                "end",
                "of",
                "ending",
                "or",
                "turn",
                "following",
                "next",
                "these",
                "rounds",
                "any",
                "on",
                "first",
                "with",
                "a",
                "ring",
            )
            if c.peek().type == "stitch" and c.peek().value == "sl-st":
                c.take()
            return [Stay(c.span(begin), "join")]
        if token.value == "stay-turn":
            c.take()
            c.skip_words("work", "your", "the")
            return [Stay(c.span(begin), "turn")]
        if token.value == "fasten-off":
            c.take()
            c.skip_words(
                "neatly",
                "color",
                "all",
                "colors",
                "securely",
                "invisibly",
                "invisible",
                "and",
                "at",
                "end",
                "of",
                "the",
                "row",
                "round",
            )
            yarn_that_ends(c, memory)
            return [FastenOff(c.span(begin))]
    if token.value in ("break", "cut", "end", "invisible") or token.value in ("break", "cut"):
        if c.word("fasten-off", ahead=1):
            c.i += 2
            return [FastenOff(c.span(begin), True)]
        c.take()
        name = yarn_words(c, memory)
        if name is not None and (c.done() or c.sign(",", ".", ";")) and token.value in ("break", "cut"):
            return [FastenOff(c.span(begin))]
    c.i = begin
    return None


def _with_chain(c: Cursor) -> list[Step]:
    """`turn with ch 3`, `turn with 3 chain`: the chain it is turned with, taken."""
    begin = c.i
    if c.sign(",") and c.word("with", ahead=1):
        c.take()
    if c.word("with"):
        c.take()
        c.skip_words("a")
        if n := chains_said(c):
            c.skip_words("of")
            n = c.take().n if n == 1 and c.peek().type == "number" else n
            return [Chain(c.span(begin), n)]
    c.i = begin
    return []


def other_side(c: Cursor, memory: Memory) -> list[Step] | None:
    """`working on opposite side of starting chain`, `down other side`, `rotate to work along the bottom`."""
    begin = c.i
    c.skip_words("work", "continue", "continuing", "rotate", "now", "to", "around", "and", "crochet", "end")
    while c.word(
        "in", "on", "along", "of", "the", "up", "with", "a", "back", "over", "across", "remaining", "loop"
    ) or c.peek().value in (
        "along",
        "down",
        "up",
        "back",
        "free",
        "unused",
        "loops",
    ):
        c.take()
    if c.peek().value in ("bottom", "base") and c.word("loop", ahead=1):
        c.take()  # `in the bottom loops of the ch`
        c.take()
        if c.word("of"):
            c.take()
            c.skip_words("the", "foundation", "beginning")
            if c.word("chain"):
                c.take()
                return [OtherSide(c.span(begin))]
        c.i = begin
        return None
    if not (c.word("other", "opposite")):
        c.i = begin
        return None
    c.take()
    if not (
        c.word("side", "loop", "st", "ending", "edge")
        or c.peek().value in ("edge",)
        or (c.tokens[c.i - 1].value == "opposite" and (c.sign("(") or c.word("of")))
    ):
        c.i = begin
        return None
    if c.word("side", "loop", "st") or c.peek().value == "edge":
        c.take()
    while c.word(
        "of", "the", "foundation", "beginning", "chain", "in", "st", "on", "loop", "base"
    ) or c.peek().value in ("original", "along", "initial", "foundation"):
        if c.word("in") and c.word("next", "each", "first", "same", ahead=1):
            break
        c.take()
        if c.peek().type == "number" and c.tokens[c.i - 1].value == "chain":
            c.take()
    return [OtherSide(c.span(begin))]

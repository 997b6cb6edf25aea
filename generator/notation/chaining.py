"""Chains, meshes and places passed over."""

from dataclasses import replace

from generator.notation.anynumber import any_length, any_number
from generator.notation.cursor import Cursor
from generator.notation.memory import Memory
from generator.notation.picots import for_picot, picot_here
from generator.notation.places import read_place
from generator.notation.tree import (
    Chain,
    Foundation,
    How,
    Noun,
    Picot,
    Remark,
    Skip,
    Step,
    Target,
    Turn,
)
from generator.vocabulary.load import stitch


def chains(c: Cursor, memory: Memory) -> list[Step] | None:
    """`ch 3`, `3 ch`, `ch 1 more`, `ch 21`; not the space or loop such a chain makes."""
    begin = c.i
    c.skip_words("work", "a")
    if c.word("foundation") and c.word("chain", ahead=1) and (c.peek(2).type == "number" or c.word("of", ahead=2)):
        c.take()
    if c.word("foundation") and c.word("of", ahead=1) and c.peek(2).type == "number" and c.word("chain", ahead=3):
        c.i += 2
    while c.peek().value in ("approximately", "about", "approx", "around") and c.peek(1).type == "number":
        c.take()
    if multiple := any_number(c, begin) or any_length(c, begin):
        return multiple
    n = 1
    if c.peek().type == "number" and c.word("chain", ahead=1):
        n = c.take().n
        c.take()
    elif c.peek().type == "number" and c.word("more", ahead=1) and c.word("chain", ahead=2):
        n = c.take().n
        c.i += 2
    elif c.word("chain"):
        c.take()
        if c.word("of") and c.peek(1).type == "number":
            c.take()
        if c.peek().type == "number":
            n = c.take().n
    else:
        c.i = begin
        return None
    if c.word("sp", "loop", "mesh"):
        c.i = begin
        return None
    c.skip_words("more", "st", "loosely")
    if not memory.started and (more := _added(c)):
        memory.started = True
        return [Foundation(c.span(begin), n + more)]
    memory.started = True
    if c.word("as", "to") and c.word("turning", "turn", ahead=1) and (c.done() or c.peek(2).type in ("sign", "end")):
        c.i += 2  # `chain 3 for turning`
        return [Chain(c.span(begin), max(1, n)), Turn(c.span(begin))]
    if n > 1 and (first := _for_stitch(c)):
        return [Chain(c.span(begin), n, first, max(0, n - stitch(first).turning_chain))]
    if n > 1 and (for_picot(c) or picot_here(c)):
        if picot_here(c):
            c.take()
        return [Picot(c.span(begin), n)]
    return [Chain(c.span(begin), max(1, n))]


def _added(c: Cursor) -> int:
    """`Ch 30 + 3 (counts as first dc)`, `ch 20 + 1 for turning`: chains of the foundation that are told apart."""
    mark = c.i
    if c.sign("+"):
        c.take()
        chain = c.word("chain")
        c.skip_words("chain")
        n = c.take().n if c.peek().type == "number" else 0
        turning = c.word("turning", "turn", "chain", "as", "more")
        if n and (c.done() or c.sign("(", ".", ",", ";") or chain or turning):
            while c.word("turning", "turn", "chain", "as", "the", "more", "a", "row", "first"):
                c.take()
            return n
    c.i = mark
    return 0


def _and_space(c: Cursor, before: Target) -> list[Step]:
    """`skip first dc and sp`, `skip next sc and next loop`: the space behind it, too."""
    at = 2 if c.word("next", "first", "following", ahead=1) else 1
    if not c.word("and") or not c.word("sp", "loop", "mesh", ahead=at) or before.noun is not Noun.STITCH:
        return []
    begin = c.i
    c.i += at + 1
    # Behind the first stitch the chain that begins the row takes the place of both.
    return [] if before.how is How.FIRST else [Skip(c.span(begin), Target(How.NEXT, Noun.SPACE))]


def _for_stitch(c: Cursor) -> str:
    """`ch 3 for first dc`, `ch 5 for 1 dc and ch 2`: what the chain stands for, taken; empty when it says nothing."""
    mark = c.i
    if c.word("as"):
        c.take()
        c.skip_words("a", "the")
        if c.peek().n == 1 and c.peek().type in ("number", "ordinal"):
            c.take()
        token = c.peek()
        closes = c.peek(1).type in ("sign", "end") or c.word("and", ahead=1)
        if token.type == "stitch" and token.value in ("sc", "hdc", "dc", "tr", "dtr") and closes:
            c.take()
            if c.word("and") and c.word("chain", ahead=1) and c.peek(2).type == "number":
                c.i += 3
                c.skip_words("sp")
            return token.value
    c.i = mark
    return ""


def _all_up_to(c: Cursor) -> None:
    """`skip all sts to next ch-1 sp`, `skip the sts up to the corner`: only where they end is told; `to` is left."""
    at = 0
    while c.word("the", "each", "remaining", "next", ahead=at) or c.peek(at).value in ("all", "every"):
        at += 1
    if at and (c.word("st", ahead=at) or c.peek(at).type == "stitch"):
        at += 1 + (c.peek(at + 1).value == "up")
        if c.word("to", ahead=at):
            c.i += at


def skips(c: Cursor, memory: Memory) -> list[Step] | None:
    """`skip next 2 sts`, `miss 1`, `sk ch-1 sp`."""
    if not c.word("skip"):
        return None
    begin = c.i
    c.take()
    _all_up_to(c)
    if c.word("to") and (place := read_place(c)) is not None and place.noun in (Noun.SPACE, Noun.CORNER):
        return [Remark(c.span(begin), "", "skip")]  # `skip to next loop`: the next step names it
    if c.peek().value in ("none", "nothing"):  # `4 ch, miss none`: said lest the maker skip one
        c.take()
        return [Remark(c.span(begin), "", "skip")]
    mark = c.i
    first = c.peek(int(c.peek().value == "the")).value == "first"
    target = read_place(c, bare=True)
    if target is not None and first and target.noun is Noun.STITCH and target.count > 1 and not target.below:
        target = replace(target, how=How.FIRST)  # counted from the very edge, where a chain may stand on the first
    if target is None:
        c.i = mark
        n = 1
        if c.peek().type == "number":
            n = c.take().n
            if c.word("st") or c.peek().type == "stitch":
                c.take()
        elif not (c.sign(",", ".", ";") or c.done()):
            c.i = begin
            return None
        target = Target(count=n, implied=True)
    c.skip_words("only", "now")
    if c.peek().value == "under" or (c.word("of") and c.word("ring", "previous", ahead=1)):
        c.skip_words("under", "them", "of", "ring", "previous", "row", "round")
    skip = Skip(c.span(begin), target)
    return [skip, *_and_space(c, target)]

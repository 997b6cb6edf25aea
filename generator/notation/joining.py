"""Rounds joined, rings formed, yarns joined in."""

from generator.notation.cursor import Cursor
from generator.notation.memory import Memory
from generator.notation.phrases import rest_of_clause
from generator.notation.places import read_place, starts_place
from generator.notation.tree import (
    Chain,
    How,
    Join,
    Noun,
    Remark,
    Ring,
    Step,
    Target,
    Work,
    Yarn,
)
from generator.notation.yarns import yarn_words


def joins(c: Cursor, memory: Memory, previous: list[Step]) -> list[Step] | None:
    """`join with sl st to first sc`, `join to form ring`, `Join.`, `Join B with a standing dc in any st`."""
    begin = c.i
    c.skip_words("work", "to", "and")
    invisible = c.peek().value in ("invisibly", "invisible")
    if invisible:
        c.take()
    if c.word("close") and any(
        c.peek(k).value
        in ("hole", "opening", "inverted", "reverse", "up", "gap", "top", "remaining", "tail", "off", "ends")
        for k in range(1, 6)
    ):
        rest_of_clause(c)
        return [Remark(c.span(begin), "", "close")]
    if not c.word("join", "close"):
        c.i = begin
        return _made_ring(c, previous)
    c.take()
    if c.peek().value in ("invisibly",):
        invisible = True
        c.take()
    chain = _chain_before(previous)
    if ring := _ring_ahead(c, chain is not None):
        c.i += ring
        _slip_that_closes(c)
        return [Ring(c.span(begin), chain.n if chain else 0)]
    if c.peek().value in ("it", "them", "these") and (c.peek(1).type in ("end", "sign") or c.word("with", ahead=1)):
        c.take()  # `unite it`
    mark = c.i
    name = None if c.peek().value == "at" else yarn_words(c, memory, stop=("with", "in", "to", "on", "and"))
    if name is not None and (name != "" or c.tokens[c.i - 1].value == "color"):
        joined = _yarn_joined(c, begin, name)
        if joined is not None:
            return joined
    c.i = mark
    return [_round_join(c, begin, invisible, memory)]


def _made_ring(c: Cursor, previous: list[Step]) -> list[Step] | None:
    """`form a ring with 1 sl st in first ch`, `to make a ring`."""
    begin = c.i
    c.skip_words("and", "to", "so", "as")
    if c.peek().value in ("form", "forming") or (
        c.word("work") and c.word("a", "the", ahead=1) and c.word("ring", ahead=2)
    ):
        c.take()
        c.skip_words("a", "the")
        if c.word("ring"):
            c.take()
            if c.word("with"):
                rest_of_clause(c)
            n = previous[-1].n if previous and isinstance(previous[-1], Chain) else 0
            return [Ring(c.span(begin), n)]
    c.i = begin
    return None


def _chain_before(previous: list[Step]) -> Chain | None:
    """The chain just made, with nothing but a yarn or a remark since."""
    last = next((s for s in reversed(previous) if not isinstance(s, (Remark, Yarn))), None)
    return last if isinstance(last, Chain) else None


_TO_RING = (
    "with", "a", "sl-st", "to", "the", "in", "on", "into", "form", "forming", "first", "chain", "of", "as", "them", "it", "work", "st",
    "and", "so", "last", "last,", "close", "end", "beginning", "ending", "up", "1st", "join", "each", "this", "ends", "together", "both",
    "previous", "round", "row",
)  # fmt: skip


def _ring_ahead(c: Cursor, chained: bool) -> int:
    """`(with a sl st) to form a ring`, `into a ring`, `the ring` of a chain just made, `in a round`: how many words up to
    the ring; 0 when there is none."""
    at = 0
    formed = chained
    while at < 14:
        token = c.peek(at)
        if chained and token.value == "round" and c.peek(at + 1).type in ("end", "sign"):
            return at + 1
        if token.type in ("word", "stitch", "other", "ordinal") and token.value in _TO_RING:
            formed = formed or token.value in ("form", "forming", "in", "to", "close", "join")
            at += 1
        elif (token.type == "number" and c.peek(at + 1).type == "stitch") or (
            token.type == "sign" and token.value == ","
        ):
            at += 1
        else:
            return at + 1 if formed and token.type == "word" and token.value == "ring" else 0
    return 0


def _slip_that_closes(c: Cursor) -> None:
    """`close the ring with 1 single stitch in the first chain`: how it is closed."""
    if (c.word("with") or c.peek().value == "by") and any(c.peek(k).value == "sl-st" for k in (1, 2, 3)):
        rest_of_clause(c)


def _yarn_joined(c: Cursor, begin: int, name: str) -> list[Step] | None:
    stitch_name, standing = "", False
    if c.word("with"):
        c.take()
        c.skip_words("a")
        if c.peek().value == "standing" or (c.peek().type == "word" and c.peek().value == "counts"):
            standing = True
            c.take()
        if c.peek().type == "stitch":
            stitch_name = c.take().value
            standing = standing or stitch_name != "sl-st"
        else:
            c.skip_words("slip-knot")
    target = read_place(c) if starts_place(c) and not c.word("of") else None
    return [Yarn(c.span(begin), name, "join", target, stitch_name, standing)]


def _round_join(c: Cursor, begin: int, invisible: bool, memory: Memory) -> Step:
    stitch_name, standing = "sl-st", False
    if c.word("last", "first") and c.word("chain", ahead=1):
        c.i += 2  # `join last ch-2 with sl st to …`
        if c.peek().type == "number":
            c.take()
    c.skip_words("round", "row")
    if c.word("with"):
        c.take()
        c.skip_words("a", "an")
        n = c.take().n if c.peek().type == "number" else 1
        if c.peek().value in ("standing",) or (c.peek().value == "invisible"):
            standing = c.peek().value == "standing"
            invisible = not standing
            c.take()
        if c.peek().type == "stitch":
            stitch_name = c.take().value
        elif c.word("chain") or n > 1:
            c.i -= 1
        else:
            c.skip_words("needle", "a", "hook", "join", "slip-knot")
    elif c.peek().type == "stitch" and c.peek().value == "sl-st":
        c.take()
    c.skip_words("as", "previous", "before", "usual", "neatly", "again")
    if c.peek().value == "before":
        c.take()
    target = Target(How.FIRST)
    if starts_place(c) and not c.word("of"):
        target = read_place(c) or target
    c.skip_words("as", "before")
    if c.word("work") and c.peek(1).value == "sure":
        rest_of_clause(c)  # `join to first ch making sure the chain is not twisted`
    elif c.peek().value in ("being", "taking", "ensuring"):
        rest_of_clause(c)
    c.skip_words("work")
    if standing:
        return Yarn(c.span(begin), "", "join", target, stitch_name, True)
    return Join(c.span(begin), stitch_name, target, invisible)


def _number_in_it(c: Cursor, memory: Memory) -> list[Step]:
    """`mr 6`: so many of the stitch at hand in the ring."""
    if c.peek().type != "number" or not (c.peek(1).type == "end" or c.sign("(", "[", "{", "=", ".", ",", "-", ahead=1)):
        return []
    begin = c.i
    n = c.take().n
    memory.started = True
    return [Work(c.span(begin), memory.stitch, n, Target(noun=Noun.RING))]


def rings(c: Cursor, memory: Memory) -> list[Step] | None:
    """`Magic ring`, `MR`, `make an adjustable ring`, `start with a magic circle`."""
    begin = c.i
    c.skip_words("work", "a", "beginning", "with", "in", "into", "create", "form", "to")
    if c.peek().value in ("mr",) or (c.word("magic")):
        c.take()
        c.skip_words("ring", "loop", "circle")
        return [Ring(c.span(begin), 0), *_number_in_it(c, memory)]
    if (
        c.peek().value == "mc"
        and c.tokens[c.i - 1].value != "with"
        and (c.sign(",", ".", ":", "(", ahead=1) or c.peek(1).type == "end")
    ):
        c.take()
        return [Ring(c.span(begin), 0)]
    c.i = begin
    return None

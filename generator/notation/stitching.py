"""Stitches and where they go: `2 sc in next st`, `sc around`, `dc 3`, `fpdc around next dc`."""

from dataclasses import replace

from generator.notation.counted_places import count_and_place, shell_there
from generator.notation.counts import read_count
from generator.notation.cursor import Cursor
from generator.notation.fromhook import from_the_hook
from generator.notation.memory import Memory
from generator.notation.multiples import (
    placed,
    plain,
)
from generator.notation.phrases import as_one
from generator.notation.picots import named_picot, picot_here
from generator.notation.places import read_place, space_named, starts_place
from generator.notation.said import LOOPS
from generator.notation.shaping import shaping
from generator.notation.tree import (
    Choice,
    How,
    Loop,
    Noun,
    Step,
    Target,
    Work,
)
from generator.vocabulary.load import is_stitch, stitch


def stitches(c: Cursor, memory: Memory) -> list[Step] | None:
    """`2 sc in next st`, `sc around`, `dc 3`, `inc x6`, `dc2tog over next 2 sts`, `fpdc around next dc`."""
    begin = c.i
    c.skip_words("work", "a", "again", "and", "only")
    if c.peek().value == "off" and c.i and c.tokens[c.i - 1].value == "work":
        c.take()  # `work off 2 sc as one`
        c.skip_words("the", "next")
    if c.word("last", "first") and c.peek(1).type == "stitch":
        c.take()
    if c.word("st") and c.peek(1).value == "of" and c.peek(2).type == "stitch":
        c.i += 2  # `a stitch of single crochet`
    if (
        c.peek().value in ("another", "extra", "regular", "plain", "normal", "ordinary", "long", "tall", "additional")
        and c.peek().type != "stitch"
    ):
        c.take()
    n: int | None = None
    if c.peek().type == "number" and not (c.word("chain", ahead=1)):
        n = c.take().n
        c.skip_words("more", "additional", "extra")
        if c.peek().value in ("more", "extra", "regular", "complete", "long", "single") and c.peek(1).type == "stitch":
            c.take()
    elif c.peek().type == "ordinal" and c.peek(1).type == "stitch" and c.peek(1).value == "sl-st":
        c.take()
    loop = memory.loop
    if c.peek().type == "loop" and (
        c.peek(1).type == "stitch" or c.word("inc", "dec", ahead=1) or c.peek(1).type == "number"
    ):
        loop = LOOPS[c.take().value]
        if n is None and c.peek().type == "number":
            n = c.take().n
    token = c.peek()
    if token.type == "word" and token.value in ("inc", "dec"):
        return shaping(c, memory, n, begin, loop)
    if token.type == "stitch" or (picot_here(c) and not c.word("sp", "loop", ahead=1)):
        identity = token.value
    elif (
        token.type == "word"
        and token.value == "st"
        and n is not None
        and (starts_place(c, 1))
        and not c.word("to", "of", "around", ahead=1)
    ):
        identity = memory.stitch  # `2 sts in next st`: the working stitch
    elif (token.value == "v" and c.word("st", ahead=1)) or (
        token.type == "word" and token.value == "shell" and not c.word("st", ahead=1)
    ):
        return shell_there(c, memory, n, begin)
    elif (
        n is not None
        and (memory.started or _ring_next(c))
        and starts_place(c)
        and (c.word("in") and (_short_place(c) or _ring_next(c)))
    ):
        return _short(c, memory, n, begin, loop)  # `2 in next`
    else:
        c.i = begin
        return None
    c.take()
    if c.word("st") and token.type == "stitch":
        c.take()
    if n is not None and n > 1 and as_one(c) and is_stitch(f"{identity}{n}tog"):
        c.i += 1 if c.word("together") else 2
        identity, n = f"{identity}{n}tog", None
    if identity == "picot":
        return named_picot(c, memory, begin, n)
    if c.word("inc", "dec") and token.type == "stitch":  # `dc inc`, `sc dec`
        memory.stitch = plain(identity)
        return shaping(c, memory, n, begin, loop)
    if identity == "sl-st":
        _the_way_there(c)
        if c.peek().value in ("across", "along") and (target := _passed(c)) is not None:
            return [Work(c.span(begin), identity, 1, target)]
    identity = _together(c, identity)
    if (
        token.type == "stitch"
        and stitch(identity).family in ("post", "together", "cluster", "foundation")
        and identity != "sl-st"
    ):
        memory.stitch = plain(identity)
    memory.started = True
    steps = count_and_place(c, memory, identity, n, begin, loop)
    steps = from_the_hook(c, steps)
    return steps + _and_in(c, memory, steps, identity, n, loop)


def _the_way_there(c: Cursor) -> None:
    """`sl st across to the next ch-2 sp`, `sl st in each dc to corner sp`: only where it leads is said to the hook."""
    if c.peek().value in ("across", "over", "along", "up") and c.word("to", "in", ahead=1):
        c.take()
    elif (
        c.word("in")
        and c.word("each", ahead=1)
        and c.word("to", ahead=3)
        and any(c.word("sp", "corner", "loop", ahead=k) for k in (4, 5, 6))
    ):
        c.i += 3


def _passed(c: Cursor) -> Target | None:
    """`sl st across first 3 sts`, `sl st along 4 dc`: the places passed; None, and nothing taken, where none are named."""
    mark = c.i
    c.take()
    c.skip_words("the")
    target = read_place(c, bare=True)
    if target is None or target.how not in (How.NEXT, How.FIRST) or target.noun is not Noun.STITCH:
        c.i = mark
        return None
    return replace(target, how=How.NEXT)


def _and_in(c: Cursor, memory: Memory, steps: list[Step], identity: str, n: int | None, loop: Loop) -> list[Step]:
    """`sc in 2nd ch from hook and in each ch across`: the same stitch in a further place."""
    out: list[Step] = []
    while (
        isinstance(steps[0], (Work, Choice))
        and c.word("and")
        and not (isinstance(steps[0], Work) and steps[0].target.implied)
    ):
        mark = c.i
        c.take()
        bare = (c.word("next", "each") and c.peek(1).type != "stitch") or (
            c.word("each") and c.peek(1).type == "stitch"
        )
        bare = bare or (identity == "sl-st" and space_named(c))  # `sl st in next st and ch-1 sp`
        ends = c.word("across", "around") and (c.peek(1).type in ("end", "sign") or c.word("turn", "join", ahead=1))
        if not (starts_place(c) and not c.word("of", "to", "around")) and not bare and not ends:
            c.i = mark
            break
        begin = c.i
        if ends:  # `sc in 2nd ch from hook and across`
            c.take()
            out += placed(identity, n, 0, Target(How.EACH, loop=loop), c.span(begin), stitch(identity).consumes)
            break
        target = read_place(c, bare=not starts_place(c))
        listed = (
            c.peek().type == "stitch"
            or c.word("work", "chain")
            or (c.sign("(", "[") and not _count_here(c))
            or (c.peek().type == "number" and c.peek(1).type == "stitch")
        )
        if target is None or listed:
            c.i = mark
            break
        if target.loop is Loop.BOTH and loop is not Loop.BOTH:
            target = replace(target, loop=loop)
        out += placed(identity, n, 0, target, c.span(begin), stitch(identity).consumes)
    return out


def _count_here(c: Cursor) -> bool:
    """Whether the bracket here is the count of the line."""
    close = c.closing()
    return close is not None and read_count(c.inside(close)) is not None


def _together(c: Cursor, identity: str) -> str:
    """`sc 2 together`, `dc next 3 sts together`: closed together."""
    mark = c.i
    c.skip_words("next", "the")
    n = c.take().n if c.peek().type == "number" else 0
    c.skip_words("st", "next")
    if c.peek().type == "stitch" and n:
        c.take()
    if n > 1 and c.word("together") and not c.word("with", ahead=1) and is_stitch(f"{identity}{n}tog"):
        c.take()
        return f"{identity}{n}tog"
    c.i = mark
    return identity


def _ring_next(c: Cursor) -> bool:
    """`6 in magic ring`: the stitch goes without saying."""
    at = 2 if c.word("a", "the", ahead=1) else 1
    return c.word("in") and (c.word("ring", "magic", ahead=at) or c.peek(at).value in ("mr", "mc"))


def _short_place(c: Cursor) -> bool:
    return (
        c.word("next", "each", "same", "st", "last", "first", "corner", "sp", "loop", "center", "ending", ahead=1)
        or c.word("the", ahead=1)
        or c.peek(1).type in ("stitch", "ordinal")
    )


def _short(c: Cursor, memory: Memory, n: int, begin: int, loop: Loop) -> list[Step] | None:
    target = read_place(c)
    if target is None:
        c.i = begin
        return None
    each = n
    if target.count == n and n > 1:
        each = 1
    if target.loop is Loop.BOTH and memory.loop is not Loop.BOTH:
        target = replace(target, loop=memory.loop)
    return [Work(c.span(begin), memory.stitch, each, target)]

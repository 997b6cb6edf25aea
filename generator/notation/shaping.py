"""Increases and decreases said by their names."""

from dataclasses import replace

from generator.notation.cursor import Cursor
from generator.notation.fromhook import from_the_hook
from generator.notation.memory import Memory
from generator.notation.multiples import plain, read_multiple
from generator.notation.phrases import manner, rest_of_clause
from generator.notation.places import read_place, starts_place
from generator.notation.shaped_where import shaped_where
from generator.notation.times import read_times
from generator.notation.tree import (
    How,
    Loop,
    Noun,
    Shape,
    Step,
    Target,
    Work,
)


def _in_this_course(c: Cursor) -> bool:
    """Take `in next rnd`, `over this row`, `on the round`: so many in all of it, wherever the maker puts them."""
    at = 1
    while c.word("next", "the", "same", "last", ahead=at) or c.peek(at).value == "this":
        at += 1
    ends = c.peek(at + 1).type in ("sign", "end")
    if not c.word("in", "on", "over") or not c.word("round", "row", ahead=at) or not ends:
        return False
    c.i += at + 1
    return True


def shaping(c: Cursor, memory: Memory, n: int | None, begin: int, loop: Loop) -> list[Step] | None:
    """`inc`, `6 inc`, `inc in next 3 sts`, `dec over next 2`, `inc x 6`, `increase 6 sts evenly`."""
    increase = c.take().value == "inc"
    kind = memory.stitch
    if c.peek().type == "stitch":
        kind = plain(c.take().value)
        c.skip_words("st")
    if (
        c.peek().type == "number"
        and c.peek().n == 1
        and c.peek(1).type == "stitch"
        and c.tokens[c.i - 1].type == "word"
    ):
        c.i += 1  # `dec 1 sc`: by one
        kind = plain(c.take().value)
    number = 0
    if c.peek().type == "number" and c.peek(1).type == "stitch" and _told_where(c, 2):
        number = c.take().n  # `increase 6 sc evenly`
        kind = plain(c.take().value)
    if (
        c.peek().type == "number"
        and not c.word("times", ahead=1)
        and c.peek(1).value != "x"
        and c.peek(1).type != "stitch"
    ):
        number = c.take().n
        c.skip_words("st")
        if c.peek().type == "stitch":
            c.take()
    if c.word("st"):
        c.take()
    if number and c.word("each") and c.word("row", "round", ahead=1):
        c.i += 2  # `increase 6 sts each rnd`
        while c.word("in", "same", "as") or c.peek().value in ("this", "manner", "way", "established"):
            c.take()
        return [Shape(c.span(begin), number if increase else -number, 0, kind)]
    if (where := shaped_where(c)) is not None:
        by = where[1] * max(number, n or 0, 1)
        by += 0 if where[0] else _and_where(c)
        return [Shape(c.span(begin), by if increase else -by, where[0], kind)]
    if number and _in_this_course(c):
        return [Shape(c.span(begin), number if increase else -number, 0, kind)]
    if c.word("evenly", "in", "at") and number and (c.word("evenly") or c.peek(1).value == "equal"):
        c.skip_words(
            "evenly",
            "spaced",
            "at",
            "equal",
            "distances",
            "apart",
            "in",
            "this",
            "round",
            "row",
            "around",
            "across",
            "the",
            "next",
        )
        return [Shape(c.span(begin), number if increase else -number, 0, kind)]
    if c.sign("(") and c.peek(1).type == "number" and c.word("st", ahead=2) and c.sign(")", ahead=3):
        c.i += 4  # `increase (2 sts) in …`
    multiple = read_multiple(c)
    if (
        not multiple
        and not memory.open_mark
        and c.sign("*", "×")
        and c.peek(1).type == "number"
        and (c.peek(2).type == "end" or c.sign("(", "[", "=", ",", ahead=2))
    ):
        c.take()
        multiple = c.take().n
    if multiple > 1 and c.word("evenly"):  # `dec 2 times evenly`
        c.skip_words("evenly", "spaced", "around", "across", "in", "this", "the", "round", "row")
        return [Shape(c.span(begin), multiple if increase else -multiple, 0, kind)]
    to_end = False
    if not multiple and c.word("around", "across"):
        said = read_times(c)
        to_end = said is not None and said.times.to_end
    manner(c)
    target: Target | None = None
    if not increase and (legs := _every_few(c)) > 1:
        return [Work(c.span(begin), f"{kind}{legs}tog", 1, Target(How.EACH, loop=loop), decrease=True)]
    if starts_place(c) and not c.word("to", "of"):
        target = read_place(c)
    elif c.word("next", "each"):
        target = read_place(c, bare=True)
        if c.peek().value == "by" and c.peek(1).value in ("skip", "work", "skipping"):
            rest_of_clause(c)
        if c.word("together"):
            c.take()
    if target is not None and target.kind == "shell" and not increase and "decrease" in memory.specials:
        return [replace(step, span=c.span(begin)) for step in memory.specials["decrease"]]
    count = n or 1
    if multiple:
        count *= multiple
    if number and target is None and not multiple:
        count = 1 if number == 1 else number
    span = c.span(begin)
    memory.started = True
    memory.stitch = kind
    if target is not None and target.every > 1 and target.how is How.EACH:
        return [Shape(span, 1 if increase else -1, target.every, kind)]
    if increase:
        if to_end or (target is not None and target.how is How.EACH):
            return from_the_hook(
                c, [Work(span, kind, 2, target or Target(How.EACH, loop=loop, implied=True), increase=True)]
            )
        if target is not None:
            if count > 1 and target.count == 1:
                target = replace(target, count=count)
            return [Work(span, kind, 2, target, increase=True)]
        return [Work(span, kind, 2, Target(count=count, loop=loop, implied=True), increase=True)]
    together = f"{kind}2tog"
    if to_end or (target is not None and target.how is How.EACH):
        return [Work(span, together, 1, target or Target(How.EACH, loop=loop, implied=True), decrease=True)]
    places = count * 2
    if target is not None and target.how is How.NEXT:
        if target.noun is Noun.SPACE:
            return [Work(span, together, 1, replace(target, count=2), decrease=True)]
        places = target.count * 1 if target.count > 1 else places
        if target.count > 1 and count > 1:
            places = max(target.count, count * 2)
        if target.count == 3 and count == 1:
            together, places = f"{kind}3tog", 3
        return [Work(span, together, 1, replace(target, count=places), decrease=True)]
    return [Work(span, together, 1, Target(count=places, loop=loop, implied=True), decrease=True)]


def _every_few(c: Cursor) -> int:
    """`dec over every 2 sc`: how many at a time all along, taken; 0 where not said."""
    n = c.peek(2)
    named = c.peek(3).type == "stitch" or c.word("st", ahead=3)
    if not (starts_place(c) and c.word("each", ahead=1) and n.type == "number" and 1 < n.n < 4 and named):
        return 0
    c.i += 4
    return n.n


def _told_where(c: Cursor, ahead: int) -> bool:
    """Whether the places of a shaping are told in words (`increase 6 sc evenly`, `dec 2 sc at each end`)."""
    return c.word("evenly", ahead=ahead) or shaped_where(Cursor(c.tokens, c.i + ahead, c.end)) is not None


def _and_where(c: Cursor) -> int:
    """`increasing 3 sc at toe and 2 sc at heel`: how many at the second place; 0 where there is none."""
    begin = c.i
    if c.sign(","):
        c.take()
    c.skip_words("and")
    n = c.take().n if c.peek().type == "number" else 0
    if c.peek().type == "stitch" or c.word("st"):
        c.take()
    where = shaped_where(c) if n else None
    if where is None or where[0]:
        c.i = begin
        return 0
    return n


def extra(c: Cursor, memory: Memory, before: list[Step]) -> list[Step] | None:
    """`Plain, with 3 extra trebles under the arm`: a stitch in each, and so many more, wherever they go."""
    last = before[-1] if before else None
    if not isinstance(last, Work) or not last.target.implied or last.each != 1 or len(before) > 1:
        return None
    begin = c.i
    if c.sign(","):
        c.take()
    c.skip_words("with", "and", "work")
    n = c.take().n if c.peek().type == "number" else 0
    if not n or c.peek().value not in ("extra", "additional"):
        c.i = begin
        return None
    c.take()
    c.skip_words("st")
    if c.peek().type == "stitch":
        c.take()
    rest_of_clause(c)
    return [Shape(last.span.cover(c.span(begin)), n, 0, last.stitch)]

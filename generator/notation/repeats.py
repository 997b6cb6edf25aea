"""Asterisks and `repeat from`: when a mark opens, when it closes, and what a repeat sentence folds."""

from dataclasses import replace

from generator.notation.cursor import Cursor
from generator.notation.folding import Folder, Mark
from generator.notation.groups import as_parts
from generator.notation.lastpass import ending, ends_at_mark
from generator.notation.marks import (
    closer_of,
    drop_closers,
    drop_closing,
    last_repeat,
    missing_mark,
    open_sign,
    reopened,
    target_mark,
)
from generator.notation.memory import Memory
from generator.notation.phrases import rest_of_clause
from generator.notation.places import read_place, starts_place
from generator.notation.times import read_times
from generator.notation.tree import Choice, Group, How, Noun, Repeat, Times
from generator.notation.untils import Until, read_until, times_until
from generator.source import Span


def read_mark(c: Cursor, folder: Folder, memory: Memory) -> None:
    """A `*`: opens a mark, or closes the open one when what follows says how often (or nothing follows)."""
    token = c.take()
    span = Span(token.start, token.end)
    at = folder.last_mark(token.value)
    if at is not None and at < len(folder.items) - 1 and not (c.sign("*", "**")):
        mark = c.i
        while c.sign(",", ".", ";", ":") and not c.done():
            c.take()
        c.skip_words("and")
        if c.peek().value == "all" and starts_place(c, 1):
            c.take()
            target = read_place(c)
            if target is not None:
                body = tuple(i for i in folder.items[at + 1 :] if not isinstance(i, Mark))
                folder.items = [*folder.items[:at], Group(span.cover(c.span(mark)), as_parts(body), target)]
                folder.segment = len(folder.items)
                return
            c.i = mark
        said = read_times(c, star_multiplies=True)
        if said is not None:
            folder.fold(at, said.times, c.span(mark), more=said.more, sure=True, sign=token.value)
            return
        if c.word("repeat"):
            _closed(folder, at, token.value)
            return
        c.i = mark
        if c.done() or c.sign("(", "[", "{", "=", "-", "–", "—") or _only_ends(c):
            folder.fold(at, Times(to_end=True), span, sign=token.value)
            return
    folder.mark(span, token.value)


def _closed(folder: Folder, at: int, sign: str) -> None:
    """`*…*, rep from * to *`: the second sign only marks where the repeat ends; remembered as a closed mark."""
    folder.items.append(Mark(Span(0, 0), "/" + sign))


def _only_ends(c: Cursor) -> bool:
    """Nothing but joins, turns and signs follow on this line."""
    return all(
        (t.type == "sign" and t.value in ".,;") or (t.type == "stitch" and t.value == "sl-st") or t.value in ("join", "turn", "to", "with", "a", "the", "first", "stay-join")
        for t in c.tokens[c.i : c.end]
    )  # fmt: skip


def read_repeat(c: Cursor, folder: Folder, memory: Memory) -> bool:
    """`rep from * around`, `repeat from * 5 times`, `rep to end`, `repeat (…) 4 times`. True when taken."""
    begin = c.i
    c.skip_words("and", "work")
    if not c.word("repeat"):
        c.i = begin
        return False
    c.take()
    if c.word("last", "row", "round", "previous") or (
        c.peek().value in ("the", "this", "these", "rows", "rounds")
        and (
            c.word("last", "row", "round", "previous", ahead=1)
            or (c.peek(1).type in ("number", "ordinal") and c.word("row", "round", ahead=2))
        )
    ):
        c.i = begin
        return False
    if c.peek().type in ("ordinal", "number") and (
        c.word("row", "round", ahead=1)
        or (
            (c.word("to", "and", ahead=1) or c.sign(",", "-", "–", ahead=1)) and c.peek(2).type in ("ordinal", "number")
        )
    ):
        c.i = begin
        return False
    if c.sign("(", "[", "{"):
        memory.started = True
        return True  # `repeat (…) 4 times`: the bracket itself says the rest
    c.skip_words("pattern", "this", "these", "instructions", "the")
    many = read_times(c) if not c.word("from") else None
    if c.word("from") or c.sign("*", "**", "***"):
        return _from(c, folder, memory, begin, many)
    said = many or read_times(c)
    end = folder.last_mark("*") if folder.last_mark("*") is not None else folder.first_mark()
    if c.peek().value in ("between",):
        rest_of_clause(c)
    if said is None:
        said = read_times(c)
    times = said.times if said else Times(to_end=True)
    if end is not None:
        kind = "closed" if drop_closers(folder) else "rep"
        folder.fold(end, times, c.span(begin), kind, bool(said and said.more), bool(not said or said.sure), "*")
    else:
        folder.fold_bare(times, c.span(begin), bool(said and said.more), bool(not said or said.sure))
    ending(c, folder)
    return True


def _from(c: Cursor, folder: Folder, memory: Memory, begin: int, many: object) -> bool:
    c.skip_words("from")
    c.skip_words("first", "the")
    outermost = c.peek().type == "ordinal" and c.take().n == 1
    sign = ""
    if c.peek().type == "sign" and set(c.peek().value) <= set("*†‡#+§•"):
        sign = c.take().value
    elif c.sign('"', "'", "”", "“", "°", "^"):  # scanned text: the asterisk came out as another sign
        c.take()
        sign = "*"
    elif c.word("beginning", "first") or c.peek().value in ("start",):
        c.take()
        skip_course_words(c)
        sign = "^"
    inner = None
    if (c.word("to") or c.sign("-", "–", "—")) and c.peek(1).type == "sign" and set(c.peek(1).value) <= set("*†‡#+§"):
        c.take()
        inner = c.take().value
    c.skip_words("and")
    if c.sign(",") and (c.peek(1).value in ("around", "across")):
        c.take()
    said = read_times(c) or many
    from generator.notation.times import Said

    heard = said if isinstance(said, Said) else None
    times = heard.times if heard else Times(to_end=True)
    until = read_until(c) if heard is None and c.word("until") else Until()
    if not sign and not c.word("row", "round"):
        sign = open_sign(folder)
    missing_mark(c, folder, sign)
    closed = drop_closing(folder, sign)
    at = target_mark(folder, sign)
    if at is None and (outermost or closed or times.to_end):
        at = reopened(folder, sign)
    if until.n and at is not None:
        times = times_until(until, folder.items[:at], folder.items[at + 1 :])
    more, sure = bool(heard and heard.more), bool(heard is None or heard.sure)
    span = c.span(begin)
    if at is None:
        if sign in ("^", ""):
            folder.fold_bare(times, span, more, sure)
        elif folder.items and (again := last_repeat(folder)) is not None:
            _repeat_again(folder, again, times, span, more, sure)
        else:
            folder.fold_bare(times, span, more, sure)
        ending(c, folder)
        return True
    closer = closer_of(folder, at, inner or sign)
    if closer is not None:
        _fold_closed(folder, at, closer, times, span, more, sure, sign)
    else:
        folder.fold(at, times, span, "rep", more, sure, sign, partial=ends_at_mark(c))
    _in_one_place(c, folder)
    ending(c, folder)
    return True


def _in_one_place(c: Cursor, folder: Folder) -> None:
    """`*sc, ch 3; rep from * 5 more times in ring`: all passes go into one place."""
    if not c.word("in") or not folder.items:
        return
    mark = c.i
    target = read_place(c)
    last = folder.items[-1]
    if target is None or target.how is How.EACH or target.noun not in (Noun.RING, Noun.SPACE, Noun.CORNER):
        c.i = mark
        return
    span = last.span.cover(c.span(mark))
    if isinstance(last, Choice):
        options = tuple(replace(one, steps=(Group(span, as_parts(one.steps), target),)) for one in last.options)
        folder.items[-1] = replace(last, options=options)
    elif isinstance(last, Repeat) and not last.times.to_end:
        folder.items[-1] = Group(span, as_parts((last,)), target)
    else:
        c.i = mark


def skip_course_words(c: Cursor) -> None:
    """`from the beginning of the round`."""
    c.skip_words("of", "the", "row", "round")


def _fold_closed(
    folder: Folder, at: int, closer: int, times: Times, span: Span, more: bool, sure: bool, sign: str
) -> None:
    """`*A* B, rep from * to * twice`: A is repeated where the sentence stands, after it was worked once."""
    body = tuple(i for i in folder.items[at + 1 : closer] if not isinstance(i, Mark))
    between = [i for i in folder.items[closer + 1 :] if not isinstance(i, Mark)]
    head = folder.items[:at]
    if not between:
        folder.items = [*head, Mark(span, sign), *body]
        folder.fold(len(head), times, span, "rep", more, sure, sign)
        return
    # Written apart: `*A*, B, rep from * to * n times`: A once, B once, then A again n times.
    rest = Repeat(span, body, times, 0, sign)
    folder.items = [*head, *body, *between, rest]
    folder.segment = len(folder.items)


def _repeat_again(folder: Folder, index: int, times: Times, span: Span, more: bool, sure: bool) -> None:
    """The mark named was folded already: its repeat is worked again."""
    item = folder.items[index]
    body = item.steps if isinstance(item, Repeat) else item.options[0].steps[0].steps  # type: ignore[attr-defined]
    folder.items.append(Repeat(span, tuple(body), times, 0, "*"))

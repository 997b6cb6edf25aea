"""Brackets that hold a number: the count of the line, what a chain counts as, how many times."""

from dataclasses import replace
from typing import TYPE_CHECKING

from generator.notation.counts import read_count
from generator.notation.cursor import Cursor
from generator.notation.places import starts_place
from generator.notation.times import read_times
from generator.notation.tree import (
    Chain,
    Convention,
    How,
    Remark,
    Repeat,
    Work,
)

if TYPE_CHECKING:
    from generator.notation.gathering import Gathering
    from generator.notation.passage import Passage


def read_bracket_count(passage: "Passage", inner: Cursor, begin: int, close: int) -> bool:
    c = passage.c
    stated = read_count(Cursor(inner.tokens, inner.i, inner.end))
    if stated is None:
        return False
    said = [t.value for t in inner.tokens[inner.i : inner.end] if t.type == "word"]
    if ("next" in said or "same" in said) and "round" not in said and "row" not in said:
        return False  # `(2 sc in each of next 3 sts) 4 times` is work, not a count
    following = Cursor(c.tokens, close + 1, c.end)
    if following.word("repeat") and stated.total is None:
        return False
    if following.sign(",") and following.peek(1).type == "number" and following.word("times", ahead=2):
        return False
    if read_times(Cursor(c.tokens, close + 1, c.end), star_multiplies=True) is not None and (
        stated.total is None or not passage.folder.items
    ):
        return False
    if starts_place(following) and not following.word("to", "of", "on") and stated.kinds:
        return False
    c.i = close + 1
    span = c.span(begin)
    if stated.rounds and stated.total is None and not stated.kinds:
        previous = passage.stated
        passage.stated = replace(previous, rounds=stated.rounds) if previous else replace(stated, span=span)
        return True
    if not passage.folder.items and c.done() and stated.total is not None and not stated.kinds:
        passage.stated = replace(stated, span=span)
        return True
    changed = any(t.value in ("increased", "decreased") for t in inner.tokens[inner.i : inner.end])
    if changed or (_made(inner) and not c.done() and not _closes_line(c)):
        passage.folder.add([Remark(span, "", "note")])  # `(shell made)`, `(1 sp made)` in the middle
        return True
    if passage.stated is not None and stated.kinds and stated.total is None and passage.stated.total is not None:
        stated = replace(stated, total=passage.stated.total)
    passage.stated = replace(stated, span=span)
    return True


def _made(inner: Cursor) -> bool:
    return any(t.value in ("work", "increased", "decreased") for t in inner.tokens[inner.i : inner.end])


def _closes_line(c: Cursor) -> bool:
    return all(
        t.type == "sign" or t.value in ("join", "turn", "chain", "fasten-off") or t.type == "number"
        for t in c.tokens[c.i : c.end]
    )


def counts_as(passage: "Gathering", inner: Cursor, close: int) -> bool:
    """`(counts as dc)`, `(= 1 tr, 2 ch)`, `(does not count)`, `(counts as first dc and ch 2)`, `(for 1st tr)` behind a chain."""
    c = passage.c
    items = passage.folder.items
    last = items[-1] if items else None
    if isinstance(last, Work) and last.target.how is How.FROM_HOOK:
        return _skipped_count(passage, inner, close)
    if not isinstance(last, Chain):
        return False
    stands_in = inner.word("as") and any(t.type == "stitch" for t in inner.tokens[inner.i : inner.end])
    if not (
        stands_in
        or inner.word("counts", "not", "first", "work")
        or inner.sign("=")
        or inner.peek().value in ("does", "this", "these", "is", "do", "here", "acts", "equals", "replaces", "always")
    ):
        return False
    text = [t.value for t in inner.tokens[inner.i : inner.end]]
    if (
        not stands_in
        and "counts" not in text
        and "=" not in text
        and not any(t in text for t in ("acts", "equals", "replaces", "not"))
    ):
        return False
    stands, extra = "", 0
    negative = "not" in text or "never" in text
    while not inner.done():
        token = inner.take()
        if token.type == "stitch" and not stands:
            stands = token.value
        elif token.type == "word" and token.value == "chain":
            if inner.peek().type == "number":
                extra = inner.take().n
            elif inner.i >= 2 and inner.tokens[inner.i - 2].type == "number":
                extra = inner.tokens[inner.i - 2].n
            else:
                extra = 1
            if not stands and negative:
                extra = 0
        elif token.type == "word" and token.value == "sp" and stands and not extra:
            extra = last.n - 3 if last.n > 3 else 1
    items[-1] = replace(last, stands_for=stands, stands_chains=extra, counts=not negative)
    c.i = close + 1
    return True


def _skipped_count(passage: "Gathering", inner: Cursor, close: int) -> bool:
    """`dc in 4th ch from hook (skipped chs count as dc)`, `(counts as hdc)`, `(skipped ch do not count)`."""
    words = [t.value for t in inner.tokens[inner.i : inner.end]]
    if "counts" not in words and "as" not in words:
        return False
    value = "does not count" if "not" in words or "never" in words else "counts"
    items = passage.folder.items
    items.insert(len(items) - 1, Convention(items[-1].span, "skipped-chains", value))
    passage.c.i = close + 1
    return True


def times_only(passage: "Passage", inner: Cursor, close: int) -> bool:
    """`inc (6 times)`, `dec (3 times)`: the bracket only says how often."""
    probe = Cursor(inner.tokens, inner.i, inner.end)
    said = read_times(probe)
    if said is None or not probe.done() or not passage.folder.items or said.times.to_end:
        return False
    passage.c.i = close + 1
    items = passage.folder.items
    last = items[-1]
    if isinstance(last, Repeat):
        return True  # `rep from * 5 times (6 times in all)`: said again
    items[-1] = Repeat(last.span, (last,), said.times, 0, "")
    return True

"""One sign, many jobs: a bracket is a repeat, a group in one place, a count, what a chain counts as, a definition of a
stitch, or an aside. What stands inside and what follows decide."""

from dataclasses import replace
from typing import TYPE_CHECKING

from generator.notation.bracket_counts import counts_as, read_bracket_count, times_only
from generator.notation.bracket_names import definition
from generator.notation.cursor import Cursor
from generator.notation.groups import as_parts, in_place
from generator.notation.netting import squares_named
from generator.notation.picots import explained
from generator.notation.places import starts_place
from generator.notation.prose import remark
from generator.notation.times import Said, read_times
from generator.notation.tokens import Token
from generator.notation.tree import (
    Chain,
    Choice,
    Define,
    Option,
    Remark,
    Repeat,
    Step,
    Times,
    Unread,
    Work,
    Yarn,
)
from generator.source import Span

if TYPE_CHECKING:
    from generator.notation.passage import Passage


_ASIDES = ("known", "also", "called", "i.e", "ie", "e.g", "see", "that", "which", "so", "it", "if", "when")


def read_bracket(passage: "Passage") -> None:
    """Take the bracket at the cursor and all that belongs to it."""
    c = passage.c
    begin = c.i
    close = c.closing()
    if close is None:
        c.take()
        span = c.span(begin)
        passage.folder.add([Unread(span, c.tokens[begin].value)])
        return
    inner = c.inside(close)
    if _names_yarn(passage, inner, close):
        return
    if squares_named(c, inner, close, passage.folder.items[-1] if passage.folder.items else None):
        passage.folder.add([Remark(c.span(begin), "", "note")])
        return
    if (
        read_bracket_count(passage, inner, begin, close)
        or counts_as(passage, inner, close)
        or times_only(passage, inner, close)
    ):
        return
    if definition(passage, inner, begin, close) or _stands_first(passage, inner, close):
        return
    if explained(passage.folder.items, inner, passage.memory):
        c.i = close + 1
        return
    sub = passage.sub(inner)
    steps, _ = sub.folder.done()
    c.i = close + 1
    span = c.span(begin)
    if c.tokens[begin + 1].value in _ASIDES:
        passage.folder.add([remark(c.tokens[begin + 1 : close], span)])
        return
    mark = c.i
    if c.sign(",") and (c.word("repeat", ahead=1) or (c.peek(1).type == "number" and c.word("times", ahead=2))):
        c.take()
    said = _repeat_after(c)
    if said is not None:
        passage.folder.add([_repeat(tuple(steps), said, span.cover(c.span(begin)), c.tokens[begin].value)])
        _after_repeat(passage)
        return
    c.i = mark
    if starts_place(c) and not c.word("of", "to") and _works(steps):
        target = in_place(c)
        if target is not None:
            passage.folder.add(group_in(tuple(steps), target, span.cover(c.span(begin))))
            _and_in_others(passage, tuple(steps))
            passage.folder.segment = len(passage.folder.items)
            return
    if not steps or not _works(steps) or _aside(steps, c.tokens[begin + 1]):
        words = c.tokens[begin + 1 : close]
        passage.folder.add([remark(words, span)])
        return
    # Steps in a bracket with nothing behind it: once, or (the count decides) to the end of the round.
    once = Option(tuple(steps), "worked once")
    around = Option(
        (Repeat(span, tuple(steps), Times(to_end=True), 0, c.tokens[begin].value),), "repeated to the end", 1
    )
    named = _names_last(passage, steps, c.tokens[begin - 1] if begin else None)
    if named:
        passage.folder.add([Remark(span, "", "note")])
        return
    passage.folder.add([Choice(span, "bracket", (once, around))])


def _stands_first(passage: "Passage", inner: Cursor, close: int) -> bool:
    """`A treble in each (chain 3 for 1st treble)`: what the first stitch said is worked as; it makes no further one."""
    at = 1 if inner.peek().type == "number" else 0
    if not inner.word("chain", ahead=at) or (not at and inner.peek(1).type != "number"):
        return False
    at = 2
    while inner.word("as", "the", "counts", ahead=at) or inner.peek(at).value in ("instead", "to"):
        at += 1
    if at == 2 or not (inner.word("first", ahead=at) or (inner.peek(at).type == "ordinal" and inner.peek(at).n == 1)):
        return False
    if inner.peek(at + 1).type != "stitch" or not any(isinstance(s, (Work, Choice)) for s in passage.folder.items):
        return False
    passage.c.i = close + 1
    span = Span(inner.tokens[inner.i - 1].start, inner.tokens[close].end)
    passage.folder.add([remark(inner.tokens[inner.i : close], span)])
    return True


def _names_yarn(passage: "Passage", inner: Cursor, close: int) -> bool:
    """`With A (reed green)`: the yarn just taken up, by its other name."""
    last = passage.folder.items[-1] if passage.folder.items else None
    if not isinstance(last, Yarn) or not last.name:
        return False
    words = " ".join(token.value for token in inner.tokens[inner.i : inner.end])
    if passage.memory.names.get(words) != last.name:
        return False
    passage.c.i = close + 1
    return True


def group_in(steps: tuple[Step, ...], target: object, span: Span) -> list[Step]:
    """The bracket's steps in one place; or, where the place is many, the steps over them."""
    from generator.notation.tree import Group, Target

    assert isinstance(target, Target)
    return [Group(span, as_parts(steps), target)]


def _and_in_others(passage: "Passage", steps: tuple[Step, ...]) -> None:
    """`(sc, dc, sc) in same sp and in each ch-3 sp around`: the same group in further places."""
    c = passage.c
    mark = c.i
    if not (c.word("and") and c.word("in", ahead=1)):
        return
    c.take()
    target = in_place(c)
    if target is None or not (c.done() or c.sign(",", ".", ";") or c.word("join", "turn")):
        c.i = mark
        return
    passage.folder.add(group_in(steps, target, c.span(mark)))


def _works(steps: list[Step]) -> bool:
    return any(not isinstance(s, (Remark, Define)) for s in steps)


def _aside(steps: list[Step], first: Token) -> bool:
    """Words in brackets that were not understood and hold no instruction are an aside."""
    if first.type == "other" and any(isinstance(s, Unread) for s in steps):
        return True
    if any(isinstance(s, Unread) for s in steps):
        return not any(isinstance(s, (Work, Chain, Choice, Repeat)) for s in steps)
    return False


def _names_last(passage: "Passage", steps: list[Step], token: Token | None) -> bool:
    """`3 dc in next st (1 shell made)`, `16 dc (1 in each)`, `2 dc in next st (inc)`: told again, not worked again."""
    before = passage.folder.items[-1] if passage.folder.items else None
    if not isinstance(before, Work) or len(steps) != 1 or not isinstance(steps[0], Work):
        return False
    shaping = (steps[0].increase or steps[0].decrease) and not (before.increase or before.decrease)
    if shaping and token is not None and token.type != "sign":
        return True
    return steps[0].stitch == before.stitch and steps[0].target == before.target


def _repeat_after(c: Cursor) -> Said | None:
    begin = c.i
    if c.word("repeat"):
        c.take()
        c.skip_words("this", "these", "instructions", "pattern")
        said = read_times(c)
        if said is not None:
            return replace(said, sure=True) if not said.more else said
        if c.word("from", "row", "round", "last", "the") or c.sign("*"):
            c.i = begin
            return None
        return Said(Times(to_end=True))
    said = read_times(c, star_multiplies=True)
    if said is not None:
        return said
    if (
        c.peek().type == "number"
        and not c.word("chain", "st", "row", "round", ahead=1)
        and c.peek(1).type not in ("stitch",)
        and (c.sign("(", "[", "{", "=", ".", ";", ahead=1) or c.peek(1).type == "end")
    ):
        return Said(Times(c.take().n))  # `(sc, inc) 6 (18)`
    c.i = begin
    return None


def _repeat(steps: tuple[Step, ...], said: Said, span: Span, sign: str) -> Step:
    times = replace(said.times, n=said.times.n + 1) if said.more else said.times
    return Repeat(span, steps, times, 0, sign)


def _after_repeat(passage: "Passage") -> None:
    """`(…) twice in next sp`: repeated in one place; `(…) 6 times more` was read; a number glued on is its count."""
    c = passage.c
    if starts_place(c) and c.word("in") and not c.word("same", ahead=1):
        mark = c.i
        target = in_place(c)
        if target is not None and target.count == 1:
            last = passage.folder.items.pop()
            passage.folder.add(group_in((last,), target, last.span.cover(c.span(mark))))
        else:
            c.i = mark
    passage.folder.segment = len(passage.folder.items)

"""One sign, many jobs: a bracket is a repeat, a group in one place, a count, what a chain counts as, a definition of a
stitch, or an aside. What stands inside and what follows decide."""

from dataclasses import replace
from typing import TYPE_CHECKING

from generator.notation.counts import read_count
from generator.notation.cursor import Cursor
from generator.notation.groups import as_parts, in_place
from generator.notation.picots import explained
from generator.notation.places import starts_place
from generator.notation.prose import remark
from generator.notation.times import Said, read_times
from generator.notation.tokens import Token
from generator.notation.tree import (
    Chain,
    Choice,
    Convention,
    Define,
    How,
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
    from generator.notation.gathering import Gathering
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
    if _count(passage, inner, begin, close) or counts_as(passage, inner, close) or _times_only(passage, inner, close):
        return
    if _definition(passage, inner, begin, close) or _stands_first(passage, inner, close):
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
    if inner.peek(at + 1).type != "stitch" or not any(isinstance(s, Work | Choice) for s in passage.folder.items):
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


def _count(passage: "Passage", inner: Cursor, begin: int, close: int) -> bool:
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


def _times_only(passage: "Passage", inner: Cursor, close: int) -> bool:
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


def _definition(passage: "Passage", inner: Cursor, begin: int, close: int) -> bool:
    """`(popcorn: 5 dc in same st, …)`, `(to decrease: …)`, `(shell made)`: explains and makes nothing."""
    c = passage.c
    at = inner.i
    while (
        at < inner.end
        and at < inner.i + 6
        and not (inner.tokens[at].type == "sign" and inner.tokens[at].value in (":", "=", ",", ";"))
    ):
        at += 1
    colon = at < inner.end and inner.tokens[at].value in (":",) and at > inner.i
    words = [t.value for t in inner.tokens[inner.i : inner.end]]
    if colon:
        c.i = close + 1
        passage.folder.add(
            [Define(c.span(begin), " ".join(words[: at - inner.i]), " ".join(words[at - inner.i + 1 :]))]
        )
        return True
    if "dec" in words and "shell" in words and _names_decrease(passage):
        c.i = close + 1
        return True
    if words and (
        words[-1] == "work"
        or (
            words[0]
            in (
                "this",
                "these",
                "first",
                "note",
                "see",
                "to",
                "the",
                "always",
                "by",
                "for",
                "as",
                "a",
                "right",
                "wrong",
                "center",
                "front",
                "back",
                "or",
            )
            and not any(t.type == "stitch" for t in inner.tokens[inner.i : inner.end])
        )
    ):
        c.i = close + 1
        if _names_group(passage, words):
            return True
        passage.folder.add([remark(inner.tokens[inner.i : inner.end], c.span(begin))])
        return True
    if words and words[0] in ("a", "=") and len(words) > 1:
        words = words[1:]
    plain = not any(t.type in ("sign", "number", "stitch") for t in inner.tokens[inner.i + 1 : inner.end])
    if (
        plain
        and len(words) <= 4
        and words
        and words[0]
        in (
            "shell",
            "picot",
            "cluster",
            "mesh",
            "popcorn",
            "v",
            "puff",
            "bobble",
            "sp",
            "loop",
            "corner",
            "pattern",
            "group",
        )
    ) or (len(words) == 1 and inner.peek().type == "other"):
        following = Cursor(c.tokens, close + 1, c.end)
        if read_times(following, star_multiplies=True) is None:
            c.i = close + 1
            if starts_place(following):
                passage.naming = words[0]
                return True
            if _names_group(passage, words):
                return True
            passage.folder.add([remark(inner.tokens[inner.i : inner.end], c.span(begin))])
            return True
    return False


def _names_decrease(passage: "Passage") -> bool:
    """`… (a decrease of 1 shell)`: what was just worked is what `decrease in next 2 shells` means from here on."""
    last = passage.folder.items[-1] if passage.folder.items else None
    step = last.options[0].steps[0] if isinstance(last, Choice) else last
    if not isinstance(step, Work):
        return False
    passage.memory.specials["decrease"] = (step,)
    passage.folder.add([Remark(step.span, "", "note")])
    return True


def _names_group(passage: "Passage", words: list[str]) -> bool:
    """`… in next loop (shell made)` names the group just read; later lines may call it by that name."""
    from generator.notation.tree import Group

    name = next(
        (w for w in words if w in ("shell", "fan", "picot", "v", "cluster", "group", "popcorn", "puff", "bobble")), ""
    )
    for item in reversed(passage.folder.items[-3:]):
        step = item.options[0].steps[0] if isinstance(item, Choice) and item.options[0].steps else item
        if name and isinstance(step, Group):
            passage.memory.specials[name] = step.steps
            passage.folder.add([Remark(step.span, "", "note")])
            return True
        if name and isinstance(step, Work) and step.each > 1:
            passage.memory.specials[name] = (replace(step, target=type(step.target)(implied=True)),)
            passage.folder.add([Remark(step.span, "", "note")])
            return True
    return False


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

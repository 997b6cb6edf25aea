"""Earlier courses worked again, and work that goes on evenly."""

from generator.notation.cursor import Cursor
from generator.notation.memory import Memory
from generator.notation.multiples import plain
from generator.notation.phrases import LENGTHS, clause_word, fraction, rest_of_clause
from generator.notation.times import read_times
from generator.notation.tree import (
    Again,
    Along,
    How,
    Measure,
    Repeat,
    Step,
    Target,
    Times,
    Work,
    Yarn,
)
from generator.notation.yarns import yarn_words


def again(c: Cursor, memory: Memory) -> list[Step] | None:
    """`Rep Rnd 2`, `Repeat last 2 rows twice`, `same as 5th row`, `like the 3d row`, `Work even for 3 rnds`."""
    begin = c.i
    c.skip_words("work", "and", "the")
    if rows := rows_more(c, memory, begin):
        return rows
    lead = c.peek()
    if c.word("repeat"):
        c.take()
        c.skip_words("the", "these", "this", "for")
    elif c.word("same") and (c.word("as", ahead=1) or c.peek(1).value in ("like",)):
        c.i += 2
        c.skip_words("the", "for", "on")
    elif c.word("as") or lead.value in ("like",):
        c.take()
        c.skip_words("the", "for", "in", "on", "given")
    elif lead.type == "ordinal" and c.word("row", "round", ahead=1) and c.peek(2).value in ("once", "twice", "again"):
        pass  # `then 6th row once`
    else:
        c.i = begin
        return None
    numbers: list[int] = []
    last = 0
    named = False
    if c.word("last", "previous") or c.peek().value in ("these", "this", "those"):
        c.take()
        last = c.take().n if c.peek().type == "number" else 1
        named = c.word("row", "round")
        if named:
            c.take()
    elif c.word("row", "round"):
        named = True
        if c.tokens[c.i - 1].value == "the" or c.word("row", "round"):
            c.take()
        numbers = _round_numbers(c)
        if not numbers and (c.tokens[c.i - 2].value in ("this", "the") or c.peek().type != "number"):
            last = 1
    elif c.peek().type in ("ordinal", "number"):
        numbers = _round_numbers(c)
        named = c.word("row", "round")
        if named:
            c.take()
            c.skip_words("again", "only")
        elif not (lead.value in ("like",) or lead.value in ("same", "as")):
            c.i = begin
            return None
        else:
            named = bool(numbers)
    if not named:
        c.i = begin
        return None
    return [_again_end(c, begin, numbers, last)]


def rows_more(c: Cursor, memory: Memory, begin: int) -> list[Step] | None:
    """`work 2 more rows`, `2 rows Red`, `work in same manner`: the course before, so often again."""
    mark = c.i
    if c.peek().type == "number":
        n = c.take().n
        c.skip_words("more", "additional")
        if c.word("row", "round"):
            c.take()
            c.skip_words("work", "more")
            if c.word("in", "with") and not c.word("same", ahead=1):
                c.take()
            if c.sequence("in", "same") or c.sequence("in", "the", "same"):
                clause_word(c)
                return [Again(c.span(begin), (), 1, n)]
            if c.sequence("in", "pattern"):
                return [Again(c.span(begin), (), 1, n)]
            name = yarn_words(c, memory)
            if name:
                return [Yarn(c.span(begin), name, "with"), Again(c.span(begin), (), 1, n)]
            if (c.done() or c.sign(".", ",", ";")) and (
                c.tokens[mark - 1].value == "work"
                or c.tokens[c.i - 1].value == "more"
                or any(t.value == "more" for t in c.tokens[mark : c.i])
            ):
                return [Again(c.span(begin), (), 1, n)]
    elif (
        c.tokens[c.i - 1].value in ("work",)
        and c.word("in")
        and (c.word("same", ahead=1) or c.sequence("in", "the", "same"))
    ):
        c.skip_words("in", "the", "same")
        if c.peek().value in ("manner", "way", "pattern"):
            clause_word(c)
            return [Again(c.span(begin), (), 1, 1)]
    c.i = mark
    return None


def _round_numbers(c: Cursor) -> list[int]:
    out: list[int] = []
    span = False
    while True:
        token = c.peek()
        if token.type in ("number", "ordinal"):
            if c.word("times", "more", ahead=1) or (
                out and not span and c.tokens[c.i - 1].type in ("number", "ordinal") and not token.glued
            ):
                break
            c.take()
            if (span or token.glued) and out and token.n > out[-1]:
                out.extend(range(out[-1] + 1, token.n + 1))
            else:
                out.append(token.n)
            span = False
        elif out and c.sign("-", "–", "—") and c.sign("-", "–", "—", ahead=1):
            c.i += 2
            span = True
        elif out and (c.sign("-", "–", "—") or (c.word("to") and c.peek(1).type in ("number", "ordinal"))):
            c.take()
            c.skip_words("row", "round")
            span = True
        elif (
            out
            and (c.word("and") or c.sign(",", "&"))
            and (
                c.peek(1).type in ("number", "ordinal")
                or (c.word("row", "round", ahead=1) and c.peek(2).type == "number")
            )
        ):
            c.take()
            c.skip_words("row", "round")
        elif out and c.sign(",") and c.word("and", ahead=1) and c.peek(2).type in ("number", "ordinal"):
            c.i += 2
        else:
            return out
    return out


def _again_end(c: Cursor, begin: int, numbers: list[int], last: int) -> Step:
    passes, until, length, opened, ending = 1, 0, 0.0, False, 0
    if changes(c):
        return Again(c.span(begin), tuple(numbers), last or 1, 1, 0, 0.0, True, 0)
    c.skip_words("in", "succession", "again", "as", "only", "exactly", "for", "pattern", "each")
    if c.peek().type == "number" and c.word("more", ahead=1) and c.word("row", "round", "times", ahead=2):
        passes = c.take().n
        c.i += 2
    elif (c.peek().type == "number" and c.word("times", "row", "round", ahead=1)) or c.peek().value in (
        "once",
        "twice",
        "thrice",
    ):
        said = read_times(c)
        if said is not None:
            passes = said.times.n
        elif c.word("row", "round", ahead=1):
            passes = c.take().n
            c.take()
        c.skip_words("more", "times")
    if c.word("until", "to") or (c.sign(",") and c.word("until", ahead=1)):
        if c.sign(","):
            c.take()
        until, length, opened = read_until(c)
    if (c.word("ending") or (c.sign(",") and c.word("ending", ahead=1))) and _ending_round(c):
        ending = c.tokens[c.i - 1].n
    return Again(c.span(begin), tuple(numbers), last or 1, passes, until, length, opened, ending)


_CHANGING = ("having", "always", "work", "but", "inc", "dec", "for", "except", "only")


def changes(c: Cursor) -> bool:
    """`… having one more shell in each row until there are 18`: like it, but growing; how often is not worked out."""
    ahead = 1 if c.sign(",") else 0
    token = c.peek(ahead)
    if (
        token.value not in _CHANGING
        or (token.value == "for" and c.peek(ahead + 1).value != "remaining")
        or token.value == "only"
    ):
        return False
    if token.value == "as" or (token.value == "work" and c.peek(ahead + 1).type == "number" and False):
        return False
    while not c.done() and not c.sign("."):
        c.take()
    return True


def _ending_round(c: Cursor) -> bool:
    mark = c.i
    while c.sign(",") or c.word("ending", "with", "in", "on", "a", "the", "row", "round", "after"):
        c.take()
    if c.peek().type in ("number", "ordinal"):
        c.take()
        return True
    c.i = mark
    return False


def read_until(c: Cursor) -> tuple[int, float, bool]:
    """`until there are 60 sts`, `until piece measures 10 cm`, `until desired length`: stitches, mm, open end."""
    begin = c.i
    at = c.i
    number = 0.0
    while at < c.end and not (c.tokens[at].type == "sign" and c.tokens[at].value in (".", ";", ")")):
        token = c.tokens[at]
        if token.type == "number":
            number = float(token.n)
            after = c.tokens[at + 1] if at + 1 < c.end else None
            if (
                after is not None
                and after.value in LENGTHS
                and not (after.value == "in" and at + 2 < c.end and c.tokens[at + 2].value in ("next", "each"))
            ):
                c.i = at + 2
                rest_of_clause(c)
                return 0, number * LENGTHS[after.value], False
            if after is not None and (after.type == "stitch" or after.value in ("st",)):
                c.i = at + 2
                rest_of_clause(c)
                return int(number), 0.0, False
        if token.type in ("decimal", "fraction") and at + 1 < c.end and c.tokens[at + 1].value in LENGTHS:
            value = fraction(token.value) + number if token.type == "fraction" else float(token.value)
            c.i = at + 2
            rest_of_clause(c)
            return 0, value * LENGTHS[c.tokens[at + 1].value], False
        at += 1
    c.i = begin
    rest_of_clause(c)
    return 0, 0.0, True


def evenly(c: Cursor, memory: Memory) -> list[Step] | None:
    """`Work even for 5 rnds`, `work even until piece measures 10 cm`, `sc evenly around`, `work straight`."""
    begin = c.i
    c.skip_words("work", "and", "continue", "continuing")
    if c.word("evenly") or c.peek().value in ("straight",):
        c.take()
        c.skip_words("in", "pattern", "as", "on", "these", "st", "the", "established")
        if c.peek().type == "stitch":
            memory.stitch = plain(c.take().value)
        c.skip_words("for", "in", "pattern", "work")
        if c.word("until", "to"):
            _until_stitches, length, _opened = read_until(c)
            return [Measure(c.span(begin), length)]
        if c.peek().type in ("number", "fraction", "decimal") and c.peek(1).value in LENGTHS:
            token = c.take()
            value = (
                float(token.n)
                if token.type == "number"
                else fraction(token.value)
                if token.type == "fraction"
                else float(token.value)
            )
            return [Measure(c.span(begin), value * LENGTHS[c.take().value])]
        if c.peek().type == "number":
            n = c.take().n
            c.skip_words("more", "row", "round")
            each = Work(c.span(begin), memory.stitch, 1, Target(How.EACH))
            return (
                [Repeat(c.span(begin), (each,), Times(1), 0, ""), Again(c.span(begin), (), 1, n - 1)]
                if n > 1
                else [each]
            )
        if c.word("around", "across"):
            c.take()
        return [Work(c.span(begin), memory.stitch, 1, Target(How.EACH))]
    c.i = begin
    return None


def edging(c: Cursor, memory: Memory) -> list[Step] | None:
    """`sc evenly around edge`, `work sc along sides`: no count to prove."""
    begin = c.i
    c.skip_words("work", "a", "row", "round", "of")
    if c.peek().type == "stitch" and c.word("evenly", ahead=1):
        name = c.take().value
        c.take()
        c.skip_words("spaced")
        rest_of_clause(c)
        return [Along(c.span(begin), name)]
    c.i = begin
    return None

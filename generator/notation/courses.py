"""Earlier courses worked again, and work that goes on evenly."""

from dataclasses import replace

from generator.notation.cursor import Cursor
from generator.notation.memory import Memory
from generator.notation.phrases import clause_word, rest_of_clause
from generator.notation.times import read_times
from generator.notation.tree import (
    Again,
    Along,
    Step,
    Yarn,
)
from generator.notation.untils import Until, changes, read_until
from generator.notation.yarns import yarn_words


def again(c: Cursor, memory: Memory) -> list[Step] | None:
    """`Rep Rnd 2`, `Repeat last 2 rows twice`, `same as 5th row`, `like the 3d row`, `Work even for 3 rnds`."""
    begin = c.i
    c.skip_words("work", "and", "the")
    _going_on(c)
    if rows := rows_more(c, memory, begin):
        return rows
    lead = c.peek()
    if c.word("repeat", "alternate") or lead.value == "alternating":
        c.take()
        c.skip_words("the", "these", "this", "for", "between", "alternate", "alternating")
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
            named = bool(numbers) and (c.peek().type in ("end", "sign") or lead.value not in ("as",))
    if not named:
        c.i = begin
        return None
    return [_again_end(c, begin, numbers, last)]


def _going_on(c: Cursor) -> None:
    """`Continue in same manner working 2 rows White`: only the rows tell something."""
    mark = c.i
    if c.said("continue", "continuing"):
        c.skip_words("in", "the", "same", "this", "as")
        clause_word(c)
        c.skip_words("work")
        if c.peek().type == "number" and c.word("row", "round", ahead=1):
            return
    c.i = mark


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
    passes, ending, until = 1, 0, Until()
    if (grown := changes(c)) is not None:
        return _until(c, begin, numbers, last, grown)
    c.skip_words("in", "succession", "alternately", "again", "as", "only", "exactly", "for", "pattern", "each")
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
        until = read_until(c)
    if (c.word("ending") or (c.sign(",") and c.word("ending", ahead=1))) and _ending_round(c):
        ending = c.tokens[c.i - 1].n
    return replace(_until(c, begin, numbers, last, until), passes=passes, ending=ending)


def _until(c: Cursor, begin: int, numbers: list[int], last: int, until: Until) -> Again:
    return Again(
        c.span(begin), tuple(numbers), last or 1, 1, until.n, until.length_mm, until.opened, 0, until.kind, until.each
    )  # fmt: skip


def _ending_round(c: Cursor) -> bool:
    mark = c.i
    while c.sign(",") or c.word("ending", "with", "in", "on", "a", "the", "row", "round", "after"):
        c.take()
    if c.peek().type in ("number", "ordinal"):
        c.take()
        return True
    c.i = mark
    return False


def edging(c: Cursor, memory: Memory) -> list[Step] | None:
    """`sc evenly around edge`, `work sc along sides`: no count to prove."""
    begin = c.i
    c.skip_words("work", "a", "row", "round", "of")
    if c.peek().type == "stitch" and c.word("evenly", ahead=1):
        name = c.take().value
        c.take()
        c.skip_words("spaced")
        far = c.i
        rest_of_clause(c)
        beside = any(t.value in ("side", "end", "ends", "ending") for t in c.tokens[far : c.i])
        return [Along(c.span(begin), name, beside=beside)]
    c.i = begin
    return None

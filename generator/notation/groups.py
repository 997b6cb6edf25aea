"""Several stitches in one place: what a bare `3 dc` means inside a group, and places that come first
(`in next sp make tr, ch 3 and tr`)."""

from dataclasses import replace
from typing import TYPE_CHECKING

from generator.notation.chaining import chains
from generator.notation.cursor import Cursor
from generator.notation.picots import closes_here
from generator.notation.places import read_place, starts_place
from generator.notation.said import LOOPS
from generator.notation.stitching import stitches
from generator.notation.times import read_times
from generator.notation.tree import (
    Chain,
    Choice,
    Define,
    Group,
    How,
    Loop,
    Noun,
    Option,
    PartRef,
    Picot,
    Remark,
    Repeat,
    Skip,
    Step,
    Target,
    Work,
)  # fmt: skip
from generator.vocabulary.load import stitch

if TYPE_CHECKING:
    from generator.notation.passage import Passage


def as_parts(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    """Steps of a group: a bare count is so many in that one place."""
    return tuple(_part(step) for step in steps)


def _part(step: Step) -> Step:
    if isinstance(step, Choice) and step.kind in ("n-st", "bracket", "run-in-one"):
        chosen = step.options[-1] if step.kind == "n-st" else step.options[0]
        if len(chosen.steps) == 1:
            return _part(chosen.steps[0])
    if (
        isinstance(step, Work)
        and step.target.how is How.NEXT
        and step.each == 1
        and step.target.count > 1
        and step.target.implied
        and stitch(step.stitch).consumes == 1
    ):
        return replace(step, each=step.target.count, target=replace(step.target, count=1))
    if isinstance(step, Repeat):
        return replace(step, steps=as_parts(step.steps))
    return step


def in_place(c: Cursor) -> Target | None:
    """The place behind a bracket."""
    mark = c.i
    target = read_place(c)
    if target is None:
        c.i = mark
    return target


def place_first(passage: "Passage") -> list[Step] | None:
    """A clause that begins with its place; a loop named for all that follows; a part held on to."""
    c = passage.c
    begin = c.i
    c.skip_words("work", "only")
    if not starts_place(c):
        if c.peek().type == "loop":
            if deeper := _of_a_course(c, begin):
                return deeper
            passage.memory.loop = LOOPS[c.take().value]
            c.skip_words("only", "throughout", "of", "st", "this", "round", "row", "each", "for", "all", "the", "rnd")
            return [Remark(c.span(begin), "", "loops")]
        c.i = begin
        return None
    if loops := _loops_for_all(passage, begin):
        return loops
    target = read_place(c)
    if target is None:
        c.i = begin
        return None
    if target.noun is Noun.CHAIN and target.how is How.NEXT and target.count > 1:
        target = replace(target, noun=Noun.SPACE, size=target.count, count=1)  # `into the 7 chain 2 dc, 5 tr`
    if target.how is How.FROM_HOOK and target.nth > 1 and begin and c.tokens[begin - 1].value == "beginning":
        return [Skip(c.span(begin), target)]  # `starting in 2nd ch from hook, sc in each of next 9 ch`
    ends = c.done() or c.sign(",", ".", ";", ")")
    if ends and passage.take_place(target, c.span(begin)):
        return [Remark(c.span(begin), "", "")]
    c.skip_words("work", "and", "all", "also")
    after = c.i
    if c.sign(",", ":"):
        c.take()
        c.skip_words("work")
    if target.noun is Noun.RING and (c.done() or c.sign(".", ";")):
        c.i = begin
        return None
    if c.sign("(", "["):
        close = c.closing()
        if close is not None:
            inner = passage.sub(c.inside(close))
            steps, _ = inner.folder.done()
            c.i = close + 1
            if steps:
                repeats = read_times(c)
                parts = as_parts(tuple(steps))
                if repeats is not None and not repeats.times.to_end:
                    parts = (Repeat(c.span(begin), parts, repeats.times, 0, "("),)
                elif repeats is not None:
                    target = replace(target, how=How.EACH)
                return [Group(c.span(begin), parts, target)]
    listed, _ended = _list(passage)
    if not any(not isinstance(step, Chain) for step in listed):
        c.i = after
        span = c.span(begin)
        if passage.take_place(target, span) or passage.again_in(target, span):
            return [Remark(span, "", "")]
        c.i = begin
        return None
    return _grouped(passage, begin, target, listed)


def _of_a_course(c: Cursor, begin: int) -> list[Step] | None:
    """`blo of R22: …`, `front loops of Rnd 12, …`: the loops all of the line is worked in, on an earlier course."""
    at = 1
    while c.word("of", "from", "only", "the", "in", ahead=at):
        at += 1
    if (
        c.peek(at).value not in ("round", "row", "r")
        or c.peek(at + 1).type != "number"
        or not c.word("of", "from", ahead=1)
    ):
        return None
    loop, number = LOOPS[c.peek().value], c.peek(at + 1).n
    c.i += at + 2
    return [PartRef(c.span(begin), f"{loop.value} of {number}", number)]


def _grouped(passage: "Passage", begin: int, target: Target, listed: list[Step]) -> list[Step]:
    trailing: list[Step] = []
    while listed and isinstance(listed[-1], Chain):
        trailing.insert(0, listed.pop())
    span = passage.c.span(begin)
    if not listed:
        return trailing
    parts = as_parts(tuple(listed))
    if len(parts) == 1 and isinstance(only := parts[0], Work) and only.target.implied:
        if only.decrease or only.increase:
            return [replace(only, span=span, target=target), *trailing]
        work: Step = Work(span, only.stitch, only.each, target)
        return [work, *trailing]
    return [Group(span, parts, target), *trailing]


def _list(passage: "Passage") -> tuple[list[Step], bool]:
    """`tr, ch 3 and tr`: bare stitches and chains up to the end of the sentence or the `and` that ends the list."""
    c = passage.c
    out: list[Step] = []
    final = False
    while not c.done():
        mark = c.i
        if c.sign(","):
            c.take()
            final = final or (c.word("and") and bool(out))
            c.skip_words("and")
        elif c.word("and") and out:
            c.take()
            final = True
        if (
            (c.sign(".", ";", "(", "[", "*", "**", ")") and not _colon_inside(c) and not _only_named(c, False))
            or c.word("repeat", "join", "turn", "skip")
            or starts_place(c)
        ):
            c.i = mark
            break
        if c.sign("(") and _only_named(c):
            continue
        if defined := _defined(c):
            passage.folder.add([defined])
            continue
        steps = stitches(c, passage.memory) or chains(c, passage.memory)
        if steps and closes_here(c, out, steps[0]):
            continue
        if not steps or not _bare(steps[0]):
            c.i = mark
            break
        out.extend(steps)
        if final:
            break
    return out, final


def _only_named(c: Cursor, take: bool = True) -> bool:
    """`… (picot), …`: what was just made, by its name, where the list goes on; taken when asked to."""
    close = c.closing() if c.sign("(") else None
    if close is None or close > c.i + 4 or not c.tokens[close + 1 : c.end] or not c.sign(",", ahead=close + 1 - c.i):
        return False
    inside = [t.value for t in c.tokens[c.i + 1 : close]]
    if not inside or not all(v in ("picot", "a", "work", "for", "p", "shell", "cluster", "1") for v in inside):
        return False
    c.i = close + 1 if take else c.i
    return True


def _colon_inside(c: Cursor) -> bool:
    """Whether a bracket opens here that explains a stitch: `(s d c: yarn over hook, …)`."""
    close = c.closing() if c.sign("(") else None
    return close is not None and any(t.value == ":" for t in c.tokens[c.i + 2 : min(close, c.i + 7)])


def _defined(c: Cursor) -> Define | None:
    """Such a bracket, taken."""
    close = c.closing() if _colon_inside(c) else None
    if close is None:
        return None
    begin = c.i
    colon = next(k for k in range(c.i, close) if c.tokens[k].value == ":")
    name, words = ([t.value for t in c.tokens[a:b]] for a, b in ((begin + 1, colon), (colon + 1, close)))
    c.i = close + 1
    return Define(c.span(begin), " ".join(name), " ".join(words))


def _bare(step: Step) -> bool:
    if isinstance(step, Choice):
        return step.kind == "n-st"
    return (
        isinstance(step, (Chain, Picot))
        or (isinstance(step, Work) and step.target.implied and step.target.how is How.NEXT)
        or (isinstance(step, Group) and step.target.implied)
    )


def _loops_for_all(passage: "Passage", begin: int) -> list[Step] | None:
    """`in back loops only, …`, `working in front loops of Rnd 4`: holds to the end of the line."""
    c = passage.c
    mark = c.i
    c.take()
    c.skip_words("the", "only", "unused", "free", "remaining", "leftover")
    while c.peek().value in ("unused", "free", "leftover", "left"):
        c.take()
    if c.peek().type != "loop":
        c.i = mark
        return None
    loop = LOOPS[c.take().value]
    c.skip_words("only")
    if (
        c.word("of", "in", "from")
        and not (
            c.word("row", "round", ahead=1)
            or c.word("all", "each", ahead=1)
            or c.peek(1).value in ("all",)
            or c.peek(1).type in ("ordinal",)
        )
        and (c.word("next", "each", "same", ahead=1) or c.peek(1).type in ("number", "stitch"))
    ):
        c.i = mark
        return None
    named = 0
    while (
        not c.done()
        and not c.sign(",", ".", ";", ":", "(", "*", "-", "–", "—")
        and c.peek().type != "stitch"
        and not c.word("work", "inc", "dec", "chain", "skip", "repeat", "join")
        and not (c.peek().type == "number" and c.peek(1).type == "stitch")
    ):
        if c.word("round", "row") and c.peek(1).type == "number":
            named = c.peek(1).n
        c.take()
    if named:
        return [PartRef(c.span(begin), f"{loop.value} of {named}", named)]
    passage.memory.loop = loop
    return [Remark(c.span(begin), "", "loops")]


def placed(target: Target, loop: Loop) -> Target:
    """A place with its loop, unless it has one."""
    return replace(target, loop=loop) if target.loop is Loop.BOTH else target


def option(steps: tuple[Step, ...], reason: str, cost: int = 0) -> Option:
    """One way to read a phrase."""
    return Option(steps, reason, cost)

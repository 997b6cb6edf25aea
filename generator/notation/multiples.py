"""How many, said around a stitch: before it, behind it, `x 3`, `with ch 1 between`."""

from dataclasses import replace

from generator.notation.cursor import Cursor
from generator.notation.times import read_times
from generator.notation.tree import (
    NEXT,
    Chain,
    Choice,
    How,
    Noun,
    Option,
    Step,
    Target,
    Work,
)
from generator.source import Span
from generator.vocabulary.load import stitch


def plain(identity: str) -> str:
    base = stitch(identity).base
    return base if base in ("sc", "hdc", "dc", "tr", "dtr", "trtr", "qtr") else "sc"


def read_multiple(c: Cursor) -> int:
    """`x 3`, `3 times`, `twice` right behind a stitch: 0 when not said."""
    mark = c.i
    said = read_times(c)
    if said is not None and not said.times.to_end and not said.more:
        return said.times.n
    c.i = mark
    return 0


def count_after(c: Cursor) -> bool:
    """A number behind the stitch is its count, unless it begins something else (`dc 2 sc in next`)."""
    following = c.peek(1)
    if following.type in ("stitch", "number"):
        return False
    if following.type == "word" and following.value in (
        "inc",
        "dec",
        "chain",
        "times",
        "row",
        "round",
        "more",
        "shell",
    ):
        return False
    return following.value not in ("x", "cm", "inches", "inch")


def chains_said(c: Cursor) -> int:
    """`4 chain`, `ch 4`, `chain`: how many, taken; 0 where no chain is said."""
    if c.peek().type == "number" and c.word("chain", ahead=1):
        n = c.take().n
        c.take()
        return n
    if not c.word("chain"):
        return 0
    c.take()
    return c.take().n if c.peek().type == "number" else 1


def with_chains(c: Cursor, identity: str, each: int) -> tuple[Step, ...] | None:
    """`with ch 1 between (each dc)`: the group it makes."""
    mark = c.i
    if c.sign(",") and c.word("with", ahead=1):
        c.take()
    if not c.word("with"):
        c.i = mark
        return None
    c.take()
    c.skip_words("a")
    n = chains_said(c)
    if not n or not c.word("between"):
        c.i = mark
        return None
    c.take()
    c.skip_words("each", "them", "the", "these", "every", "group")
    if c.peek().type == "stitch":
        c.take()
    c.skip_words("st", "group", "each")
    steps: list[Step] = []
    span = c.span(mark)
    for i in range(each):
        if i:
            steps.append(Chain(span, n))
        steps.append(Work(span, identity, 1, NEXT))
    return tuple(steps)


def place_follows_around(c: Cursor) -> bool:
    """`around next dc`, `around post of`: the place of a post stitch, not the whole round."""
    return (
        c.peek(1).type in ("stitch", "ordinal")
        or c.word(
            "next",
            "post",
            "same",
            "st",
            "each",
            "first",
            "last",
            "sp",
            "chain",
            "ending",
            "corner",
            "loop",
            "top",
            "turning",
            ahead=1,
        )
        or (c.word("the", "a", ahead=1) and not c.word("ring", "row", "round", ahead=2))
        or (c.peek(1).type == "number" and c.peek(2).type == "stitch")
    )


def evenly_along(c: Cursor, begin: int, identity: str, n: int, piece: str = "") -> list[Step]:
    """`40 sc evenly around armhole`: so many along an edge that is no course of this piece."""
    while not c.done() and not c.sign(".", ",", ";", "(", ")"):
        c.take()
    return [Work(c.span(begin), identity, 1, Target(How.NEXT, Noun.ROW_END, count=n, kind=piece))]


def placed(
    identity: str,
    n: int | None,
    number: int,
    target: Target,
    span: Span,
    consumes: int,
    said_each: bool = False,
    said_the: bool = False,
    said_on: bool = False,
) -> list[Step]:
    each = number or n or 1
    if target.noun is Noun.CHAIN and target.how is How.NEXT and 1 < target.count != each > 1 and not said_each:
        # `23 plain on the 12 chain`: that many over one loop or ring of so many chains
        target = replace(target, noun=Noun.SPACE, size=target.count, count=1)
    loops = target.noun is Noun.CHAIN and target.how is How.NEXT and target.count > 1 == each and not said_each
    if target == Target(kind=target.kind) and target.kind and each > 1 and n and said_on:
        target = replace(target, count=each)  # `6 trebles on trebles`: one on each of six
    if loops and n == 1 and identity != "sl-st":
        # `1 dc in the 7 chain` is one in that loop; `1 dc in next 7 ch` seven, one in each
        each_chain = Option((Work(span, identity, 1, target),), f"one in each of {target.count} chains")
        loop = replace(target, noun=Noun.SPACE, size=target.count, count=1)
        under = Option((Work(span, identity, 1, loop),), f"one under {target.count} chains")
        first, second = (under, each_chain) if said_the else (each_chain, under)
        return [Choice(span, "n-chain", (first, replace(second, cost=1)))]
    if consumes > 1:
        count = target.count if target.how is How.NEXT else 1
        if target.how is How.NEXT:
            count = max(count, consumes) if count in (1, consumes) else count
            if count in (consumes,) and each > 1:
                count = each * consumes
        return [Work(span, identity, 1, replace(target, count=count))]
    if target.how is How.NEXT and target.count > 1 and each == target.count and not said_each:
        along = Work(span, identity, 1, target)
        return [
            Choice(
                span,
                "n-in-n",
                (
                    Option((along,), f"{each} over the next {each}"),
                    Option((Work(span, identity, each, target),), f"{each} in each of the next {each}", 2),
                ),
            )
        ]
    if target.how is How.EACH and each > 1 and target.noun is Noun.STITCH and n and n > 4:
        all_round = Work(span, identity, 1, target)
        return [
            Choice(
                span,
                "n-around",
                (
                    Option((Work(span, identity, each, target),), f"{n} in each stitch"),
                    Option((all_round,), f"{n} is the round's count", 1),
                ),
            )
        ]
    return [Work(span, identity, each, target)]

"""How many of a stitch and where, once its name is read."""

from dataclasses import replace

from generator.notation.cursor import Cursor
from generator.notation.lastheap import placed_at
from generator.notation.memory import Memory
from generator.notation.multiples import (
    count_after,
    evenly_along,
    place_follows_around,
    placed,
    read_multiple,
    with_chains,
)
from generator.notation.phrases import manner
from generator.notation.pieces import along_bridge, piece_ahead, piece_named
from generator.notation.places import read_place, starts_place
from generator.notation.said import LOOPS
from generator.notation.times import read_times
from generator.notation.tree import (
    NEXT,
    Chain,
    Choice,
    Group,
    How,
    Join,
    Loop,
    Noun,
    Option,
    Repeat,
    Step,
    Target,
    Times,
    Work,
)
from generator.vocabulary.load import stitch


def count_and_place(c: Cursor, memory: Memory, identity: str, n: int | None, begin: int, loop: Loop) -> list[Step]:
    consumes = stitch(identity).consumes
    after = 0
    if c.peek().type == "number" and count_after(c):
        after = c.take().n
        c.skip_words("st")
    if (n or after) and c.peek().value in ("around", "along", "across", "on") and piece_ahead(c, 1):
        return evenly_along(c, begin, identity, n or after, piece_named(c, 1))
    if (n or after) and (n or after) > 4 and _edge_of_piece(c):
        return evenly_along(c, begin, identity, n or after)
    if (n or after) and along_bridge(c):
        return [Work(c.span(begin), identity, 1, Target(How.NEXT, Noun.CHAIN, count=n or after))]
    multiple = 0 if after else read_multiple(c)
    if c.word("around", "across") and not place_follows_around(c):
        mark = c.i
        said = read_times(c)
        if said is not None and said.times.to_end:
            whole = Target(How.EACH, loop=loop, implied=True, leave=said.times.leave)
            # `12 sc around` names the whole round's count; `2 sc around` cannot be read so, but rarely is meant.
            if n and n > 1:
                each = Work(c.span(begin), identity, n, whole)
                all_round = Work(c.span(begin), identity, 1, whole)
                return [
                    Choice(
                        c.span(begin),
                        "n-around",
                        (Option((all_round,), f"{n} is the round's count"), Option((each,), f"{n} in each stitch", 1)),
                    )
                ]
            return [Work(c.span(begin), identity, 1, whole)]
        c.i = mark
    target: Target | None = None
    if identity == "sl-st" and c.word("to") and c.word("join", ahead=1):
        c.i += 2
        target = read_place(c) if starts_place(c) and not c.word("of") else None
        return [Join(c.span(begin), "sl-st", target or Target(how=How.FIRST))]
    group = with_chains(c, identity, n or 2)
    manner(c)
    if (n or after) and c.word("evenly"):
        return evenly_along(c, begin, identity, n or after)
    if c.peek().value in ("all", "both", "taken", "again") and starts_place(c, 1):
        c.take()
    if c.word("across") and c.word("next", "each", "sp", ahead=1):
        c.take()
    if c.peek().type == "loop":
        loop = LOOPS[c.take().value]
        c.skip_words("only", "of", "in")
        if c.word("around", "across"):
            return [Work(c.span(begin), identity, n or 1, Target(How.EACH, loop=loop))] if c.take() else []
    if (starts_place(c) and not (c.word("to", "of"))) or (c.word("to") and identity == "sl-st"):
        target = read_place(c)
    elif (
        c.word("next", "each")
        or (c.peek().type == "ordinal" and c.peek(1).type in ("word",) and c.word("st", "chain", ahead=1))
        or (c.word("same") and c.word("st", "sp", "place", "loop", ahead=1))
        or c.peek().value == "mr"
    ):
        target = read_place(c, bare=True)  # `sc next 3 sts`, `sc 1 2nd st from hook`, `6 sc mr`
    if target is not None and target.loop is Loop.BOTH and loop is not Loop.BOTH:
        target = replace(target, loop=loop)
    if target is not None and target.how is How.EACH and (c.word("around", "across")):
        c.take()
    apart = target is not None and ((target.how is How.EACH and (n or 1) == 1) or target.noun is Noun.RING)
    if group is None and target is not None and not apart:
        group = with_chains(c, identity, n or after or multiple or 2)
        if group is not None and starts_place(c):
            second = read_place(c)
            target = second or target
    span = c.span(begin)
    if group is not None:
        return [Group(span, group, target or NEXT)]
    number = after or multiple
    if target is None:
        base = Target(loop=loop, implied=True)
        if number or consumes != 1 or n is None or n == 1:
            count = number or n or 1
            if consumes > 1:
                count *= consumes
            along = Work(span, identity, 1, replace(base, count=max(1, count)))
            if multiple and n is None and consumes == 1:
                one = Work(span, identity, multiple, base)
                return [
                    Choice(
                        span,
                        "n-st",
                        (Option((along,), f"{multiple} along"), Option((one,), f"{multiple} in one stitch", 1)),
                    )
                ]
            return [along]
        along = Work(span, identity, 1, replace(base, count=n))
        one = Work(span, identity, n, base)
        return [
            Choice(
                span,
                "n-st",
                (Option((along,), "one in each of the next stitches"), Option((one,), f"all {n} in one stitch", 1)),
            )
        ]
    if (
        identity == "sl-st"
        and (target.how is How.FIRST or target.noun is Noun.START)
        and c.word("to")
        and c.word("join", ahead=1)
    ):
        c.i += 2
        c.skip_words("round", "rnd", "the")
        return [Join(c.span(begin), "sl-st", target)]
    words = [t.value for t in c.tokens[begin : c.i]]
    article = n is None and words[0] == "a"  # `a double in next 5 chain`: one, under them
    said_the = article or ("the" in words and "next" not in words)
    n = 1 if article and target.noun is Noun.CHAIN else n
    bare = ("on" in words or "over" in words) and not {"next", "the", "a", "each", "first", "same"} & set(words)
    return placed(identity, n, number, target, span, consumes, "each" in words, said_the, bare)


_EDGES = ("armhole", "armholes", "neck", "neckline", "edge", "opening", "wrist", "cuff", "face", "ankle", "armscye", "legs", "sleeve", "hem", "waist")  # fmt: skip


def _edge_of_piece(c: Cursor) -> bool:
    """`around armhole`, `along the neck edge`, `across the lower edge`: an edge that is no course of this piece."""
    if c.peek().value not in ("around", "along", "across", "up"):
        return False
    at = 1
    while c.peek(at).value in (
        "the",
        "each",
        "entire",
        "outer",
        "lower",
        "upper",
        "front",
        "back",
        "side",
        "this",
        "other",
        "bottom",
        "top",
    ):
        at += 1
    return c.peek(at).value in _EDGES


def v_stitch(c: Cursor) -> tuple[Step, ...]:
    """A V-stitch that nobody has defined: two double crochets with a chain between (common practice, no source)."""
    span = c.span(c.i)
    return (Work(span, "dc"), Chain(span, 1), Work(span, "dc"))


def shell_there(c: Cursor, memory: Memory, n: int | None, begin: int) -> list[Step] | None:
    """A named group worked: `shell in next shell`, `5 shells`. Its stitches come from its definition."""
    name = c.peek().value
    defined = memory.specials.get(name) or (v_stitch(c) if name == "v" else memory.specials.get("shell"))
    if defined is None and memory.heap:
        defined = placed_at(memory.heap, c.span(begin))
    if defined is None:
        c.i = begin
        return None
    c.take()
    c.skip_words("st")
    target = read_place(c) if starts_place(c) and not c.word("of", "to") else None
    span = c.span(begin)
    memory.started = True
    one = Group(span, defined, target or NEXT, name)
    return [one] if not n or n == 1 else [Repeat(span, (one,), Times(n), 0, "")]

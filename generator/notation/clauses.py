"""What one clause tells the maker to do: stitches, chains, skips, joins, yarns, repeats of whole rounds.

Every function looks at the cursor and either takes a clause and gives its steps, or takes nothing and gives None.
"""

from dataclasses import dataclass, field, replace

from generator.notation.cursor import Cursor
from generator.notation.places import LOOPS, read_place, starts_place
from generator.notation.times import read_times
from generator.notation.tokens import Token
from generator.notation.tree import (
    NEXT,
    Again,
    Along,
    Chain,
    Choice,
    FastenOff,
    Foundation,
    Group,
    How,
    Join,
    Loop,
    Measure,
    Noun,
    Option,
    OtherSide,
    Picot,
    Remark,
    Repeat,
    Ring,
    Shape,
    Skip,
    Stay,
    Step,
    Target,
    Times,
    Turn,
    Work,
    Yarn,
)  # fmt: skip
from generator.source import Span
from generator.vocabulary.load import is_stitch, stitch

_INCH = 25.4
LENGTHS = {
    "inch": _INCH,
    "inches": _INCH,
    "in": _INCH,
    '"': _INCH,
    "”": _INCH,
    "″": _INCH,
    "cm": 10.0,
    "mm": 1.0,
    "centimeters": 10.0,
    "centimetres": 10.0,
}


@dataclass(slots=True)
class Memory:
    """What the line has said so far that later words lean on."""

    stitch: str = "sc"
    """The stitch `inc` and `dec` are made of."""
    loop: Loop = Loop.BOTH
    yarns: tuple[str, ...] = ()
    """Yarn keys and colour names known from the header, lower case."""
    names: dict[str, str] = field(default_factory=dict)
    """Lower-case colour name or key to key."""
    started: bool = False
    open_mark: bool = False
    """A `*` is open, so the next one may close it."""
    specials: dict[str, tuple[Step, ...]] = field(default_factory=dict)
    """Stitches defined on the spot or in the header: name to what they are worked as."""


def _place_with_loop(target: Target, memory: Memory) -> Target:
    return target if target.loop is not Loop.BOTH or memory.loop is Loop.BOTH else replace(target, loop=memory.loop)


def stitches(c: Cursor, memory: Memory) -> list[Step] | None:
    """`2 sc in next st`, `sc around`, `dc 3`, `inc x6`, `dc2tog over next 2 sts`, `fpdc around next dc`."""
    begin = c.i
    c.skip_words("work", "a", "again", "and", "only")
    if c.word("last", "first") and c.peek(1).type == "stitch":
        c.take()
    if c.word("st") and c.peek(1).value == "of" and c.peek(2).type == "stitch":
        c.i += 2  # `a stitch of single crochet`
    if (
        c.peek().value in ("another", "extra", "regular", "plain", "normal", "ordinary", "long", "tall", "additional")
        and c.peek().type != "stitch"
    ):
        c.take()
    n: int | None = None
    if c.peek().type == "number" and not (c.word("chain", ahead=1)):
        n = c.take().n
        c.skip_words("more", "additional", "extra")
        if c.peek().value in ("more", "extra", "regular", "complete", "long", "single") and c.peek(1).type == "stitch":
            c.take()
    elif c.peek().type == "ordinal" and c.peek(1).type == "stitch" and c.peek(1).value == "sl-st":
        c.take()
    loop = memory.loop
    if c.peek().type == "loop" and (
        c.peek(1).type == "stitch" or c.word("inc", "dec", ahead=1) or c.peek(1).type == "number"
    ):
        loop = LOOPS[c.take().value]
        if n is None and c.peek().type == "number":
            n = c.take().n
    token = c.peek()
    if token.type == "word" and token.value in ("inc", "dec"):
        return _shaping(c, memory, n, begin, loop)
    if token.type == "stitch":
        identity = token.value
    elif (
        token.type == "word"
        and token.value == "st"
        and n is not None
        and (starts_place(c, 1))
        and not c.word("to", "of", "around", ahead=1)
    ):
        identity = memory.stitch  # `2 sts in next st`: the working stitch
    elif token.type == "word" and token.value == "shell" and not c.word("st", ahead=1):
        return _shell(c, memory, n, begin)
    elif (
        n is not None
        and (memory.started or _ring_next(c))
        and starts_place(c)
        and (c.word("in") and (_short_place(c) or _ring_next(c)))
    ):
        return _short(c, memory, n, begin, loop)  # `2 in next`
    else:
        c.i = begin
        return None
    c.take()
    if c.word("st") and token.type == "stitch":
        c.take()
    if identity in ("picot",):
        return _picot(c, begin, n)
    if c.word("inc", "dec") and token.type == "stitch":  # `dc inc`, `sc dec`
        memory.stitch = _plain(identity)
        return _shaping(c, memory, n, begin, loop)
    identity = _together(c, identity)
    if (
        token.type == "stitch"
        and stitch(identity).family in ("post", "together", "cluster", "foundation")
        and identity != "sl-st"
    ):
        memory.stitch = _plain(identity)
    memory.started = True
    steps = _count_and_place(c, memory, identity, n, begin, loop)
    return steps + _and_in(c, memory, steps, identity, n, loop)


def _and_in(c: Cursor, memory: Memory, steps: list[Step], identity: str, n: int | None, loop: Loop) -> list[Step]:
    """`sc in 2nd ch from hook and in each ch across`: the same stitch in a further place."""
    out: list[Step] = []
    while (
        isinstance(steps[0], Work | Choice)
        and c.word("and")
        and not (isinstance(steps[0], Work) and steps[0].target.implied)
    ):
        mark = c.i
        c.take()
        bare = (c.word("next", "each") and c.peek(1).type != "stitch") or (
            c.word("each") and c.peek(1).type == "stitch"
        )
        if not (starts_place(c) and not c.word("of", "to", "around")) and not bare:
            c.i = mark
            break
        begin = c.i
        target = read_place(c, bare=not starts_place(c))
        listed = (
            c.peek().type == "stitch"
            or c.word("work", "chain")
            or c.sign("(", "[")
            or (c.peek().type == "number" and c.peek(1).type == "stitch")
        )
        if target is None or listed:
            c.i = mark
            break
        if target.loop is Loop.BOTH and loop is not Loop.BOTH:
            target = replace(target, loop=loop)
        out += _placed(identity, n, 0, target, c.span(begin), stitch(identity).consumes)
    return out


def _plain(identity: str) -> str:
    base = stitch(identity).base
    return base if base in ("sc", "hdc", "dc", "tr", "dtr", "trtr", "qtr") else "sc"


def _together(c: Cursor, identity: str) -> str:
    """`sc 2 together`, `dc next 3 sts together`: closed together."""
    mark = c.i
    c.skip_words("next", "the")
    n = c.take().n if c.peek().type == "number" else 0
    c.skip_words("st", "next")
    if c.peek().type == "stitch" and n:
        c.take()
    if n > 1 and c.word("together") and is_stitch(f"{identity}{n}tog"):
        c.take()
        return f"{identity}{n}tog"
    c.i = mark
    return identity


def _ring_next(c: Cursor) -> bool:
    """`6 in magic ring`: the stitch goes without saying."""
    at = 2 if c.word("a", "the", ahead=1) else 1
    return c.word("in") and (c.word("ring", "magic", ahead=at) or c.peek(at).value in ("mr", "mc"))


def _short_place(c: Cursor) -> bool:
    return (
        c.word("next", "each", "same", "st", "last", "first", "corner", "sp", "loop", "center", "ending", ahead=1)
        or c.word("the", ahead=1)
        or c.peek(1).type in ("stitch", "ordinal")
    )


def _short(c: Cursor, memory: Memory, n: int, begin: int, loop: Loop) -> list[Step] | None:
    target = read_place(c)
    if target is None:
        c.i = begin
        return None
    each = n
    if target.count == n and n > 1:
        each = 1
    return [Work(c.span(begin), memory.stitch, each, _place_with_loop(target, memory))]


def _multiple(c: Cursor) -> int:
    """`x 3`, `3 times`, `twice` right behind a stitch: 0 when not said."""
    mark = c.i
    said = read_times(c)
    if said is not None and not said.times.to_end and not said.more:
        return said.times.n
    c.i = mark
    return 0


def _with_chains(c: Cursor, identity: str, each: int) -> tuple[Step, ...] | None:
    """`with ch 1 between (each dc)`: the group it makes."""
    mark = c.i
    if c.sign(",") and c.word("with", ahead=1):
        c.take()
    if not c.word("with"):
        c.i = mark
        return None
    c.take()
    c.skip_words("a")
    n = 1
    if c.peek().type == "number" and c.word("chain", ahead=1):
        n = c.take().n
        c.take()
    elif c.word("chain"):
        c.take()
        n = c.take().n if c.peek().type == "number" else 1
    else:
        c.i = mark
        return None
    if not c.word("between"):
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


def _count_and_place(c: Cursor, memory: Memory, identity: str, n: int | None, begin: int, loop: Loop) -> list[Step]:
    consumes = stitch(identity).consumes
    after = 0
    if c.peek().type == "number" and _count_after(c):
        after = c.take().n
        c.skip_words("st")
    multiple = 0 if after else _multiple(c)
    if c.word("around", "across") and not _place_follows_around(c):
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
    group = _with_chains(c, identity, n or 2)
    manner(c)
    if (n or after) and c.word("evenly"):
        return _evenly_along(c, begin, identity, n or after)
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
    ):
        target = read_place(c, bare=True)  # `sc next 3 sts`, `sc 1 2nd st from hook`
    if target is not None and target.loop is Loop.BOTH and loop is not Loop.BOTH:
        target = replace(target, loop=loop)
    if target is not None and target.how is How.EACH and (c.word("around", "across")):
        c.take()
    if group is None and target is not None:
        group = _with_chains(c, identity, n or after or multiple or 2)
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
    said_each = any(t.value == "each" for t in c.tokens[begin : c.i])
    return _placed(identity, n, number, target, span, consumes, said_each)


def _evenly_along(c: Cursor, begin: int, identity: str, n: int) -> list[Step]:
    """`40 sc evenly around armhole`: so many along an edge that is no course of this piece."""
    while not c.done() and not c.sign(".", ",", ";", "(", ")"):
        c.take()
    return [Work(c.span(begin), identity, 1, Target(How.NEXT, Noun.ROW_END, count=n))]


def _place_follows_around(c: Cursor) -> bool:
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


def _count_after(c: Cursor) -> bool:
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


def _placed(
    identity: str, n: int | None, number: int, target: Target, span: Span, consumes: int, said_each: bool = False
) -> list[Step]:
    each = n or 1
    if (
        number
        and target.count == 1
        and target.how is How.NEXT
        and n is None
        and target.noun is Noun.STITCH
        and not target.implied
    ) or number:
        each = number
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


def _shaping(c: Cursor, memory: Memory, n: int | None, begin: int, loop: Loop) -> list[Step] | None:
    """`inc`, `6 inc`, `inc in next 3 sts`, `dec over next 2`, `inc x 6`, `increase 6 sts evenly`."""
    increase = c.take().value == "inc"
    kind = memory.stitch
    if c.peek().type == "stitch":
        kind = _plain(c.take().value)
        c.skip_words("st")
    number = 0
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
    multiple = _multiple(c)
    if (
        not multiple
        and not memory.open_mark
        and c.sign("*", "×")
        and c.peek(1).type == "number"
        and (c.peek(2).type == "end" or c.sign("(", "[", "=", ",", ahead=2))
    ):
        c.take()
        multiple = c.take().n
    to_end = False
    if not multiple and c.word("around", "across"):
        said = read_times(c)
        to_end = said is not None and said.times.to_end
    manner(c)
    target: Target | None = None
    if starts_place(c) and not c.word("to", "of"):
        target = read_place(c)
    elif c.word("next", "each"):
        target = read_place(c, bare=True)
        if c.peek().value == "by" and c.peek(1).value in ("skip", "work", "skipping"):
            rest_of_clause(c)
        if c.word("together"):
            c.take()
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
            return [Work(span, kind, 2, target or Target(How.EACH, loop=loop, implied=True), increase=True)]
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


def _shell(c: Cursor, memory: Memory, n: int | None, begin: int) -> list[Step] | None:
    """A named group worked: `shell in next shell`, `5 shells`. Its stitches come from its definition."""
    name = c.peek().value
    defined = memory.specials.get(name) or memory.specials.get("shell")
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


def _picot(c: Cursor, begin: int, n: int | None) -> list[Step]:
    target = read_place(c) if starts_place(c) and not c.word("of", "to") else None
    step = Picot(c.span(begin), 3)
    if target is not None and target.how is How.NEXT and target.noun is Noun.STITCH:
        return [Group(c.span(begin), (Work(c.span(begin), "sc", 1, NEXT), step), target)]
    return [step] * max(1, n or 1)


def chains(c: Cursor, memory: Memory) -> list[Step] | None:
    """`ch 3`, `3 ch`, `ch 1 more`, `ch 21`; not the space or loop such a chain makes."""
    begin = c.i
    c.skip_words("work", "a")
    if c.word("foundation") and c.word("chain", ahead=1) and (c.peek(2).type == "number" or c.word("of", ahead=2)):
        c.take()
    while c.peek().value in ("approximately", "about", "approx", "around") and c.peek(1).type == "number":
        c.take()
    if multiple := _multiple_of(c, begin):
        return multiple
    n = 1
    if c.peek().type == "number" and c.word("chain", ahead=1):
        n = c.take().n
        c.take()
    elif c.peek().type == "number" and c.word("more", ahead=1) and c.word("chain", ahead=2):
        n = c.take().n
        c.i += 2
    elif c.word("chain"):
        c.take()
        if c.word("of") and c.peek(1).type == "number":
            c.take()
        if c.peek().type == "number":
            n = c.take().n
    else:
        c.i = begin
        return None
    if c.word("sp", "loop", "mesh"):
        c.i = begin
        return None
    c.skip_words("more", "st", "loosely")
    memory.started = True
    return [Chain(c.span(begin), max(1, n))]


def _multiple_of(c: Cursor, begin: int) -> list[Step] | None:
    """`Ch a multiple of 6 + 2`, `chain a number of stitches divisible by 3`: ten repeats stand for any number."""
    mark = c.i
    if not c.word("chain"):
        return None
    c.take()
    c.skip_words("a", "any", "number", "of", "st", "the", "desired", "required", "in")
    while c.peek().value in ("number", "an", "even", "sts", "desired"):
        c.take()
        c.skip_words("of", "st")
    if c.peek().value not in ("multiple", "multiples", "divisible"):
        c.i = mark
        return None
    c.take()
    c.skip_words("of", "by")
    while c.peek().value in ("by",):
        c.take()
    n = c.take().n if c.peek().type == "number" else 0
    more = 0
    c.skip_words("st", "chain")
    if (c.sign("+") or c.word("and")) and c.peek(1).type == "number":
        c.take()
        more = c.take().n
        c.skip_words("st", "chain")
    if not n:
        c.i = mark
        return None
    return [Foundation(c.span(begin), 10 * n + more, (n, more))]


def meshes(c: Cursor, memory: Memory) -> list[Step] | None:
    """Filet: `3 sps`, `make 4 sps`, `sp over next 7 sps`. A space is two chains and the stitch that closes it."""
    begin = c.i
    c.skip_words("work", "inc")
    n = c.take().n if c.peek().type == "number" else 1
    c.skip_words("more", "open")
    if not c.word("sp", "mesh") or not (memory.started or n > 1 or c.word("over", ahead=1)):
        c.i = begin
        return None
    c.take()
    times = Times(n)
    if c.word("over"):
        target = read_place(c)
        if target is None:
            c.i = begin
            return None
        times = Times(to_end=True) if target.how is How.EACH else Times(target.count)
        if c.word("across"):
            c.take()
    elif not (c.done() or c.sign(",", ".", ";", ")", "(") or c.peek().type in ("number", "stitch")):
        c.i = begin
        return None
    span = c.span(begin)
    memory.started = True
    tall = memory.stitch if memory.stitch in ("dc", "tr") else "dc"
    return [Repeat(span, (Chain(span, 2), Work(span, tall, 1, NEXT)), times, 0, "mesh")]


def skips(c: Cursor, memory: Memory) -> list[Step] | None:
    """`skip next 2 sts`, `miss 1`, `sk ch-1 sp`."""
    if not c.word("skip"):
        return None
    begin = c.i
    c.take()
    mark = c.i
    target = read_place(c, bare=True)
    if target is None:
        c.i = mark
        n = 1
        if c.peek().type == "number":
            n = c.take().n
            if c.word("st") or c.peek().type == "stitch":
                c.take()
        elif not (c.sign(",", ".", ";") or c.done()):
            c.i = begin
            return None
        target = Target(count=n, implied=True)
    c.skip_words("only", "now")
    if c.peek().value == "under" or (c.word("of") and c.word("ring", "previous", ahead=1)):
        c.skip_words("under", "them", "of", "ring", "previous", "row", "round")
    return [Skip(c.span(begin), target)]


def _yarn_words(c: Cursor, memory: Memory, stop: tuple[str, ...] = ()) -> str | None:
    """A yarn's name: a key or colour known, or the words up to a stitch, chain, number or sign."""
    begin = c.i
    words: list[Token] = []
    while not c.done() and len(words) < 6:
        token = c.peek()
        if token.type == "sign" and token.value not in ("-", "/", "'", "&"):
            if token.value == "." and words and words[-1].value in ("lt", "dk", "med", "col"):
                c.take()
                continue
            break
        if token.type in ("stitch", "loop") or (
            token.type == "word"
            and (
                token.value in stop
                or token.value
                not in (
                    "color",
                    "first",
                    "a",
                    "next",
                    "center",
                    "and",
                    "main",
                    "the",
                    "of",
                    "sp",
                    "p",
                    "same",
                    "remaining",
                    "shell",
                    "picot",
                    "ring",
                )
            )
        ):
            break
        if token.type == "number" and not (words and words[-1].value in ("color", "no", "shade")):
            break
        if token.type == "ordinal" and not c.word("color", ahead=1):
            break
        words.append(c.take())
    text = [
        t.value
        for t in words
        if t.value not in ("the", "new", "color", "of", "main", "contrasting")
        and not (t.value == "a" and t.type == "word")
    ]
    joined = " ".join(t.value for t in words)
    if words and not text and joined not in memory.names:
        return "a" if joined == "a" and (c.done() or c.peek().type == "sign") else ""  # a yarn called A, or an article
    if not words:
        c.i = begin
        return None
    for name in (joined, " ".join(text)):
        if name in memory.names:
            return memory.names[name]
    return " ".join(text)


def yarn(c: Cursor, memory: Memory) -> list[Step] | None:
    """`With A`, `change to B`, `Join white with sl st in any st`, `Attach Orange in 3rd st of ch 3`, `(Color A)`."""
    begin = c.i
    if c.word("same") and c.word("color", ahead=1):
        c.i += 2
        return [Remark(c.span(begin), "", "manner")]
    c.skip_words("work")
    if c.word("with"):
        c.take()
        name = _yarn_words(c, memory)
        if name is None or c.word("hook"):
            if c.word("hook") or c.word("side", ahead=1) or c.peek().value in ("rs", "ws", "right", "wrong"):
                c.i = begin
                return None
            c.i = begin
            return None
        if c.peek().value in ("facing",) or name.split(" ")[0] in ("rs", "ws", "right", "wrong"):
            c.i = begin
            return None
        return [Yarn(c.span(begin), name, "with")]
    if c.peek().value == "standing" and c.peek(1).type == "stitch":
        c.take()
        kind = c.take().value
        target = read_place(c) if starts_place(c) and not c.word("of", "to") else None
        memory.started = True
        return [Yarn(c.span(begin), "", "join", target, kind, True)]
    if c.word("change") or c.peek().value in ("drop",) or (c.peek().value in ("pick",) and c.peek(1).value == "up"):
        verb = c.take().value
        if c.peek().value == "up":
            c.take()
        c.skip_words("yarn", "color", "to", "over")
        if c.word("hook") or c.peek().value in ("hooks",):
            c.i = begin
            return None
        name = _yarn_words(c, memory) or ""
        if verb == "drop":
            return [Remark(c.span(begin), "", "carry")]
        return [Yarn(c.span(begin), name, "change")]
    if c.word("color") or (c.peek().value in memory.names and c.peek().type == "other"):
        c.take() if c.word("color") else None
        name = _yarn_words(c, memory)
        if name is not None and (c.done() or c.sign(",", ".", ";", ":", "-", "–", "—", ")")):
            return [Yarn(c.span(begin), name, "with")]
        c.i = begin
        return None
    return None


def joins(c: Cursor, memory: Memory, previous: list[Step]) -> list[Step] | None:
    """`join with sl st to first sc`, `join to form ring`, `Join.`, `Join B with a standing dc in any st`."""
    begin = c.i
    c.skip_words("work", "to", "and")
    invisible = c.peek().value in ("invisibly", "invisible")
    if invisible:
        c.take()
    if c.word("close") and any(
        c.peek(k).value
        in ("hole", "opening", "inverted", "reverse", "up", "gap", "top", "remaining", "tail", "off", "ends")
        for k in range(1, 6)
    ):
        rest_of_clause(c)
        return [Remark(c.span(begin), "", "close")]
    if not c.word("join", "close"):
        c.i = begin
        return _made_ring(c, previous)
    c.take()
    if c.peek().value in ("invisibly",):
        invisible = True
        c.take()
    c.skip_words(
        "each", "round", "row", "them", "it", "last", "chain", "this", "the", "ends", "end", "ending", "up", "in", "on"
    ) if _ring_ahead(c) else None
    if _ring_ahead(c):
        while not c.word("ring"):
            c.take()
        c.take()
        n = 0
        if previous and isinstance(previous[-1], Chain):
            n = previous[-1].n
        return [Ring(c.span(begin), n)]
    mark = c.i
    name = _yarn_words(c, memory, stop=("with", "in", "to", "on", "and"))
    if name is not None and (name != "" or c.tokens[c.i - 1].value == "color"):
        joined = _yarn_joined(c, begin, name)
        if joined is not None:
            return joined
    c.i = mark
    return [_round_join(c, begin, invisible, memory)]


def _made_ring(c: Cursor, previous: list[Step]) -> list[Step] | None:
    """`form a ring with 1 sl st in first ch`, `to make a ring`."""
    begin = c.i
    c.skip_words("and", "to", "so", "as")
    if c.peek().value in ("form", "forming") or (
        c.word("work") and c.word("a", "the", ahead=1) and c.word("ring", ahead=2)
    ):
        c.take()
        c.skip_words("a", "the")
        if c.word("ring"):
            c.take()
            if c.word("with"):
                rest_of_clause(c)
            n = previous[-1].n if previous and isinstance(previous[-1], Chain) else 0
            return [Ring(c.span(begin), n)]
    c.i = begin
    return None


def _ring_ahead(c: Cursor) -> bool:
    """`(with a sl st) to form a ring`, `into a ring`, `in ring`."""
    at = 0
    formed = False
    while at < 14:
        token = c.peek(at)
        if token.type in ("word", "stitch", "other", "ordinal") and token.value in (
            "with", "a", "sl-st", "to", "the", "in", "on", "into", "form", "forming", "first", "chain", "of", "as", "them", "it", "work", "st", "and", "so", "last", "last,",
            "close", "end", "beginning", "ending", "up", "1st", "close", "join",
        ):  # fmt: skip
            formed = formed or token.value in ("form", "forming", "in", "to", "close", "join")
            at += 1
        elif (token.type == "number" and c.peek(at + 1).type == "stitch") or (
            token.type == "sign" and token.value == ","
        ):
            at += 1
        elif token.type == "word" and token.value == "ring":
            return formed
        else:
            return False
    return False


def _yarn_joined(c: Cursor, begin: int, name: str) -> list[Step] | None:
    stitch_name, standing = "", False
    if c.word("with"):
        c.take()
        c.skip_words("a")
        if c.peek().value == "standing" or (c.peek().type == "word" and c.peek().value == "counts"):
            standing = True
            c.take()
        if c.peek().type == "stitch":
            stitch_name = c.take().value
            standing = standing or stitch_name != "sl-st"
        else:
            c.skip_words("knot", "slip")
    target = read_place(c) if starts_place(c) and not c.word("of") else None
    return [Yarn(c.span(begin), name, "join", target, stitch_name, standing)]


def _round_join(c: Cursor, begin: int, invisible: bool, memory: Memory) -> Step:
    stitch_name, standing = "sl-st", False
    if c.word("last", "first") and c.word("chain", ahead=1):
        c.i += 2  # `join last ch-2 with sl st to …`
        if c.peek().type == "number":
            c.take()
    c.skip_words("round", "row")
    if c.word("with"):
        c.take()
        c.skip_words("a", "an")
        n = c.take().n if c.peek().type == "number" else 1
        if c.peek().value in ("standing",) or (c.peek().value == "invisible"):
            standing = c.peek().value == "standing"
            invisible = not standing
            c.take()
        if c.peek().type == "stitch":
            stitch_name = c.take().value
        elif c.word("chain") or n > 1:
            c.i -= 1
        else:
            c.skip_words("needle", "a", "hook", "join", "knot", "slip")
    elif c.peek().type == "stitch" and c.peek().value == "sl-st":
        c.take()
    c.skip_words("as", "previous", "before", "usual", "neatly", "again")
    if c.peek().value == "before":
        c.take()
    target = Target(How.FIRST)
    if starts_place(c) and not c.word("of"):
        target = read_place(c) or target
    c.skip_words("as", "before", "work")
    if standing:
        return Yarn(c.span(begin), "", "join", target, stitch_name, True)
    return Join(c.span(begin), stitch_name, target, invisible)


def rings(c: Cursor, memory: Memory) -> list[Step] | None:
    """`Magic ring`, `MR`, `make an adjustable ring`, `start with a magic circle`."""
    begin = c.i
    c.skip_words("work", "a", "beginning", "with", "in", "into", "create", "form", "to")
    if c.peek().value in ("mr",) or (c.word("magic")):
        c.take()
        c.skip_words("ring", "loop", "circle")
        return [Ring(c.span(begin), 0)]
    if c.peek().value == "mc" and (c.sign(",", ".", ":", "(", ahead=1) or c.peek(1).type == "end"):
        c.take()
        return [Ring(c.span(begin), 0)]
    c.i = begin
    return None


def turns(c: Cursor, memory: Memory) -> list[Step] | None:
    """`turn`, `do not turn`, `do not join`, `on the other side of the chain`, `fasten off`."""
    begin = c.i
    c.skip_words("and", "now")
    if c.word("to") and c.word("turn", ahead=1):
        c.take()
    token = c.peek()
    if token.type == "word":
        if token.value == "turn" and not c.word("chain", ahead=1):
            c.take()
            c.skip_words("work", "piece", "each", "row", "round", "the", "all", "your", "over")
            return [Turn(c.span(begin))]
        if token.value == "stay-join":
            c.take()
            c.skip_words(
                "this",
                "each",
                "round",
                "row",
                "at",
                "the",
                "end",
                "of",
                "ending",
                "or",
                "turn",
                "following",
                "next",
                "these",
                "rounds",
                "any",
                "on",
                "first",
                "with",
                "a",
                "ring",
            )
            if c.peek().type == "stitch" and c.peek().value == "sl-st":
                c.take()
            return [Stay(c.span(begin), "join")]
        if token.value == "stay-turn":
            c.take()
            c.skip_words("work", "your", "the")
            return [Stay(c.span(begin), "turn")]
        if token.value == "fasten-off":
            c.take()
            c.skip_words(
                "neatly",
                "color",
                "all",
                "colors",
                "securely",
                "invisibly",
                "invisible",
                "and",
                "at",
                "end",
                "of",
                "the",
                "row",
                "round",
            )
            return [FastenOff(c.span(begin))]
    if token.value in ("break", "cut", "end", "invisible") or token.value in ("break", "cut"):
        if c.word("fasten-off", ahead=1):
            c.i += 2
            return [FastenOff(c.span(begin), True)]
        c.take()
        name = _yarn_words(c, memory)
        if name is not None and (c.done() or c.sign(",", ".", ";")) and token.value in ("break", "cut"):
            return [FastenOff(c.span(begin))]
    c.i = begin
    return None


def other_side(c: Cursor, memory: Memory) -> list[Step] | None:
    """`working on opposite side of starting chain`, `down other side`, `rotate to work along the bottom`."""
    begin = c.i
    c.skip_words("work", "continue", "continuing", "rotate", "now", "to", "around", "and", "crochet", "end")
    while c.word("in", "on", "along", "of", "the", "up", "with", "a", "back", "over", "across") or c.peek().value in (
        "along",
        "down",
        "up",
        "back",
        "free",
        "unused",
        "loops",
    ):
        c.take()
    if not (c.word("other", "opposite")):
        c.i = begin
        return None
    c.take()
    if not (
        c.word("side", "loop", "st", "ending", "edge")
        or c.peek().value in ("edge",)
        or (c.tokens[c.i - 1].value == "opposite" and (c.sign("(") or c.word("of")))
    ):
        c.i = begin
        return None
    if c.word("side", "loop", "st") or c.peek().value == "edge":
        c.take()
    while c.word(
        "of", "the", "foundation", "beginning", "chain", "in", "st", "on", "loop", "base"
    ) or c.peek().value in ("original", "along", "initial", "foundation"):
        if c.word("in") and c.word("next", "each", "first", "same", ahead=1):
            break
        c.take()
        if c.peek().type == "number" and c.tokens[c.i - 1].value == "chain":
            c.take()
    return [OtherSide(c.span(begin))]


def again(c: Cursor, memory: Memory) -> list[Step] | None:
    """`Rep Rnd 2`, `Repeat last 2 rows twice`, `same as 5th row`, `like the 3d row`, `Work even for 3 rnds`."""
    begin = c.i
    c.skip_words("work", "and", "the")
    if rows := _rows_more(c, memory, begin):
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


def _rows_more(c: Cursor, memory: Memory, begin: int) -> list[Step] | None:
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
            name = _yarn_words(c, memory)
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


def clause_word(c: Cursor) -> None:
    """One word more that closes a phrase (`manner`, `way`)."""
    if c.peek().value in ("manner", "way", "pattern", "color"):
        c.take()


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
    if _changes(c):
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
        until, length, opened = _until(c)
    if (c.word("ending") or (c.sign(",") and c.word("ending", ahead=1))) and _ending_round(c):
        ending = c.tokens[c.i - 1].n
    return Again(c.span(begin), tuple(numbers), last or 1, passes, until, length, opened, ending)


_CHANGING = ("having", "always", "work", "but", "inc", "dec", "for", "except", "only")


def _changes(c: Cursor) -> bool:
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


def _until(c: Cursor) -> tuple[int, float, bool]:
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


def fraction(text: str) -> float:
    """`½`, `2½`, `3/4` as a number."""
    parts = {"¼": 0.25, "½": 0.5, "¾": 0.75, "⅓": 1 / 3, "⅔": 2 / 3, "⅛": 0.125}
    if text and text[-1] in parts:
        return (float(text[:-1]) if text[:-1] else 0.0) + parts[text[-1]]
    above, _, under = text.partition("/")
    return float(above) / float(under) if under.strip() not in ("", "0") else 0.0


def rest_of_clause(c: Cursor) -> None:
    """Up to the next sign that ends a clause."""
    while not c.done() and not c.sign(".", ";", ",", ")", "]"):
        c.take()


def evenly(c: Cursor, memory: Memory) -> list[Step] | None:
    """`Work even for 5 rnds`, `work even until piece measures 10 cm`, `sc evenly around`, `work straight`."""
    begin = c.i
    c.skip_words("work", "and", "continue", "continuing")
    if c.word("evenly") or c.peek().value in ("straight",):
        c.take()
        c.skip_words("in", "pattern", "as", "on", "these", "st", "the", "established")
        if c.peek().type == "stitch":
            memory.stitch = _plain(c.take().value)
        c.skip_words("for", "in", "pattern", "work")
        if c.word("until", "to"):
            until, length, _opened = _until(c)
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


def is_technique(c: Cursor, ahead: int = 0) -> bool:
    """Whether a clause tells how loops are drawn: `yarn over`, `insert hook in next st`, `pull loop through`."""
    while c.word("and", "the", "a", ahead=ahead):
        ahead += 1
    token, following = c.peek(ahead), c.peek(ahead + 1)
    if token.value in ("color", "yarn", "thread", "wool") and following.value == "over":
        return True
    if token.value in ("yo", "yoh", "yrh"):
        return True
    if token.value == "work" and following.value == "off":
        return True
    if token.value in ("insert", "inserting"):
        return any(c.peek(ahead + k).value in ("hook", "needle") for k in range(1, 4)) or c.word("in", ahead=ahead + 1)
    if token.value in ("pull", "pulling", "draw", "drawing", "take", "drop", "pick", "complete"):
        near = [c.peek(ahead + k).value for k in range(1, 7)]
        if token.value == "pick" and "hook" not in near and "loop" not in near and "sts" not in near:
            return False
        if token.value == "drop" and "loop" not in near:
            return False
        return (
            any(word in near for word in ("loop", "through", "up", "stitch", "out", "st", "all"))
            or following.type == "stitch"
        )
    return False


def manner(c: Cursor) -> None:
    """Adverbs between a stitch and its place say how, not how many."""
    while (
        c.peek().type == "other"
        and (c.peek().value.endswith("ly") or c.peek().value in ("again", "more"))
        and c.peek().value != "only"
    ):
        c.take()


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

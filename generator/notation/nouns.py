"""The noun of a place: stitch, space, chain, ring, corner, gap, or a group by its name."""

from dataclasses import replace

from generator.notation.cursor import Cursor
from generator.notation.farside import far_chains, middle_of_corner
from generator.notation.said import LOOPS, SPACES, Said, as_target, enough
from generator.notation.tree import How, Noun, Target

_FILL = (
    "the", "of", "a", "these", "this", "that", "those", "all", "your", "its", "very", "large", "small", "big", "little", "own",
    "single", "whole", "individual", "main", "open", "end", "created", "free", "made", "just", "front", "far", "both", "two",
    "work", "opposite", "long", "outer", "inner", "entire", "original", "new", "connected", "adjoining", "said", "formed", "separate",
    "tiny", "strand", "actual", "exact", "right", "left", "back", "ch-", "beginning", "center", "on",
)  # fmt: skip
_NAMED = {
    "shell": "shell", "picot": "picot", "group": "group", "petal": "petal", "petals": "petal", "leaf": "group", "block": "group",
    "pineapple": "group", "spot": "group", "motif": "group", "V": "v-st", "v": "v-st", "pattern": "group", "point": "group",
    "cross": "group", "crosses": "group", "set": "group", "bunch": "group", "wheel": "group",
}  # fmt: skip


def read_noun(c: Cursor, said: Said) -> Target | None:
    while not c.done():
        token = c.peek()
        if token.type == "loop":
            said.loop = LOOPS[token.value]
            c.take()
            c.skip_words("only")
            mark = c.i
            if c.word("of", "in") or not c.done():
                c.skip_words("of", "in")
            if not _goes_on(c):
                c.i = mark
                return as_target(said, Noun.STITCH)
            continue
        if token.type == "sign":
            if token.value == "(" and (c.peek(1).type == "loop" or c.peek(1).value in ("same", "the")):
                return None
            if said.each and not said.next and token.value in (",", ".", ";"):
                return as_target(said, Noun.STITCH)
            return as_target(said, Noun.STITCH) if enough(said) else None
        if token.type == "number":
            if c.word("chain", ahead=1) and c.word(*SPACES, ahead=2) and (said.chosen or not said.count):
                size = c.take().n
                c.i += 2
                return as_target(said, Noun.SPACE, size=size)
            if c.word("chain", ahead=1) and said.each and not said.next and c.tokens[c.i - 1].value == "each":
                c.i += 2
                return Target(How.EACH, Noun.SPACE, size=token.n)  # `5 plain on every 3 chain`
            if said.center and token.n == 1 and c.word("of", ahead=1) and (middle := _middle_of(c, 1)) is not None:
                return middle  # `the centre one of the 5 dc`
            if token.value == "one" and not said.chosen and (c.peek(1).type in ("sign", "end")):
                c.take()
                return Target(How.NEXT)  # `2 double in one`
            said.count = token.n
            c.take()
            continue
        if token.type == "ordinal":
            c.take()
            if said.each and c.word("and") and c.peek(1).type == "ordinal":
                said.every = c.peek(1).n  # `every 3rd and 4th st together`
                c.i += 2
            elif said.each:
                said.every = token.n
            elif c.word("chain", "st") or c.peek().type == "stitch" or c.word("from"):
                said.nth = token.n
                # `first sc` is the first one, not simply the next; `first ch` may be a chain of the round's start.
                said.first = token.n == 1 and not c.word("chain", "from")
            elif said.gap and c.word("and") and c.peek(1).type == "ordinal":
                c.i += 2
            elif (
                c.word("of")
                and (c.peek(1).type == "number" or (c.word("the", ahead=1) and c.peek(2).type == "number"))
                and c.word("chain", ahead=3 if c.word("the", ahead=1) else 2)
            ):
                c.i += 4 if c.word("the", ahead=1) else 3  # `the 5th of the 9 chain`
                return Target(How.FIRST, Noun.START, nth=token.n)
            elif c.word("of") and (
                c.peek(1).type == "number" or (c.word("the", ahead=1) and c.peek(2).type == "number")
            ):
                c.i += 3 if c.word("the", ahead=1) else 2
                return Target(How.FIRST, Noun.START, nth=token.n)
            elif token.n == 1:
                said.first = True
                said.nth = 1
            else:
                said.nth = token.n
            continue
        if token.type == "stitch":
            return _stitch(c, said)
        if token.type == "word" and token.value != "skip" and (found := _word(c, said)) is not None:
            if isinstance(found, Target):
                return found
            continue
        if token.type in ("word", "other"):
            if token.value in ("same",):
                said.same = True
            if token.value in _FILL:
                c.take()
                continue
            if token.value in ("mr", "mc", "ml") or (token.value == "magic"):
                c.take()
                return as_target(said, Noun.RING)
            if token.value in ("gap", "gaps"):
                c.take()
                return as_target(said, Noun.GAP)
            if token.value in ("skipped", "missed") or (
                token.value == "skip" and (c.word("st", "chain", "sp", ahead=1) or c.peek(1).type == "stitch")
            ):
                said.skipped = True
                c.take()
                continue
            if token.value in ("point", "tip") and c.word("of", ahead=1) and c.word("each", "next", "the", ahead=2):
                c.i += 2  # `at the point of each petal`
                continue
            singular = _NAMED.get(token.value) or _NAMED.get(token.value.rstrip("s"))
            if singular:
                c.take()
                return _named(c, said, singular)
            if token.value == "it":
                c.take()
                said.same = True
                return as_target(said, Noun.PLACE)
            if said.each and token.value in ("down", "up", "along"):
                return as_target(said, Noun.STITCH)
            if token.value in ("edge", "edges"):
                c.take()
                return as_target(said, Noun.ROW_END)
        return as_target(said, Noun.STITCH) if enough(said) else None
    return as_target(said, Noun.STITCH) if enough(said) else None


def _goes_on(c: Cursor) -> bool:
    token = c.peek()
    return token.type in ("number", "ordinal", "stitch") or token.value in (
        "next", "each", "same", "first", "last", "st", "the", "every", "of", "all", "remaining", "chain", "a", "sp", "loop", "any", "both",
        "this", "these", "skipped",
    )  # fmt: skip


def _word(c: Cursor, said: Said) -> Target | bool | None:
    """A canonical word inside a place: a Target ends it, True goes on, None means the word is no part of a place."""
    value = c.peek().value
    if value == "next":
        said.next = True
    elif value == "each":
        said.each = True
        c.take()
        if c.word("other", "alternate") or c.said("2nd"):
            said.every = 2
            c.skip_words("other", "alternate")
        return True
    elif value == "alternate":
        said.each, said.every = True, 2
    elif value in ("other", "opposite") and (beneath := far_chains(c)):
        return beneath
    elif value == "other":
        if c.word("side", ahead=1):
            return None
    elif value == "same":
        said.same = True
    elif value == "last":
        said.last = True
    elif value == "any":
        said.any = True
    elif value == "remaining":
        said.rest = True
    elif value == "top":
        said.top = True
    elif value == "turning" and not c.word("chain", ahead=1) and c.peek(1).type != "ordinal":
        c.take()
        if c.word(*SPACES):
            c.take()  # `sc in tch sp`: under the chain the row below began with
            said.last = True
            return as_target(said, Noun.SPACE)
        return Target(How.FIRST, Noun.START, nth=said.nth)
    elif value == "post":
        pass
    elif value in ("beginning", "turning", "join") or (value == "turn" and c.word("chain", ahead=1)):
        said.start = True
    elif value in ("inc", "dec") and (said.each or said.next or said.same or c.word(*SPACES, ahead=1)):
        said.each = said.each or not (said.next or said.same)  # `in the widening spaces`
        c.take()
        c.skip_words("sp")
        return as_target(said, Noun.CORNER)
    elif value == "base":
        said.same = True
    elif value == "center":
        said.center = True
    elif value == "previous":
        said.previous = True
    elif value == "between":
        if said.each and (c.peek(1).type in ("sign", "end")):
            return as_target(said, Noun.STITCH)  # `in each between`: of those between what was named
        said.gap = True
    elif value == "st":
        c.take()
        if c.word("on") and c.word("join", ahead=1):
            c.i += 2
        return _generic(c, said)
    elif value == "place":
        c.take()
        if c.word("as", "with") or c.peek().value == "where":
            _same_as(c)
        return as_target(said, Noun.PLACE)
    elif value in SPACES:
        c.take()
        return _space(c, said)
    elif value == "chain":
        return _chain(c, said)
    elif value in ("ring", "magic"):
        c.take()
        c.skip_words("ring", "loop", "circle")
        return as_target(said, Noun.RING)
    elif value == "corner":
        c.take()
        return _corner(c, said)
    elif value in ("shell", "picot", "group"):
        c.take()
        return _named(c, said, value)
    elif value == "row":
        if c.peek(1).value in ("end", "ends", "ending") or c.word("ending", ahead=1):
            c.i += 2
            return as_target(said, Noun.ROW_END)
        if said.each and not said.next and (c.word("across", "around", ahead=1) or _down(c, 1)):
            c.take()
            return as_target(said, Noun.ROW_END)  # `in each row along the side`
        return None
    elif value == "side" and c.word("of", ahead=1) and c.word("each", ahead=2) and c.word("row", ahead=3):
        said.each = True  # `in the side of each row`
        c.i += 4
        return as_target(said, Noun.ROW_END)
    elif value == "ending" and c.word("of", "chain", "st", ahead=1):
        said.last = said.last or not c.word("chain", ahead=1)
        said.start = c.word("chain", ahead=1)
        c.take()
        of_each = c.word("of")
        c.skip_words("of", "the")
        if of_each and c.word("each"):
            said.each, said.last = True, False
            c.take()
        if c.word("row", "round"):
            c.take()
            return as_target(said, Noun.ROW_END)
        return True
    elif value in _FILL:
        pass
    elif value == "foundation":
        c.take()
        c.skip_words("chain")
        return as_target(replace_each(said), Noun.CHAIN)
    else:
        far = said.each and value in ("to", "across")  # `in each to the last`
        return as_target(said, Noun.STITCH) if far or enough(said) else None
    c.take()
    return True


def _down(c: Cursor, ahead: int) -> bool:
    """Whether `down the side`, `along this edge`, `up the other side` stands there."""
    return c.peek(ahead).value in ("down", "up", "along", "on") and any(
        c.word("side", ahead=ahead + k) or c.peek(ahead + k).value == "edge" for k in (1, 2, 3)
    )


def replace_each(said: Said) -> Said:
    """`on foundation chain`: along all of it."""
    said.each = True
    return said


def _same_as(c: Cursor) -> None:
    """`same place as join`, `same st as last sc`: the comparison adds nothing."""
    c.take()
    while (c.peek().type in ("word", "other", "stitch", "number", "ordinal") and c.peek().value in (
        "the", "last", "join", "sl-st", "st", "chain", "first", "beginning", "previous", "of", "turning", "next", "a", "work",
    )) or c.peek().type == "stitch" or (c.peek().type == "number" and c.peek(1).type == "stitch"):  # fmt: skip
        c.take()
        if c.peek().value in ("was", "were"):
            c.take()
        if c.word("in", "on", "and", "repeat", "chain", "turn"):
            break


def _generic(c: Cursor, said: Said) -> Target:
    """After `st`: `from hook`, `of ch`, `and sp`, `below`, `as join`."""
    if c.word("from") and (c.word("hook", ahead=1) or c.word("hook", ahead=2)):
        c.i += 2
        if c.word("hook"):
            c.take()
        return Target(How.FROM_HOOK, Noun.CHAIN, nth=said.nth or 2)
    if c.word("of", "on") and _start_chain(c, 1, said):
        return Target(How.FIRST, Noun.START, nth=said.nth)
    if c.word("as") or ((c.word("with") or c.peek().value == "where") and said.same):
        _same_as(c)
        said.same = True
    if c.word("of") and c.word("chain", ahead=1):
        c.i += 2
        if said.count or said.next or said.each or said.rest:
            return as_target(said, Noun.CHAIN)
        if said.nth:
            return Target(How.FIRST, Noun.START, nth=said.nth)
        return as_target(said, Noun.CHAIN)
    if (
        c.word("of")
        and said.nth
        and c.word("next", "same", ahead=1)
        and c.word("loop", "sp", "shell", "chain", "group", ahead=2)
    ):
        c.i += 2
        inner = Said(next=True, nth=said.nth)
        found = read_noun(c, inner)
        if found is not None:
            return replace(found, nth=said.nth)
    if corner := middle_of_corner(c, said.center or said.nth == 2):
        return corner
    if c.word("of") and said.center and c.word("next", "same", "each", ahead=1):
        c.take()
        inner = Said(next=c.word("next"), same=c.word("same"), each=c.word("each"))
        found = read_noun(c, inner)
        if found is not None:
            return found
    return as_target(said, Noun.STITCH)


def _start_chain(c: Cursor, ahead: int, said: Said) -> bool:
    """`of beg ch 3`, `of ch-3`, `of turning ch`, `of end ch`: takes it and says yes. `of ch` alone is left."""
    at = ahead
    named = False
    while c.peek(at).type in ("word", "other") and c.peek(at).value in (
        "the", "beginning", "turning", "turn", "ending", "end", "first", "join", "initial", "previous", "last", "skipped",
    ):  # fmt: skip
        named = named or c.peek(at).value not in ("the",)
        at += 1
    if c.peek(at).type == "ordinal" or (c.peek(at).type == "number" and c.word("chain", ahead=at + 1)):
        at += 1
        named = True
    if not c.word("chain", ahead=at):
        if named and c.word("chain", ahead=at - 1):
            at -= 1
        elif c.word("turning", "beginning", ahead=at - 1) and c.peek(at - 1).value in ("turning",):
            c.i += at
            return True
        else:
            return False
    at += 1
    if c.peek(at).type == "number":
        at += 1
        named = True
    elif c.word("loop", "sp", ahead=at):
        return False
    if said.nth and not named and (said.next or said.each or said.count):
        return False
    if not named and not said.nth and not said.top:
        return False
    if named or said.nth or said.top:
        c.i += at
        c.skip_words("st")
        return True
    return False


def _chain(c: Cursor, said: Said) -> Target | None:
    """At the word chain: a space, one chain, the start chain, or chains of the foundation."""
    if said.start or said.top:
        c.take()
        if c.peek().type == "number":
            c.take()
        c.skip_words("st")
        if c.word(*SPACES):
            c.take()
            return as_target(said, Noun.SPACE)
        return Target(How.FIRST, Noun.START, nth=said.nth)
    c.take()
    if c.peek().type == "number" and not (said.count > 1 and not c.peek().glued and not c.word(*SPACES, ahead=1)):
        size = c.take().n
        if (heap := _chain_of(c, said, size)) is not None:
            return heap
        if c.word("corner"):
            c.take()
            c.skip_words("sp", "loop")
            if not (said.each or said.same or said.first or said.last or said.any):
                said.next = True
            return as_target(said, Noun.CORNER, size=size)
        if c.word(*SPACES):
            c.take()
            if said.nth and not said.next:
                return Target(How.NEXT, Noun.SPACE, size=size, nth=said.nth)
            return as_target(said, Noun.SPACE, size=size)
        if c.word("chain") and c.word(*SPACES, ahead=1):
            c.i += 2
            return as_target(said, Noun.SPACE, size=size)
        return as_target(said, Noun.SPACE, size=size)
    if c.word(*SPACES):
        c.take()
        return as_target(said, Noun.SPACE)
    if c.word("from"):
        ahead = 2 if c.word("the", ahead=1) else 1
        if c.word("hook", ahead=ahead):
            c.i += ahead + 1
            return Target(How.FROM_HOOK, Noun.CHAIN, nth=said.nth or 2)
    if c.word("of", "on"):
        if _start_chain(c, 1, said):
            return Target(How.FIRST, Noun.START, nth=said.nth)
        nth = said.nth
        mark = c.i
        c.take()
        inner = Said()
        found = read_noun(c, inner)
        if found is not None and nth:
            return replace(found, nth=nth, noun=Noun.SPACE if found.noun is not Noun.CHAIN else Noun.CHAIN)
        c.i = mark
    if said.nth and not (said.next or said.each or said.count or said.first):
        return Target(How.FIRST, Noun.START, nth=said.nth)
    return as_target(said, Noun.CHAIN)


def _chain_of(c: Cursor, said: Said, size: int) -> Target | None:
    """`ch 3 loop of next shell`, `ch 3 of last shell`: the chain a shell is hung on, maybe the turning chain."""
    at = 1 if c.word(*SPACES) else 0
    if not c.word("of", ahead=at):
        return None
    at += 2 if c.word("the", ahead=at + 1) else 1
    which = c.peek(at)
    if which.value in ("next", "last", "same", "each") or which.n == 1:
        at += 1
    name = _NAMED.get(c.peek(at).value, "")
    if name not in ("shell", "group"):
        return None
    said.next = said.next or which.value == "next"
    said.last = said.last or which.value == "last"
    said.each = said.each or which.value == "each"
    said.first = said.first or which.n == 1
    c.i += at + 1
    # `the ch 3 of same shell`: the shell under the hand; its chain comes next along the row.
    return replace(as_target(said, Noun.SPACE, size=size), kind=name)


def _of_heap(c: Cursor, said: Said) -> Target | None:
    """`sp of next shell`, `center sp of shell`: the middle of such a figure."""
    if not c.word("of"):
        return None
    at = 2 if c.word("the", ahead=1) else 1
    which = c.peek(at)
    if which.value in ("next", "last", "same", "each") or which.n == 1:
        at += 1
    name = _NAMED.get(c.peek(at).value) or _NAMED.get(c.peek(at).value.rstrip("s"), "")
    if not name or name == "picot":
        return None
    if said.first or said.nth or name not in ("shell", "petal", "v-st"):
        c.i += at + 1  # `first loop of pineapple`: the one that comes next
        if said.first or said.nth == 1:
            return Target(How.NEXT, Noun.SPACE)
        return as_target(said, Noun.SPACE)
    said.next = said.next or which.value == "next"
    said.last = said.last or which.value == "last"
    said.each = said.each or which.value == "each"
    said.same = said.same or which.value == "same"
    said.first = said.first or which.n == 1
    c.i += at + 1
    return replace(as_target(said, Noun.SPACE), kind=name)


def _space(c: Cursor, said: Said) -> Target:
    if c.word("between"):
        c.take()
        inner = Said(next=True)
        mark = c.i
        found = read_noun(c, inner)
        if found is None:
            c.i = mark
        return as_target(said, Noun.GAP if not said.each else Noun.SPACE)
    if said.gap:
        return as_target(said, Noun.GAP)
    if (heap := _of_heap(c, said)) is not None:
        return heap
    at = 2 if c.word("the", ahead=1) else 1
    if c.word("of") and c.word("foundation", ahead=at):
        c.i += at + 1  # `each unworked loop of the foundation chain`
        c.skip_words("chain")
        return as_target(said, Noun.CHAIN)
    if c.word("of") and c.peek(1).type == "number" and c.word("chain", ahead=2):
        c.i += 3  # `each space of 3 chain`
        return as_target(said, Noun.SPACE, size=c.tokens[c.i - 2].n)
    return as_target(said, Noun.SPACE)


def _corner(c: Cursor, said: Said) -> Target:
    size = 0
    if c.word("st") and c.word("of", ahead=1) and c.word("last", "previous", ahead=2) and c.word("row", ahead=3):
        c.take()
        said.first, said.next = True, False  # of a row: the stitch at the end where the work stands
        return as_target(said, Noun.STITCH)
    if c.word("chain"):
        c.take()
        if c.peek().type == "number":
            size = c.take().n
    elif c.peek().type == "number" and c.word("chain", ahead=1):
        size = c.take().n
        c.take()
    c.skip_words("sp", "loop", "st", "shell", "gap")
    if not (said.each or said.same or said.first or said.last or said.any):
        said.next = True
    return as_target(said, Noun.CORNER, size=size)


def _named(c: Cursor, said: Said, name: str) -> Target:
    """A group by its name: its middle is meant unless a stitch of it is named."""
    if c.word("chain") and c.peek(1).type == "number" and c.word(*SPACES, ahead=2):
        c.i += 3
    c.skip_words("st", "sp", "loop")
    if said.gap:
        if said.count >= 2:
            said.count = 1
        return as_target(said, Noun.GAP)
    return replace(as_target(said, Noun.SPACE), kind=name)


def _middle_of(c: Cursor, ahead: int = 0) -> Target | None:
    """`the centre treble of each scallop`, `of next 5 dc`: the middle of such a figure."""
    mark = c.i
    c.i += ahead + 1
    found = read_noun(c, inner := Said())
    if found is not None and (inner.same or inner.first or inner.last):
        c.i = mark
        return None
    if found is not None and found.noun is Noun.STITCH and inner.count >= 3 and inner.count % 2:
        return Target(How.EACH if inner.each else How.NEXT, Noun.SPACE, kind="group")
    if found is None or found.noun is not Noun.SPACE:
        c.i = mark
        return None
    return replace(found, kind=found.kind or "group", size=0)


def _stitch(c: Cursor, said: Said) -> Target | None:
    kind = c.take().value
    if c.word("st"):
        c.take()
    if c.word("group", "shell") and said.count and not said.gap:
        said.count = 0
        return _named(c, said, c.take().value)  # `next 3-dc group`
    if said.gap:
        if c.word("group", "shell"):
            c.take()  # `between 3-dc groups`
            said.count = 0
        if said.count == 2 or said.nth:
            said.count = 0
        if c.word("and"):
            mark = c.i
            c.take()
            c.skip_words("next", "the")
            if c.peek().type == "stitch" and c.peek().value != kind:
                c.take()  # `between treble and double`: in the middle of each such pair
                return replace(as_target(said, Noun.GAP), kind=kind)
            if c.peek().type in ("stitch", "ordinal") or c.word("st", "shell"):
                c.take()
                if c.peek().type == "stitch":
                    c.take()
            else:
                c.i = mark
        return as_target(said, Noun.GAP)
    if c.word("from") and c.word("hook", ahead=1):
        c.i += 2
        return Target(How.FROM_HOOK, Noun.CHAIN, nth=said.nth or 2)
    if kind == "sl-st" and said.same:
        return as_target(said, Noun.PLACE)
    if c.word("sp", "loop") and not c.word("between", ahead=1) and kind not in ("sc", "dc", "hdc"):
        c.take()
        return replace(as_target(said, Noun.SPACE), kind=kind)
    if corner := middle_of_corner(c, said.center or said.nth == 2):
        return corner
    middle = said.center or (said.nth and c.word("each", ahead=1))
    if middle and c.word("of") and (found := _middle_of(c)) is not None:
        return found
    if c.word("of", "on") and c.word("next", "same", ahead=1) and c.word("shell", "group", "loop", ahead=2):
        c.i += 2
        name = c.take().value
        if said.count and not said.nth:
            return replace(as_target(said, Noun.STITCH), kind=kind)
        return Target(How.SAME if said.same else How.NEXT, Noun.SPACE, kind=name, nth=said.nth)
    if c.word("of") and c.word("same", "each", "next", ahead=1) and c.peek(2).value in _NAMED:
        c.i += 3
    return replace(as_target(said, Noun.STITCH), kind=kind)

"""Where to work: `in next ch-2 sp`, `in each of next 3 dc`, `in 2nd ch from hook`, `between next 2 sts`.

One loop gathers what the words say and stops at the noun; what follows the noun (`of previous rnd`, `2 rows below`,
`across`) is taken too. A phrase that turns out to name no place gives None and takes nothing.
"""

from dataclasses import dataclass, replace

from generator.notation.cursor import Cursor
from generator.notation.tree import How, Loop, Noun, Target

PREPOSITIONS = ("in", "on", "over", "around", "between", "of", "to")
_MORE_PREPOSITIONS = ("through", "under", "at", "behind", "along", "onto", "thru", "within", "down", "up")
LOOPS = {"back": Loop.BACK, "front": Loop.FRONT, "third": Loop.THIRD, "both": Loop.BOTH}
_FILL = (
    "the", "of", "a", "these", "this", "that", "those", "all", "your", "its", "very", "large", "small", "big", "little", "own",
    "single", "whole", "individual", "main", "open", "end", "created", "free", "made", "just", "front", "far", "both", "two",
    "work", "opposite", "long", "outer", "inner", "entire", "original", "new", "connected", "adjoining", "said", "formed", "separate",
    "tiny", "strand", "actual", "exact", "right", "left", "back", "ch-", "beginning", "center", "on",
)  # fmt: skip
_SPACES = ("sp", "loop", "mesh")
_NAMED = {
    "shell": "shell", "picot": "picot", "group": "group", "petal": "petal", "petals": "petal", "leaf": "group", "block": "group",
    "pineapple": "group", "spot": "group", "motif": "group", "V": "v-st", "v": "v-st", "pattern": "group", "point": "group",
    "cross": "group", "crosses": "group", "set": "group", "bunch": "group", "wheel": "group",
}  # fmt: skip


@dataclass(slots=True)
class _Said:
    """What the words said so far."""

    each: bool = False
    next: bool = False
    same: bool = False
    first: bool = False
    last: bool = False
    any: bool = False
    top: bool = False
    start: bool = False
    rest: bool = False
    side: bool = False
    previous: bool = False
    skipped: bool = False
    center: bool = False
    count: int = 0
    nth: int = 0
    every: int = 1
    loop: Loop = Loop.BOTH
    gap: bool = False


def starts_place(c: Cursor, ahead: int = 0) -> bool:
    """Whether a preposition that can begin a place stands here."""
    token = c.peek(ahead)
    return token.type in ("word", "other") and (token.value in PREPOSITIONS or token.value in _MORE_PREPOSITIONS)


def read_place(c: Cursor, bare: bool = False) -> Target | None:
    """The place here, from its preposition on; without one when `bare`. Takes nothing when there is none."""
    begin = c.i
    said = _Said()
    if not bare:
        if not starts_place(c):
            return None
        said.gap = c.word("between")
        c.take()
    found = _noun(c, said)
    if found is None:
        c.i = begin
        return None
    return _after(c, found, said)


def _noun(c: Cursor, said: _Said) -> Target | None:
    while not c.done():
        token = c.peek()
        if token.type == "loop":
            said.loop = LOOPS[token.value]
            c.take()
            c.skip_words("only")
            if c.word("of", "in") or not c.done():
                c.skip_words("of", "in")
            if not _goes_on(c):
                return _target(said, Noun.STITCH)
            continue
        if token.type == "sign":
            if token.value == "(" and (c.peek(1).type == "loop" or c.peek(1).value in ("same", "the")):
                return None
            if said.each and not said.next and token.value in (",", ".", ";"):
                return _target(said, Noun.STITCH)
            return _target(said, Noun.STITCH) if _enough(said) else None
        if token.type == "number":
            if c.word("chain", ahead=1) and (c.word(*_SPACES, ahead=2)):
                if said.each or said.next or said.same or said.first or said.last or said.any or not said.count:
                    size = c.take().n
                    c.take()
                    c.take()
                    return _target(said, Noun.SPACE, size=size)
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
        if token.type == "word" and (found := _word(c, said)) is not None:
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
                return _target(said, Noun.RING)
            if token.value in ("gap", "gaps"):
                c.take()
                return _target(said, Noun.GAP)
            if token.value == "skipped" or token.value == "missed":
                said.skipped = True
                c.take()
                continue
            singular = _NAMED.get(token.value) or _NAMED.get(token.value.rstrip("s"))
            if singular:
                c.take()
                return _named(c, said, singular)
            if token.value == "it":
                c.take()
                said.same = True
                return _target(said, Noun.PLACE)
            if said.each and token.value in ("down", "up", "along"):
                return _target(said, Noun.STITCH)
            if token.value in ("edge", "edges"):
                c.take()
                return _target(said, Noun.ROW_END)
        return _target(said, Noun.STITCH) if _enough(said) else None
    return _target(said, Noun.STITCH) if _enough(said) else None


def _goes_on(c: Cursor) -> bool:
    token = c.peek()
    return token.type in ("number", "ordinal", "stitch") or token.value in (
        "next", "each", "same", "first", "last", "st", "the", "every", "of", "all", "remaining", "chain", "a", "sp", "loop", "any", "both",
        "this", "these", "skipped",
    )  # fmt: skip


def _enough(said: _Said) -> bool:
    """`in next 3`, `in same`, `in next`: a place without its noun."""
    return (
        said.same
        or said.next
        or (said.first and not said.top)
        or said.last
        or said.rest
        or (said.each and said.count > 0)
        or said.skipped
    )


def _word(c: Cursor, said: _Said) -> Target | bool | None:
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
        return Target(How.FIRST, Noun.START, nth=said.nth)
    elif value == "post":
        pass
    elif value in ("beginning", "turning", "join") or (value == "turn" and c.word("chain", ahead=1)):
        said.start = True
    elif value in ("inc", "dec") and (said.each or said.next or said.same):
        c.take()
        c.skip_words("sp")
        return _target(said, Noun.CORNER)
    elif value == "base":
        said.same = True
    elif value == "center":
        said.center = True
    elif value == "previous":
        said.previous = True
    elif value == "between":
        said.gap = True
    elif value == "st":
        c.take()
        if c.word("on") and c.word("join", ahead=1):
            c.i += 2
        return _generic(c, said)
    elif value == "place":
        c.take()
        if c.word("as", "with"):
            _same_as(c)
        return _target(said, Noun.PLACE)
    elif value in _SPACES:
        c.take()
        return _space(c, said)
    elif value == "chain":
        return _chain(c, said)
    elif value in ("ring", "magic"):
        c.take()
        c.skip_words("ring", "loop", "circle")
        return _target(said, Noun.RING)
    elif value == "corner":
        c.take()
        return _corner(c, said)
    elif value in ("shell", "picot", "group"):
        c.take()
        return _named(c, said, value)
    elif value == "row":
        if c.peek(1).value in ("end", "ends", "ending") or c.word("ending", ahead=1):
            c.i += 2
            return _target(said, Noun.ROW_END)
        return None
    elif value == "ending" and c.word("of", "chain", "st", ahead=1):
        said.last = said.last or not c.word("chain", ahead=1)
        said.start = c.word("chain", ahead=1)
        c.take()
        c.skip_words("of", "the")
        if c.word("row", "round"):
            c.take()
            return _target(said, Noun.ROW_END)
        return True
    elif value in _FILL:
        pass
    elif value == "foundation":
        c.take()
        c.skip_words("chain")
        return _target(replace_each(said), Noun.CHAIN)
    else:
        return _target(said, Noun.STITCH) if _enough(said) else None
    c.take()
    return True


def replace_each(said: _Said) -> _Said:
    """`on foundation chain`: along all of it."""
    said.each = True
    return said


def _same_as(c: Cursor) -> None:
    """`same place as join`, `same st as last sc`: the comparison adds nothing."""
    c.take()
    while (c.peek().type in ("word", "other", "stitch", "number", "ordinal") and c.peek().value in (
        "the", "last", "join", "sl-st", "st", "chain", "first", "beginning", "previous", "of", "turning", "next", "a", "work",
    )) or c.peek().type == "stitch":  # fmt: skip
        c.take()
        if c.word("in", "on", "and", "repeat", "chain", "turn"):
            break


def _generic(c: Cursor, said: _Said) -> Target:
    """After `st`: `from hook`, `of ch`, `and sp`, `below`, `as join`."""
    if c.word("from") and (c.word("hook", ahead=1) or c.word("hook", ahead=2)):
        c.i += 2
        if c.word("hook"):
            c.take()
        return Target(How.FROM_HOOK, Noun.CHAIN, nth=said.nth or 2)
    if c.word("of", "on") and _start_chain(c, 1, said):
        return Target(How.FIRST, Noun.START, nth=said.nth)
    if c.word("as", "with"):
        _same_as(c)
        said.same = True
    if c.word("of") and c.word("chain", ahead=1):
        c.i += 2
        if said.count or said.next or said.each or said.rest:
            return _target(said, Noun.CHAIN)
        if said.nth:
            return Target(How.FIRST, Noun.START, nth=said.nth)
        return _target(said, Noun.CHAIN)
    if (
        c.word("of")
        and said.nth
        and c.word("next", "same", ahead=1)
        and c.word("loop", "sp", "shell", "chain", "group", ahead=2)
    ):
        c.i += 2
        inner = _Said(next=True, nth=said.nth)
        found = _noun(c, inner)
        if found is not None:
            return replace(found, nth=said.nth)
    if c.word("of") and said.center and c.word("next", "same", ahead=1):
        c.take()
        inner = _Said(next=c.word("next"), same=c.word("same"))
        found = _noun(c, inner)
        if found is not None:
            return found
    return _target(said, Noun.STITCH)


def _start_chain(c: Cursor, ahead: int, said: _Said) -> bool:
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


def _chain(c: Cursor, said: _Said) -> Target | None:
    """At the word chain: a space, one chain, the start chain, or chains of the foundation."""
    if said.start or said.top:
        c.take()
        if c.peek().type == "number":
            c.take()
        c.skip_words("st")
        if c.word(*_SPACES):
            c.take()
            return _target(said, Noun.SPACE)
        return Target(How.FIRST, Noun.START, nth=said.nth)
    c.take()
    if c.peek().type == "number":
        size = c.take().n
        if c.word("corner"):
            c.take()
            c.skip_words("sp", "loop")
            if not (said.each or said.same or said.first or said.last or said.any):
                said.next = True
            return _target(said, Noun.CORNER, size=size)
        if c.word(*_SPACES):
            c.take()
            if said.nth and not said.next:
                return Target(How.NEXT, Noun.SPACE, size=size, nth=said.nth)
            return _after_space(c, _target(said, Noun.SPACE, size=size))
        if c.word("chain") and c.word(*_SPACES, ahead=1):
            c.i += 2
            return _target(said, Noun.SPACE, size=size)
        return _target(said, Noun.SPACE, size=size)
    if c.word(*_SPACES):
        c.take()
        return _after_space(c, _target(said, Noun.SPACE))
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
        inner = _Said()
        found = _noun(c, inner)
        if found is not None and nth:
            return replace(found, nth=nth, noun=Noun.SPACE if found.noun is not Noun.CHAIN else Noun.CHAIN)
        c.i = mark
    if said.nth and not (said.next or said.each or said.count or said.first):
        return Target(How.FIRST, Noun.START, nth=said.nth)
    return _target(said, Noun.CHAIN)


def _after_space(c: Cursor, target: Target) -> Target:
    return target


def _space(c: Cursor, said: _Said) -> Target:
    if c.word("between"):
        c.take()
        inner = _Said(next=True)
        mark = c.i
        found = _noun(c, inner)
        if found is None:
            c.i = mark
        return _target(said, Noun.GAP if not said.each else Noun.SPACE)
    if said.gap:
        return _target(said, Noun.GAP)
    return _target(said, Noun.SPACE)


def _corner(c: Cursor, said: _Said) -> Target:
    size = 0
    if c.word("chain"):
        c.take()
        if c.peek().type == "number":
            size = c.take().n
    elif c.peek().type == "number" and c.word("chain", ahead=1):
        size = c.take().n
        c.take()
    c.skip_words("sp", "loop", "st", "shell")
    if not (said.each or said.same or said.first or said.last or said.any):
        said.next = True
    return _target(said, Noun.CORNER, size=size)


def _named(c: Cursor, said: _Said, name: str) -> Target:
    """A group by its name: its middle is meant unless a stitch of it is named."""
    if c.word("chain") and c.peek(1).type == "number" and c.word(*_SPACES, ahead=2):
        c.i += 3
    c.skip_words("st", "sp", "loop")
    if said.gap:
        if said.count >= 2:
            said.count = 1
        return _target(said, Noun.GAP)
    return replace(_target(said, Noun.SPACE), kind=name)


def _stitch(c: Cursor, said: _Said) -> Target | None:
    kind = c.take().value
    if c.word("st"):
        c.take()
    if said.gap:
        if said.count == 2 or said.nth:
            said.count = 0
        if c.word("and"):
            mark = c.i
            c.take()
            c.skip_words("next", "the")
            if c.peek().type in ("stitch", "ordinal") or c.word("st", "shell"):
                c.take()
                if c.peek().type == "stitch":
                    c.take()
            else:
                c.i = mark
        return _target(said, Noun.GAP)
    if c.word("from") and c.word("hook", ahead=1):
        c.i += 2
        return Target(How.FROM_HOOK, Noun.CHAIN, nth=said.nth or 2)
    if kind == "sl-st" and said.same:
        return _target(said, Noun.PLACE)
    if c.word("sp", "loop") and not c.word("between", ahead=1) and kind not in ("sc", "dc", "hdc"):
        c.take()
        return replace(_target(said, Noun.SPACE), kind=kind)
    if c.word("of", "on") and c.word("next", "same", ahead=1) and c.word("shell", "group", "loop", ahead=2):
        c.i += 2
        name = c.take().value
        if said.count and not said.nth:
            return replace(_target(said, Noun.STITCH), kind=kind)
        return Target(How.SAME if said.same else How.NEXT, Noun.SPACE, kind=name, nth=said.nth)
    if c.word("of") and c.word("same", "each", "next", ahead=1) and c.peek(2).value in _NAMED:
        c.i += 3
    return replace(_target(said, Noun.STITCH), kind=kind)


def _target(said: _Said, noun: Noun, size: int = 0) -> Target:
    how = How.NEXT
    if said.gap and noun is Noun.STITCH:
        noun = Noun.GAP  # `between next 2 sts`
    if said.nth == 1 and noun is Noun.SPACE:
        said.first = True  # `first ch-2 sp`: here the ordinal did not belong to a chain
    if said.skipped:
        how = How.SKIPPED
    elif said.any:
        how = How.ANY
    elif said.same:
        how = How.SAME
    elif said.last and not said.count and not said.each:
        how = How.LAST
    elif said.first and not said.count and not said.each:
        how = How.FIRST
    elif (said.each or said.rest) and not said.count:
        how = How.EACH
    elif said.previous and noun is Noun.STITCH and not said.next:
        how = How.PREVIOUS
    if noun is Noun.GAP and said.gap and how is How.NEXT:
        return Target(how, noun, max(1, said.count if said.each else 1), loop=said.loop)
    if noun is Noun.STITCH and said.nth > 1 and how is How.NEXT and not said.each:
        return Target(how, noun, 1, nth=said.nth, loop=said.loop)
    return Target(
        how, noun, max(1, said.count), size=size, nth=said.nth if said.nth > 1 else 0, every=said.every, loop=said.loop,
    )  # fmt: skip


_TAIL_WORDS = (
    "row",
    "round",
    "shell",
    "group",
    "chain",
    "ring",
    "st",
    "loop",
    "sp",
    "corner",
    "petal",
    "motif",
    "square",
    "previous",
)


def _after(c: Cursor, target: Target, said: _Said) -> Target:
    """Qualifiers behind the noun."""
    while not c.done():
        mark = c.i
        if c.peek().type == "loop":
            target = replace(target, loop=LOOPS[c.take().value])
            c.skip_words("only")
        elif c.word("in", "through") and c.peek(1).type == "loop":
            c.take()
        elif c.word("in", "through") and c.word("the", ahead=1) and c.peek(2).type == "loop":
            c.i += 2
        elif c.word("around") and target.how in (How.EACH, How.NEXT) and target.count == 1:
            c.take()
            if target.how is How.NEXT and not said.next and target.noun is not Noun.RING:
                target = replace(target, how=How.EACH)
            return target
        elif (c.word("across") and target.how is How.EACH) or (c.word("around", "across") and said.count > 1):
            c.take()
        elif c.word("across", "around") and target.noun is Noun.SPACE and target.how is How.NEXT and not said.next:
            c.take()
            target = replace(target, how=How.EACH)
        elif (
            c.word("and")
            and (c.word("each", ahead=1) or (c.word("in", ahead=1) and c.word("each", ahead=2)))
            and target.how is How.EACH
            and c.peek(3 if c.word("in", ahead=1) else 2).type == "stitch"
        ):
            c.i += 4 if c.word("in", ahead=1) else 3
            if target.noun is Noun.CHAIN:
                target = replace(target, noun=Noun.STITCH, chains=True)
            else:
                target = replace(target, kind="")
        elif (
            c.word("and")
            and c.word("in", ahead=1)
            and c.word("each", ahead=2)
            and c.word("chain", "sp", "loop", ahead=3)
            and target.how is How.EACH
            and target.noun is Noun.STITCH
        ):
            c.i += 4
            chain = c.tokens[c.i - 1].value == "chain"
            if c.peek().type == "number":
                c.take()
            spaced = c.word("sp", "loop")
            c.skip_words("sp", "loop")
            target = replace(target, spaces=spaced or not chain, chains=chain and not spaced, kind="")
        elif c.word("and") and c.word("in", ahead=1) and c.word("sp", "loop", ahead=2) and target.how is How.EACH:
            c.i += 3
            target = replace(target, spaces=True)
        elif (c.word("and") or c.sign("/")) and c.word("sp", "loop", ahead=1) and target.how is How.EACH:
            c.i += 2
            target = replace(target, spaces=True)
        elif (c.word("and") or c.sign("/")) and c.word("chain", ahead=1) and target.how is How.EACH:
            c.i += 2
            target = (
                replace(target, spaces=True)
                if c.word("sp", "loop") or c.peek().type == "number"
                else replace(target, chains=True)
            )
            if c.peek().type == "number":
                c.take()
            c.skip_words("sp", "loop")
        elif (
            c.word("and")
            and c.word("each", ahead=1)
            and c.word("sp", "loop", "chain", ahead=2)
            and target.how is How.EACH
        ):
            c.i += 2
            target = replace(
                target,
                chains=c.word("chain") and not c.word("sp", "loop", ahead=1),
                spaces=not c.word("chain") or c.word("sp", "loop", ahead=1),
            )
            c.take()
            if c.peek().type == "number":
                c.take()
            c.skip_words("sp", "loop")
        elif (
            c.peek().type == "number"
            and c.word("row", "round", ahead=1)
            and (c.word("below", ahead=2) or c.peek(2).value in ("down", "beneath", "back"))
        ):
            target = replace(target, below=c.peek().n)
            c.i += 3
        elif c.word("previous"):
            c.take()
        elif c.word("between") and c.word("shell", "group", "loop", "picot", ahead=2 if c.peek(1).type == "number" else 1):
            c.i += 3 if c.peek(1).type == "number" else 2
            _tail(c)
        elif c.word("over") and (c.word("chain", ahead=1) or (c.word("the", ahead=1) and c.peek(2).type == "stitch" and c.word("previous", ahead=3))):
            c.i += 2 if c.word("chain", ahead=1) else 4
        elif c.word("below") or (c.peek().value == "directly" and c.word("below", ahead=1)):
            c.i += 1 if c.word("below") else 2
            if not target.below:
                target = replace(target, below=1)
        elif c.word("to") and c.word("last", ahead=1) and c.peek(2).type == "number" and target.how is How.EACH:
            c.i += 2
            target = replace(target, leave=c.take().n)
            if c.peek().type == "stitch" or c.word("st", "chain", "sp"):
                c.take()
        elif (
            c.word("to")
            and c.word("last", ahead=1)
            and (c.word("st", "chain", ahead=2) or c.peek(2).type == "stitch")
            and target.how is How.EACH
        ):
            c.i += 3
            target = replace(target, leave=1)
        elif c.peek().value == "except" and c.word("last", ahead=1) and target.how is How.EACH:
            c.i += 2
            n = c.take().n if c.peek().type == "number" else 1
            c.skip_words("st")
            if c.peek().type == "stitch":
                c.take()
            target = replace(target, leave=n)
        elif c.word("on", "of", "along", "down") and (
            c.word("other", "opposite", ahead=1) or c.word("other", "opposite", ahead=2)
        ):
            while c.word("on", "of", "along", "the", "other", "opposite", "side", "foundation", "chain", "beginning"):
                c.take()
            target = replace(target, side=True)
        elif c.word("of", "from", "on", "in", "as", "at") or c.peek().value in (
            "that",
            "which",
            "left",
            "along",
            "with",
        ):
            if not _tail(c):
                c.i = mark
                return target
        elif c.word("work") and c.peek(0).value == "work" and c.peek(1).type in ("end", "sign"):
            c.take()
        elif c.peek().value in ("formed", "made") and c.peek(1).value in ("by", "with", "from", "between"):
            c.i += 2
            c.skip_words("the", "a", "previous", "last", "join")
            if c.peek().type == "number":
                c.take()
            if c.peek().type == "stitch" or c.word("chain"):
                if c.peek().type == "stitch" and target.noun is Noun.SPACE:
                    target = replace(
                        target, how=How.SAME
                    )  # the stitch that closed the round below is where the work stands
                c.take()
                if c.peek().type == "number" and c.tokens[c.i - 1].value == "chain":
                    c.take()
        elif (
            c.word("to", "until")
            and c.word("next", "each", "last", "corner", "the", ahead=1)
            and any(c.word("corner", ahead=k) for k in (1, 2, 3))
        ):
            while not c.word("corner"):
                c.take()
            c.take()
            c.skip_words("sp", "st", "loop")
        elif c.word("in", "on") and c.word("each", "every", "this", ahead=1) and c.word("row", "round", ahead=2):
            c.i += 3
        elif c.word("to") and c.peek(1).value == "within" and c.peek(2).type == "number":
            c.i += 2
            target = replace(target, leave=c.take().n, how=How.EACH if target.count == 1 else target.how)
            c.skip_words("st", "of", "the", "center", "ending", "end", "row", "round")
            if c.peek().type == "other" and c.tokens[c.i - 1].value in ("of", "the"):
                c.take()
        elif c.peek().value in ("down", "up", "along") and c.peek(1).value in (
            "the",
            "side",
            "each",
            "other",
            "opposite",
            "this",
            "long",
            "one",
        ):
            c.take()
            while c.word("the", "other", "opposite", "each", "one", "long") or c.peek().value in (
                "this",
                "long",
                "one",
            ):
                if c.word("other", "opposite"):
                    target = replace(target, side=True)
                c.take()
            c.skip_words("side", "edge")
        elif c.peek().value in (
            "only",
            "directly",
            "instead",
            "itself",
            "left",
            "unworked",
            "there",
            "now",
            "carefully",
            "loosely",
            "tightly",
        ):
            c.take()
        else:
            return target
    return target


def _tail(c: Cursor) -> bool:
    """`of previous rnd`, `from Rnd 2`, `of same shell`, `on 2nd row below`: taken if it is nothing but that."""
    at = 1
    ok = False
    while True:
        token = c.peek(at)
        if token.type in ("number", "ordinal"):
            at += 1
        elif (
            token.type == "stitch"
            and (
                c.peek(at - 1).value in ("the", "last", "of", "next", "each", "same", "as", "previous", "first", "with")
                or c.peek(at - 1).type in ("ordinal", "number")
            )
        ) or (token.type in ("word", "other") and token.value in _TAIL_WORDS):
            ok = True
            at += 1
        elif token.type in ("word", "other") and token.value in (
            "the", "last", "previous", "same", "first", "beginning", "work", "below", "this", "that", "side", "center", "foundation", "was", "were",
            "top", "each", "next", "before", "other", "original", "left", "unworked", "current", "base", "join", "square", "of", "ending", "rest", "remaining",
        ):  # fmt: skip
            if token.value in ("side", "left", "center", "unworked", "foundation", "center", "join", "remaining"):
                ok = True
            at += 1
        elif (
            token.type == "other" and at > 1 and c.peek(at - 1).value in ("of", "the") and token.value not in ("both",)
        ):
            ok = True
            at += 1
        else:
            break
    if not ok:
        return False
    # A tail never swallows the place of a following instruction.
    c.i += at
    return True

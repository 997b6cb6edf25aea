"""What follows the noun of a place: how far (`around`, `to last 2 sts`), what counts besides (`and each ch-1 sp`), how
deep (`2 rows below`), which loop, and words that only say again which course is meant (`of previous rnd`).

Each rule looks at the cursor and gives the place changed, or None (and takes nothing) when it has nothing to say.
"""

from collections.abc import Callable
from dataclasses import replace

from generator.notation.again_named import again_said, tail
from generator.notation.cursor import Cursor
from generator.notation.pieces import of_piece
from generator.notation.said import LOOPS, Said
from generator.notation.seams import along_with
from generator.notation.tree import How, Noun, Target

_SIDES = ("the", "side", "each", "other", "opposite", "this", "long", "one")


def qualified(c: Cursor, target: Target, said: Said) -> Target:
    """The place with everything that is said of it behind its noun."""
    while not c.done():
        token = c.peek()
        if token.type == "sign" and token.value != "/":
            return target
        for rule in _RULES:
            changed = rule(c, target, said)
            if changed is not None:
                target = changed
                break
        else:
            return target
        around = bool(c.i) and c.tokens[c.i - 1].type == "word" and c.tokens[c.i - 1].value == "around"
        if around and target.count == 1 and not (c.word("to") and c.word("last", ahead=1)):
            return target
    return target


def _loop(c: Cursor, target: Target, said: Said) -> Target | None:
    """`BLO`, `in the front loop only`."""
    ahead = 0
    if c.word("in", "through"):
        ahead = 2 if c.word("the", ahead=1) else 1
    if c.peek(ahead).type != "loop":
        return None
    c.i += ahead
    changed = replace(target, loop=LOOPS[c.take().value])
    c.skip_words("only")
    return changed


def _around(c: Cursor, target: Target, said: Said) -> Target | None:
    """`around`, `across`: all of them, where the noun alone would be one."""
    if c.word("round") and target.how is How.EACH and (c.peek(1).type in ("end", "sign") or c.word("join", ahead=1)):
        c.take()  # `1 dc in each tr round`
        return target
    if c.word("around") and target.how in (How.EACH, How.NEXT) and target.count == 1:
        c.take()
        one = target.how is How.NEXT and not said.next and target.noun is not Noun.RING
        return replace(target, how=How.EACH) if one else target
    if c.word("across") and target.how is How.EACH and target.noun is Noun.CHAIN and c.word("sp", "mesh", ahead=1):
        c.i += 2  # `sl st in each ch across sp`
        return replace(target, how=How.NEXT, noun=Noun.SPACE)
    if (c.word("across") and target.how is How.EACH) or (c.word("around", "across") and said.count > 1):
        c.take()
        at = 1 if c.word("the") else 0
        if c.word("foundation", ahead=at) and target.noun is Noun.STITCH:
            c.i += at + 1  # `in each st across the foundation chain`
            c.skip_words("chain")
            return replace(target, noun=Noun.CHAIN, kind="")
        return target
    if c.word("across") and target.noun is Noun.SPACE and target.how is How.NEXT and not said.next:
        c.take()
        return replace(target, how=How.EACH)
    return None


def _also(c: Cursor, target: Target, said: Said) -> Target | None:
    """`and each ch-1 sp`, `and in each ch`, `and sp`, `and each tr`: further places of an each."""
    if target.how is not How.EACH or not (c.word("and") or c.sign("/")):
        return None
    at = 1
    if c.word("in", ahead=at):
        at += 1
    each = c.word("each", ahead=at)
    at += 1 if each else 0
    if target.noun is Noun.SPACE and (c.peek(at).type == "stitch" or c.word("st", ahead=at)):
        c.i += at + 1  # `in each ch-1 sp and each sc`
        return replace(target, noun=Noun.STITCH, size=0, kind="", spaces=True)
    if each and c.peek(at).type == "stitch":
        c.i += at + 1
        chain = target.noun is Noun.CHAIN
        return replace(target, noun=Noun.STITCH, chains=True) if chain else replace(target, kind="")
    sized = c.peek(at).type == "number" and c.word("chain", ahead=at + 1) and c.word("sp", "loop", ahead=at + 2)
    if sized:
        at += 1  # `and 1ch-sp`
    if not c.word("chain", "sp", "loop", ahead=at) or (each and target.noun is not Noun.STITCH):
        return None
    c.i += at + 1
    return _spaces_or_chains(c, target)


def _spaces_or_chains(c: Cursor, target: Target) -> Target:
    """Behind `and each ch`: with `sp` or a number it is the spaces, alone it is every chain."""
    chain = c.tokens[c.i - 1].value == "chain"
    sized = chain and c.peek().type == "number"
    if sized:
        c.take()
    spaced = not chain or sized or c.word("sp", "loop")
    c.skip_words("sp", "loop")
    return replace(target, spaces=spaced, chains=not spaced, kind="" if target.noun is Noun.STITCH else target.kind)


def _below(c: Cursor, target: Target, said: Said) -> Target | None:
    """`2 rows below`, `directly below`."""
    down = c.word("below", ahead=2) or c.peek(2).value in ("down", "beneath", "back")
    if c.peek().type == "number" and c.word("row", "round", ahead=1) and down:
        c.i += 3
        return replace(target, below=c.tokens[c.i - 3].n)
    if c.word("below") or (c.peek().value == "directly" and c.word("below", ahead=1)):
        c.i += 1 if c.word("below") else 2
        return target if target.below else replace(target, below=1)
    return None


def _deeper(c: Cursor, target: Target, said: Said) -> Target | None:
    """`of 2nd row below`, `in the 3rd row down`."""
    at = 2 if c.word("the", ahead=1) else 1
    if not c.word("of", "in", "on", "from") or c.peek(at).type != "ordinal" or not c.word("row", "round", ahead=at + 1):
        return None
    if not (c.word("below", "previous", ahead=at + 2) or c.peek(at + 2).value == "down"):
        return None
    c.i += at + 3
    return replace(target, below=c.tokens[c.i - 3].n)


def _leaving(c: Cursor, target: Target, said: Said) -> Target | None:
    """`to last 2 sts`, `except last st`, `to within 2 sts of the end`: some are left."""
    if c.word("to") and c.peek(1).value == "within" and c.peek(2).type == "number":
        c.i += 2
        changed = replace(target, leave=c.take().n, how=How.EACH if target.count == 1 else target.how)
        c.skip_words("st", "of", "the", "center", "ending", "end", "row", "round")
        if c.peek().type == "other" and c.tokens[c.i - 1].value in ("of", "the"):
            c.take()
        return changed
    at = 2 if c.word("the", ahead=1) else 1
    if target.how is not How.EACH or not c.word("last", ahead=at) or not (c.word("to") or c.peek().value == "except"):
        return None
    following = c.peek(at + 1)
    if not (following.type in ("number", "stitch", "sign", "end") or c.word("st", "chain", ahead=at + 1)):
        return None
    c.i += at - 1
    c.i += 2
    n = c.take().n if c.peek().type == "number" else 1
    if c.peek().type == "stitch" or c.word("st", "chain", "sp"):
        c.take()
    return replace(target, leave=n)


_BEFORE_CORNER = ("next", "each", "last", "first", "same", "the", "center", "a", "corner", "chain", "sp", "loop", "following", "st", "group", "shell")  # fmt: skip


def _corner(c: Cursor, target: Target, said: Said) -> Target | None:
    """`to next corner`, `to ch-2 sp`, `up to the center space`: the place is what the next instruction is worked into."""
    at = 1 if c.peek().value == "up" else 0
    if not c.word("to", "until", ahead=at) or target.how not in (How.EACH, How.NEXT):
        return None
    at += 1
    begin = at
    while c.word(*_BEFORE_CORNER, ahead=at) or c.peek(at).type in ("number", "ordinal"):
        at += 1
    named = [c.peek(k).value for k in range(begin, at)]
    last = next((v for v in reversed(named) if v != "st"), "")
    if "corner" not in named and (last not in ("sp", "loop") or target.how is not How.EACH):
        return None
    c.i += at
    return target


def _other_side(c: Cursor, target: Target, said: Said) -> Target | None:
    """`on the other side of the chain`."""
    far = c.word("other", "opposite", ahead=1) or c.word("other", "opposite", ahead=2)
    if not (c.word("on", "of") or c.peek().value in ("along", "down")) or not far:
        return None
    while c.word(
        "on", "of", "the", "other", "opposite", "side", "foundation", "chain", "beginning"
    ) or c.peek().value in ("along", "down"):
        c.take()
    return replace(target, side=True)


def _down_the_side(c: Cursor, target: Target, said: Said) -> Target | None:
    """`down the side`, `along this edge`."""
    if c.peek().value not in ("down", "up", "along") or c.peek(1).value not in _SIDES:
        return None
    c.take()
    while c.peek().type in ("word", "other") and c.peek().value in _SIDES and c.peek().value != "side":
        if c.word("other", "opposite") and target.noun is not Noun.ROW_END:
            target = replace(target, side=True)
        c.take()
    c.skip_words("side", "edge")
    return target


def _pieces(c: Cursor, target: Target, said: Said) -> Target | None:
    """`together with the arm`, `through both layers`: another piece is taken along."""
    return along_with(c, target)


def _just_made(c: Cursor, target: Target, said: Said) -> Target | None:
    """`sc just made`: the stitch before."""
    if c.peek().value not in ("just", "last") or not c.word("work", ahead=1) or target.noun is not Noun.STITCH:
        return None
    c.i += 2
    return replace(target, how=How.PREVIOUS) if target.how in (How.NEXT, How.LAST) else target


def _formed(c: Cursor, target: Target, said: Said) -> Target | None:
    """`sp formed by dtr`: the stitch that closed the round below is where the work stands."""
    if c.peek().value not in ("formed", "made") or c.peek(1).value not in ("by", "with", "from", "between"):
        return None
    c.i += 2
    c.skip_words("the", "a", "previous", "last", "join")
    if c.peek().type == "number":
        c.take()
    if c.peek().type == "stitch":
        c.take()
        return replace(target, how=How.SAME) if target.noun is Noun.SPACE else target
    if c.word("chain"):
        c.take()
        if c.peek().type == "number":
            c.take()
    return target


def _course(c: Cursor, target: Target, said: Said) -> Target | None:
    """`of previous rnd`, `from Rnd 2`, `of same shell`."""
    if c.word("of", "from", "on", "in", "as") or c.peek().value in ("at", "that", "which", "left", "along", "with"):
        mark = c.i
        if c.word("as") and "picot" in (c.peek(1).value, c.peek(2).value):
            return None  # `sl st in top of sc for picot` says what it makes
        chained = c.peek().value == "with" and (c.peek(1).type == "number" or c.word("chain", "a", ahead=1))
        if chained or not tail(c):  # `with 3 ch between` says more
            return None
        at_base = any(t.value == "base" for t in c.tokens[mark : c.i])
        if number := _number_of_course(c, mark):
            target = replace(target, course=number)
        return replace(target, how=How.SAME) if at_base and target.how is How.NEXT else target
    return None


def _number_of_course(c: Cursor, mark: int) -> int:
    """`of Rnd 5`, `of R5`: which course is named; 0 when none is by its number."""
    for at in range(mark, c.i - 1):
        if c.tokens[at].value in ("round", "row", "r") and c.tokens[at + 1].type == "number":
            return c.tokens[at + 1].n
    return 0


_RULES: tuple[Callable[[Cursor, Target, Said], Target | None], ...] = (
    of_piece, _pieces, _loop, _around, _also, _below, _deeper, _just_made, again_said, _leaving, _other_side, _corner, _down_the_side, _formed, _course,
)  # fmt: skip

"""Where to work: `in next ch-2 sp`, `in each of next 3 dc`, `in 2nd ch from hook`, `between next 2 sts`.

One loop gathers what the words say and stops at the noun; what follows the noun (`of previous rnd`, `2 rows below`,
`across`) is taken too. A phrase that turns out to name no place gives None and takes nothing."""

from generator.notation.cursor import Cursor
from generator.notation.nouns import read_noun
from generator.notation.qualifiers import qualified
from generator.notation.said import Said
from generator.notation.tree import Target

PREPOSITIONS = ("in", "on", "over", "around", "between", "of", "to")
_MORE_PREPOSITIONS = ("through", "under", "at", "behind", "along", "onto", "thru", "within", "down", "up")


def starts_place(c: Cursor, ahead: int = 0) -> bool:
    """Whether a preposition that can begin a place stands here."""
    token = c.peek(ahead)
    return token.type in ("word", "other") and (token.value in PREPOSITIONS or token.value in _MORE_PREPOSITIONS)


def read_place(c: Cursor, bare: bool = False) -> Target | None:
    """The place here, from its preposition on; without one when `bare`. Takes nothing when there is none."""
    begin = c.i
    said = Said()
    if not bare:
        if not starts_place(c):
            return None
        _behind_the_work(c)
        said.gap = c.word("between")
        c.take()
    found = read_noun(c, said)
    if found is None:
        c.i = begin
        return None
    return qualified(c, found, said)


def _behind_the_work(c: Cursor) -> None:
    """`at the back of the work into the dc between two petals`: passed over where the place itself follows."""
    at = 2 if c.word("the", ahead=1) else 1
    token = c.peek(at)
    if token.type == "loop" and token.value == "back":
        at += 1
    elif token.value in ("back", "wrong"):
        at += 2 if c.word("of", "side", ahead=at + 1) else 1
    else:
        return
    while c.word("of", "the", ahead=at):
        at += 1
    if (c.word("work", ahead=at) or c.peek(at).value in ("petal", "petals")) and starts_place(c, at + 1):
        c.i += at + 1


def space_named(c: Cursor) -> bool:
    """`ch-1 sp`, `next 1ch-sp` without a preposition."""
    at = 1 if c.word("next", "the", "corner") else 0
    sized = c.word("chain", ahead=at) and c.peek(at + 1).type == "number"
    turned = c.peek(at).type == "number" and c.word("chain", ahead=at + 1)
    return c.word(
        "sp", "loop", "corner", ahead=at + 2 if sized or turned else at + 1 if c.word("chain", ahead=at) else at
    )

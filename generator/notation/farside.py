"""Places told by more than one noun: chains from below by their number, the middle of each corner."""

from generator.notation.cursor import Cursor
from generator.notation.said import SPACES
from generator.notation.tree import How, Noun, Target


def far_chains(c: Cursor) -> Target | None:
    """`other side of 4 ch`, `underside of each of the 16 chs`: so many chains, from below."""
    at = 1
    while c.word("side", "of", "the", "each", "next", ahead=at):
        at += 1
    if at < 2 or c.peek(at).type != "number" or not c.word("chain", ahead=at + 1) or c.word(*SPACES, ahead=at + 2):
        return None
    c.i += at + 2
    return Target(How.NEXT, Noun.CHAIN, c.tokens[c.i - 2].n, side=True)


def middle_of_corner(c: Cursor, middle: bool) -> Target | None:
    """`(centre st) of each corner`, `(2nd sc) of each 3-sc corner`: the corner itself, which has no chain."""
    if not middle or not c.word("of") or not c.word("each", ahead=1):
        return None
    at = 2
    if c.peek(at).type == "number" and (c.peek(at + 1).type == "stitch" or c.word("st", ahead=at + 1)):
        at += 2
    if not c.word("corner", ahead=at):
        return None
    c.i += at + 1
    c.skip_words("group", "st")
    return Target(How.EACH, Noun.CORNER)

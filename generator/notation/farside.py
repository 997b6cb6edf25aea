"""Chains of a foundation or a bridge, worked from below and told by their number."""

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

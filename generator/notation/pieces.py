"""Pieces joined on the hook: a chain to the other leg, and stitches along a leg that is no course of this piece."""

from dataclasses import replace

from generator.notation.cursor import Cursor
from generator.notation.said import Said
from generator.notation.tokens import Token
from generator.notation.tree import Chain, How, Noun, PartRef, Remark, Step, Target, Work

_PIECES = frozenset(("leg", "legs", "arm", "arms", "ear", "ears", "wing", "fin", "sleeve", "piece", "pieces", "half"))
_WHICH = frozenset(("first", "second", "third", "other", "next", "another", "left", "right", "1st", "2nd", "3rd"))
ORDINALS = {1: "first", 2: "second", 3: "third"}
_TO = ("to", "in", "on", "onto", "with", "at")


def piece_ahead(c: Cursor, ahead: int = 0) -> int:
    """How many words from there name another piece (`the first leg`, `2nd leg`, `leg 1`, `leg B`); 0 when they name
    none."""
    at = ahead + (1 if c.word("the", ahead=ahead) else 0)
    which, following = c.peek(at), c.peek(at + 1)
    if (which.type == "ordinal" or which.value in _WHICH) and following.value in _PIECES:
        return at + 2 - ahead
    lettered = following.type in ("word", "other") and following.value in ("a", "b", "c")
    if which.value in _PIECES and (lettered or (following.type == "number" and c.peek(at + 2).type != "stitch")):
        return at + 2 - ahead
    return 0


def piece_named(c: Cursor, ahead: int = 0) -> str:
    """The words for the other piece, without an article; empty when there are none."""
    words = [c.peek(ahead + k) for k in range(piece_ahead(c, ahead))]
    return " ".join(_said(w) for w in words if w.value != "the")


def _said(word: Token) -> str:
    if word.type == "ordinal":
        return ORDINALS.get(word.n, word.value)
    return str(word.n) if word.type == "number" else word.value


def of_piece(c: Cursor, target: Target, said: Said) -> Target | None:
    """`in each of 12 sts around first leg`, `in next 12 sts of second leg`: so many along another piece."""
    if c.peek().value not in ("of", "around", "along", "on", "in", "from") or target.noun is not Noun.STITCH:
        return None
    words = piece_ahead(c, 1)
    if not words or target.how is not How.NEXT or not (said.count or said.next):
        return None
    name = piece_named(c, 1)
    c.i += 1 + words
    return replace(target, noun=Noun.ROW_END, kind=name, nth=0)


def joins_piece(c: Cursor, items: list[Step]) -> list[Step] | None:
    """`Ch 3, join to first leg with sc`, `ch 2, sl st to any st of the other leg`: the chain is a bridge. A stitch that
    joins is the first of those along that piece; where the line ends with it, the next line counts it among them."""
    chain = next((s for s in reversed(items) if not isinstance(s, Remark)), None)
    if not isinstance(chain, Chain) or not _names_piece(c):
        return None
    if c.peek().type == "stitch" and c.peek().value != "sl-st" and not _in_any_of_it(c):
        return None
    stitch = piece = ""
    while not c.done() and not c.sign(".", ",", ";", "("):
        piece = piece or piece_named(c)
        token = c.take()
        if token.type == "stitch":
            stitch = token.value
    while items and items[-1] is not chain:
        items.pop()
    items.pop()
    span = chain.span.cover(c.span(c.i - 1))
    follows = any(t.type == "stitch" for t in c.tokens[c.i : c.end])
    if not follows or stitch in ("", "sl-st"):
        return [PartRef(span, "-")]
    first = Target(How.NEXT, Noun.ROW_END, kind=piece)
    return [PartRef(chain.span, "-"), Work(span, stitch, 1, first)]


def along_it(steps: list[Step]) -> None:
    """`Ch 4, sc in any st of leg 1, sc in next 13 sts, sc in 4 ch, …`: the stitches up to the chain go along that piece,
    too."""
    piece = ""
    for k, step in enumerate(steps):
        if not isinstance(step, Work):
            continue
        target = step.target
        if target.noun is Noun.ROW_END:
            piece = target.kind
        elif piece and target.noun is Noun.STITCH and target.how is How.NEXT and not target.kind:
            steps[k] = replace(step, target=replace(target, noun=Noun.ROW_END, kind=piece, implied=False))
        else:
            piece = ""


def _in_any_of_it(c: Cursor) -> bool:
    """`sc into any st of leg 1`: wherever the maker likes."""
    at = 2 if c.word("in", "on", "to", ahead=1) else 0
    return bool(at) and (
        c.word("any", "first", "the", "a", ahead=at) or c.peek(at).type == "ordinal" or c.word("st", ahead=at)
    )


def _names_piece(c: Cursor) -> bool:
    at = 1
    while c.i + at < c.end and c.peek(at).type != "sign":
        if c.peek(at).value in (*_TO, "of") and piece_ahead(c, at + 1):
            return True
        at += 1
    return False


def along_bridge(c: Cursor) -> bool:
    """Take `along ch`, `along the other side of the chain` on a line that names another piece: one in each chain."""
    at = 1
    while c.word("the", "other", "opposite", "side", "of", ahead=at):
        at += 1
    if c.peek().value != "along" or not c.word("chain", ahead=at) or c.peek(at + 1).type not in ("sign", "end"):
        return False
    if not any(t.value in _PIECES for t in c.tokens):
        return False
    c.i += at + 1
    return True

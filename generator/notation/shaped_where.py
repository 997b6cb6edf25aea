"""Where so many stitches more or less go, told in words: `at each end of row`, `at the beginning`, `at the toe`."""

from generator.notation.cursor import Cursor

AT_ENDS, AT_FIRST, AT_LAST = -1, -2, -3
"""As `every` of a shaping until the line is settled: at each end of the row, at its beginning, at its end."""
_PREPOSITIONS = ("at", "on", "in", "for", "around", "over")
_PARTS = ("toe", "heel", "front", "back", "neck", "armhole", "shoulder", "thumb", "side", "underarm", "tip", "top", "corner", "center", "crown")  # fmt: skip
"""Parts of a piece that a writer shapes at and a reader finds by eye (common practice, no source)."""


def shaped_where(c: Cursor) -> tuple[int, int] | None:
    """The place words here, taken: (`every` of the shaping, how many such places there are). None where they say none."""
    at = 1 if c.peek().value in _PREPOSITIONS else 0
    if not at:
        return None
    the = 1 if c.word("the", ahead=at) else 0
    if _both_named(c, at + the):
        return AT_ENDS, 2
    both = c.word("each", "both", ahead=at) or c.peek(at).value in ("both", "either")
    if both and (c.word("ending", "side", ahead=at + 1) or c.peek(at + 1).value in ("ends", "end", "edge")):
        c.i += at + 2
        _of_row(c)
        return AT_ENDS, 2
    if c.word("beginning", "ending", ahead=at + the) and c.peek(at + the + 1).value in (
        "of", "", "and", ".", ",", ";", "(", "only",
    ):  # fmt: skip
        first = c.word("beginning", ahead=at + the)
        c.i += at + the + 1
        _of_row(c)
        return (AT_FIRST, 1) if first else (AT_LAST, 1)
    return _part(c, at + the)


def _both_named(c: Cursor, at: int) -> bool:
    """Take `beginning and end of the row`."""
    last = at + (3 if c.word("the", ahead=at + 2) else 2)
    if not (c.word("beginning", ahead=at) and c.word("and", ahead=at + 1) and c.word("ending", ahead=last)):
        return False
    c.i += last + 1
    _of_row(c)
    return True


def _of_row(c: Cursor) -> None:
    if c.word("of", "in"):
        c.take()
        c.skip_words("the", "each", "this", "row", "round", "work", "needle")
    c.skip_words("only")


def _part(c: Cursor, at: int) -> tuple[int, int] | None:
    """`at toe`, `at center of heel`, `at center back`, `on each side`: left to the maker's eye."""
    each = c.word("each", "both", ahead=at)
    at += each
    token = c.peek(at)
    if token.type not in ("word", "other") or token.value not in _PARTS or c.peek().value == "over":
        return None
    while c.peek(at).value in (*_PARTS, "of", "the", "each", "edge"):
        at += 1
    if not (c.peek(at).type in ("sign", "end") or c.word("and", ahead=at)):
        return None
    c.i += at
    return 0, 2 if each else 1

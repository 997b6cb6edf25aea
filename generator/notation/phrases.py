"""Small phrases that many clauses share: adverbs, lengths, how loops are drawn, the rest of a clause."""

from generator.notation.cursor import Cursor

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


def clause_word(c: Cursor) -> None:
    """One word more that closes a phrase (`manner`, `way`)."""
    if c.peek().value in ("manner", "way", "pattern", "color"):
        c.take()


FILLING = 4
"""Little words (`and the`) before a verb; a line of nothing else would be looked through from each of them."""


def is_technique(c: Cursor, ahead: int = 0) -> bool:
    """Whether a clause tells how loops are drawn: `yarn over`, `insert hook in next st`, `pull loop through`."""
    while ahead < FILLING and c.word("and", "the", "a", ahead=ahead):
        ahead += 1
    token, following = c.peek(ahead), c.peek(ahead + 1)
    if token.value in ("color", "yarn", "thread", "wool") and following.value == "over":
        return True
    if token.value in ("yo", "yoh", "yrh"):
        return True
    if token.value == "work" and following.value == "off":
        return not any(c.peek(k).type == "stitch" and as_one(c, k + 1) for k in range(ahead + 2, ahead + 7))
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


def as_one(c: Cursor, ahead: int = 0) -> bool:
    """`2 sc together`, `2 sc as one`."""
    return c.word("together", ahead=ahead) or (
        c.word("as", ahead=ahead) and c.peek(ahead + 1).type == "number" and c.peek(ahead + 1).n == 1
    )


_PURPOSES = (
    "corner",
    "turn",
    "turning",
    "point",
    "tip",
    "petal",
    "leaf",
    "scallop",
    "edge",
    "heel",
    "toe",
    "neck",
    "thumb",
)


def purpose(c: Cursor) -> bool:
    """`for corner`, `for first point`: what it will be, taken; nothing is worked by it."""
    at = 1
    while c.word("a", "the", "next", "each", "last", "other", ahead=at) or c.peek(at).type == "ordinal":
        at += 1
    if not c.word("as") or c.peek(at).value not in _PURPOSES:
        return False
    if not (c.peek(at + 1).type in ("sign", "end") or c.word("and", ahead=at + 1)):
        return False
    c.i += at + 1
    return True


def manner(c: Cursor) -> None:
    """Adverbs between a stitch and its place say how, not how many."""
    while (
        c.peek().type == "other"
        and (c.peek().value.endswith("ly") or c.peek().value in ("again", "more"))
        and c.peek().value != "only"
    ):
        c.take()

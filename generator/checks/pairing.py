"""Signs that come in pairs: which of a line has lost its partner."""

import re

CLOSES = {")": "(", "]": "[", "}": "{"}
_BRACKET = re.compile(r"[()\[\]{}]")


def broken(text: str, bare: bool) -> bool:
    """Whether a sign of the line is told to have no partner; how often something is worked is then no further question.

    Old prints that are pasted in (`bare`) have asterisks to spare.
    """
    return lonely(text) is not None or (not bare and odd_asterisks(text))


def odd_asterisks(text: str) -> bool:
    """Three or five single asterisks; `rep from * to *` and `**` have their own grammar."""
    if text.count("*") < 3 or text.count("*") % 2 == 0 or "**" in text:
        return False
    return not re.search(r"(?:from|between)\s+\*\s*(?:to|and)\s+\*", text, re.IGNORECASE)


def lonely(text: str) -> int | None:
    """Offset of the first bracket without a partner."""
    opened: list[int] = []
    for found in _BRACKET.finditer(text):
        i, sign = found.start(), found[0]
        if sign not in CLOSES:
            opened.append(i)
        elif opened and text[opened[-1]] == CLOSES[sign]:
            opened.pop()
        elif opened or not re.fullmatch(r"\s*[\w.,–-]{1,8}", text[:i]):  # `1)` and `a)` are list numbers
            return opened[-1] if opened else i
    return opened[-1] if opened else None

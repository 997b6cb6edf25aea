"""Numbers of courses in words: `Round Fourteen`, `Rows Twenty-one to Twenty-four`."""

import re

_UNITS = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
_TEENS = ("ten", "eleven", "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen")
_TENS = ("twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")

_UNIT = "|".join(_UNITS)
CARDINAL = rf"(?:(?:{'|'.join(_TENS)})(?:[- ](?:{_UNIT})\b)?|{'|'.join(_TEENS)}|{_UNIT})"
"""A number below a hundred in words, as a pattern without groups."""

_VALUES = {word: n for n, word in enumerate((*_UNITS, *_TEENS), start=1)} | {
    word: 10 * n for n, word in enumerate(_TENS, start=2)
}
_SPELT = re.compile(rf"\b{CARDINAL}\b", re.IGNORECASE)


def in_figures(text: str) -> str:
    """The text with numbers in words written in figures."""
    if text.isascii() and not any(character.isalpha() for character in text):
        return text
    return _SPELT.sub(lambda match: str(_value(match[0].lower())), text)


def _value(words: str) -> int:
    return sum(_VALUES[word] for word in words.replace("-", " ").split())

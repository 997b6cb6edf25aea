"""What stands before the work in a pasted pattern: facts (`Gauge: 18 sc = 10 cm`), lists of abbreviations (`sc: single
crochet`), stitches explained (`Shell: 5 dc in same st`). Nothing of it is worked; it is kept, and what it names is
known from there on."""

import re
import tomllib
from dataclasses import dataclass
from functools import cache
from importlib import resources

from generator.notation.counts import read_count
from generator.notation.cursor import Cursor
from generator.notation.lexicon import Lexicon
from generator.notation.times import read_times
from generator.notation.tokens import Token, tokenize

_ENTRY = re.compile(
    r"\s*(?P<name>[A-Za-z][A-Za-z/'’() -]{0,40}?)\s*(?:[(\[](?P<short>[A-Za-z][A-Za-z0-9./-]{0,9})[)\]])?"
    r"\s*(?::|=|\s[-–—]\s)\s*(?P<means>\S.*)$"
)
_SIGNS = re.compile(r"\s*(?:\[\s*\]|\(\s*\)|\{\s*\}|\*+\s*\*+|\*\s*\.\.\.\s*\*)\s*(?:[:=–—-]|means?\b)\s*\S")
_PIECE = re.compile(
    r"\s*[A-Za-z][A-Za-z'’ ,&/-]{1,40}?\s*(?:[(\[]\s*(?:make|work|[x×])?\s*(?:\d+|one|two|three|four|five|six|eight)\s*(?:[x×]|times)?\s*[)\]]"
    r"|[-–—:,]\s*make\s+(?:\d+|two|three|four|five|six|eight)|\s[x×]\s?\d+)\s*[:.]?\s*$",
    re.IGNORECASE,
)
_QUANTITY = re.compile(r"\d\s?(?P<unit>[a-z]+)\b", re.IGNORECASE)
_LEADING = frozenset(("turn", "join", "next", "same", "each", "work", "until", "from", "ring", "corner", "a", "the", "in", "with", "last", "side", "magic", "color", "round", "row", "close", "base", "top", "center", "edge", "end", "beginning", "front", "back", "foundation", "ending"))  # fmt: skip
"""Words that a line of work may well begin with before a colon."""
_WORKED = frozenset(("chain", "inc", "dec", "repeat", "turn", "join", "skip", "until", "round", "row", "st"))


@dataclass(frozen=True, slots=True)
class Entry:
    """A name explained: where its meaning begins in the line, what the name is, its short form."""

    at: int
    name: Token
    short: str = ""


@cache
def _front() -> tuple[re.Pattern[str], frozenset[str]]:
    data = tomllib.loads(resources.files(__package__).joinpath("manner.toml").read_text(encoding="utf-8"))["front"]
    heads = "|".join(re.escape(head) for head in sorted(data["heads"], key=len, reverse=True))
    return re.compile(rf"\s*(?:{heads})\s*(?:\([^()]*\))?\s*(?::|=|\s[-–—]\s|$)", re.IGNORECASE), frozenset(
        data["units"]
    )


def heads_facts(text: str) -> int:
    """`Gauge: …`, `Materials`, `Abbreviations (US terms):`: where such a head ends; 0 where there is none."""
    match = _front()[0].match(text) or _SIGNS.match(text)
    return match.end() if match else 0


def heads_piece(text: str) -> bool:
    """`Leaf (make 2)`, `FLIPPERS - make 4`, `Arms x2`: a piece and how many there are of it."""
    return _PIECE.match(text) is not None


def lists_fact(text: str, words: Lexicon) -> bool:
    """`50 g cotton in cream`, `3.5 mm hook`: a quantity in units that only materials have, and nothing to work."""
    units = _front()[1]
    if not any(found["unit"].lower() in units for found in _QUANTITY.finditer(text)):
        return False
    return not any(token.type == "stitch" or token.value in _WORKED for token in tokenize(text, 0, words))


def entry(text: str, words: Lexicon) -> Entry | None:
    """`sc = single crochet`, `Bobble (bo): …`, `inc - 2 sc in one st`: the name and where its meaning begins; None where
    the line is work."""
    match = _ENTRY.match(text)
    if match is None:
        return None
    name = tokenize(match["name"], 0, words)
    if len(name) == 2 and name[1].value == "st":
        name = name[:1]
    if len(name) != 1 or name[0].type == "number" or (name[0].type == "word" and name[0].value in _LEADING):
        return None
    if name[0].type == "other" and not (match["short"] or name[0].value == "v"):
        return None
    means = tokenize(match["means"], 0, words)
    if read_count(Cursor(means)) is not None or read_times(Cursor(means)) is not None:
        return None  # `Sc around: 18`
    return Entry(match.start("means"), name[0], (match["short"] or "").lower())


def renamed(tokens: list[Token], names: dict[str, str]) -> list[Token]:
    """The tokens with the pattern's own abbreviations read as the stitches they stand for."""
    if not names:
        return tokens
    return [
        token._replace(type="stitch", value=names[token.value])
        if token.type == "other" and token.value in names
        else token
        for token in tokens
    ]

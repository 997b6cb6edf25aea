"""A working line cut into words with meanings: stitches, numbers, canonical words, signs.

Spaced and hyphened abbreviations (`s c`, `sl-st`, `half double`) come out as one token; digits glued to letters
(`2sc`, `ch3`, `sc2tog`) come apart or together as the trade means them.
"""

import re
from functools import lru_cache
from typing import NamedTuple

from generator.notation.lexicon import Lexicon, Node, known_stitch
from generator.source import named
from generator.vocabulary.load import stitch


class Token(NamedTuple):
    """One token; a tuple, because a line has dozens and they cost a third of a frozen class. `type` is `stitch`, `number`, `ordinal`, `word`, `loop`, `sign`, or `other` (a word not known).

    `value` is the identity, canonical word or sign; `n` the number; `glued` whether a hyphen tied it to the token
    before it (`ch-2` gives `chain` and a glued 2).
    """

    type: str
    value: str
    start: int
    end: int
    n: int = 0
    glued: bool = False
    tight: bool = False
    """No space before it (`2sc`: the `sc`)."""


# A spaced single letter before another (`s c`) is left to the dictionary; stops inside (`s.c.`) become spaces.
_STOPS = re.compile(
    r"\b([sdhtSDHT])\. ?(?=(?:[cCdDrR]|[tT]rs?)\b)|\b[sS]\. ?(?=(?:[sS]|[sS]t)\.)|\b[tT]\. ?(?=[cC]h\b)|\b[sS]\.(?=[sS]\b)"
    r"|\b[lL]\.(?=[tT]r)|\btr\.(?=tr)"
)
_WOOL = re.compile(r"\b([wytWYT])\. ?([oOrR])\. ?([hHnN])\b\.?")
_FASTEN = re.compile(r"\bF\.(?= ?O\b)")
_COUNTED = (
    r"\d+ ?(?:[sdh] ?c|h?dc|[hd]?tr|sts?|stitches|(?:\d+[- ]?)?ch(?:[- ]?\d+)?[- ](?:corner )?(?:sps?|lps?|loops?|spaces)"
    r"|sps?|lps?|loops?|shells?|clusters?|groups?|petals?)"
)
_STOPPED = re.compile(
    r"\b((?i:(?:[sdh] )?c|[sdh]c|hdc|ch|sk|rep|rnd|beg|sl|lp|tog|bet|rem|inc|dec))\.(?=[ ,;)]? ?[a-z0-9*(,;])"
    # `ss to 3rd ch. 12 tr, 6 ch sps.`: the count, a sentence of its own
    rf"(?! {_COUNTED}(?:(?:,| and|,? ?[+&]) {_COUNTED})*\.?\s*$)"
    r"|\b((?i:st|sts|sp|sps|trs?|[hd] ?trs?|dcs|inc|dec|s ?s|s st|cl|cls|foll|alt|patt|bl|bls|blks?|chs|lps|sqs|gr|gp|rem))\.(?=[ ,;)]? ?[a-z*(,;])"
)
_RAW = re.compile(
    r"(?P<word>[^\W\d_¼½¾⅓⅔⅛][^\W\d_]*(?:['’][^\W\d_]+)*(?:\((?:s|es)\)(?!\w))?)"
    r"|(?P<fraction>\d*[¼½¾⅓⅔⅛]|\d+\s?/\s?\d+)|(?P<decimal>\d+\.\d+)|(?P<ordinal>\d+(?i:st|nd|rd|th)\b|[23]d\b)"
    r"|(?P<number>\d+)|(?P<star>\*+|†+|‡+|#+|§+|•+)|(?P<sign>[^\w\s])",
)


def soften(text: str) -> str:
    """Stops that only shorten a word become spaces; the length stays the same, so offsets keep."""
    if "." not in text:
        return text
    text = _FASTEN.sub("F ", text)
    text = _WOOL.sub(lambda m: m[0].replace(".", " "), text)
    text = _STOPS.sub(lambda m: m[0].replace(".", " "), text)
    return _STOPPED.sub(lambda m: m[0].replace(".", " "), text)


@lru_cache(maxsize=4096)
def _cut(kind: str, words: str) -> tuple[str, str, int]:
    """Kind, value and number of one cut piece; a line's words are few and come again and again."""
    value = words.lower().replace("’", "'")
    if kind == "word":
        for tail, plural in (("(s)", "s"), ("(es)", "es")):
            if value.endswith(tail):
                value = value[: -len(tail)] + plural
    elif kind == "star":
        kind = "sign"
    elif kind == "ordinal" and not _ordinal(value):
        kind = "stitches"  # `12st` is twelve stitches
    digits = re.match(r"\d*", words)
    n = int(digits[0][:9]) if digits and digits[0] and kind in ("number", "ordinal", "stitches") else 0
    return kind, value, n


def _raw(text: str, offset: int) -> list[Token]:
    """The line cut, without any dictionary."""
    out: list[Token] = []
    previous_end = -1
    glue = False
    for match in _RAW.finditer(text):
        words = match[0]
        kind, value, n = _cut(match.lastgroup or "sign", words)
        start, end = match.span()
        tight = start == previous_end
        previous_end = end
        if kind == "sign" and tight and words in "-‐‑–" and text[end : end + 1].isalnum():
            glue = True
            continue
        start, end, tight = start + offset, end + offset, tight or glue
        if kind == "stitches":
            digits = end - 2
            out.append(Token("number", value[:-2], start, digits, n, glue, tight))
            out.append(Token("word", "st", digits, end, 0, False, True))
        else:
            out.append(named(Token, (kind, value, start, end, n, glue, tight)))
        glue = False
    return out


def _ordinal(words: str) -> bool:
    """Whether digits before `st` make an ordinal (1st, 21st), not a number of stitches (12st)."""
    digits = words.rstrip("stndrh")
    return not words.endswith("st") or (digits.endswith("1") and not digits.endswith("11"))


_Found = tuple[int, tuple[str, str]]
"""Where a form ends, and its entry."""


def _longest(raw: list[Token], i: int, root: Node) -> _Found | None:
    """The longest form that starts at token i: the index past it and its entry."""
    node = root
    best: _Found | None = None
    for j in range(i, len(raw)):
        token = raw[j]
        following = node.children.get(str(token.n) if token.type == "number" else token.value)
        if following is None or token.type == "sign":
            break
        node = following
        if node.entry is not None:
            best = (j + 1, node.entry)
        if not node.children:
            break
    return best


def _together(raw: list[Token], i: int, identity: str) -> tuple[int, str]:
    """`sc` followed by a tight number and `tog` is one stitch worked over several places."""
    if (
        i + 1 < len(raw)
        and raw[i].type == "number"
        and raw[i + 1].type == "word"
        and raw[i + 1].value in ("tog", "together")
        and known_stitch(f"{identity}{raw[i].n}tog")
        and (raw[i].tight or raw[i + 1].tight)
    ):
        return i + 2, f"{identity}{raw[i].n}tog"
    return i, identity


_BUNCHES = ("cluster", "puff", "bobble", "popcorn")
_LEGS = ("sc", "hdc", "dc", "tr", "dtr", "trtr")
MOST_LEGS = 9
"""Unfinished stitches in one bunch; no hook holds more loops."""


def _bunch(raw: list[Token], i: int, n: int, legs: _Found | None, words: Lexicon) -> tuple[int, str] | None:
    """`3-dc cluster`, `5 tr popcorn`, `hdc puff`: a bunch of `n` (0: as many as usual) of the stitch whose words
    begin at token `i`, in one token. `12 dc clusters` counts them."""
    if legs is None or legs[1][1] not in _LEGS or legs[1][0] != "stitch" or legs[0] >= len(raw):
        return None
    bunch = _longest(raw, legs[0], words.root) if raw[legs[0]].type == "word" else None
    if bunch is None or bunch[1][0] != "stitch" or bunch[1][1] not in _BUNCHES:
        return None
    if n and not raw[i].glued and raw[bunch[0] - 1].value.endswith("s"):
        return None
    usual = stitch(bunch[1][1])
    n = n or usual.legs
    same = n == usual.legs and legs[1][1] == usual.base
    return bunch[0], usual.identity if same else f"{legs[1][1]}-{usual.identity}-{n}"


def _counted_bunch(raw: list[Token], i: int, words: Lexicon) -> tuple[int, str] | None:
    """The bunch whose number is token `i`."""
    if not 2 <= raw[i].n <= MOST_LEGS or i + 1 >= len(raw) or raw[i + 1].type != "word":
        return None
    return _bunch(raw, i + 1, raw[i].n, _longest(raw, i + 1, words.root), words)


def _bunch_of(raw: list[Token], j: int, bunch: str, words: Lexicon) -> tuple[int, str]:
    """`cluster of 4 tr`, behind the word: how many of which stitch; the bunch as it is where that is not said."""
    if j + 2 >= len(raw) or raw[j].value != "of" or not 2 <= raw[j + 1].n <= MOST_LEGS or raw[j + 2].type != "word":
        return j, bunch
    legs = _longest(raw, j + 2, words.root)
    if legs is None or legs[1][1] not in _LEGS:
        return j, bunch
    n, usual = raw[j + 1].n, stitch(bunch)
    same = n == usual.legs and legs[1][1] == usual.base
    return legs[0], bunch if same else f"{legs[1][1]}-{bunch}-{n}"


def _explained(raw: list[Token], words: Lexicon) -> list[Token]:
    """Drop brackets that only give a word's abbreviation (`slip stitch (sl st)`) or how a stitch is begun
    (`(3 times over hook)`): they explain a word and instruct nothing."""
    out: list[Token] = []
    i = 0
    while i < len(raw):
        token = raw[i]
        if token.type == "sign" and token.value in "([" and out:
            close = next(
                (k for k in range(i + 1, min(i + 12, len(raw))) if raw[k].type == "sign" and raw[k].value in ")]"), None
            )
            if close is not None and raw[i + 1].value == "[":
                close = next((k for k in range(close + 1, min(close + 9, len(raw))) if raw[k].value == ")"), close)
            if close is not None and (_begun(raw[i + 1 : close]) or _short_for(raw, i, close, words)):
                i = close + 1
                continue
        out.append(token)
        i += 1
    return out


def _begun(inner: list[Token]) -> bool:
    values = [t.value for t in inner]
    return (
        "over" in values
        and ("hook" in values or "needle" in values)
        and len(values) <= 9
        and not any(t.value in ":,;" for t in inner)
    )


def _short_for(raw: list[Token], i: int, close: int, words: Lexicon) -> bool:
    """Whether the bracket says the words before it once more."""
    inside = _longest(raw, i + 1, words.root)
    if inside is None or inside[0] != close:
        return False
    for back in range(1, 4):
        if i - back < 0:
            break
        before = _longest(raw, i - back, words.root)
        if before is not None and before[0] == i and before[1] == inside[1]:
            return True
    return False


_YARN_LEADS = ("with", "join", "to", "color", "colour", "attach", "using", "yarn", "change", "joining", "in", "of")


def _names_yarn(raw: list[Token], i: int, text: str, offset: int) -> bool:
    """A capital A behind `with` or `join`, or beside a number or a sign that ends it, is the yarn A, not the article."""
    if text[raw[i].start - offset] != "A":
        return False
    before, after = raw[i - 1] if i else None, raw[i + 1] if i + 1 < len(raw) else None
    if before is not None and before.value in _YARN_LEADS:
        return True
    ends = after is None or after.type == "sign" or after.value == "x"
    tight = after is not None and after.type == "number" and after.tight
    return (ends and i > 0) or tight or (after is not None and after.value == "x")


def _increase(raw: list[Token], i: int, j: int) -> bool:
    """`(sc 2, in) 6`: `in` with nothing to stand in is the increase, cut short."""
    before = raw[i - 1].value if i else "("
    after = raw[j].value if j < len(raw) else ")"
    if after == ")" or (after == "," and before in (",", "(")):
        return True
    return (
        before in ("(", ",")
        and raw[j].type == "number"
        and (j + 1 >= len(raw) or raw[j + 1].value in ("(", ",", ")", "[", "."))
    )


def tokenize(text: str, offset: int, words: Lexicon) -> list[Token]:
    """All tokens of a line whose text starts at `offset` of its source."""
    raw = _raw(soften(text), offset)
    if "(" in text or "[" in text:
        raw = _explained(raw, words)
    out: list[Token] = []
    i = 0
    while i < len(raw):
        token = raw[i]
        if token.type not in ("word", "number"):
            i += 1
        elif token.value == "a" and _names_yarn(raw, i, text, offset):
            token = token._replace(type="other")
            i += 1
        else:
            i, token = _meant(raw, i, words)
        out.append(token)
    return out


def _meant(raw: list[Token], i: int, words: Lexicon) -> tuple[int, Token]:
    """What the word or number at index `i` begins, as one token, and the index past it."""
    token = raw[i]
    kind, value, start, end, n, glued, tight = token
    word = kind == "word"
    found = _longest(raw, i, words.root) if word or str(n) in words.root.children else None
    bunch = _bunch(raw, i, 0, found, words) if word else _counted_bunch(raw, i, words)
    if bunch is not None:
        return bunch[0], Token("stitch", bunch[1], start, raw[bunch[0] - 1].end, 0, glued, tight)
    if found is not None:
        j, (kind, value) = found
        if kind == "stitch":
            j, value = _together(raw, j, value)
            if value in _BUNCHES:
                j, value = _bunch_of(raw, j, value, words)
        elif value == "in" and kind == "word" and _increase(raw, i, j):
            value = "inc"
        return j, named(Token, (kind, value, start, raw[j - 1].end, 0, glued, tight))
    if not word:
        return i + 1, token
    if value in words.numbers:
        n, following = words.numbers[value], words.numbers.get(raw[i + 1].value, 0) if i + 1 < len(raw) else 0
        if n >= 20 and n % 10 == 0 and 0 < following < 10:  # `forty-two`
            return i + 2, Token("number", value, start, raw[i + 1].end, n + following, glued)
        return i + 1, Token("number", value, start, end, n, glued)
    if value in words.ordinals:
        return i + 1, Token("ordinal", value, start, end, words.ordinals[value], glued)
    return i + 1, named(Token, ("other", value, start, end, 0, glued, tight))

"""Words for the ear: signs and brackets of the trade said in words, so that a voice or a braille line loses nothing.

A stop or an asterisk that carries meaning on paper is silence in most voices; here a repeat says where it begins, how
often it goes and where it ends.
"""

import re

_UNITS = {
    "mm": ("millimetre", "millimetres"), "cm": ("centimetre", "centimetres"), "m": ("metre", "metres"),
    "g": ("gram", "grams"), "in": ("inch", "inches"), "yd": ("yard", "yards"), "oz": ("ounce", "ounces"),
}  # fmt: skip
_MEASURE = re.compile(
    r"(?P<n>[\d.,]*[\d¼½¾⅛⅜⅝⅞])(?:[\u00a0\u202f](?P<tied>mm|cm|m|g|in|yd|oz)|\s(?P<loose>mm|cm|g)|(?P<near>mm|cm|g))\b"
)
_PARTS = {
    "¼": "a quarter", "½": "a half", "¾": "three quarters",
    "⅛": "one eighth", "⅜": "three eighths", "⅝": "five eighths", "⅞": "seven eighths",
}  # fmt: skip
_SAID = {
    "\u00a0": " ", "\u202f": " ", "×": " by ", "−": "minus ", "“": '"', "”": '"', "’": "'", "‘": "'", "…": "...",
    "—": ", ", "–": ", ", "·": ",",
}  # fmt: skip

_GROUP = re.compile(r"\[(?P<body>[^\[\]]*)\] (?P<place>(?:in|around|into|over) [^,.;()\[\]]+)")
_TIMES = re.compile(r"\((?P<body>[^()]*)\) (?P<times>\d+ times|twice|once)")
_AROUND = re.compile(r"\*+(?P<body>[^*]+?)[;,] repeat from \*+ ?(?P<how>[^,.;()]*)")
_ASIDE = re.compile(r"\s*\((?P<said>[^()]*)\)")


def spoken(text: str) -> str:
    """A text with its signs in words: `4–8` is `4 to 8`, `4 mm` is `4 millimetres`, `1½` is `1 and a half`."""
    text = _MEASURE.sub(_unit, text)
    text = re.sub(r"(?<=[\w½¼¾])–(?=\w)", " to ", text)
    text = re.sub("(?<=[0-9])([" + "".join(_PARTS) + "])", lambda found: " and " + _PARTS[found[1]], text)
    text = re.sub("[" + "".join(_PARTS) + "]", lambda found: _PARTS[found[0]], text)
    for sign, word in _SAID.items():
        text = text.replace(sign, word)
    return re.sub(r"\s+([,.;])", r"\1", " ".join(text.split()))


def spoken_work(text: str) -> str:
    """A working line for the ear: repeats and groups announced and ended in words, no bracket and no asterisk left."""
    before = ""
    while before != text:
        before = text
        text = _GROUP.sub(r"\g<place>, all in one place: \g<body>, end of group", text)
        text = _TIMES.sub(r"repeat \g<times>: \g<body>, end of repeat", text)
    text = _AROUND.sub(
        lambda m: f"repeat {m['how'].strip()}: {m['body'].strip()}, end of repeat".replace(" :", ":"), text
    )
    text = _ASIDE.sub(r", \g<said>,", text)
    text = re.sub(r"[\[\]()*]", "", text)
    text = re.sub(r",\s*(?=[,.;])", "", spoken(text)).strip()
    return re.sub(r"(^|\. )([a-z])", lambda found: found[1] + found[2].upper(), text)


def _unit(match: re.Match[str]) -> str:
    one, many = _UNITS[match["tied"] or match["loose"] or match["near"]]
    return f"{match['n']} {one if match['n'] in ('1', '½', '¼', '¾') else many}"

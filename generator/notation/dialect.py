"""US or UK: told by words that only one of them uses, and by what a chain of three lifts the hook to."""

import re
from functools import cache

from generator.notation.tokens import soften

_US = re.compile(
    r"\b(?:[2-9]|\d\d)?\s?(?:sc|s c|hdc|h d c|single crochets?|half double)\b|\bsc\d?tog|\bskip\b|\bsk\b|\bs\.\s?c\.",
    re.IGNORECASE,
)
_UK = re.compile(
    r"(?:\b|\d)h(?:\. ?| )?tr(?:\b|\d?tog)|\bs\. ?s\.|half[- ]treble|\b[hl] trs?\b|\bs s\b|\bmiss\b|\bmissing\b|\byrh\b|\btension\b|long stitch|double treble|\bd(?:\. ?| )?tr\b|\bdoubles?\b(?! crochet|[- ]loop)|\bquadruple treble|\bplain\b(?! rnd| round| row)|chain 3 for|\btrebles?\b(?! crochet)|\bsingle\b(?! crochet)",
    re.IGNORECASE,
)
_UK_CHAIN = re.compile(
    r"\b3 ?ch(?:ain)?s?\b[^.;]{0,25}(?:=|counts? as|stand\w* for|for)\s*(?:1|first|1st|a|one)?\s*(?:tr\b|treble)|ch(?:ain)? ?3\b[^.;]{0,25}(?:=|counts? as)\s*(?:1|first|1st|a)?\s*tr",
    re.IGNORECASE,
)
_US_CHAIN = re.compile(
    r"ch(?:ain)? ?-?3\b[^.;]{0,25}(?:=|counts? as)\s*(?:1|first|1st|a)?\s*(?:dc|double)", re.IGNORECASE
)
_US_START = re.compile(
    r"(?:^|[:.]\s*|Work )(?:ch(?:ain)? ?-?3|3 ?ch(?:ain)?)\b[^.;:]{0,30}\b(?:dc|d c)\b", re.IGNORECASE | re.MULTILINE
)
_UK_START = re.compile(
    r"(?:^|[:.]\s*|Work )(?:ch(?:ain)? ?-?[34]|[34] ?ch(?:ain)?)\b[^.;:]{0,30}\b(?:tr|treble)\b",
    re.IGNORECASE | re.MULTILINE,
)


_FIRST = r"(?:s|es)? in(?:to)? (?:the )?(?:4th|fourth)(?: st| ch(?:ain)?)?s? (?:from|of|ch)"
_US_FIRST = re.compile(r"\b(?:dc|d c|double crochet)" + _FIRST, re.IGNORECASE)
_UK_FIRST = re.compile(r"\b(?:tr|treble)" + _FIRST, re.IGNORECASE)
"""What is worked into the 4th chain from the hook is as high as three chains."""


_SAID = re.compile(
    r"\b(?:(?P<us>US|U\.S\.|USA|American)|(?P<uk>UK|U\.K\.|British|English))\s+(?:crochet\s+)?(?:terms?|terminology|abbreviations?)\b"
)
"""`UK terms used throughout`: a text that says which they are. The first it names are its own."""


_STOPPED = re.compile(r"\b(?:ch|tr|c|r|st)\.[ ,;)]? ?[\w(*]")


@cache
def _weights(text: str) -> tuple[int, int]:
    if _STOPPED.search(text):
        text = soften(text)  # `3 ch., miss 1st tr.` says what `3 ch, miss 1st tr` says
    us = len(_US.findall(text)) + 4 * len(_US_CHAIN.findall(text)) + len(_US_START.findall(text))
    uk = len(_UK.findall(text)) + 4 * len(_UK_CHAIN.findall(text)) + len(_UK_START.findall(text))
    us, uk = us + len(_US_FIRST.findall(text)), uk + len(_UK_FIRST.findall(text))
    return us, uk


def infer_terms(text: str) -> str:
    """US or UK, from words that only one of them uses; US where nothing tells."""
    if said := _SAID.search(text[:50_000]):
        return "US" if said["us"] else "UK"
    us, uk = _weights(text[:50_000])
    return "UK" if uk > us else "US"

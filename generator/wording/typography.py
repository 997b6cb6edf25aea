"""Typographic care for what is shown: what belongs together stays on one line, signs are the right ones.

Only for display; the text itself keeps plain spaces, so that it can be searched, copied and read again.
"""

import re

TIE = "\u00a0"
_AFTER_NUMBER = re.compile(r"(?<![\w-])(\d+(?:st|nd|rd|th)?|×) (?=[^\W\d_]|\d)")
_BEFORE_NUMBER = re.compile(r"\b((?:[Rr]nds?|[Rr]ounds?|[Rr]ows?|[Cc]h|[Cc]hain|next|last|first|×)) (?=\d)")
_SHORT_PAIR = re.compile(r"\b([Ss]l|[Ii]nv|[Rr]ev) (?=(?:st|dec|sc|dc)\b)")
_APOSTROPHE = re.compile(r"(?<=\w)'(?=\w)")


def typeset(text: str) -> str:
    """A line ready to be shown: `ch 3`, `3 sts`, `Rnd 4`, `sl st` never break; apostrophes are curved."""
    text = _APOSTROPHE.sub("’", text)
    text = _SHORT_PAIR.sub(rf"\1{TIE}", text)
    text = _BEFORE_NUMBER.sub(rf"\1{TIE}", text)
    text = _AFTER_NUMBER.sub(rf"\1{TIE}", text)
    return text.replace(" – ", f"{TIE}– ").replace("rep from * ", f"rep from{TIE}* ")

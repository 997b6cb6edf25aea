"""A line undressed: signs that only decorate it become spaces, and a row of a table becomes the line it stands for.

Patterns are pasted from notes, posts and tables: `- **Rnd 3:** …`, `🌿 Round 3: …`, `| 3 | (sc, inc) x 6 | 18 |`. The
text keeps its length, so every place in it keeps its offset.
"""

import re
from functools import lru_cache
from itertools import pairwise

from generator.notation.labels import read_label
from generator.notation.tree import Word

_BULLET = re.compile(r"(?:[\s>•‣◦▪●○■□☐☑✓✔▢◆◇♦→➤»·–—-]|\[[ xX]?\](?=\s)|#{1,6}\s|[*+]\s)+")
_BOLD = re.compile(r"(?P<mark>\*\*|__|(?<![\w*])[*_](?=[\w]))")
_PICTURE = re.compile(
    "[\U0001f000-\U0001faff\u2600-\u2604\u2607-\u26ff\u2700-\u2714\u2728\u2763-\u2767\u27a1\u2b50\ufe0f\u200d\u20e3]"
)
"""Little pictures. Stars and florets that patterns use as marks of a repeat are not among them."""
_RULE = re.compile(r"\s*\|?[\s|:=-]*-[\s|:=-]*\|?\s*")
_SPAN_OF_ROUNDS = re.compile(
    r"\s*(?P<word>(?:rounds?|rnds?|rows?|r)\b\.?\s*)?#?(?P<nums>\d+(?:\s*(?:-|–|—|to|,|&|and)\s*\d+)*)\s*[.:)]?\s*",
    re.IGNORECASE,
)
_HEADS = re.compile(r"\s*(?:\**|_*)(?:rounds?|rnds?|rows?|r|no\.?|#)(?:\**|_*)\s*", re.IGNORECASE)
_TOTAL = re.compile(r"\s*[(\[]?\d+(?:\s*[a-z]{2,8})?[)\]]?\s*", re.IGNORECASE)


@lru_cache(maxsize=4096)
def undressed(text: str) -> str:
    """The line without decoration, in the same length. Remembered: the same lines come again at every save."""
    row = _row(text)
    if row is not None:
        return row
    plain = text if text.isascii() else _PICTURE.sub(lambda m: " " * len(m[0]), text)
    lead = _BULLET.match(plain)
    start = lead.end() if lead else 0
    if start and not _sure(plain, start):
        start = 0
    plain = " " * start + plain[start:]
    return _without_bold(plain) if "*" in plain or "_" in plain else plain


def _sure(text: str, start: int) -> bool:
    """Whether what leads the line is decoration: a label follows, or it is no sign the trade uses."""
    marks = set(text[:start]) - set(" -–—\t")
    if marks & set("*+#>[") or marks & set(text[start:]):
        return _labelled(text, start)
    return True


def _labelled(text: str, start: int) -> bool:
    bold = _BOLD.match(text, start)
    rest = text[bold.end() if bold else start :]
    label = read_label(rest.replace("*", " ").replace("_", " ") if bold else rest, 0).label
    return label.word is not Word.NONE or bool(label.numbers)


def _without_bold(text: str) -> str:
    """Bold or slanted type about a label at the start, and about a count at the end."""
    start = len(text) - len(text.lstrip())
    opens = _BOLD.match(text, start)
    if opens and _labelled(text, start):
        closes = text.find(opens["mark"], opens.end())
        if closes > 0 and (opens["mark"] in ("**", "__") or closes <= _end_of_label(text, opens.end()) + 1):
            text = _blank(_blank(text, opens.start(), opens.end()), closes, closes + len(opens["mark"]))
    count = re.search(r"(?P<a>\*\*|__|\*|_)(?P<count>[(\[{]?\d[^*_]{0,60}[)\]}]?)(?P=a)[\s.]*$", text)
    if count and (count["count"][0] in "([{" or _TOTAL.fullmatch(count["count"])):
        text = _blank(text, count.start("a"), count.end("a"))
        end = count.end("count")
        text = _blank(text, end, end + len(count["a"]))
    return text


def _end_of_label(text: str, start: int) -> int:
    return start + read_label(text[start:].replace("*", " ").replace("_", " "), 0).label.span.end


def _blank(text: str, start: int, end: int) -> str:
    return text[:start] + " " * (end - start) + text[end:]


def _row(text: str) -> str | None:
    """A row of a table: its number, what to work, the count. Heads and the rule under them are blank; None when it is
    no row."""
    sign = "|" if text.count("|") >= 2 else "\t" if text.count("\t") >= 2 else ""
    if not sign:
        return None
    if sign == "|" and _RULE.fullmatch(text):
        return " " * len(text)
    edges = [-1, *(k for k, character in enumerate(text) if character == sign), len(text)]
    cells = [(a + 1, b) for a, b in pairwise(edges) if text[a + 1 : b].strip()]
    if cells and _HEADS.fullmatch(text[cells[0][0] : cells[0][1]]) and not any(c.isdigit() for c in text):
        return " " * len(text)
    if len(cells) < 2 or not _SPAN_OF_ROUNDS.fullmatch(text[cells[0][0] : cells[0][1]]):
        return None
    plain = text.replace(sign, " ")
    plain = plain[: cells[0][1]] + ":" + plain[cells[0][1] + 1 :]
    last = cells[-1]
    if len(cells) > 2 and re.fullmatch(r"\s*\d+(?:\s*[a-z]{2,8})?\s*", text[last[0] : last[1]], re.IGNORECASE):
        plain = plain[: last[0] - 1] + "(" + plain[last[0] :]
        plain = plain[: last[1]] + ")" + plain[last[1] + 1 :] if last[1] < len(text) else _counted(plain, last[0])
    return plain


def _counted(text: str, start: int) -> str:
    """A count that ends the line has no sign behind it to become the bracket: `=` before it says the same."""
    return text[: start - 1] + "=" + text[start:]

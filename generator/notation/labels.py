"""How a working line begins: `Rnds 4-8:`, `3rd row (RS):`, `R3.`, `Next rnd:`, a heading, or nothing."""

import re
from dataclasses import dataclass
from functools import lru_cache

from generator.notation.cardinals import CARDINAL, in_figures
from generator.notation.tree import Label, Word
from generator.source import NOWHERE, Span

_ORD = r"\d+(?:st|nd|rd|th|d)\.?"
_TO = r"(?:-|‐|–|—{1,2}|-{2}|to|thru|through|until|till)"
_AND = r"(?:,|&|and|\+|/)"
_NUMS = rf"\d+(?:\s*(?:{_TO}|{_AND}|,\s*and)\s*\d+)*"
_N = rf"(?:\d+|{CARDINAL}\b)"
_SPELT = rf"{_N}(?:\s*(?:{_TO}|{_AND}|,\s*and)\s*{_N})*"
_ORDS = rf"{_ORD}(?:\s*(?:{_TO}|{_AND}|,\s*and)\s*{_ORD})*"
_ROUND = r"(?:rounds?|rnds?|rds?|ro?nd|rn)(?![^\W\d_])\.?"
_ROW = r"(?:rows?|rw)(?![^\W\d_])\.?"
_END = r"(?:\s*(?:inclusive|incl)\b\.?)?"
_ASIDE = r"(?P<aside>(?:\s*(?:\([^()]{0,60}\)|\[[^\[\]]{0,40}\]))*)"
_SEP = r"\s*(?P<sep>[:.;=)]+\s*[-–—]*|\s[-–—]+(?=\s)|[-–—]{1,2}(?=\s*[\w*(\[†])|$)\s*"
_WORDS = [
    "first",
    "second",
    "third",
    "fourth",
    "fifth",
    "sixth",
    "seventh",
    "eighth",
    "ninth",
    "tenth",
    "eleventh",
    "twelfth",
    "thirteenth",
    "fourteenth",
    "fifteenth",
    "sixteenth",
    "seventeenth",
    "eighteenth",
    "nineteenth",
    "twentieth",
]
_ORDWORD = "|".join(_WORDS)
_DASHED = re.compile(
    rf"(?:round|rnd|rd|row|rw)(?![^\W\d_])\.?\s*(?P<n>\d+)(?P<dash>\s+[-–—]\s+|\s*(?:—|-{{2}}|[-–])\s*)"
    rf"(?=(?P<first>\d+)\s+(?!{_ROUND}|{_ROW}|and\b|to\b|inclusive|incl)[a-zA-Z])",
    re.IGNORECASE,
)
_LAST = r"(?:\s+and\s+last|\s*\(last\)|\s+and\s+(?:all\s+)?(?:subsequent|following|succeeding|remaining))?"

_FORMS: tuple[tuple[Word, re.Pattern[str]], ...] = tuple(
    (word, re.compile(form, re.IGNORECASE))
    for word, form in (
        (Word.ROUND, rf"{_ROUND}\s*#?\s*(?P<nums>{_SPELT})(?P<open>\+|\s*{_TO}\s*(?:end|n|x)\b)?{_END}{_ASIDE}(?:{_SEP}|\s+(?=[\w*(\[]))"),
        (Word.ROW, rf"{_ROW}\s*#?\s*(?P<nums>{_SPELT})(?P<open>\+|\s*{_TO}\s*(?:end|n|x)\b)?{_END}{_ASIDE}(?:{_SEP}|\s+(?=[\w*(\[]))"),
        (Word.ROUND, r"R(?P<nums>\d+)\.?\s*[-–—]\s*R(?P<nums2>\d+)\s+(?=[\w*(\[])"),
        (Word.ROUND, rf"R(?P<nums>\d+)\.?\s*{_TO}\s*R(?P<nums2>\d+){_ASIDE}{_SEP}"),
        (Word.ROUND, rf"R\s?(?P<nums>{_NUMS.replace('to', '(?:to|-)')}){_ASIDE}{_SEP}"),
        (Word.ROUND, r"R(?P<nums>\d+)(?:\s*[-–—]\s*R?(?P<nums2>\d+))?\s+(?=[\w*(\[])"),
        (Word.ROUND, rf"{_ROUND}\s*(?P<nums>\d+)\s*(?:{_TO}|and|&)\s*{_ROUND}\s*(?P<nums2>\d+){_ASIDE}{_SEP}"),
        (Word.ROW, rf"{_ROW}\s*(?P<nums>\d+)\s*(?:{_TO}|and|&)\s*{_ROW}\s*(?P<nums2>\d+){_ASIDE}{_SEP}"),
        (Word.ROUND, rf"(?P<nums>{_ORDS})(?P<open>{_LAST})\s*{_ROUND}{_END}{_ASIDE}(?:{_SEP}|\s+(?:is|are)\s+|,\s*|\s+(?=[\w*(\[†]))"),
        (Word.ROW, rf"(?P<nums>{_ORDS})(?P<open>{_LAST})\s*{_ROW}{_END}{_ASIDE}(?:{_SEP}|\s+(?:is|are)\s+|,\s*|\s+(?=[\w*(\[†]))"),
        (Word.ROUND, rf"(?P<word>{_ORDWORD})\s+{_ROUND}{_ASIDE}{_SEP}"),
        (Word.ROW, rf"(?P<word>{_ORDWORD})\s+{_ROW}{_ASIDE}{_SEP}"),
        (Word.ROUND, rf"(?P<nums>{_NUMS})\s*\.?\s*{_ROUND}{_ASIDE}{_SEP}"),
        (Word.ROW, rf"(?P<nums>{_NUMS})\s*\.?\s*{_ROW}{_ASIDE}{_SEP}"),
        (Word.NEXT, rf"(?:next|last|final|following)\s+(?P<many>\d+\s+)?(?:{_ROUND}|{_ROW}){_ASIDE}{_SEP}"),
        (Word.NEXT, rf"(?:dec(?:rease)?|inc(?:rease)?|edging|border|joining|picot|shell|finishing|pattern|beading|eyelet)\s+(?:{_ROUND}|{_ROW}){_ASIDE}{_SEP}"),
        (Word.FOUNDATION, rf"(?:foundation|base|set-?up|starting|beginning)\s*(?:{_ROUND}|{_ROW}|chain|ch|ring)?\s*{_ASIDE}{_SEP}"),
        (Word.NONE, r"(?P<bare>\d+)(?:\s*(?:-|–|to)\s*(?P<bare2>\d+|n|end)|(?P<list>(?:\s*,\s*\d+)+))?\s*(?P<sep>[.):]|\s[-–—](?=\s))\s*(?=[^\d\s)\]]|\d+\s*[a-zA-Z(])"),
    )
)  # fmt: skip
_PROSE = re.compile(
    rf"(?:the|work the|work|for the)\s+(?P<nums>{_ORDS})(?:\s+and\s+last)?\s+(?P<what>{_ROUND}|{_ROW})(?:\s+(?:is|are)\b|\s+in the following manner)?[\s:.,-]*",
    re.IGNORECASE,
)
_HEADING = re.compile(
    r"(?P<words>[^\W\d_][^:()\[\]*,.]{0,40}?|\d+(?:ST|ND|RD|TH) [A-Z ]{3,30}?)(?P<sep>\s*:\s*|\s*[—–]\s*|\.\s+(?=[A-Z]))"
)
_CAPITAL_HEADING = re.compile(r"(?P<words>(?:\d+(?:ST|ND|RD|TH)\s+)?[A-Z][A-Z'’ -]{2,40})(?P<sep>\s*[:.—–-]+\s*)")
_FOUNDS = re.compile(r"\b(?:ch|chain)\b.*?\d|\d\s*(?:ch|chain)\b", re.IGNORECASE)
_NUMBER = re.compile(rf"(?P<n>\d+)|(?P<to>{_TO})", re.IGNORECASE)
_SIDE = re.compile(r"\b(RS|WS|right[ -]side|wrong[ -]side)\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Labelled:
    """A line's label, where its body starts (offset in the line's text), its heading and words aside."""

    label: Label
    body: int
    heading: str = ""
    aside: str = ""
    many: int = 0
    """`Next 5 rows`: 5."""


def _numbers(text: str) -> tuple[int, ...]:
    """Numbers of a label: ranges unfold, lists stay; a range that runs backwards gives its two ends."""
    if text.isdecimal():
        return (int(text[:6]),)
    text = in_figures(text)
    out: list[int] = []
    span = False
    for match in _NUMBER.finditer(text):
        if match["to"]:
            span = True
            continue
        n = int(match["n"][:6])
        if span and out and out[-1] < n <= out[-1] + 2000:
            out.extend(range(out[-1] + 1, n + 1))
        else:
            out.append(n)
        span = False
    return tuple(out)


def _side(text: str) -> str:
    match = _SIDE.search(text) if text else None
    if not match:
        return ""
    return "RS" if match[0].lower().startswith("r") else "WS"


def read_label(text: str, offset: int, bare_numbers: bool = True) -> Labelled:
    """The label a line starts with. `offset` is where the line stands in its source."""
    found = _read(text, bare_numbers)
    label = found.label
    if offset and label.span is not NOWHERE:
        span = Span(label.span.start + offset, label.span.end + offset)
        label = Label(label.word, label.numbers, label.side, span, label.open_end)
        return Labelled(label, found.body, found.heading, found.aside, found.many)
    return found


@lru_cache(maxsize=4096)
def _read(text: str, bare_numbers: bool) -> Labelled:
    """The label as it stands in the line itself. Remembered: the same lines come again at every save."""
    start = len(text) - len(text.lstrip(" \t•"))
    found = _at(text, start, bare_numbers)
    if found is not None:
        return found
    heading = _CAPITAL_HEADING.match(text, start) or _HEADING.match(text, start)
    if heading and heading["words"].strip():
        after = _at(text, heading.end(), bare_numbers)
        if after is not None and _FOUNDS.search(heading["words"]):
            return Labelled(after.label, start)  # `Chain 53. Row 1. …`: the chain is worked, the label read on the way
        if after is not None:
            return Labelled(after.label, after.body, heading["words"].strip(), after.aside, after.many)
        if heading["words"].isupper():
            return Labelled(Label(), heading.end(), heading["words"].strip())
    return Labelled(Label(), start)


def _at(text: str, start: int, bare_numbers: bool) -> Labelled | None:
    prose = _PROSE.match(text, start)
    if prose:
        word = Word.ROW if prose["what"].lower().startswith("row") else Word.ROUND
        label = Label(word, _numbers(prose["nums"]), "", Span(start, prose.end()))
        return Labelled(label, prose.end())
    for word, form in _FORMS:
        match = form.match(text, start)
        if not match:
            continue
        groups = match.groupdict()
        if "bare" in groups:
            if not bare_numbers:
                return None
            return _bare(match)
        if (dashed := _DASHED.match(text, start)) and _ends_label(dashed):
            # `Rnd 1 – 6 sc in ring`, `Row 8—5 shells`: the dash ends the label, it makes no range.
            label = Label(word, (int(dashed["n"][:6]),), "", Span(start, dashed.end()))
            return Labelled(label, dashed.end())
        numbers = _numbers((groups.get("nums") or "") + ("-" + groups["nums2"] if groups.get("nums2") else ""))
        if groups.get("word"):
            numbers = (_WORDS.index(groups["word"].lower()) + 1,)
        aside = (groups.get("aside") or "").strip()
        opened = (groups.get("open") or "").strip()
        label = Label(
            word, numbers, _side(aside), Span(start, match.end()),
            bool(opened) and not opened.lower().endswith("last") and "(last)" not in opened.lower(),
        )  # fmt: skip
        many = int(groups["many"]) if groups.get("many") else 0
        return Labelled(label, match.end(), aside=aside, many=many)
    return None


def _ends_label(dashed: re.Match[str]) -> bool:
    """Whether the dash between two numbers parts one row's label from its words: set off or long, or the second number
    is no later row. `Row 4-6 sc …` stays open to be a range."""
    dash = dashed["dash"]
    return dash != dash.strip() or dash in ("—", "--") or int(dashed["first"][:6]) <= int(dashed["n"][:6])


def _bare(match: re.Match[str]) -> Labelled:
    first = int(match["bare"][:6])
    numbers: tuple[int, ...] = (first,)
    if match["list"]:
        numbers += tuple(int(n[:6]) for n in re.findall(r"\d+", match["list"]))
    elif match["bare2"] and match["bare2"].isdigit():
        last = int(match["bare2"][:6])
        if first < last <= first + 2000:
            numbers = tuple(range(first, last + 1))
    opened = bool(match["bare2"]) and not match["bare2"].isdigit()
    return Labelled(Label(Word.NONE, numbers, "", Span(match.start(), match.end()), opened), match.end())

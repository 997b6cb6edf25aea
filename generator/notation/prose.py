"""Words without arithmetic: remarks that are kept, and rules said once for a whole part."""

import tomllib
from functools import cache
from importlib import resources

from generator.notation.cursor import Cursor
from generator.notation.tokens import Token
from generator.notation.tree import Convention, Remark, Step
from generator.source import Span

_ARITHMETIC = frozenset(
    ("shell", "picot", "mesh", "group", "skip", "repeat", "each", "chain", "inc", "dec", "times", "sp", "together")
)


@cache
def _acts() -> tuple[tuple[str, str], ...]:
    data = tomllib.loads(resources.files(__package__).joinpath("manner.toml").read_text(encoding="utf-8"))
    return tuple((phrase, act) for act, phrases in data["acts"].items() for phrase in phrases)


_PARTS = (
    "body", "head", "ear", "ears", "arm", "arms", "leg", "legs", "foot", "feet", "hand", "nose", "wing", "eye", "eyes", "beak", "base",
    "brim", "leaf", "stem", "cap", "hair", "fin", "neck", "bag", "lid", "hat", "bow",
)  # fmt: skip
"""Short names of pieces, which stand alone on a line."""


def is_prose(words: list[Token]) -> bool:
    """Whether words carry no arithmetic: no stitch is worked in them and nothing is counted or repeated.

    Mending a misspelt instruction is not this function's business: a clause with a place or a number of stitches in
    it is never prose, so it is reported instead of being kept as a remark.
    """
    values = [t.value for t in words]
    if not words:
        return True
    text = " ".join(values)
    if any(t.type == "stitch" for t in words):
        return _about(text)
    if any(t.type == "word" and t.value in _ARITHMETIC for t in words):
        return _about(text)
    placed = any(t.type == "word" and t.value in ("next", "same", "st", "loop", "ring", "corner") for t in words)
    counted = any(t.type == "number" for t in words)
    if placed and (counted or len(words) <= 5):
        return _about(text)
    if counted and (len(words) < 2 or (any(t.type == "ordinal" for t in words) and "in" in values[1:2])):
        return False  # `2 in the 3rd` is work
    return (
        len(words) > 1
        or words[0].type != "other"
        or len(words[0].value) > 4
        or words[0].value in ("easy", "note", "tail", "slk", *_PARTS)
    )


def _about(text: str) -> bool:
    """Known remarks that mention stitches: markers, stuffing, sewing, tails, explanations."""
    return (
        text.startswith(_LEADS)
        or text.endswith(" apart")
        or any(
            lead in text
            for lead in (
                "marker",
                "stuff",
                "sew ",
                "weave",
                "long tail",
                "slip knot",
                "facing",
                "should ",
                "cord over ",
                "cord of ",
                "cord for ",
            )
        )
    )


_LEADS = (
    "mark ", "pm ", "place marker", "place m ", "hereafter", "i ", "gauge", "tension", "place a marker", "insert ", "thread ", "color it ", "color the ", "color tail", "color through ", "color color ", "color end ", "sew ", "leave ", "leaving ", "weave ", "this ", "these ", "that ", "note", "you ", "your ", "it ",
    "we ", "continue ", "taking care", "take care", "be careful", "being careful", "be sure", "make sure", "work sure", "ensuring ", "always ", "do not count", "tip", "with rs", "with ws", "with right", "with wrong",
    "right side", "wrong side", "rs facing", "ws facing", "if ", "adjust", "remove ", "move ", "begin stuffing", "start stuffing", "the ",
    "using tail", "using the tail", "pin ", "attach eyes", "slip knot", "allow", "check ", "don't ", "carry ", "hold ", "holding ", "fold ", "starting at",
    "starting with", "beginning at", "to form", "for ", "which ", "so that", "being ", "keeping ", "there ", "stop ", "draw up", "pull ", "close ", "gather",
    "place a stitch", "use ", "not ", "finish ", "commence", "see ", "like the", "work on ", "are worked", "including ", "as usual", "as directed", "when ", "after ", "before ", "until ",
)  # fmt: skip


def remark(words: list[Token], span: Span) -> Remark:
    """A remark, with what it is for where the tool cares."""
    text = " ".join(t.value for t in words)
    act = ""
    longest = 0
    for phrase, name in _acts():
        if len(phrase) > longest and f" {phrase} " in f" {text} ":
            act, longest = name, len(phrase)
    return Remark(span, text, act)


def _skipped_chains(c: Cursor) -> list[Step] | None:
    """`Skipped chains count as a stitch`: of the foundation row that follows."""
    begin = c.i
    if not (c.word("skip") and c.word("chain", ahead=1)):
        return None
    c.i += 2
    while c.peek().value in ("does", "do", "are", "is", "will"):
        c.take()
    negative = c.word("not")
    if negative:
        c.take()
    if not c.word("counts"):
        c.i = begin
        return None
    while not c.done() and not c.sign(".", ";", ",", ")"):
        c.take()
    return [Convention(c.span(begin), "skipped-chains", "does not count" if negative else "counts")]


def convention(c: Cursor) -> list[Step] | None:
    """`ch 3 counts as first dc throughout`, `worked in continuous rounds`, `do not count the ch 1`."""
    begin = c.i
    if skipped := _skipped_chains(c):
        return skipped
    if c.word("chain") or (c.word("beginning", "turning") and c.word("chain", ahead=1)):
        at = 0
        while c.word("beginning", "turning", "chain", ahead=at) or c.peek(at).type == "number":
            at += 1
        while c.peek(at).value in (
            "at",
            "the",
            "of",
            "each",
            "row",
            "round",
            "beginning",
            "start",
            "a",
            "every",
            "all",
            "does",
            "do",
            "is",
            "are",
            "always",
            "will",
        ):
            at += 1
        negative = c.word("not", ahead=at) or c.peek(at).value == "never"
        if negative:
            at += 1
        if c.peek(at).type == "other" and c.peek(at).value in ("always",):
            at += 1
        if c.word("counts", ahead=at) and (at > 1) and not c.sign("(", ahead=at - 1):
            rest = [c.peek(k).value for k in range(at, min(at + 14, c.end - c.i))]
            if (
                "throughout" in rest
                or "each" in [c.peek(k).value for k in range(at)]
                or negative
                or "always" in rest
                or c.i == 0
            ):
                c.i += at
                while not c.done() and not c.sign(".", ";", ")"):
                    c.take()
                return [Convention(c.span(begin), "start-chain", "does not count" if negative else "counts")]
    if c.word("work") or c.peek().value in ("crochet", "you"):
        at = 1
        while c.word("work", "in", "a", "the", ahead=at) or c.peek(at).value in ("will", "is", "are", "be"):
            at += 1
        if c.peek(at).value in ("continuous", "spiral", "spirals"):
            while not c.done() and not c.sign(".", ";"):
                c.take()
            return [Convention(c.span(begin), "rounds", "spiral")]
    if c.word("join") and c.word("each", "all", ahead=1) and c.word("round", ahead=2):
        while not c.done() and not c.sign(".", ";"):
            c.take()
        return [Convention(c.span(begin), "rounds", "joined")]
    c.i = begin
    return None

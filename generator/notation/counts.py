"""Stated counts: `(18)`, `[18 sts]`, `= 18 sc`, `(12 dc, 4 ch-2 sps)`, `38 in all`. Claims, kept apart from the work."""

from generator.notation.cursor import Cursor
from generator.notation.tree import Stated

_LEAD = ("total", "count", "counts", "now", "you", "have", "has", "having", "there", "should", "be", "are", "is", "st", "work", "so", "that", "of", "a", "=", "in", "all", "makes", "you'll", "will", "with", "total:", "for", "altogether", "approx", "approximately", "about", "giving", "altogether", "including", "making")  # fmt: skip
_TRAIL = (
    "total", "in", "all", "work", "complete", "completed", "each", "now", "on", "the", "round", "row", "at", "end", "ending", "of", "altogether", "left",
    "remaining", "around", "per", "every", "across", "whole", "for", "this", "increased", "decreased", "done", "counted", "stitch", "unworked", "here",
    "throughout", "rnd", "last", "section", "formed", "evenly", "so", "far", "not", "circumference", "whole", "including",
)  # fmt: skip
_NOT_NOUNS = ("in", "on", "into", "times", "more", "at", "from", "to", "around", "over", "with", "next", "each", "repeat", "join", "turn", "below", "as", "same", "and", "twice")  # fmt: skip
_KEYS = ("a", "b", "c", "d", "e", "f", "mc", "cc")
"""Yarns, not things that are counted (`4 A, 12 B`)."""
_UNITS = ("cm", "mm", "inch", "inches", "in", "yd", "yds", "m", "g", "oz", "hook", "color", "colour", "ply", "x")


def read_count(c: Cursor) -> Stated | None:
    """The count that is all the tokens here say; None when they say anything else. Takes them only then."""
    begin = c.i
    if c.done():
        return None
    led = False
    while (c.peek().type in ("word", "other") and c.peek().value in _LEAD) or c.sign("=", ":", "-", "–", "—"):
        led = True
        c.take()
    total: int | None = None
    rounds = 0
    kinds: list[tuple[str, int]] = []
    chains = False
    some = told = False
    while not c.done():
        if some and c.word("with") and (c.word("chain", ahead=1) or c.word("chain", ahead=2)):
            break  # `8 groups with ch 1 between each group`
        if c.sign(",", ";", "+", "&", ".", "/") or c.word("and", "with"):
            c.take()
            continue
        if told and c.sign("-", "–", "—", ":") and c.peek(1).type == "number":
            c.take()  # `24 sts - 12 dc and 12 fpdc`
            continue
        if c.peek().type != "number":
            break
        n = c.take().n
        some = True
        noun = _noun(c)
        told = noun == "st"
        if noun is None:
            in_all = c.word("in") and c.peek(1).value in ("all", "total")
            unit = c.peek().value in _NOT_NOUNS or c.peek().value in _UNITS
            if c.word("more", "inc", "dec") or (unit and not in_all):
                c.i = begin
                return None
            noun = "st"
        if noun == "st":
            total = n if total is None else total
        elif noun in ("round", "row"):
            rounds = n
        else:
            kinds.append((noun, n))
            chains = chains or noun == "ch"
        _trail(c)
    if (some and c.word("with") and c.word("chain", ahead=1)) or (
        some and c.word("with") and c.peek(1).type == "number"
    ):
        c.i = c.end  # `8 groups with ch 1 between each group`
    if some and c.word("counts"):
        c.i = c.end  # `18 dc, counting ch-3`
    _trail(c)
    while c.sign(".", ",", "!"):
        c.take()
        _trail(c)
    if not some or not c.done() or (led and total is None and not kinds and not rounds):
        c.i = begin
        return None
    return Stated(total, tuple(kinds), chains, rounds)


def _trail(c: Cursor) -> None:
    """Words behind a count that add nothing: `in all`, `in each section`, `made`; `in next sp` is not among them."""
    while c.peek().type in ("word", "other") and c.peek().value in _TRAIL:
        if c.word("in") and c.peek(1).value not in (
            "all",
            "total",
            "each",
            "the",
            "row",
            "round",
            "last",
            "this",
            "every",
        ):
            return
        if c.word("in") and (
            c.word("next", "sp", "ring", "st", "same", "loop", "chain", ahead=2)
            or c.peek(2).type in ("stitch", "number")
        ):
            return
        c.take()


def _noun(c: Cursor) -> str | None:
    """What is counted: an identity, `sp`, `sp:2`, `st`, or the writer's own word in the singular."""
    while c.peek().type in ("word", "other") and c.peek().value in (
        "complete",
        "full",
        "open",
        "more",
        "work",
        "of",
        "the",
        "large",
        "small",
        "remaining",
        "live",
    ):
        if c.word("more"):
            return None
        c.take()
    if (
        c.peek().type == "number"
        and c.peek(1).type == "stitch"
        and (c.word("group", "shell", ahead=2) or c.peek(2).value.startswith(("cluster", "block")))
    ):
        c.i += 2  # `4 3-dc groups`
    if c.word("corner") and (c.word("chain", "sp", "loop", ahead=1) or c.peek(1).type == "number"):
        c.take()  # `4 corner ch-2 sps`
    token = c.peek()
    if token.type == "stitch":
        c.take()
        if c.word("st", "group", "sp", "loop"):
            word = c.take().value
            if word in ("group",):
                return "group"
        return token.value
    if token.type == "number" and c.word("chain", ahead=1) and c.word("sp", "loop", "mesh", "corner", ahead=2):
        c.i += 3
        c.skip_words("sp", "loop")
        return f"sp:{token.n}"
    if token.type == "number" and token.n and c.peek(1).type == "word" and c.peek(1).value == "chain":
        return None
    if (token.type != "word" and token.type != "other") or (token.type == "other" and token.value in _KEYS):
        return None
    if token.value == "st":
        c.take()
        return "st"
    if token.value == "chain":
        c.take()
        size = c.take().n if c.peek().type == "number" else 0
        if c.word("corner"):
            c.take()  # `4 ch-2 corner sps`, `4 ch-2 corners`
            c.skip_words("sp", "loop")
            return f"sp:{size}" if size else "sp"
        if c.word("sp", "loop", "mesh"):
            c.take()
            return f"sp:{size}" if size else "sp"
        return "ch"
    if token.value in ("sp", "loop", "mesh"):
        c.take()
        return "mesh" if token.value == "mesh" else "sp"
    if token.value in ("round", "row"):
        c.take()
        return token.value
    if token.value in ("inc", "dec"):
        return None
    if token.value in _NOT_NOUNS or token.value in _TRAIL or token.value in _UNITS:
        return None
    c.take()
    word = token.value
    if word == "v" and c.word("st"):
        c.take()
        return "v-st"
    half = "half " if word == "half" else ""
    while c.peek().type == "other" or c.word("st", "group", "sp", "loop") or (half and c.word("shell", "v")):
        word = c.take().value
    return half + _singular(word)


def _singular(word: str) -> str:
    for ending, less in (("ies", "y"), ("oes", "o"), ("sses", "ss"), ("s", "")):
        if word.endswith(ending) and not word.endswith("ss"):
            return word[: -len(ending)] + less
    return word

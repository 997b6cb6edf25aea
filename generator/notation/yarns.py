"""Yarns taken up, changed and joined in."""

from generator.notation.cursor import Cursor
from generator.notation.memory import Memory
from generator.notation.places import read_place, starts_place
from generator.notation.tokens import Token
from generator.notation.tree import (
    Remark,
    Step,
    Yarn,
)


def yarn_words(c: Cursor, memory: Memory, stop: tuple[str, ...] = ()) -> str | None:
    """A yarn's name: a key or colour known, or the words up to a stitch, chain, number or sign."""
    begin = c.i
    words: list[Token] = []
    while not c.done() and len(words) < 6:
        token = c.peek()
        if token.type == "sign" and token.value not in ("-", "/", "'", "&"):
            if token.value == "." and words and words[-1].value in ("lt", "dk", "med", "col"):
                c.take()
                continue
            break
        if token.value in ("-", "–", "—") and words and token.start > words[-1].end:
            break  # `Colour 1 - magic ring`: a dash, no hyphen of a name
        if token.type in ("stitch", "loop") or (
            token.type == "word"
            and (
                token.value in stop
                or token.value
                not in (
                    "color",
                    "first",
                    "a",
                    "next",
                    "center",
                    "and",
                    "main",
                    "the",
                    "of",
                    "sp",
                    "p",
                    "same",
                    "remaining",
                    "shell",
                    "picot",
                    "ring",
                )
            )
        ):
            break
        tight = token.tight and len(words) == 1 and len(words[0].value) == 1  # `With C1`
        if token.type == "number" and not tight and not (words and words[-1].value in ("color", "no", "shade")):
            break
        if token.type == "ordinal" and not c.word("color", ahead=1):
            break
        words.append(c.take())
    text = [
        t.value
        for t in words
        if t.value not in ("the", "new", "color", "of", "main", "contrasting")
        and not (t.value == "a" and t.type == "word")
    ]
    joined = " ".join(t.value for t in words)
    if words and not text and joined not in memory.names:
        return "a" if joined == "a" and (c.done() or c.peek().type == "sign") else ""  # a yarn called A, or an article
    if not words:
        c.i = begin
        return None
    for name in (joined, " ".join(text)):
        if name in memory.names:
            return memory.names[name]
    return " ".join(text)


def yarn_that_ends(c: Cursor, memory: Memory) -> None:
    """`Fasten off B`: the yarn that is cut."""
    known = c.peek().value in memory.names or (c.peek().type == "other" and len(c.peek().value) <= 2)
    if known and (c.peek(1).type == "end" or c.sign(",", ".", ";", "(", ")", ahead=1)):
        c.take()


def _when(c: Cursor) -> None:
    """`… in last st`, `on the last yarn over`, `in last pull through`: at the change, where it always is."""
    mark = c.i
    if not (c.word("in", "on", "at") or c.peek().value in ("during", "when")):
        return
    c.take()
    said = False
    while c.peek().type in ("word", "other", "stitch") and not c.sign(",", "."):
        said = said or c.word("last", "ending", "join") or c.peek().value in ("final", "end", "pull", "through")
        if c.word("turn", "repeat", "and") or c.word("next", "each"):
            break
        c.take()
    if not said:
        c.i = mark


_STRANDS = ("strand", "strands", "threads", "lengths", "double", "doubled")


def _strands(c: Cursor, begin: int) -> list[Step] | None:
    """`With 2 strands held together`, `using the yarn double`: how thick it is worked, no yarn of another name."""
    if not c.word("with") or not any(c.peek(k).value in _STRANDS for k in (1, 2, 3)):
        return None
    while not c.done() and not c.sign(",", ".", ";", ":"):
        c.take()
    return [Remark(c.span(begin), "", "manner")]


def yarn(c: Cursor, memory: Memory) -> list[Step] | None:
    """`With A`, `change to B`, `Join white with sl st in any st`, `Attach Orange in 3rd st of ch 3`, `(Color A)`."""
    begin = c.i
    if c.word("same") and c.word("color", ahead=1):
        c.i += 2
        return [Remark(c.span(begin), "", "manner")]
    c.skip_words("work")
    if strands := _strands(c, begin):
        return strands
    if c.word("with"):
        c.take()
        name = yarn_words(c, memory)
        if name is None or c.word("hook"):
            if c.word("hook") or c.word("side", ahead=1) or c.peek().value in ("rs", "ws", "right", "wrong"):
                c.i = begin
                return None
            c.i = begin
            return None
        if c.peek().value in ("facing",) or name.split(" ")[0] in ("rs", "ws", "right", "wrong"):
            c.i = begin
            return None
        return [Yarn(c.span(begin), name, "with")]
    if c.peek().value == "standing" and c.peek(1).type == "stitch":
        c.take()
        kind = c.take().value
        target = read_place(c) if starts_place(c) and not c.word("of", "to") else None
        memory.started = True
        return [Yarn(c.span(begin), "", "join", target, kind, True)]
    if c.word("change") or c.peek().value in ("drop",) or (c.peek().value in ("pick",) and c.peek(1).value == "up"):
        verb = c.take().value
        if c.peek().value == "up":
            c.take()
        c.skip_words("yarn", "color", "to", "over")
        if c.word("hook") or c.peek().value in ("hooks",):
            c.i = begin
            return None
        name = yarn_words(c, memory) or ""
        _when(c)
        if verb == "drop":
            return [Remark(c.span(begin), "", "carry")]
        return [Yarn(c.span(begin), name, "change")]
    if c.word("color") or (c.peek().value in memory.names and c.peek().type == "other"):
        c.take() if c.word("color") else None
        numbered = c.peek().type == "number" and c.tokens[c.i - 1].value == "color"
        name = str(c.take().n) if numbered else yarn_words(c, memory)
        if name is not None and (c.done() or c.sign(",", ".", ";", ":", "-", "–", "—", ")")):
            return [Yarn(c.span(begin), name, "with")]
        c.i = begin
        return None
    return None

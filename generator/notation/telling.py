"""What a line tells besides instructions: counts, lead-ins, techniques, definitions, plain words."""

from dataclasses import replace

from generator.notation.counts import read_count
from generator.notation.cursor import Cursor
from generator.notation.groups import as_parts
from generator.notation.leading import Leading, closes
from generator.notation.loops_drawn import drawn_from, drawn_together
from generator.notation.phrases import is_technique, rest_of_clause
from generator.notation.prose import is_prose, remark
from generator.notation.slips import nearest
from generator.notation.tokens import Token
from generator.notation.tree import (
    NEXT,
    Again,
    Define,
    How,
    Join,
    Noun,
    Remark,
    Repeat,
    Stated,
    Target,
    Turn,
    Unread,
    Work,
)  # fmt: skip

FEW = 5
"""Fewer than these in a sentence of their own (`3 sc. Ch 1, turn.`) are rather stitches than a count."""

_FIGURES = (
    "shell",
    "picot",
    "corner",
    "square",
    "base",
    "top",
    "side",
    "center",
    "both",
    "ring",
    "loop",
    "group",
    "edge",
)
"""Words of places and figures that name a piece where they stand alone on a line."""

MOST_SIGNS = 6
"""Signs in a row before a count (`--->`). A ruled line of hundreds would else be looked through from each of them."""

MOST_TOKENS = 80
"""Words and signs of a count; a longer sentence that begins with a number is a list of stitches."""


def _many(stated: Stated) -> bool:
    return max([stated.total or 0, *(n for _, n in stated.kinds)]) >= FEW


class Telling(Leading):
    """Takes what is no instruction."""

    def _count_after_sign(self) -> bool:
        """`= 18 sc`, `— 18 sts.`, `-> 18`."""
        c = self.c
        begin = c.i
        while c.i - begin < MOST_SIGNS and c.sign("=", "-", "–", "—", "→", ">", ":"):
            c.take()
        if c.sign("("):
            close = c.closing()
            if close is not None:
                stated = read_count(c.inside(close))
                if stated is not None and close + 1 >= c.end - 1:
                    c.i = close + 1
                    self.stated = replace(stated, span=c.span(begin))
                    return True
        if self.folder.items and c.peek().type == "number":
            end = c.i
            while end < c.end and not (c.tokens[end].type == "sign" and c.tokens[end].value in (".", ";")):
                end += 1
            inner = Cursor(c.tokens, c.i, end)
            through = end >= c.end - 1 or closes(c, end)
            if c.tokens[begin].value == ":" and not st_follows(inner) and not (through and self._complete()):
                c.i = begin
                return False
            stated = read_count(inner)
            if stated is not None:
                c.i = end
                self.stated = replace(stated, span=c.span(begin))
                return True
        c.i = begin
        return False

    def _complete(self) -> bool:
        """Whether the last step ends a course, so that a number behind it is its count: `…, sl st in first sc: 24 sc`."""
        last = next((step for step in reversed(self.folder.items) if not isinstance(step, Remark)), None)
        if isinstance(last, Work):
            return last.target.how in (How.EACH, How.FIRST, How.LAST) or last.target.noun in (Noun.START, Noun.RING)
        # Behind a repeat nobody goes on after a colon: `(sc in next 2 sts, dec) 6 times: 18 sc`.
        return isinstance(last, (Join, Turn, Repeat))

    def _all_round(self) -> bool:
        """Whether the last step goes once round, so that nothing is left for a number of stitches behind it."""
        last = next((step for step in reversed(self.folder.items) if type(step) not in (Remark, Join)), None)
        each = isinstance(last, Work) and last.target.how is How.EACH and not last.target.leave
        return each or (isinstance(last, Repeat) and last.times.to_end and not last.times.leave)

    def _count_here(self) -> bool:
        """A count as a sentence of its own, or `38 in all`, `making 6 petals in all`, `having 24 dc`."""
        c = self.c
        begin = c.i
        if not self.folder.items or self.inside:
            return False
        led = (
            c.word("counts", "total", "as")
            or (
                c.word("work")
                and c.peek(0).value == "work"
                and c.peek(1).type == "number"
                and any(t.value in ("all", "total") for t in c.tokens[c.i : c.i + 8])
            )
            or (c.word("work") and isinstance(self.folder.items[-1], Again))  # `Same as 3rd row, making 48`
            or (c.word("work") and c.peek(1).type == "number" and isinstance(self.folder.items[-1], Repeat))
            or c.peek().value in ("altogether",)
            or (c.word("in") and c.peek(1).value == "all" and c.peek(2).type == "number")
            or c.peek().value in ("having", "you", "there", "stitch", "total", "=", "now", "giving")
        )
        sentence = c.i == 0 or (
            c.tokens[c.i - 1].type == "sign" and c.tokens[c.i - 1].value in (".", ";", "—", "–", "-", "=", ")", ":")
        )
        comma = c.i > 0 and c.tokens[c.i - 1].value in (",",)
        if not led and not ((sentence or comma) and c.peek().type == "number"):
            return False
        end = c.i
        stops = (".", ";", ")", "=", ",") if led and not comma_list(c) else (".", ";", ")", "=")
        while end < c.end and not (c.tokens[end].type == "sign" and c.tokens[end].value in stops and end > c.i):
            end += 1
            if end - c.i > MOST_TOKENS:
                return False
        if comma and not led and (first := _all_before_comma(c, end)):
            end = first
        last = all(t.type == "sign" for t in c.tokens[end : c.end])
        stated = read_count(Cursor(c.tokens, c.i, end))
        if stated is None:
            return False
        all_round = self._all_round() and _many(stated)
        in_all = any(t.value in ("all", "total", "altogether", "whole") for t in c.tokens[c.i : end])
        if not (
            in_all
            or led
            or (sentence and (last or (closes(c, end) and _many(stated))))
            or (comma and last and stated.total is not None and c.peek(1).value == "st")
            or (comma and last and all_round)
        ):
            return False
        tied = sentence and c.tokens[c.i - 1].value in (";", ":", ")")
        if not led and not in_all and tied and stated.total is None and not (last and all_round):
            return False
        c.i = end
        if self.stated is None or last or in_all:
            self.stated = replace(stated, span=c.span(begin))
        return True

    def _technique(self) -> None:
        """How a stitch is made, loop by loop; a name in brackets at its end says which stitch that is."""
        c = self.c
        begin = c.i
        self.drawn = drawn_from(c) or self.drawn
        while not c.done() and not c.sign(".", ";", "(", "*", "**"):
            if c.sign(",") and not is_technique(c, 1) and c.peek(1).value != "another":
                break
            if c.word("repeat", "skip") and c.i > begin + 1:
                break
            c.take()
        if c.i == begin:
            c.take()
        span = c.span(begin)
        if c.sign("("):
            close = c.closing()
            if close is not None and c.peek(1).type == "stitch" and close <= c.i + 3:
                named = c.peek(1).value
                c.i = close + 1
                if not (
                    self.folder.items
                    and isinstance(self.folder.items[-1], Work)
                    and self.folder.items[-1].stitch == named
                ):
                    self.folder.add([Work(span, named, 1, NEXT)])
                return
        words = " ".join(t.value for t in c.tokens[begin : c.i])
        decrease = drawn_together(self.folder.items, words, self.drawn, span)
        self.folder.add([decrease or Remark(span, words, "manner")])

    def _tells(self, begin: int) -> bool:
        """A sentence of plain words: nothing in it is worked, repeated or counted in stitches."""
        c = self.c
        if begin and c.tokens[begin - 1].value not in (".", ")", ":"):
            return False
        at = begin
        while at < c.end and not (c.tokens[at].type == "sign" and c.tokens[at].value in (".", "(")):
            token = c.tokens[at]
            if token.type == "sign" and token.value.startswith("*"):
                return False
            if token.type == "stitch" or (
                token.type == "word"
                and token.value in ("inc", "dec", "repeat", "turn", "join", "fasten-off", "stay-join", "skip", "times")
            ):
                return False
            if token.value == "chain" and (
                c.tokens[at - 1].type == "number" or (at + 1 < c.end and c.tokens[at + 1].type == "number")
            ):
                return False
            at += 1
        return True

    def _define_sentence(self) -> bool:
        """`One shell is 3 dc, ch 1, 1 dc in same st`: a group given its name in a sentence."""
        c = self.c
        at = 1 if c.peek().type == "number" or c.word("a", "each") else 0
        name = c.peek(at).value
        if name not in ("shell", "cluster", "picot", "group", "petal", "v") or not (
            c.peek(at + 1).value in ("is", "=", "consists") or c.sign("=", ahead=at + 1)
        ):
            return False
        begin = c.i
        end = begin + at + 2
        while end < c.end and not (c.tokens[end].type == "sign" and c.tokens[end].value in (".", ";")):
            end += 1
        inner = self.sub(Cursor(c.tokens, begin + at + 2, end))
        steps, _ = inner.folder.done()
        parts = tuple(s for s in as_parts(tuple(steps)) if not isinstance(s, Remark))
        if not parts or any(isinstance(s, Unread) for s in parts):
            return False
        self.memory.specials[name] = parts
        c.i = end
        self.folder.add([Define(c.span(begin), name, "")])
        return True

    def _words(self) -> None:
        """Nothing matched: prose without arithmetic is kept, anything else is reported."""
        c = self.c
        begin = c.i
        if c.peek().value == "without" and c.word("inc", "dec", ahead=1):
            c.i += 2  # `a double in each without widening`
            ends = c.done() or c.sign(".", ";")
            plain = ends and not self.folder.items  # `5th round: without increasing`: one in each
            each = Work(c.span(begin), self.memory.stitch, 1, Target(How.EACH))
            self.folder.add([each if plain else remark(c.tokens[begin : c.i], c.span(begin))])
            return
        if c.peek().value == "sure" and c.i and c.tokens[c.i - 1].value == "work":
            rest_of_clause(c)  # `making sure the chain is not twisted`
            self.folder.add([Remark(c.span(begin), "", "manner")])
            return
        at = 1 if c.peek().value == "or" else 0
        if c.peek(at).value == "by" and c.word("work", "skip", ahead=at + 1) and self.folder.items:
            rest_of_clause(c)  # `narrow by putting the hook through two stitches at once, or by missing one`
            self.folder.add([Remark(c.span(begin), " ".join(t.value for t in c.tokens[begin : c.i]), "manner")])
            return
        while (
            not c.done()
            and not c.sign(",", ".", ";", "(", "[", "{", ")", "]", "}", "*", "**", ":")
            and not (c.peek().value == "by" and c.word("work", "skip", ahead=1) and c.i > begin)
            and not (c.i > begin + 1 and self._and_works(begin))
        ):
            c.take()
        if c.i == begin:
            c.take()
        words = c.tokens[begin : c.i]
        if begin == 0 and not self.inside and self._names_piece(words):
            self.folder.add([remark(words, c.span(begin))])
            return
        if words[0].value in ("if", "check", "note", "we", "so", "this", "you") and is_prose(words):
            while not c.done() and not c.sign(".", "("):
                c.take()
            words = c.tokens[begin : c.i]
            self.folder.add([remark(words, c.span(begin))])
            return
        if is_prose(words) and self._tells(begin):
            while not c.done() and not c.sign(".", "("):
                c.take()
            self.folder.add([remark(c.tokens[begin : c.i], c.span(begin))])
            return
        span = c.span(begin)
        if is_prose(words):
            self.folder.add([remark(words, span)])
        else:
            self.folder.add([Unread(span, " ".join(t.value for t in words))])

    def _and_works(self, begin: int) -> bool:
        """`Flatten the opening and sc …`: plain words up to here, work from here on."""
        c = self.c
        at = 2 if c.peek(1).type == "number" else 1
        return c.word("and") and c.peek(at).type == "stitch" and is_prose(c.tokens[begin : c.i])

    def _names_piece(self, words: list[Token]) -> bool:
        """`Rib`, `Cuff: Ch 9`: a word alone, of no other use, is the name of what is made there."""
        if (
            1 < len(words) <= 5
            and (self.c.done() or self.c.sign(","))
            and all(t.type == "other" or t.value in ("st", "square") for t in words)
        ):
            return words[0].type == "other" and words[-1].type == "other"  # `Linen stitch swatch`
        alone = len(words) == 1 and words[0].type == "other" and len(words[0].value) > 2
        if len(words) == 1 and words[0].value in _FIGURES:
            return self.c.done()  # `SHELL`
        return alone and (self.c.done() or self.c.sign(":", "(")) and not nearest(words[0].value)


def _all_before_comma(c: Cursor, end: int) -> int:
    """`…, 38 in all, joining to the top`: where the comma behind such a count stands; 0 when there is none."""
    for at in range(c.i, min(end, c.i + 8)):
        if c.tokens[at].type == "sign" and c.tokens[at].value == ",":
            return at if any(t.value in ("all", "total", "altogether") for t in c.tokens[c.i : at]) else 0
    return 0


def comma_list(c: Cursor) -> bool:
    """Whether a comma here only parts one count from the next (`24 dc, 4 ch-2 sps`)."""
    at = c.i
    while at < c.end and not (c.tokens[at].type == "sign" and c.tokens[at].value == ","):
        at += 1
        if at - c.i > MOST_TOKENS:
            return False
    return at + 1 < c.end and c.tokens[at + 1].type == "number"


def st_follows(c: Cursor) -> bool:
    return c.peek(1).value == "st" or c.peek(1).type in ("end",)

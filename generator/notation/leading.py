"""Words that only lead to an instruction (`ending with …`, `at the end of the round …`, `and so on`), or bound it."""

from dataclasses import replace

from generator.notation.bracket_counts import counts_as
from generator.notation.chaining import chains
from generator.notation.continuing import continued, how_many
from generator.notation.cursor import Cursor
from generator.notation.gathering import Gathering
from generator.notation.times import read_times
from generator.notation.tree import (
    Chain,
    Foundation,
    Join,
    Reached,
    Remark,
    Ring,
    Stated,
    Step,
    Times,
    Turn,
    Yarn,
)  # fmt: skip

MOST_ENDING = 80
"""Words and signs that end a line; more of them are no ending."""


def closes(c: Cursor, at: int) -> bool:
    """Whether from index `at` on a line only ends: `Ch 1, turn.`, `Join with sl st in first sc, fasten off.`"""
    if c.end - at > MOST_ENDING:
        return False
    joining = False
    for token in c.tokens[at : c.end]:
        joining = token.value == "join" or (joining and token.value not in (".", ";"))
        if not (joining or token.type in ("sign", "number") or token.value in ("chain", "turn", "fasten-off")):
            return False
    return True


class Leading(Gathering):
    """Takes what leads to an instruction."""

    def _counts_clause(self) -> bool:
        """`ch 3, counts as first dc`, `ch 3 counting as …` without brackets."""
        c = self.c
        last = self.folder.items[-1] if self.folder.items else None
        if not (isinstance(last, Chain) and c.word("counts", "not")):
            return False
        end = c.i
        while end < c.end and not (c.tokens[end].type == "sign" and c.tokens[end].value in (",", ".", ";", "*")):
            end += 1
        return counts_as(self, Cursor(c.tokens, c.i, end), end - 1)

    def _lead_in(self) -> bool:
        """Words that only lead to an instruction: `ending with …`, `but ending …`, `at the end of this round, …`."""
        c = self.c
        mark = c.i
        if c.peek().value in ("but", "finally", "then,", "first,"):
            c.take()
        if c.word("ending") and (
            c.word("with", ahead=1)
            or c.peek(1).value == "by"
            or (c.word("row", "round", ahead=1) and c.word("with", ahead=2))
        ):
            c.take()
            c.skip_words("row", "round", "with", "by", "a")
            return True
        if c.peek().value == "at" and (c.word("ending", ahead=1) or c.word("ending", ahead=2)):
            at = 1
            while c.word("the", "ending", "of", "each", "last", "round", "row", ahead=at) or c.peek(at).value in (
                "this",
                "every",
                "these",
            ):
                at += 1
            if c.word("round", "row", ahead=at - 1) and c.peek(at).type != "end":
                c.i += at
                self._at_the_end()
                return True
        if (
            c.word("beginning")
            and (c.peek(1).type in ("number", "stitch") or (c.word("chain", ahead=1) and c.peek(2).type == "number"))
            and self.folder.items == []
        ):
            c.take()
            return True
        if c.word("beginning") and c.word("with", "in", "by", ahead=1):
            following = c.peek(2)
            c.take()
            if c.word("with", "by") and (
                following.type in ("number", "stitch") or following.value in ("chain", "ring", "magic", "mr", "a")
            ):
                c.take()
                c.skip_words("a")
            return True
        if c.word("ending") and (c.peek(1).type in ("number", "stitch") or c.word("chain", "in", ahead=1)):
            c.take()
            return True
        if (
            c.peek().type == "number"
            and c.word("st", ahead=1)
            and (c.word("and", ahead=2) or c.sign("/", "x", "×", ahead=2))
            and c.peek(3).type == "number"
            and c.word("row", "round", ahead=4)
        ):
            while not c.done() and not c.sign(".", ";"):
                c.take()
            self.folder.add([Remark(c.span(mark), "", "gauge")])
            return True
        if c.word("each") and c.word("round", "row", ahead=1) and c.peek(2).type in ("number", "stitch"):
            c.i += 2
            return True
        if self._first_row(mark):
            return True
        if c.peek().value in ("continue", "cont") and c.word("to", ahead=1) and c.word("inc", "dec", ahead=2):
            c.i += 2
            return True
        if c.peek().value == "consists":
            c.take()
            c.skip_words("entirely", "only", "of", "a")
            return True
        if c.word("beginning") and c.word("to", ahead=1) and c.word("work", ahead=2):
            c.i += 2
            return True
        if c.sequence("so", "on"):
            self._so_on(mark)
            return True
        if self._counts_clause():
            return True
        if c.peek().value == "after" and self.folder.items and self._after():
            return True
        c.i = mark
        return False

    def _first_row(self, begin: int) -> bool:
        """`Chain 53. Row 1. Dc in 8th ch …`: the label of the first row on the line of its chain."""
        c = self.c
        number = 1 if c.word("row", "round") else 0
        other = c.peek(1 - number)
        named = c.peek(number).n == 1 and (number or c.peek().type == "ordinal") and other.value in ("row", "round")
        after = c.peek(2)
        if not named or after.type != "sign" or after.value not in (".", ":", "-", "–", "—"):
            return False
        if not begin or c.tokens[begin - 1].value not in (".", ";", ","):
            return False
        if not all(isinstance(s, (Chain, Foundation, Ring, Join, Remark, Yarn, Turn)) for s in self.folder.items):
            return False
        c.i += 3
        return True

    def _so_on(self, mark: int) -> None:
        """`and so on`, to the end or until so many are there; the number is the count of the course."""
        c = self.c
        n = how_many(c)
        shown = continued(self.folder.items, n) if n else None
        if shown is not None:
            self.folder.items, self.folder.segment = shown, len(shown)
            self.stated = Stated(n, span=c.span(mark))
            return
        said = read_times(c)
        self.folder.fold_bare(said.times if said else Times(to_end=True), c.span(mark))
        if n:
            self.stated = Stated(n, span=c.span(mark))

    def _at_the_end(self) -> None:
        """`…; at the end of the round 4 chain`: said of the round, so a `*` left open ends here; chains that close a
        round of chains and stitches are its last step up, no space."""
        c = self.c
        if c.word("repeat") or self.folder.first_mark() is None:
            return
        self.folder.close_open_marks()
        steps = chains(c, self.memory)
        if steps is None:
            return
        ends = c.done() or closes(c, c.i)
        self.folder.add([replace(s, counts=False) if ends and isinstance(s, Chain) else s for s in steps])

    def _after(self) -> bool:
        """`= after the 7th treble: …`, `after the 5th treble and the 9 chain: …`: what closes the course, and how far
        it is by then."""
        c = self.c
        begin = c.i
        at = 1
        while c.peek(at).type not in ("end", "sign") and at < 9:
            at += 1
        if c.peek(at).value not in (":", ","):
            return False
        k = 2 if c.word("the", ahead=1) else 1
        chained: list[Step] = []
        reached: list[Step] = []
        if c.peek(k).type == "ordinal" and c.peek(k + 1).type == "stitch":
            words = " ".join(t.value for t in c.tokens[begin : begin + at])
            reached = [Reached(c.span(begin), words, "", c.peek(k + 1).value, c.peek(k).n)]
            rest = Cursor(c.tokens, begin + k + 2, begin + at)
            if rest.word("and"):
                rest.take()
                rest.skip_words("the")
                chained = chains(rest, self.memory) or []
        c.i += at + 1
        self.folder.add([*reached, *chained])
        return True

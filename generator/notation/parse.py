"""The reader: a working line in the trade's words becomes a tree, with a `Choice` wherever it can be read two ways.

Reading cannot fail. What is not understood becomes an `Unread` step and the rest goes on; every word is a step, a
remark or a report.
"""

import re
from dataclasses import dataclass, field, replace
from functools import cache

from generator.diagnostics.record import Checked, Finding, Severity
from generator.notation import clauses, slips
from generator.notation.brackets import counts_as, read_bracket
from generator.notation.clauses import Memory
from generator.notation.counts import read_count
from generator.notation.cursor import Cursor
from generator.notation.folding import Folder
from generator.notation.groups import as_parts, place_first
from generator.notation.labels import read_label
from generator.notation.lexicon import lexicon
from generator.notation.pattern import Special
from generator.notation.prose import convention, is_prose, remark
from generator.notation.repeats import read_mark, read_repeat
from generator.notation.times import read_times
from generator.notation.tokens import Token, tokenize
from generator.notation.tree import (
    NEXT,
    Chain,
    Choice,
    Convention,
    Define,
    FastenOff,
    Group,
    How,
    Join,
    Label,
    Line,
    Loop,
    Noun,
    Option,
    Picot,
    Remark,
    Repeat,
    Ring,
    Stated,
    Stay,
    Step,
    Target,
    Times,
    Turn,
    Unread,
    Word,
    Work,
    Yarn,
)  # fmt: skip
from generator.notation.verbatim import verbatim
from generator.source import Source, Span

_KEYWORD = re.compile(r"\s*(?P<key>note|why|intended)\s*(?:\((?P<rule>[\w-]+)\))?\s*:\s*", re.IGNORECASE)
LONGEST_LINE = 20_000
"""Characters of one working line that are read; a longer one is a finding, not a hang."""


@dataclass(frozen=True, slots=True)
class Context:
    """What the header says that the reader leans on.

    `terms` is `US`, `UK` or empty (inferred); `yarns` are (key, colour name) pairs; `bare` reads pasted text.
    """

    terms: str = ""
    yarns: tuple[tuple[str, str], ...] = ()
    specials: tuple[Special, ...] = ()
    bare: bool = False


@dataclass(slots=True)
class Reader:
    """Reads the lines of one block, remembering from line to line what the trade leaves unsaid."""

    context: Context
    terms: str
    memory: Memory = field(default_factory=Memory)
    findings: list[Finding] = field(default_factory=list)

    def line(self, text: str, offset: int) -> Line:
        """One working line that stands at `offset` of its source."""
        span = Span(offset, offset + len(text))
        if len(text) > LONGEST_LINE:
            self._say(
                "line-too-long", f"this line has {len(text)} characters; {LONGEST_LINE} is the most that is read", span
            )
            return Line(span, steps=(Unread(span, text[:80]),))
        labelled = read_label(text, offset)
        body = text[labelled.body :]
        tokens = tokenize(body, offset + labelled.body, lexicon(self.terms))
        steps, stated, corrected = self._with_slips(tokens)
        if labelled.heading:
            self._named_after(labelled.heading)
        aside = self._aside(labelled.aside, offset)
        if aside is not None:
            stated = replace(stated, rounds=aside) if stated else Stated(rounds=aside, span=labelled.label.span)
        if labelled.many > 1:
            stated = (
                replace(stated, rounds=labelled.many)
                if stated
                else Stated(rounds=labelled.many, span=labelled.label.span)
            )
        kept = verbatim(_settled(steps, labelled.label), text, offset)
        return Line(span, labelled.label, kept, stated, corrected)

    def _aside(self, aside: str, offset: int) -> int | None:
        match = re.search(r"(\d+)\s*(?:rnds?|rounds?|rows?)\b", aside, re.IGNORECASE)
        return int(match[1][:5]) if match else None

    def _named_after(self, heading: str) -> None:
        """A heading begins a new piece; nothing of the old one is leaned on."""
        self.memory.started = False

    def _with_slips(self, tokens: list[Token]) -> tuple[list[Step], Stated | None, tuple[tuple[Span, str], ...]]:
        remembered = replace_memory(self.memory)
        steps, stated = self._body(tokens)
        unread = _unread(steps)
        if not unread:
            return steps, stated, ()
        mended, what = slips.mend(tokens, lexicon(self.terms))
        if what:
            kept = self.memory
            self.memory = remembered
            again, stated_again = self._body(mended)
            if _unread(again) < unread:
                return again, stated_again, what
            self.memory = kept
        return steps, stated, ()

    def _body(self, tokens: list[Token]) -> tuple[list[Step], Stated | None]:
        self.memory.loop = Loop.BOTH
        self.memory.stitch = _first_stitch(tokens) or self.memory.stitch
        passage = Passage(Cursor(tokens), self.memory)
        passage.read()
        passage.folder.close_open_marks()
        steps, _ = passage.folder.done()
        return steps, passage.stated

    def _say(self, rule: str, message: str, span: Span) -> None:
        self.findings.append(Finding(rule, Severity.ERROR, message, span))


def replace_memory(memory: Memory) -> Memory:
    """A copy to go back to."""
    return replace(memory, specials=dict(memory.specials))


def _first_stitch(tokens: list[Token]) -> str:
    for token in tokens:
        if token.type == "stitch" and token.value not in ("sl-st", "picot"):
            return clauses._plain(token.value)
    return ""


def _unread(steps: list[Step] | tuple[Step, ...]) -> int:
    """How many steps were not understood, inside repeats and groups too."""
    total = 0
    for step in steps:
        if isinstance(step, Unread):
            total += 1
        inner = getattr(step, "steps", None)
        if inner:
            total += _unread(inner)
        if isinstance(step, Choice):
            total += _unread(step.options[0].steps)
    return total


class Passage:
    """Reads clauses from a cursor into a folder until the cursor is done."""

    def __init__(self, c: Cursor, memory: Memory, inside: bool = False) -> None:
        self.c = c
        self.memory = memory
        self.inside = inside
        self.folder = Folder()
        self.stated: Stated | None = None
        self.lonely: list[Span] = []
        self.naming = ""

    def sub(self, inner: Cursor) -> "Passage":
        """What stands inside a bracket, read."""
        passage = Passage(inner, self.memory, inside=True)
        passage.read()
        return passage

    def read(self) -> None:
        """Take everything."""
        c = self.c
        while not c.done():
            before = c.i
            self._one()
            if c.i == before:  # every branch takes something; this keeps a slip of ours from hanging
                c.take()

    def _one(self) -> None:
        c = self.c
        token = c.peek()
        if token.type == "sign":
            self._sign(token)
            return
        if token.type == "stitch" or (token.type == "word" and token.value in ("inc", "dec")):
            steps = clauses.stitches(c, self.memory)  # most clauses begin so, and nothing else does
            if steps:
                self._put(steps)
                return
        if self._count_here():
            return
        if self._define_sentence() or self._lead_in():
            return
        if clauses.is_technique(c):
            self._technique()
            return
        if (c.word("and") and not c.word("repeat", ahead=1)) or (c.word("work") and c.sign("(", "[", "*", ahead=1)):
            c.take()
            return
        begin = c.i
        self.memory.open_mark = self.folder.first_mark() is not None
        if convention_steps := convention(c):
            self.folder.add(convention_steps)
            return
        if read_repeat(c, self.folder, self.memory):
            return
        for reader in _CLAUSES:
            steps = reader(c, self.memory)
            if steps:
                self._put(steps)
                return
            c.i = begin
        joined = clauses.joins(c, self.memory, self.folder.items[-1:])
        if joined:
            if isinstance(joined[0], Ring):
                self._into_ring(joined)
            self.folder.add(joined)
            self.folder.segment = len(self.folder.items)
            return
        if placed := self._place_first():
            self.folder.add(placed)
            return
        self._words()

    def _into_ring(self, ring: list[Step]) -> None:
        """The chain (and the slip stitch) before `to form a ring` are the ring."""
        items = self.folder.items
        if (
            len(items) > 1
            and isinstance(items[-1], Work)
            and items[-1].stitch == "sl-st"
            and isinstance(items[-2], Chain)
        ):
            items.pop()
        if items and isinstance(last := items[-1], Chain):
            ring[0] = Ring(last.span.cover(ring[0].span), last.n)
            items.pop()

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
        if c.peek().value == "consists":
            c.take()
            c.skip_words("entirely", "only", "of", "a")
            return True
        if c.word("beginning") and c.word("to", ahead=1) and c.word("work", ahead=2):
            c.i += 2
            return True
        if c.sequence("so", "on"):
            said = read_times(c)
            until = c.word("until")
            if until:
                c.take()
                c.skip_words("you", "there", "have", "are")
                while c.peek().value in ("you", "there", "have", "are"):
                    c.take()
            self.folder.fold_bare(said.times if said else Times(to_end=True), c.span(mark))
            return True
        if self._counts_clause():
            return True
        if c.peek().value == "after" and self.folder.items:
            at = 1
            while c.peek(at).type not in ("end", "sign") and at < 9:
                at += 1
            if c.peek(at).value in (":", ","):
                c.i += at + 1
                return True
        c.i = mark
        return False

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

    def _technique(self) -> None:
        """How a stitch is made, loop by loop; a name in brackets at its end says which stitch that is."""
        c = self.c
        begin = c.i
        while not c.done() and not c.sign(".", ";", "(", "*", "**"):
            if c.sign(",") and not clauses.is_technique(c, 1):
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
        self.folder.add([Remark(span, " ".join(t.value for t in c.tokens[begin : c.i]), "manner")])

    def _sign(self, token: Token) -> None:
        c = self.c
        if token.value in ("(", "[", "{"):
            read_bracket(self)
            return
        if set(token.value) <= set("*†‡#+§•") and len(set(token.value)) == 1 and token.value != "+":
            read_mark(c, self.folder, self.memory)
            return
        if token.value in ("=", "-", "–", "—", "→", ":") and self._count_after_sign():
            return
        if token.value in (".", ";", ":"):
            self.folder.segment = len(self.folder.items)
        c.take()

    def _count_after_sign(self) -> bool:
        """`= 18 sc`, `— 18 sts.`, `-> 18`."""
        c = self.c
        begin = c.i
        while c.sign("=", "-", "–", "—", "→", ">", ":"):
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
            if c.tokens[begin].value == ":" and not _st_follows(inner):
                c.i = begin
                return False
            stated = read_count(inner)
            if stated is not None:
                c.i = end
                self.stated = replace(stated, span=c.span(begin))
                return True
        c.i = begin
        return False

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
        last = all(t.type == "sign" for t in c.tokens[end : c.end])
        stated = read_count(Cursor(c.tokens, c.i, end))
        if stated is None:
            return False
        in_all = any(t.value in ("all", "total", "altogether", "whole") for t in c.tokens[c.i : end])
        if not (
            in_all
            or led
            or (sentence and last)
            or (comma and last and stated.total is not None and c.peek(1).value == "st")
        ):
            return False
        if not led and not in_all and sentence and c.tokens[c.i - 1].value in (";", ":", ")") and stated.total is None:
            return False
        c.i = end
        if self.stated is None or last or in_all:
            self.stated = replace(stated, span=c.span(begin))
        return True

    def _put(self, steps: list[Step]) -> None:
        """Add steps; a stitch with its place may gather the bare ones before it into one place."""
        first = steps[0]
        if (
            len(steps) == 1
            and isinstance(first, Work)
            and first.target.how is How.EACH
            and first.target.implied
            and not first.target.leave
        ) and self._list_around(first):
            return
        if len(steps) == 1 and isinstance(first, Work) and not first.target.implied and _single(first):
            bare = self._bare_before()
            if bare:
                self._gather(first, bare)
                return
        self.folder.add(steps)

    def _list_around(self, last: Work) -> bool:
        """`2 sc, dec around`: the last one all the way round, or the whole list over and over."""
        items = self.folder.items
        at = len(items)
        while at > self.folder.segment and (_bare_stitch(items[at - 1]) or _next_stitch(items[at - 1])):
            at -= 1
        run = tuple(items[at:])
        if not run:
            return False
        each = Target(implied=True, loop=last.target.loop, count=2 if last.decrease else 1)
        whole = (*run, replace(last, target=each))
        span = run[0].span.cover(last.span)
        apart = Option((*run, last), "the last stitch all the way round")
        over = Option((Repeat(span, whole, Times(to_end=True), 0, ""),), "the whole list repeated round", 1)
        self.folder.items = [*items[:at], Choice(span, "list-around", (apart, over))]
        return True

    def _bare_before(self) -> int:
        """How many steps at the end stand bare (`3 dc, ch 2,`) and could share the place that follows."""
        items = self.folder.items
        at = len(items)
        stitches = False
        start = at
        while at > self.folder.segment:
            item = items[at - 1]
            if isinstance(item, Chain) and item.counts is None and not item.stands_for:
                pass
            elif _bare_stitch(item):
                stitches = True
                start = at - 1
            else:
                break
            at -= 1
        return len(items) - start if stitches else 0

    def _gather(self, work: Work, bare: int) -> None:
        items = self.folder.items
        head, run = items[: len(items) - bare], tuple(items[len(items) - bare :])
        inner = (*tuple(_in_one(step) for step in run), replace(work, target=NEXT))
        group = Group(run[0].span.cover(work.span), inner, work.target)
        apart = Option((*run, work), "each in its own place")
        together = Option((group,), "all in one place")
        space = work.target.noun in (Noun.SPACE, Noun.CORNER, Noun.RING)
        chained = any(isinstance(step, Chain) for step in run)
        if (
            not space
            and not chained
            and len({getattr(s, "stitch", "") for s in run}) < 2
            and work.stitch == getattr(run[0], "stitch", work.stitch)
        ):
            self.folder.add([work])
            return
        options = (replace(together, cost=0), replace(apart, cost=1)) if space else (apart, replace(together, cost=2))
        self.folder.items = [*head, Choice(group.span, "run-in-one", options)]

    def take_place(self, target: Target, span: Span) -> bool:
        """A place that comes after its stitches and a comma or a name: `3 dc, ch 1, 3 dc (shell) in next loop`."""
        bare = self._bare_before()
        if not bare:
            return False
        items = self.folder.items
        run = items[len(items) - bare :]
        self.folder.items = items[: len(items) - bare]
        if len(run) == 1 and isinstance(run[0], Work | Choice):
            work = _in_one(run[0])
            if isinstance(work, Work):
                self.folder.add([replace(work, target=target, span=work.span.cover(span))])
        else:
            parts = tuple(_in_one(step) for step in run)
            self.folder.add([Group(run[0].span.cover(span), parts, target, self.naming)])
            if self.naming:
                self.memory.specials[self.naming] = parts
        self.naming = ""
        return True

    def _place_first(self) -> list[Step] | None:
        """`in next sp make tr, ch 3 and tr`; `in back loops only, …`."""
        return place_first(self)

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
            if token.type == "stitch" or (token.type == "word" and token.value in ("inc", "dec", "repeat", "turn", "join", "fasten-off", "stay-join", "skip", "times")):
                return False
            if token.value == "chain" and (c.tokens[at - 1].type == "number" or (at + 1 < c.end and c.tokens[at + 1].type == "number")):
                return False
            at += 1
        return True

    def _define_sentence(self) -> bool:
        """`One shell is 3 dc, ch 1, 1 dc in same st`: a group given its name in a sentence."""
        c = self.c
        at = 1 if c.peek().type == "number" or c.word("a", "each") else 0
        name = c.peek(at).value
        if name not in ("shell", "cluster", "picot", "group", "petal", "v") or not (c.peek(at + 1).value in ("is", "=", "consists") or c.sign("=", ahead=at + 1)):
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
        while not c.done() and not c.sign(",", ".", ";", "(", "[", "{", ")", "]", "}", "*", "**", ":"):
            c.take()
        if c.i == begin:
            c.take()
        words = c.tokens[begin : c.i]
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


def comma_list(c: Cursor) -> bool:
    """Whether a comma here only parts one count from the next (`24 dc, 4 ch-2 sps`)."""
    at = c.i
    while at < c.end and not (c.tokens[at].type == "sign" and c.tokens[at].value == ","):
        at += 1
    return at + 1 < c.end and c.tokens[at + 1].type == "number"


def _st_follows(c: Cursor) -> bool:
    return c.peek(1).value == "st" or c.peek(1).type in ("end",)


def _single(work: Work) -> bool:
    target = work.target
    return (
        target.count == 1 and target.how in (How.NEXT, How.SAME, How.FIRST, How.LAST) and target.noun is not Noun.START
    )


def _next_stitch(step: Step) -> bool:
    return isinstance(step, Work) and step.target.how is How.NEXT


def _bare_stitch(step: Step) -> bool:
    if isinstance(step, Work):
        return step.target.implied and step.target.how is How.NEXT and not step.increase and not step.decrease
    return isinstance(step, Choice) and step.kind == "n-st"


def _in_one(step: Step) -> Step:
    """A bare `3 dc` inside a group is three in that place."""
    if isinstance(step, Choice) and step.kind == "n-st":
        return step.options[-1].steps[0] if len(step.options) > 1 else step.options[0].steps[0]
    if isinstance(step, Work) and step.target.count > 1 and step.each == 1:
        return replace(step, each=step.target.count, target=replace(step.target, count=1))
    return step


_CLAUSES = (
    clauses.turns, clauses.skips, clauses.meshes, clauses.other_side, clauses.rings, clauses.evenly, clauses.again, clauses.edging, clauses.stitches, clauses.chains,
    clauses.yarn,
)  # fmt: skip


def _settled(steps: list[Step], label: Label) -> tuple[Step, ...]:
    """Steps that only the whole line can name: a slip stitch into the first stitch at the end joins; a chain that
    nothing precedes and a label-less line is a foundation."""
    out = list(steps)
    _lone(out)
    if label.word is not Word.NONE or label.numbers:
        _listed(out)
    for k in range(1, len(out)):
        body = out[k - 1]
        if (
            isinstance(body, Repeat)
            and body.times.to_end
            and not body.stop_at
            and len(body.steps) > 1
            and isinstance(body.steps[-1], Chain)
            and isinstance(out[k], Chain)
        ):
            out[k - 1] = replace(
                body, stop_at=len(body.steps) - 1
            )  # the ending's chain takes the place of the last pass's
    for k in range(1, len(out)):
        if (
            isinstance(chain := out[k - 1], Chain)
            and isinstance(ss := out[k], Work)
            and ss.stitch == "sl-st"
            and ss.target.noun is Noun.RING
        ):
            out[k - 1 : k + 1] = [Ring(chain.span.cover(ss.span), chain.n)]
            break
    at = len(out) - 1
    while at >= 0 and isinstance(out[at], (Remark, Turn)):
        at -= 1
    if (
        at > 0
        and isinstance(work := out[at], Work)
        and work.stitch == "sl-st"
        and work.each == 1
        and (work.target.how is How.FIRST or work.target.noun is Noun.START)
    ):
        out[at] = Join(work.span, "sl-st", work.target)
    return tuple(out)


def _listed(steps: list[Step]) -> None:
    """`Rnd 3: 1 sc, 1 inc (18)`: a short list with no word of repeating may stand for the whole round, over and over;
    the count decides."""
    at = [k for k, step in enumerate(steps) if _bare_stitch(step) or (isinstance(step, Work) and step.target.implied) or isinstance(step, Picot)]
    if len(at) < 2 or at != list(range(at[0], at[-1] + 1)) or len(at) > 8:
        return
    if any(isinstance(step, Repeat | Group | Work) for k, step in enumerate(steps) if k not in at):
        return
    if any(isinstance(step, Work) and step.target.how is How.EACH for step in steps):
        return
    run = tuple(steps[k] for k in at)
    span = run[0].span.cover(run[-1].span)
    once = Option(run, "worked once")
    over = Option((Repeat(span, run, Times(to_end=True), 0, ""),), "the list repeated round", 1)
    steps[at[0] : at[-1] + 1] = [Choice(span, "listed", (once, over))]


def _lone(steps: list[Step]) -> None:
    """`Rnd 5: Sc. (18)`: one stitch named and nothing else means the whole round; else it is one stitch."""
    works = [
        k
        for k, step in enumerate(steps)
        if not isinstance(step, Remark | Yarn | Join | Turn | Stay | FastenOff | Chain | Define | Convention)
    ]
    if len(works) != 1 or not isinstance(work := steps[works[0]], Work):
        return
    target = work.target
    if target.implied and target.how is How.NEXT and target.count <= 2 and (work.each == 1 or work.increase):
        around = replace(work, target=replace(target, how=How.EACH, count=1))
        steps[works[0]] = Choice(
            work.span, "lone", (Option((around,), "in each stitch of the round"), Option((work,), "worked once", 1))
        )


def read_lines(source: Source, span: Span, context: Context) -> Checked[tuple[Line, ...]]:
    """The working lines of one block (or of a whole bare text), one a source line; blank lines are passed over."""
    reader = Reader(context, context.terms or infer_terms(source.words(span)))
    reader.memory.names = {name.lower(): key for key, colour in context.yarns for name in (key, colour)}
    for special in context.specials:
        _define(reader, special)
    lines: list[Line] = []
    offset = span.start
    for text in source.words(span).split("\n"):
        bare = text.rstrip("\r")
        if bare.strip():
            _line(reader, lines, bare, offset)
        offset += len(text) + 1
    return Checked(tuple(lines), tuple(reader.findings))


def _define(reader: Reader, special: Special) -> None:
    """A stitch from the header's table becomes a word of this block."""
    tokens = tokenize(special.worked, 0, lexicon(reader.terms))
    passage = Passage(Cursor(tokens), Memory())
    passage.read()
    steps, _ = passage.folder.done()
    for name in (special.key, special.name, special.abbreviation):
        if name:
            reader.memory.specials[name.lower()] = as_parts(tuple(steps))


def _line(reader: Reader, lines: list[Line], text: str, offset: int) -> None:
    keyword = _KEYWORD.match(text)
    if keyword is None:
        lines.append(reader.line(text, offset))
        return
    words = text[keyword.end() :].strip()
    span = Span(offset, offset + len(text))
    key = keyword["key"].lower()
    if key == "note":
        lines.append(Line(span, steps=(Remark(Span(offset + keyword.end(), span.end), words, "note"),)))
    elif lines:
        if key == "why":
            lines[-1] = replace(lines[-1], why=words)
        else:
            lines[-1] = replace(
                lines[-1], intended=(*lines[-1].intended, f"{keyword['rule']}={words}" if keyword["rule"] else words)
            )


_US = re.compile(
    r"\b(?:[2-9]|\d\d)?\s?(?:sc|s c|hdc|h d c|single crochets?|half double)\b|\bsc\d?tog|\bskip\b|\bsk\b|\bs\.\s?c\.",
    re.IGNORECASE,
)
_UK = re.compile(
    r"\bhtr\b|half[- ]treble|\bmiss\b|\bmissing\b|\byrh\b|\btension\b|long stitch|double treble|\bdtr\b|\bdoubles?\b(?! crochet|[- ]loop)|\bquadruple treble|\bplain\b(?! rnd| round| row)|chain 3 for|\btrebles?\b(?! crochet)|\bsingle\b(?! crochet)",
    re.IGNORECASE,
)
_UK_CHAIN = re.compile(
    r"\b3 ?ch(?:ain)?s?\b[^.;]{0,25}(?:=|counts? as|stand\w* for|for)\s*(?:1|first|1st|a|one)?\s*(?:tr\b|treble)|ch(?:ain)? ?3\b[^.;]{0,25}(?:=|counts? as)\s*(?:1|first|1st|a)?\s*tr",
    re.IGNORECASE,
)
_US_CHAIN = re.compile(
    r"ch(?:ain)? ?-?3\b[^.;]{0,25}(?:=|counts? as)\s*(?:1|first|1st|a)?\s*(?:dc|double)", re.IGNORECASE
)


# A chain of three lifts the hook to a US double, a UK treble: what follows it tells the dialect.
_US_START = re.compile(
    r"(?:^|[:.]\s*|Work )(?:ch(?:ain)? ?-?3|3 ?ch(?:ain)?)\b[^.;:]{0,30}\b(?:dc|d c)\b", re.IGNORECASE | re.MULTILINE
)
_UK_START = re.compile(
    r"(?:^|[:.]\s*|Work )(?:ch(?:ain)? ?-?[34]|[34] ?ch(?:ain)?)\b[^.;:]{0,30}\b(?:tr|treble)\b",
    re.IGNORECASE | re.MULTILINE,
)


@cache
def _weights(text: str) -> tuple[int, int]:
    us = len(_US.findall(text)) + 4 * len(_US_CHAIN.findall(text)) + len(_US_START.findall(text))
    uk = len(_UK.findall(text)) + 4 * len(_UK_CHAIN.findall(text)) + len(_UK_START.findall(text))
    return us, uk


def infer_terms(text: str) -> str:
    """US or UK, from words that only one of them uses; US where nothing tells."""
    us, uk = _weights(text[:50_000])
    return "UK" if uk > us else "US"

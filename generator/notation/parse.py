"""The reader: a working line in the trade's words becomes a tree, with a `Choice` wherever it can be read two ways.

Reading cannot fail. What is not understood becomes an `Unread` step and the rest goes on; every word is a step, a
remark or a report.
"""

import re
from dataclasses import dataclass, field, replace

from generator.diagnostics.record import Checked, Finding, Severity
from generator.notation.bodies import LONG_BODY, read_body, remembered
from generator.notation.body import Body, moved
from generator.notation.cursor import Cursor
from generator.notation.dialect import infer_terms
from generator.notation.dress import undressed
from generator.notation.glossary import entry, heads_facts, heads_piece, lists_fact
from generator.notation.groups import as_parts
from generator.notation.labels import read_label
from generator.notation.lexicon import lexicon
from generator.notation.memory import Memory
from generator.notation.named import name_of
from generator.notation.passage import Passage
from generator.notation.pattern import Special
from generator.notation.tokens import Token, tokenize
from generator.notation.tree import (
    NEXT,
    Define,
    Group,
    Label,
    Line,
    Remark,
    Stated,
    Unread,
    Work,
)  # fmt: skip
from generator.source import Source, Span

_KEYWORD = re.compile(r"\s*(?P<key>note|why|intended)\s*(?:\((?P<rule>[\w-]+)\))?\s*:\s*", re.IGNORECASE)

_BEHIND = re.compile(r"\s+(?:[-–—#]+\s*)?(?P<answer>(?:why|intended)\s*(?:\([\w-]+\))?\s*:\s)", re.IGNORECASE)
"""An answer or a private word on the line itself, behind the instruction."""

_SCHEME = re.compile(
    r"\s*(?:rounds?|rnds?|rows?)\s+(?P<n>[nkx])\s*[:.].*(?:\b(?P=n)\s*[-+*×]\s*\d|\d\s*[*×]?\s*(?P=n)\b)", re.IGNORECASE
)
"""`Round N: N - 2 sc, inc`: how every round is made, by a letter for its number; no round of its own."""
LONGEST_LINE = 5_000
"""Characters of one working line that are read; a longer one is a finding, not a hang. In print 600 are many."""


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
        if _too_deep(text):
            return Line(span, steps=(Unread(span, text[:80]),))
        if _SCHEME.match(text):
            return Line(span, steps=(Remark(span, text.strip(), "note"),))
        labelled = read_label(text, offset)
        if not labelled.label.span.end and (front := self._front(text, offset)):
            return front
        body = text[labelled.body :]
        shape = Label(labelled.label.word, (0,) if labelled.label.numbers else ())
        read = self._body(body, offset + labelled.body, shape)
        if labelled.heading:
            self._named_after(labelled.heading)
        stated = read.stated
        rounds = self._aside(labelled.aside) if labelled.aside else 0
        if rounds := labelled.many if labelled.many > 1 else rounds:
            stated = replace(stated, rounds=rounds) if stated else Stated(rounds=rounds, span=labelled.label.span)
        return Line(span, labelled.label, read.steps, stated, read.slips, body=read)

    def _front(self, text: str, offset: int) -> Line | None:
        """The line where it only tells facts or explains a word; None where it is work."""
        span = Span(offset, offset + len(text))
        if (head := heads_facts(text)) and (inner := self._front(text[head:], offset + head)):
            return replace(inner, span=span)  # `Special stitch: Shell = 5 dc in same st`
        if heads_piece(text) and not any(t.type == "stitch" for t in tokenize(text, 0, lexicon(self.terms))):
            self.memory.started = False
            return Line(span, steps=(Remark(span, text.strip(), "note"),))
        if head or (not self.memory.started and lists_fact(text, lexicon(self.terms))):
            return Line(span, steps=(Remark(span, text.strip(), "note"),))
        found = entry(text, lexicon(self.terms))
        if found is None:
            return None
        if found.name.type == "stitch" and found.short:
            self.memory.short[found.short] = found.name.value
        elif found.name.value in ("shell", "v", "group", "picot"):
            explain(self.memory, found.name.value, tokenize(text[found.at :], offset + found.at, lexicon(self.terms)))
        return Line(span, steps=(Define(span, found.name.value, text[found.at :]),))

    def _body(self, text: str, offset: int, label: Label) -> Body:
        """What stands behind the label. What was read before under the same circumstances is remembered."""
        memory = self.memory
        if len(text) <= LONG_BODY and not memory.specials and not memory.named:
            memory.begin()
            mind = memory.state()
            known = remembered(text, label, self.terms, mind)
            if known is not None:
                if known.mind != mind:
                    memory.become(known.mind)
                return moved(known.body, offset)
        return read_body(text, offset, label, self.terms, memory)

    def _aside(self, aside: str) -> int:
        match = re.search(r"(\d+)\s*(?:rnds?|rounds?|rows?)\b", aside, re.IGNORECASE)
        return int(match[1][:5]) if match else 0

    def _named_after(self, heading: str) -> None:
        """A heading begins a new piece; nothing of the old one is leaned on."""
        self.memory.started = False

    def _say(self, rule: str, message: str, span: Span) -> None:
        self.findings.append(Finding(rule, Severity.ERROR, message, span))


_BRACKETS = re.compile(r"[()\[\]{}]")
DEEPEST = 6
"""Brackets within brackets that are read; print has three at most."""


def _too_deep(text: str) -> bool:
    """Whether the brackets of a line open deeper than is read, never mind of which kind."""
    if sum(map(text.count, "([{")) <= DEEPEST:
        return False
    open_now = most = 0
    for bracket in _BRACKETS.findall(text):
        open_now = open_now + 1 if bracket in "([{" else max(0, open_now - 1)
        most = max(most, open_now)
    return most > DEEPEST


def read_lines(source: Source, span: Span, context: Context) -> Checked[tuple[Line, ...]]:
    """The working lines of one block (or of a whole bare text), one a source line; blank lines are passed over."""
    reader = Reader(context, context.terms or infer_terms(source.words(span)))
    reader.memory.names = {name.lower(): key for key, colour in context.yarns for name in (key, colour)}
    for special in context.specials:
        _define(reader, special)
    lines: list[Line] = []
    offset = span.start
    for text in source.words(span).split("\n"):
        written = text.rstrip("\r")
        if written.strip():
            _line(reader, lines, undressed(written), offset)
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
            words = tokenize(name, 0, lexicon(reader.terms))
            reader.memory.named += (name_of(words, special.key, as_parts(tuple(steps))),)


def explain(memory: Memory, name: str, tokens: list[Token]) -> None:
    """A group explained (`Shell: 5 dc in same st`) is what its name stands for from there on."""
    passage = Passage(Cursor(tokens), Memory())
    passage.read()
    steps = [step for step in passage.folder.done()[0] if not isinstance(step, Remark)]
    if not steps or any(isinstance(step, Unread) for step in steps):
        return
    only = steps[0]
    inside = only.steps if isinstance(only, Group) else (replace(only, target=NEXT),) if isinstance(only, Work) else ()
    memory.specials[name] = as_parts(inside or tuple(steps))


def _line(reader: Reader, lines: list[Line], text: str, offset: int) -> None:
    if not text.strip():  # nothing but decoration: the rule under the heads of a table
        span = Span(offset, offset + len(text))
        lines.append(Line(span, steps=(Remark(span, ""),)))
        return
    keyword = _KEYWORD.match(text)
    if keyword is None:
        behind = _BEHIND.search(text) if ":" in text else None
        lines.append(reader.line(text[: behind.start()] if behind else text, offset))
        if behind:
            _line(reader, lines, text[behind.start("answer") :], offset + behind.start("answer"))
        return
    words = text[keyword.end() :].strip()
    span = Span(offset, offset + len(text))
    key = keyword["key"].lower()
    if key == "note":
        lines.append(Line(span, steps=(Remark(Span(offset + keyword.end(), span.end), words, "note"),)))
    elif not lines:
        lines.append(Line(span, steps=(Unread(span, f"{keyword['key']}: with no round before it"),)))
    elif key == "why":
        lines[-1] = replace(lines[-1], why=words)
    else:
        said = f"{keyword['rule']}={words}" if keyword["rule"] else words
        lines[-1] = replace(lines[-1], intended=(*lines[-1].intended, said))

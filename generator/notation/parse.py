"""The reader: a working line in the trade's words becomes a tree, with a `Choice` wherever it can be read two ways.

Reading cannot fail. What is not understood becomes an `Unread` step and the rest goes on; every word is a step, a
remark or a report.
"""

import re
from dataclasses import dataclass, field, replace

from generator.diagnostics.record import Checked, Finding, Severity
from generator.notation import slips
from generator.notation.cursor import Cursor
from generator.notation.dialect import infer_terms
from generator.notation.dress import undressed
from generator.notation.groups import as_parts
from generator.notation.labels import read_label
from generator.notation.lexicon import lexicon
from generator.notation.memory import Memory
from generator.notation.multiples import plain
from generator.notation.named import name_of
from generator.notation.passage import Passage
from generator.notation.pattern import Special
from generator.notation.settling import settled
from generator.notation.tokens import Token, tokenize
from generator.notation.tree import (
    Choice,
    Line,
    Loop,
    Remark,
    Stated,
    Step,
    Unread,
    Word,
)  # fmt: skip
from generator.notation.untils import stated_until
from generator.notation.verbatim import verbatim
from generator.source import Source, Span

_KEYWORD = re.compile(r"\s*(?P<key>note|why|intended)\s*(?:\((?P<rule>[\w-]+)\))?\s*:\s*", re.IGNORECASE)


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
        if depth(text) > DEEPEST:
            return Line(span, steps=(Unread(span, text[:80]),))
        labelled = read_label(text, offset)
        body = text[labelled.body :]
        tokens = tokenize(body, offset + labelled.body, lexicon(self.terms))
        tokens = plain_row(tokens, body, self.memory.stitch)
        steps, stated, corrected = self._with_slips(tokens)
        if labelled.heading:
            self._named_after(labelled.heading)
        stated = stated or stated_until(steps, tokens)
        aside = self._aside(labelled.aside, offset)
        if aside is not None:
            stated = replace(stated, rounds=aside) if stated else Stated(rounds=aside, span=labelled.label.span)
        if labelled.many > 1:
            stated = (
                replace(stated, rounds=labelled.many)
                if stated
                else Stated(rounds=labelled.many, span=labelled.label.span)
            )
        if labelled.label.word in (Word.ROUND, Word.ROW) and _says_nothing(steps):
            # A numbered round is worked: words of which none was known are no remark there.
            steps = [Unread(steps[0].span.cover(steps[-1].span), body.strip()[:80])]
        kept = verbatim(settled(steps, labelled.label), text, offset)
        return Line(span, labelled.label, kept, stated, corrected)

    def _aside(self, aside: str, offset: int) -> int | None:
        match = re.search(r"(\d+)\s*(?:rnds?|rounds?|rows?)\b", aside, re.IGNORECASE)
        return int(match[1][:5]) if match else None

    def _named_after(self, heading: str) -> None:
        """A heading begins a new piece; nothing of the old one is leaned on."""
        self.memory.started = False

    def _with_slips(self, tokens: list[Token]) -> tuple[list[Step], Stated | None, tuple[tuple[Span, str], ...]]:
        remembered = self.memory.copied()
        steps, stated = self._body(tokens)
        unread = count_unread(steps)
        if not unread:
            return steps, stated, ()
        mended, what = slips.mend(tokens, lexicon(self.terms))
        if what:
            kept = self.memory
            self.memory = remembered
            again, stated_again = self._body(mended)
            if count_unread(again) < unread:
                return again, stated_again, what
            self.memory = kept
        return steps, stated, ()

    def _body(self, tokens: list[Token]) -> tuple[list[Step], Stated | None]:
        self.memory.loop = Loop.BOTH
        self.memory.stitch = first_stitch(tokens) or self.memory.stitch
        passage = Passage(Cursor(tokens), self.memory)
        passage.read()
        passage.folder.close_open_marks()
        steps, _ = passage.folder.done()
        return steps, passage.stated

    def _say(self, rule: str, message: str, span: Span) -> None:
        self.findings.append(Finding(rule, Severity.ERROR, message, span))


def plain_row(tokens: list[Token], body: str, stitch: str) -> list[Token]:
    """`Plain.`, `Plain, with 3 extra`: a course of the stitch in hand, not of the one called plain."""
    alone = len(tokens) == 1 or (len(tokens) > 1 and (tokens[1].type == "sign" or tokens[1].value in ("row", "round")))
    if tokens and alone and body.lstrip()[:5].lower() == "plain" and tokens[0].type == "stitch":
        rest = tokens[2:] if len(tokens) > 1 and tokens[1].type != "sign" else tokens[1:]
        return [tokens[0]._replace(value=stitch), *rest]
    return tokens


def _says_nothing(steps: list[Step]) -> bool:
    return bool(steps) and all(isinstance(step, Remark) and not step.act for step in steps)


DEEPEST = 6
"""Brackets within brackets that are read; print has three at most."""


def depth(text: str) -> int:
    """How deep the brackets of a line open, never mind of which kind."""
    open_now = most = 0
    for character in text:
        if character in "([{":
            open_now += 1
            most = max(most, open_now)
        elif character in ")]}":
            open_now = max(0, open_now - 1)
    return most


def first_stitch(tokens: list[Token]) -> str:
    for token in tokens:
        if token.type == "stitch" and token.value not in ("sl-st", "picot"):
            return plain(token.value)
    return ""


def count_unread(steps: list[Step] | tuple[Step, ...]) -> int:
    """How many steps were not understood, inside repeats and groups too."""
    total = 0
    for step in steps:
        if isinstance(step, Unread):
            total += 1
        inner = getattr(step, "steps", None)
        if inner:
            total += count_unread(inner)
        if isinstance(step, Choice):
            total += count_unread(step.options[0].steps)
    return total


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


def _line(reader: Reader, lines: list[Line], text: str, offset: int) -> None:
    if not text.strip():  # nothing but decoration: the rule under the heads of a table
        span = Span(offset, offset + len(text))
        lines.append(Line(span, steps=(Remark(span, ""),)))
        return
    keyword = _KEYWORD.match(text)
    if keyword is None:
        lines.append(reader.line(text, offset))
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

"""The header as a tree of words with their places, before anybody asks what they mean.

YAML is read with the base loader, so every scalar stays the text the author wrote; what YAML itself can't read is
reported once, blanked out, and the rest is read on. Aliases and tags are not part of the notation.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass

import yaml

from generator.diagnostics.record import Checked, Finding, Severity
from generator.source import Source, Span

DEPTH = 8
"""Deepest nesting that is read; real headers need four."""
ROUNDS_OF_REPAIR = 8


@dataclass(frozen=True, slots=True)
class Words:
    """One value as written."""

    text: str
    span: Span


@dataclass(frozen=True, slots=True)
class Entry:
    """A key and what stands under it."""

    key: str
    key_span: Span
    fact: "Fact"


@dataclass(frozen=True, slots=True)
class Table:
    """Several keys with their values, in the order written. No two keys have the same `plain_key`."""

    entries: tuple[Entry, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Items:
    """A list."""

    facts: tuple["Fact", ...]
    span: Span


Fact = Words | Table | Items


def plain_key(key: str) -> str:
    """A key without its accidents: `Start-Chain`, `start_chain` and `start chain` are one."""
    return re.sub(r"[-_\s]+", " ", key).strip().lower()


def read_facts(source: Source, span: Span) -> Checked[Table]:
    """The facts between the header's two `---` lines. Gives `header-not-readable` and `header-tab`."""
    text = _straight(source.words(span))
    findings: list[Finding] = []
    for _ in range(ROUNDS_OF_REPAIR):
        try:
            node = yaml.compose(text, Loader=yaml.CBaseLoader)
        except yaml.YAMLError as error:
            finding, text = _repair(source, span, text, error)
            # A tab that was taken for a blank may leave its line at a wrong depth: that is still the same mistake.
            if not (findings and findings[-1].rule == "header-tab" and "\t" in _line_of(source, finding)):
                findings.append(finding)
            continue
        gatherer = _Gatherer(source, span)
        table = gatherer.table(node)
        return Checked(table, (*findings, *gatherer.findings))
    return Checked(Table((), span), tuple(findings))


_CURLED = re.compile(r"(?m)(?<=[:,\[{-] )[“”„]([^“”„\"\\\n]*)[“”](?=\s*(?:[,}\]]|$))")


def _straight(text: str) -> str:
    """Quotation marks that a word processor has curled, straight again where they stand round a value (offsets stay)."""
    return _CURLED.sub(r'"\1"', text)


def _line_of(source: Source, finding: Finding) -> str:
    return source.line(source.place(finding.span.start)[0])


def _repair(source: Source, span: Span, text: str, error: yaml.YAMLError) -> tuple[Finding, str]:
    """What to say of a header that isn't YAML, and the text with the faulty entry blanked out (offsets stay)."""
    at = min(_fault(error), max(len(text) - 1, 0))
    start, end = _line(text, at)
    where = Span(span.start + start, span.start + end)
    if "\t" in text[start:end]:
        tab = text.index("\t", start)
        place = Span(span.start + tab, span.start + tab + 1)
        finding = Finding(
            "header-tab", Severity.ERROR, "the header is indented with a tab", place, "two spaces for each step"
        )
        return finding, text.replace("\t", " ")
    if text and ord(text[at]) < 0x20 and text[at] not in "\n\r":
        place = Span(span.start + at, span.start + at + 1)
        finding = Finding("header-not-readable", Severity.ERROR, "a character that can't be printed", place)
        return finding, text[:at] + " " + text[at + 1 :]
    line = source.words(where).strip()
    message, fits = _reason(line, error)
    indent = len(source.words(where)) - len(source.words(where).lstrip())
    place = Span(where.start + indent, where.start + indent + max(len(line), 1))
    return Finding("header-not-readable", Severity.ERROR, message, place, fits), _blank(text, start)


def _fault(error: yaml.YAMLError) -> int:
    """Offset of the place to point at. An open quote or bracket is told where it opens, not where the text ends."""
    if isinstance(error, yaml.MarkedYAMLError) and error.problem_mark is not None:
        opens = error.context is not None and re.search(r"quoted scalar|flow", error.context)
        mark = error.context_mark if opens and error.context_mark is not None else error.problem_mark
        return int(mark.index)
    return int(getattr(error, "position", 0))


def _line(text: str, at: int) -> tuple[int, int]:
    start = text.rfind("\n", 0, at) + 1
    end = text.find("\n", at)
    return start, len(text) if end < 0 else end


_HASH = re.compile(r":\s+#([0-9a-fA-F]{3,6})\b")
_COLON = re.compile(r"^\s*(?:- )?([\w -]+):\s+([^\"'{\[].*)$")


def _reason(line: str, error: yaml.YAMLError) -> tuple[str, str]:
    if match := _HASH.search(line):
        return "what follows `#` is taken for a remark, so this line stays open", f'"#{match[1]}" in quotes'
    if "quoted scalar" in str(getattr(error, "context", "")):
        return "a quotation mark opens here and is not closed", "the same mark at the end of the value"
    if "flow" in str(getattr(error, "context", "")):
        return "a bracket opens here and is not closed", "`}` closes `{`, `]` closes `[`"
    if (match := _COLON.match(line)) and ": " in match[2]:
        quoted = match[2].replace('"', "'")
        return "a value that itself holds `: ` needs quotes", f'{match[1]}: "{quoted}"'
    line = line if len(line) <= 60 else line[:57] + "..."
    return f"`{line}` is not of the form `name: value`", "one `name: value` a line, further lines under it indented"


NOTHING = "~"
"""What YAML itself writes for a value that is left out; also put where a value could not be read."""

_HEAD = re.compile(r"\s*(?:- )?(?:[\w][\w -]*:(?= ))?")


def _blank(text: str, start: int) -> str:
    """The text with the value of the entry at `start` left out, and with it what is indented under that line."""
    lines, position, out, depth = text.split("\n"), 0, [], -1
    for line in lines:
        indent = len(line) - len(line.lstrip())
        if position == start:
            depth = indent
            head = match[0] if (match := _HEAD.match(line)) else ""
            out.append(f"{head} {NOTHING}".ljust(len(line)) if head.strip() else " " * len(line))
        elif depth >= 0 and position > start and (indent > depth or not line.strip()):
            out.append(" " * len(line))
        else:
            depth = depth if position < start else -1
            out.append(line)
        position += len(line) + 1
    return "\n".join(out)


class _Gatherer:
    """Turns YAML nodes into facts and collects what is wrong on the way."""

    def __init__(self, source: Source, span: Span) -> None:
        self.source, self.span = source, span
        self.findings: list[Finding] = []
        self.met: set[int] = set()

    def table(self, node: yaml.Node | None) -> Table:
        if node is None:
            return Table((), self.span)
        fact = self.fact(node, 0)
        if isinstance(fact, Table):
            return fact
        self._say("header-not-readable", "the header holds no `name: value` lines", fact.span, "title: ...")
        return Table((), self.span)

    def fact(self, node: yaml.Node, depth: int) -> Fact:
        span = self._span(node)
        if not isinstance(node, yaml.ScalarNode):
            if id(node) in self.met:  # an alias: a few of them can unfold to millions of values
                self._say("header-not-readable", "`*` and `&` are not part of the header's language", span, "")
                return Words(NOTHING, span)
            self.met.add(id(node))
        if isinstance(node, yaml.MappingNode) and depth < DEPTH:
            return Table(tuple(self._entries(node, depth)), span)
        if isinstance(node, yaml.SequenceNode) and depth < DEPTH:
            return Items(tuple(self.fact(item, depth + 1) for item in node.value), span)
        if depth >= DEPTH and not isinstance(node, yaml.ScalarNode):
            self._say("header-not-readable", f"nested more than {DEPTH} deep", span, "")
            return Words(NOTHING, span)
        return Words(str(node.value).strip(), span)

    def _entries(self, node: yaml.MappingNode, depth: int) -> Iterator[Entry]:
        seen: dict[str, int] = {}
        for key_node, value_node in node.value:
            key_span = self._span(key_node)
            scalar = isinstance(key_node, yaml.ScalarNode)
            key = str(key_node.value).strip() if scalar else self.source.words(key_span)
            if (plain := plain_key(key)) in seen:
                message = f"`{key}` stands twice; the first is on line {seen[plain]}"
                self._say("header-repeated-key", message, key_span, "one of the two")
                continue
            seen[plain] = self.source.place(key_span.start)[0]
            yield Entry(key, key_span, self.fact(value_node, depth + 1))

    def _span(self, node: yaml.Node) -> Span:
        start, end = self.span.start + node.start_mark.index, self.span.start + node.end_mark.index
        # A block collection's end mark stands on the next key: step back to its last word.
        end = start + max(len(self.source.text[start:end].rstrip()), min(1, end - start))
        return Span(start, end)

    def _say(self, rule: str, message: str, span: Span, fits: str) -> None:
        self.findings.append(Finding(rule, Severity.ERROR, message, span, fits))

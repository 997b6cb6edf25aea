"""A pattern's file, read: header, prose, working blocks under the headings that name their parts.

Whatever the text, a `Pattern` comes back; what is wrong comes with it as findings.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace

from generator.diagnostics.record import Checked, Finding, Severity
from generator.notation.addresses import slug as slug
from generator.notation.header import read_header
from generator.notation.loose import loose_rounds, opened_by
from generator.notation.parse import Context, read_lines
from generator.notation.pattern import Header, Pattern, Prose, ShapeBlock, Working
from generator.notation.tree import Piece
from generator.source import Source, Span

LONGEST = 1024 * 1024
"""Bytes of one source; a pattern of 200 rounds has about 20,000."""

_FENCE = re.compile(r" {0,3}(?P<mark>`{3,}|~{3,})\s*(?P<info>[^`]*?)\s*")
_HEADING = re.compile(r" {0,3}(?P<level>#{1,6})\s+(?P<title>.*?)(?:\s+#+)?\s*")
_MAKE = re.compile(
    r"(?i)\s*[(\[,–—-]?\s*(?:make|work|[x×])\s*(?P<n>\d{1,3}|two|three|four|five|six|eight)\s*[)\]]?\s*$"
)
_TIMES = re.compile(r"(?i)\s*[(\[]\s*(?P<n>\d{1,3})\s*[x×]\s*[)\]]\s*$")
_HOOK = re.compile(r"(?i)\s*[(\[,]\s*(?:with\s+)?(?P<mm>\d{1,2}(?:[.,]\d{1,2})?)\s*mm(?:\s+hook)?\s*[)\]]?\s*$")
_WORDS = {"two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "eight": 8}
WORKING = ("rounds", "rows", "work")


@dataclass(frozen=True, slots=True)
class _Stretch:
    """A run of lines of one kind: `prose`, or the first word after a fence. `span` leaves the fences out."""

    kind: str
    span: Span
    heading: str = ""
    section: int = -1


def read_document(source: Source) -> Checked[Pattern]:
    """Read one pattern's file.

    Gives `too-long`, `not-text`, `empty-file`, `header-missing`, `header-not-closed`, `block-not-closed`,
    `no-working-block` and what the header and the lines give.
    """
    if fault := unreadable(source):
        return Checked(Pattern(source, Header(slug=_slug(source.path))), (fault,))
    body, header = _header(source)
    facts, findings = header.value, list(header.findings)
    if not facts.slug:
        facts = replace(facts, slug=_slug(source.path))
    context = Context(
        terms=facts.terms, yarns=tuple((yarn.key, yarn.colour) for yarn in facts.yarns), specials=facts.stitches
    )
    stretches, unclosed = _stretches(source, body)
    findings.extend(unclosed)
    blocks: list[Prose | Working | ShapeBlock] = []
    sections: dict[int, int] = {}
    for stretch in stretches:
        if stretch.kind == "prose":
            blocks.append(Prose(source.words(stretch.span), stretch.span))
        elif stretch.kind == "shape":
            blocks.append(ShapeBlock(source.words(stretch.span), _part(stretch.heading).name, stretch.span))
        else:
            lines = read_lines(source, stretch.span, context)
            findings.extend(lines.findings)
            part = sections.setdefault(stretch.section, len(sections))
            blocks.append(Working(replace(_part(stretch.heading), lines=lines.value, span=stretch.span), part))
    if not any(isinstance(block, (Working, ShapeBlock)) for block in blocks) and not findings:
        findings.append(_no_work(source, body))
    return Checked(Pattern(source, facts, tuple(blocks)), tuple(findings))


def unreadable(source: Source) -> Finding | None:
    """Why a text can't be read at all, if so. Gives `too-long`, `not-text` and `empty-file`."""
    if len(source.text) > LONGEST or len(source.text.encode("utf-8", "replace")) > LONGEST:
        message = f"the file is longer than {LONGEST // 1024} KiB"
        return Finding("too-long", Severity.ERROR, message, Span(0, 0), "one pattern a file")
    if "\0" in source.text:
        at = source.text.index("\0")
        return Finding("not-text", Severity.ERROR, "this is not a text file", Span(at, at + 1), "a text file in UTF-8")
    if not source.text.strip():
        fits = "a header between two `---` lines, then the rounds"
        return Finding("empty-file", Severity.ERROR, "the file is empty", Span(0, 0), fits)
    return None


@dataclass(frozen=True, slots=True)
class Opening:
    """Where a file's header lies: `inside` its `---` lines, the `body` after them, and what is wrong with it."""

    inside: Span | None
    body: int
    fault: Finding | None = None


def find_header(source: Source) -> Opening:
    """The header of a Markdown file. Gives `header-missing` and `header-not-closed`."""
    start = len(source.text) - len(source.text.lstrip("\ufeff\r\n \t"))
    first, last = source.place(start)[0], source.place(len(source.text))[0]
    opens = source.line_span(first)
    if not re.fullmatch(r"---+\s*", source.line(first)):
        fits = "`---` as the first line, the facts under it, `---` again"
        return Opening(None, 0, Finding("header-missing", Severity.ERROR, "the file has no header", opens, fits))
    number = first + 1
    while number <= last and not _FENCE.fullmatch(source.line(number)) and not _HEADING.fullmatch(source.line(number)):
        if re.fullmatch(r"---+\s*", source.line(number)):
            closes = source.line_span(number)
            return Opening(Span(min(opens.end + 1, closes.start), closes.start), closes.end)
        number += 1
    message, fits = "the header opens here and is not closed", "`---` on a line of its own after the last fact"
    end = source.line_span(number).start if number <= last else len(source.text)
    fault = Finding("header-not-closed", Severity.ERROR, message, opens, fits)
    return Opening(Span(min(opens.end + 1, end), end), end, fault)


def _header(source: Source) -> tuple[int, Checked[Header]]:
    """Offset where the body begins, and the header."""
    opening = find_header(source)
    header = read_header(source, opening.inside) if opening.inside else Checked(Header())
    if opening.fault:
        # What else is wrong in it is most likely prose taken for facts: one mistake, one finding.
        header = Checked(header.value, (opening.fault,))
    return opening.body, header


def _stretches(source: Source, body: int) -> tuple[list[_Stretch], list[Finding]]:
    """The body cut at working and shape blocks; other fences stay part of the prose."""
    found: list[_Stretch] = []
    findings: list[Finding] = []
    heading, section, prose = "", -1, body
    number, last = source.place(body)[0] + (body > 0), source.place(len(source.text))[0]
    while number <= last:
        line = source.line(number)
        fence, title = _FENCE.fullmatch(line), _HEADING.fullmatch(line)
        if title and len(title["level"]) > 1:
            heading, section = title["title"], number
        kind = _kind(fence["info"]) if fence else ""
        if not fence:
            number += 1
            continue
        close, closed = _close(source, number, last, fence["mark"])
        if kind:
            found.extend(_prose(source, prose, source.line_span(number).start))
            start = min(source.line_span(number).end + 1, len(source.text))
            end = source.line_span(close).start if close <= last else len(source.text)
            found.append(_Stretch(kind, Span(start, max(start, end)), heading, section))
            prose = min(source.line_span(close).end + 1, len(source.text)) if closed else end
        if not closed:
            findings.append(_not_closed(source, number, fence["mark"]))
        number = close + closed
    found.extend(_prose(source, prose, len(source.text)))
    return found, findings


def _kind(info: str) -> str:
    word = (info.split() or [""])[0].strip("{}.").lower()
    word = {"round": "rounds", "row": "rows"}.get(word, word)
    return word if word in (*WORKING, "shape") else ""


def _close(source: Source, opened: int, last: int, mark: str) -> tuple[int, bool]:
    """The line that ends a fence, and whether it really closes it. An unclosed one ends before the next heading,
    or where the next block opens, so that the rest is still read."""
    heading = 0
    for number in range(opened + 1, last + 1):
        fence = _FENCE.fullmatch(source.line(number))
        if fence and not fence["info"] and fence["mark"].startswith(mark):
            return number, True
        if fence and _kind(fence["info"]):
            return heading or number, False
        if not heading and _HEADING.fullmatch(source.line(number)):
            heading = number
    return heading or last + 1, False


def _prose(source: Source, start: int, end: int) -> Iterator[_Stretch]:
    if source.text[start:end].strip():
        yield _Stretch("prose", Span(start, end))


def _not_closed(source: Source, number: int, mark: str) -> Finding:
    message = "the block that opens here is not closed"
    fits = f"{mark} on a line of its own after its last line"
    return Finding("block-not-closed", Severity.ERROR, message, source.line_span(number), fits)


def _no_work(source: Source, body: int) -> Finding:
    """Told at the first line that looks like a round, else at the end, where they are to stand."""
    message, fits = "the file has no rounds or rows to work", "```rounds, the rounds, ``` on lines of their own"
    last = source.place(len(source.text.rstrip()))[0]
    if loose := next(loose_rounds(source, Span(min(body, len(source.text)), len(source.text))), None):
        last = source.place(loose.start)[0]
        message = "the rounds from here stand in no working block"
        if name := opened_by(source, loose).lstrip("`~ "):
            message, fits = f"the block `{name}` is no working block", "```rounds instead of ```" + name
    return Finding("no-working-block", Severity.ERROR, message, source.line_span(last), fits)


def _part(heading: str) -> Piece:
    """The part a heading names: `Ear (make 2)`, `Strap (3.5 mm hook)`."""
    name, make, hook = heading, 1, 0.0
    while match := _MAKE.search(name) or _TIMES.search(name) or _HOOK.search(name):
        if "mm" in match.groupdict():
            hook = float(match["mm"].replace(",", "."))
        else:
            make = _WORDS.get(match["n"].lower()) or int(match["n"]) or 1
        name = name[: match.start()]
    return Piece(name=re.sub(r"[*_`]", "", name).strip(), make=make, hook_mm=hook)


def _slug(path: str) -> str:
    """A file's name as it stands in an address: letters and digits of any script, joined by hyphens."""
    stem = path.replace("\\", "/").rpartition("/")[2]
    stem = stem[: stem.rindex(".")] if "." in stem[1:] else stem
    return slug(stem)

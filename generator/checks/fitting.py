"""What would fit: replacements of an author's words that have themselves been read and worked.

A proposal changes as few numbers of the line as it can (`next 5 sts` to `next 4 sts`, `6 times` to `8 times`, the
count at the end), so it stays in the author's words. Nothing unproved leaves this module.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import TypeAlias

from generator.checks import say
from generator.checks.product import At, Product
from generator.diagnostics.record import Fix
from generator.fabric.model import Part, Status, WorkedLine
from generator.fabric.work import Settings, work
from generator.notation.parse import Context, read_lines
from generator.notation.pattern import Header
from generator.notation.tree import Foundation, Line
from generator.source import Source, Span

Offer: TypeAlias = tuple[str, Fix | None]
"""What would fit, in words, and the replacement to offer."""

BUDGET = 6000
"""Lines worked to prove fixes in one run of the rules, at most."""

_NUMBER = re.compile(r"(?<![\w.])(\d{1,4})(?![\d.]|\s*(?:mm|cm|in\b|\"))|(?<=[xX×])(\d{1,4})\b")
_REACH = 3


@dataclass(frozen=True, slots=True)
class Proved:
    """A line that was rewritten and worked."""

    span: Span
    """What it replaces: the instruction without label, or the count."""
    text: str
    live: int
    """What the line makes as rewritten."""
    matches: bool
    """Whether that is the count the author stated."""
    goes_on: bool
    """Whether the next line still works."""
    distance: int
    """How far the numbers were moved."""

    @property
    def fix(self) -> Fix:
        """The replacement to offer."""
        return Fix(self.span, self.text)


def context(product: Product) -> Context:
    """What the reader needs to know about the pattern."""
    header = product.header
    return Context(
        terms=header.terms or product.terms,
        yarns=tuple((yarn.key, yarn.colour) for yarn in header.yarns),
        specials=header.stitches,
        bare=product.bare,
    )


def settings(header: Header) -> Settings:
    """What the worker needs to know about the pattern."""
    gauge = header.gauge
    rows = gauge.rows / gauge.over_mm if gauge and gauge.over_mm > 0 else 0.0
    return Settings(rounds=header.rounds, start_chain=header.start_chain, rows_per_mm=rows)


def reread(product: Product, at: At, edits: tuple[Fix, ...]) -> Line | None:
    """The line with edits inside it made and read again; None where that is no longer one clean line."""
    text, span = product.source.text, at.span
    grown = 0
    for edit in sorted(edits, key=lambda e: -e.span.start):
        text = text[: edit.span.start] + edit.text + text[edit.span.end :]
        grown += len(edit.text) - (edit.span.end - edit.span.start)
    checked = read_lines(Source(product.source.path, text), Span(span.start, span.end + grown), context(product))
    return checked.value[0] if len(checked.value) == 1 else None


def rework(product: Product, at: At, line: Line) -> tuple[WorkedLine, WorkedLine | None] | None:
    """The line put in place of the one at `at` and worked with everything before it, and the line after it.

    None when the budget is used up or the pieces don't match the fabric.
    """
    pieces = product.pieces()
    if at.part_index >= len(pieces) or len(pieces) != len(product.fabric.parts):
        return None
    piece = pieces[at.part_index]
    if len(piece.lines) != len(at.part.lines):
        return None
    lines = (*piece.lines[: at.index], line, *piece.lines[at.index + 1 : at.index + 3])
    earlier = pieces[: at.part_index] if at.part_index else ()
    product.spent[0] += len(lines) + sum(len(p.lines) for p in earlier)
    if product.spent[0] > BUDGET:
        return None
    part: Part = work((*earlier, replace(piece, lines=lines)), settings(product.header)).parts[-1]
    if len(part.lines) != len(lines):
        return None
    worked = part.lines[at.index]
    following = next((w for w in part.lines[at.index + 1 :] if w.status is not Status.REMARK), None)
    return worked, following


_FINE = (Status.PROVED, Status.WORKED, Status.REMARK)


def fine(worked: WorkedLine) -> bool:
    """Whether a line works out."""
    return worked.status in _FINE and worked.problem is None


def prove(product: Product, at: At, edits: tuple[Fix, ...]) -> WorkedLine | None:
    """The line as edited, when it then works out; None otherwise."""
    result = _try(product, at, edits)
    return result[0] if result else None


def _try(product: Product, at: At, edits: tuple[Fix, ...]) -> tuple[WorkedLine, bool] | None:
    line = reread(product, at, edits)
    if line is None:
        return None
    result = rework(product, at, line)
    if result is None or not fine(result[0]):
        return None
    worked, following = result
    return worked, following is None or fine(following)


def body(at: At) -> Span:
    """The instruction: the line without its label and its stated count."""
    start = at.label.span.end if at.label.span.end > at.span.start else at.span.start
    stated = at.line.stated
    end = stated.span.start if stated and start < stated.span.start <= at.span.end else at.span.end
    return Span(start, end)


def count_edit(product: Product, at: At, number: int) -> Fix | None:
    """The stated count changed to `number`; None where the count has several numbers or none."""
    stated = at.line.stated
    if stated is None:
        return None
    words = product.words(stated.span)
    numbers = list(re.finditer(r"\d+", words))
    if stated.rounds or len(numbers) != 1:
        return None
    found = numbers[0]
    return Fix(Span(stated.span.start + found.start(), stated.span.start + found.end()), str(number))


def _tidied(product: Product, span: Span) -> Span:
    """The span without spaces and full stops at its ends."""
    words = product.words(span)
    start = span.start + len(words) - len(words.lstrip(" \t:."))
    return Span(start, max(start, span.start + len(words.rstrip(" \t.,;:"))))


def _edits(product: Product, at: At) -> Iterator[tuple[int, Fix]]:
    """Single numbers of the instruction moved a little, nearest first."""
    span = body(at)
    words = product.words(span)
    spots = [(m.start(), m.end(), int(m.group())) for m in _NUMBER.finditer(words)]
    moves = sorted((m for m in range(-_REACH, _REACH + 1) if m), key=lambda m: (abs(m), -m))
    for move in moves:
        for start, end, number in spots:
            if number + move >= 1 and not re.match(r"(?:st|nd|rd|th)\b", words[end:]):
                yield abs(move), Fix(Span(span.start + start, span.start + end), str(number + move))


def edited(product: Product, at: At, edit: Fix) -> Proved | None:
    """One edit proved, as a whole instruction; the stated count is corrected with it where it must be."""
    stated = at.line.stated
    result = _try(product, at, (edit,))
    if result:
        matches = stated is not None and stated.total is not None
        return _proved(product, at, (edit,), result, matches, 0)
    if stated is None or stated.total is None:
        return None
    live = _live_as_edited(product, at, edit)
    count = count_edit(product, at, live) if live else None
    result = _try(product, at, (edit, count)) if count else None
    return _proved(product, at, (edit, count), result, False, 1) if count and result else None


def _live_as_edited(product: Product, at: At, edit: Fix) -> int:
    """What the line makes with the edit when only its count then differs; 0 when something else is wrong too."""
    line = reread(product, at, (edit,))
    result = rework(product, at, line) if line else None
    if result is None or result[0].status is not Status.DIFFERS:
        return 0
    return result[0].live


def _proved(
    product: Product, at: At, edits: tuple[Fix, ...], result: tuple[WorkedLine, bool], matches: bool, far: int
) -> Proved:
    span = _tidied(product, body(at))
    if any(edit.span.end > span.end for edit in edits):
        span = _tidied(product, Span(span.start, at.span.end))
    text = product.words(span)
    for edit in sorted(edits, key=lambda e: -e.span.start):
        text = text[: edit.span.start - span.start] + edit.text + text[edit.span.end - span.start :]
    return Proved(span, text, result[0].live, matches, result[1], far)


def proposals(product: Product, at: At) -> tuple[Proved, ...]:
    """Rewritings that work, best first: those that keep the count and let the next line go on, then the nearest."""
    found: list[Proved] = []
    for distance, edit in _edits(product, at):
        proved = edited(product, at, edit)
        if proved:
            found.append(replace(proved, distance=proved.distance + distance))
            if proved.matches and proved.goes_on:
                break
    return tuple(sorted(found, key=lambda p: (not p.matches, not p.goes_on, p.distance)))


def count_fix(product: Product, at: At) -> Proved | None:
    """The stated count corrected to what the line makes, when that works out."""
    edit = count_edit(product, at, at.worked.live)
    result = _try(product, at, (edit,)) if edit else None
    if edit is None or result is None:
        return None
    return Proved(edit.span, edit.text, result[0].live, False, result[1], 0)


def after_corrected_count(product: Product, at: At) -> WorkedLine | None:
    """The line after one whose count is taken away, worked: how it goes when the count was the mistake."""
    result = rework(product, at, replace(at.line, stated=None))
    return result[1] if result else None


def instruction(product: Product, at: At) -> Span:
    """The instruction without label, count, and the spaces and stops at its ends."""
    return _tidied(product, body(at))


def offer(product: Product, at: At) -> Offer:
    """The best proved rewriting, said in words: `to get 24 from 18: …`."""
    found = proposals(product, at)
    if not found:
        return "", None
    best = found[0]
    return f"to get {best.live} from {at.worked.below}: {say.quote(best.text, 160)}", best.fix


def works_with_chain(product: Product, at: At, chain: Foundation, chains: int) -> bool:
    """Whether the line works out after a foundation of another number of chains."""
    digits = re.search(r"\d+", product.words(chain.span))
    if digits is None or chains < 1:
        return False
    start = chain.span.start + digits.start()
    owner = next((o for o in product.in_part(at.part_index) if o.span.start <= start < o.span.end), None)
    if owner is None:
        return False
    line = reread(product, owner, (Fix(Span(start, start + len(digits.group())), str(chains)),))
    if line is None:
        return False
    result = rework(product, owner, line)
    if result is None:
        return False
    worked = result[0] if owner.index == at.index else result[1]
    return worked is not None and fine(worked)

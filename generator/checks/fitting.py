"""What would fit: rewritings in the author's own words, every one read and worked before it is shown.

A proposal changes as few numbers of the line as it can (`next 5 sts` to `next 4 sts`, `6 times` to `8 times`, the
count at the end).
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TypeAlias

from generator.checks import say, steps
from generator.checks.numbering import missing_before
from generator.checks.product import At, Product
from generator.checks.proving import Outcome, guessed, outcome, proved
from generator.diagnostics.record import Fix
from generator.fabric.model import Make, Status
from generator.notation.tree import Chain, Foundation
from generator.source import Span

Offer: TypeAlias = tuple[str, Fix | None]
"""What would fit, in words, and the replacement to offer."""

_NUMBER = re.compile(r"(?<![\w.])\d{1,4}(?![\d.]|\s*(?:mm|cm|in\b|\"|inch))|(?<=[xX×])\d{1,4}\b|\b\d{1,3}(?=[a-z])")
_ORDINAL = re.compile(r"(?:st|nd|rd|th)\b")
_CHAIN_BEFORE = re.compile(r"\b(?:ch|chain|chains)[\s-]?$", re.IGNORECASE)
_CHAIN_AFTER = re.compile(r"[\s-]?(?:chs?|chains?)\b", re.IGNORECASE)
A_LINE = 200
"""Readings worked for one line's rewritings, at most."""
_REACH = 3
"""How far a number is moved."""


@dataclass(frozen=True, slots=True)
class Rewriting:
    """A line put differently, and worked."""

    fix: Fix
    """What it replaces (the instruction without its label, or the count) and by what."""
    live: int
    """What the line makes as rewritten."""
    keeps_count: bool
    """Whether that is the count the author stated."""
    goes_on: bool
    """Whether the next line still works."""
    moved: int
    """How far numbers were moved, all together."""
    by: int = 0
    """What was added to the one number of the instruction that was changed."""


def body(at: At) -> Span:
    """The instruction: the line without its label and its stated count."""
    start = at.label.span.end if at.label.span.end > at.span.start else at.span.start
    stated = at.line.stated
    end = stated.span.start if stated and start < stated.span.start <= at.span.end else at.span.end
    return Span(start, end)


def instruction(product: Product, at: At) -> Span:
    """The instruction without the spaces and stops at its ends."""
    return _tidied(product, body(at))


def _tidied(product: Product, span: Span) -> Span:
    words = product.words(span)
    start = span.start + len(words) - len(words.lstrip(" \t:."))
    return Span(start, max(start, span.start + len(words.rstrip(" \t.,;:-–—="))))


def count_edit(product: Product, at: At, number: int) -> Fix | None:
    """The stated count changed to `number`; None where the count has several numbers or none."""
    stated = at.line.stated
    if stated is None or stated.rounds:
        return None
    numbers = list(re.finditer(r"\d+", product.words(stated.span)))
    if len(numbers) != 1:
        return None
    start = stated.span.start
    return Fix(Span(start + numbers[0].start(), start + numbers[0].end()), str(number))


def count_fix(product: Product, at: At) -> Rewriting | None:
    """The stated count corrected to what the line makes, when that works out."""
    edit = count_edit(product, at, at.worked.live)
    found = proved(product, at, (edit,)) if edit else None
    return Rewriting(edit, found.line.live, False, found.goes_on, 0) if edit and found else None


def _edits(product: Product, at: At) -> Iterator[tuple[int, Fix]]:
    """Single numbers of the instruction moved a little, nearest first, each with what was added."""
    span = body(at)
    words = product.words(span)
    spots = [m for m in _NUMBER.finditer(words) if not _fixed(words, m.start(), m.end())]
    moves = sorted((m for m in range(-_REACH, _REACH + 1) if m), key=lambda m: (abs(m), -m))
    for move in moves:
        for spot in spots:
            number = int(spot.group()) + move
            if number >= 1:
                yield move, Fix(Span(span.start + spot.start(), span.start + spot.end()), str(number))


def _fixed(words: str, start: int, end: int) -> bool:
    """A number nobody mistypes into a wrong count: `2nd`, and lengths of chains."""
    return bool(_ORDINAL.match(words[end:]) or _CHAIN_BEFORE.search(words[:start]) or _CHAIN_AFTER.match(words[end:]))


def _rewritten(product: Product, at: At, move: int, edit: Fix) -> Rewriting | None:
    """One number moved; the stated count is corrected with it where it must be."""
    found = guessed(product, at, (edit,))
    if found is None:
        return None
    stated = at.line.stated is not None and at.line.stated.total is not None
    if found.fine:
        return _rewriting(product, at, (edit,), found, stated, move)
    if found.line.status is not Status.DIFFERS or not stated:
        return None
    count = count_edit(product, at, found.line.live)
    again = guessed(product, at, (edit, count)) if count else None
    if count is None or again is None or not again.fine:
        return None
    return _rewriting(product, at, (edit, count), again, False, move)


_TIMES = re.compile(r"(?P<n>\d{1,3})(?=\s*(?:times?|x\b|×))|(?<=[xX×])\s*(?P<m>\d{1,3})\b")


def _regrouped(product: Product, at: At) -> Iterator[Rewriting]:
    """Two numbers changed together: one of the group, and how often it is worked, so that the round is used up."""
    span, problem = body(at), at.problem
    words = product.words(span)
    times = list(_TIMES.finditer(words))
    per = problem.per if problem else 0
    if len(times) != 1 or per <= 0:
        return
    passes = times[0].span("n" if times[0]["n"] else "m")
    for move, edit in _edits(product, at):
        group, left = divmod(at.worked.below, max(per + move, 1))
        apart = edit.span.end <= span.start + passes[0]
        if left or not group or not apart:
            continue
        again = Fix(Span(span.start + passes[0], span.start + passes[1]), str(group))
        found = guessed(product, at, (edit, again))
        if found is not None and found.fine:
            yield _rewriting(product, at, (edit, again), found, at.line.stated is not None, move)
        elif found is not None and found.line.status is Status.DIFFERS:
            count = count_edit(product, at, found.line.live)
            counted = guessed(product, at, (edit, again, count)) if count else None
            if count is not None and counted is not None and counted.fine:
                yield _rewriting(product, at, (edit, again, count), counted, False, move)


def _rewriting(
    product: Product, at: At, edits: tuple[Fix, ...], found: Outcome, keeps_count: bool, by: int
) -> Rewriting:
    span = instruction(product, at)
    if any(edit.span.end > span.end for edit in edits):
        span = _tidied(product, Span(span.start, at.span.end))
    text = product.words(span)
    for edit in sorted(edits, key=lambda e: -e.span.start):
        text = text[: edit.span.start - span.start] + edit.text + text[edit.span.end - span.start :]
    return Rewriting(Fix(span, text), found.line.live, keeps_count, found.goes_on, abs(by) + len(edits) - 1, by)


def rewritings(product: Product, at: At) -> tuple[Rewriting, ...]:
    """The best few rewritings that work, best first: those that keep the count and let the next line go on, then the nearest."""
    found: list[Rewriting] = []
    until = product.spent[0] + A_LINE
    for move, edit in _edits(product, at):
        if product.spent[0] > until:
            break
        rewriting = _rewritten(product, at, move, edit)
        if rewriting:
            found.append(rewriting)
            if rewriting.keeps_count and rewriting.goes_on:
                break
    if not found:
        found = list(_regrouped(product, at))
    found.sort(key=lambda r: (not r.keeps_count, not r.goes_on, r.moved))
    return tuple(rewriting for rewriting in found[:3] if proved(product, at, (rewriting.fix,)))


def offer(product: Product, at: At) -> Offer:
    """The best rewriting, said in words: `to get 24 from 18: …`; or the round whose lack explains it all."""
    if missing := missing_before(product, at):
        # With a gap in the numbers right before it, the line itself is probably right.
        return f"{missing} {'are' if ' to ' in missing else 'is'} missing just before it", None
    found = rewritings(product, at)
    if not found:
        return "", None
    best = found[0]
    return f"to get {best.live} from {at.worked.below}: {say.quote(best.fix.text, 160)}", best.fix


def chain_that_gives(product: Product, at: At, more: int) -> int:
    """The foundation chain with `more` chains, when the line then works out; 0 otherwise."""
    found = foundation(product, at)
    if found is None:
        return 0
    owner, span, length = found
    digits = re.search(r"\d+", product.words(span))
    chains = length + more
    if digits is None or chains < 1:
        return 0
    start = span.start + digits.start()
    result = outcome(product, owner, (Fix(Span(start, start + len(digits.group())), str(chains)),))
    if result is None:
        return 0
    right = result.fine if owner.index == at.index else result.goes_on
    return chains if right else 0


def foundation(product: Product, at: At) -> tuple[At, Span, int] | None:
    """The foundation chain a line is worked along: the line that makes it, where it says so, and its length."""
    for other in reversed(product.in_part(at.part_index)[: at.index + 1]):
        if found := steps.find(Foundation, other.worked.steps):
            return other, found[-1].span, found[-1].chains
        if (
            other.courses
            and other.courses[-1].make is Make.FOUNDATION
            and (chain := steps.find(Chain, other.worked.steps))
        ):
            return other, chain[0].span, chain[0].n
    return None

"""A round number is missing, doubled or goes backwards.

What it finds
-------------
Labels that do not count up by one within a part, and ranges that run backwards or without end.

Why it matters
--------------
The reader stops and looks for the lost round; photos, notes and other lines that name rounds point to wrong ones.

Example
-------
`Rnd 2: …`, then `Rnd 4: …`.

Write instead
-------------
Numbers without a gap. When the stitches go on from one line to the next, it is only the numbering.

Source
------
common practice, no source
"""

from collections.abc import Iterator

from generator.checks import say
from generator.checks.numbering import to_length
from generator.checks.product import At, Product
from generator.diagnostics.record import Finding, Label, Severity
from generator.fabric.model import Fault
from generator.notation.tree import Word

RULE = "round-out-of-order"
SEVERITY = Severity.ERROR
# Excerpts leave rounds out, and old patterns begin anew for each section.
BARE: Severity | None = Severity.WARNING
BAD = """\
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnd 4: (sc in next st, inc) 6 times (18)
"""
GOOD = """\
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnd 3: (sc in next st, inc) 6 times (18)
"""


TOLD_WITH_ROUND = (Fault.SHORT, Fault.OVER, Fault.FIT)


def check(product: Product) -> Iterator[Finding]:
    """Speaks at the label that is out of step; counting starts anew from there.

    A gap before a round that doesn't come out is told with that round; one after work to a length has its own rule.
    """
    for _part, lines in product.parts():
        last: At | None = None
        number = unnamed = 0
        labelled = tuple(lines)
        for index, at in enumerate(labelled):
            if at.label.word is Word.NEXT:
                number += 1 if number else 0
            if at.label.word is Word.NONE and number and at.label.numbers[:1] == (number + 1,):
                number, last = at.label.numbers[-1], at  # `6.` among rounds that are named counts on
            if at.label.word not in (Word.ROUND, Word.ROW) or not at.label.numbers:
                unnamed += len(at.courses) if at.label.word is Word.NONE else 0
                continue
            if ran := _range(at):
                yield ran
            first = at.label.numbers[0]
            # A part may begin with 2, its ring or chain being the first; 1 again begins a new section.
            told = first > number + 1 and (
                (at.problem is not None and at.problem.fault in TOLD_WITH_ROUND)
                or any(to_length(between) for between in labelled[labelled.index(last) if last else 0 : index])
            )
            # `Repeat 2nd row 6 times.` on a line of its own makes rows that have their numbers all the same.
            if number and first not in (number + 1, number + unnamed + 1, 1) and not told:
                yield _finding(product, at, last, number, first)
                # One wrong number among right ones: the next line shows what this one should have been.
                meant = number + len(at.label.numbers)
                if _following(labelled[index + 1 :]) == meant + 1:
                    number, unnamed, last = meant, 0, at
                    continue
            number, unnamed, last = at.label.numbers[-1], 0, at


LONGEST = 2000
"""Rounds of one range; the reader leaves longer ones, and those that run backwards, as their two ends."""


def _range(at: At) -> Finding | None:
    if len(at.label.numbers) != 2:
        return None
    first, last = at.label.numbers
    if first < last <= first + LONGEST:
        return None
    noun = "row" if at.label.word is Word.ROW else "round"
    wrong = f"run backwards: {last} comes before {first}" if last <= first else f"are {last - first + 1} {noun}s"
    return Finding(RULE, SEVERITY, f"{noun}s {first} to {last} {wrong}", at.label.span, fits="a range that counts up")


def _following(lines: tuple[At, ...]) -> int:
    """First number of the next numbered line; 0 without one."""
    return next((at.label.numbers[0] for at in lines if at.label.numbers), 0)


def _finding(product: Product, at: At, last: At | None, number: int, first: int) -> Finding:
    noun = "row" if at.label.word is Word.ROW else "round"
    span = at.label.span if at.label.span.end > at.label.span.start else at.span
    labels = (Label(last.label.span, f"{noun} {number} is here"),) if last else ()
    if first == number:
        message = f"there are two lines called {noun} {first}"
    elif first < number:
        message = f"{noun} {first} comes after {noun} {number}"
    elif first == number + 2:
        message = f"{noun} {number + 1} is missing"
    else:
        message = f"{noun}s {number + 1} to {first - 1} are missing"
    goes_on = last is not None and at.problem is None and at.worked.below == last.worked.live
    fits = (
        f"{say.name(at)} {say.verb(at, 'goes')} on from the {at.worked.below} of {noun} {number}, so only the number looks wrong"
        if goes_on
        else ""
    )
    return Finding(RULE, SEVERITY, message, span, fits=fits, labels=labels)

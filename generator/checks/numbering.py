"""The numbers of rounds and rows: what lies between one label and the one before it."""

import re

from generator.checks import steps
from generator.checks.product import At, Product
from generator.notation.tree import Again, Measure, Remark, Word


def to_length(at: At) -> bool:
    """Whether a line is worked until something measures so much: its last round has no number then."""
    again = any(step.until_length_mm > 0 for step in steps.find(Again, at.worked.steps))
    told = any(_TO_LENGTH.search(remark.words) for remark in steps.find(Remark, at.worked.steps))
    return again or told or steps.has(Measure, at.worked.steps)


_TO_LENGTH = re.compile(r"\b(?:until|till)\b.*\b(?:measures?|long|deep|high|tall)\b", re.IGNORECASE)


def last_number(product: Product, at: At) -> int | None:
    """The number the line before went up to; `Next rnd` counts on. None where nothing is numbered before."""
    lines = product.in_part(at.part_index)
    passed = 0
    for i in range(at.index - 1, -1, -1):
        label = lines[i].label
        if label.word is Word.NEXT:
            passed += 1
        elif label.word in (Word.ROUND, Word.ROW) and label.numbers:
            return label.numbers[-1] + passed
    return None


def missing_before(product: Product, at: At) -> str:
    """The rounds or rows missing just before a line: `round 4`, `rounds 4 to 6`; empty where none are."""
    last = last_number(product, at)
    if last is None or at.label.word not in (Word.ROUND, Word.ROW) or not at.label.numbers:
        return ""
    first, noun = at.label.numbers[0], "row" if at.label.word is Word.ROW else "round"
    if first <= last + 1:
        return ""
    return f"{noun} {last + 1}" if first == last + 2 else f"{noun}s {last + 1} to {first - 1}"

"""Rounds that stand in the prose, outside any working block, where nobody works them."""

import re
from collections.abc import Iterator
from itertools import groupby

from generator.notation.labels import read_label
from generator.notation.tree import Word
from generator.source import Source, Span

_COUNT = re.compile(r"[(\[{=–-]\s*\d+\s*(?:sts?|sc|dc|hdc|tr|htr)?\.?\s*[)\]}]?\s*$", re.IGNORECASE)
_STITCH = re.compile(
    r"(?<![^\W\d_])(?:sc|dc|hdc|htr|d?tr|ss|sl ?sts?|chs?|sts?|inc|dec|stitch(?:es)?|crochets?|trebles?|chains?)(?![^\W\d_])",
    re.IGNORECASE,
)


def loose_rounds(source: Source, span: Span) -> Iterator[Span]:
    """Runs of two or more lines that look like rounds or rows with stitches in them; first line's first word to last's end."""
    first, last = source.place(span.start)[0], source.place(max(span.start, span.end - 1))[0]
    full = [number for number in range(first, last + 1) if source.line(number).strip()]
    for round_like, run in groupby(full, key=lambda number: _is_round(source.line(number))):
        numbers = list(run)
        if round_like and len(numbers) > 1:
            start, end = source.line_span(numbers[0]), source.line_span(numbers[-1])
            yield Span(start.start, end.end)


def _is_round(line: str) -> bool:
    text = line.strip().strip("*_-•>| ").replace("**", "")
    found = read_label(text, 0, bare_numbers=False)
    if found.label.word not in (Word.ROUND, Word.ROW) or not found.label.numbers:
        return False
    return bool(_COUNT.search(text) or _STITCH.search(text, found.body))


def opened_by(source: Source, span: Span) -> str:
    """The line of backticks that a run of loose rounds stands under, as written; empty in plain prose."""
    number = source.place(span.start)[0]
    fences = [line for at in range(1, number) if (line := source.line(at).strip()).startswith(("```", "~~~"))]
    return fences[-1] if len(fences) % 2 else ""

"""Words that are kept are kept as the author wrote them: capitals, commas, numbers and all.

The reader works on canonical words; before a line leaves it, remarks get their own words back from the source.
"""

from dataclasses import replace
from operator import is_

from generator.notation.tree import Choice, Define, Group, Option, PartRef, Remark, Repeat, Step, Unread, Yarn


def verbatim(steps: tuple[Step, ...], text: str, offset: int) -> tuple[Step, ...]:
    """The same steps with every kept word as it stands in `text`, which begins at `offset` of its source."""
    if _told(steps, text, offset):
        span = steps[0].span.cover(steps[-1].span)
        act = next((step.act for step in steps if isinstance(step, Remark) and step.act), "")
        return (_one(Remark(span, "-", act), text, offset),)
    kept = tuple([_one(step, text, offset) for step in steps])
    return steps if all(map(is_, kept, steps)) else kept


def _told(steps: tuple[Step, ...], text: str, offset: int) -> bool:
    """`Embroider the eyes between Rnds 7 and 8, with B`: nothing is worked, so no yarn is taken up for what follows."""
    if len(steps) < 2 or not all(isinstance(step, Remark) for step in steps[:-1]):
        return False
    last, before = steps[-1], steps[-2].span.end - offset
    between = text[before : last.span.start - offset]
    return isinstance(last, Yarn) and last.how == "with" and not set(between) & set(".;:")


def _one(step: Step, text: str, offset: int) -> Step:
    if isinstance(step, (Remark, Unread, PartRef)):
        # Without words and without an act it repeats what the steps before it say (`3 dc in next sp (shell made)`).
        silent = not step.words and getattr(step, "act", "") in ("", "note")
        return step if silent else replace(step, words=_words(step, text, offset))
    if isinstance(step, Define):
        words = _words(step, text, offset).strip("()[]{} ")
        name, colon, explained = words.partition(":")
        return (
            replace(step, name=name.strip(), words=explained.strip())
            if colon and step.name
            else replace(step, words=words)
        )
    if isinstance(step, (Repeat, Group)):
        kept = verbatim(step.steps, text, offset)
        return step if kept is step.steps else replace(step, steps=kept)
    if isinstance(step, Choice):
        options = tuple([_option(option, text, offset) for option in step.options])
        return step if all(map(is_, options, step.options)) else replace(step, options=options)
    return step


def _option(option: Option, text: str, offset: int) -> Option:
    kept = verbatim(option.steps, text, offset)
    return option if kept is option.steps else replace(option, steps=kept)


def _words(step: Step, text: str, offset: int) -> str:
    """The author's words, in brackets if they stood alone in a pair."""
    start, end = step.span.start - offset, step.span.end - offset
    if not 0 <= start < end <= len(text):
        return getattr(step, "words", "")
    words = " ".join(text[start:end].split())
    before, after = text[:start].rstrip(), text[end:].lstrip()
    if before.endswith("(") and after.startswith(")") and "(" not in words and ")" not in words:
        return f"({words})"
    # The sign that ties a remark to what follows stays with it: `leaving a tail; draw it tight`.
    return words + after[0] if isinstance(step, Remark) and after[:1] in (",", ";") else words

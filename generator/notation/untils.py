"""How far earlier courses are worked again: `until there are 60 sts`, `until piece measures 10 cm`, `having 1 more shell
in each row until there are 18 shells`."""

from dataclasses import dataclass

from generator.notation.counts import read_count
from generator.notation.cursor import Cursor
from generator.notation.phrases import LENGTHS, fraction, rest_of_clause
from generator.notation.tokens import Token
from generator.notation.tree import Again, Choice, Group, Repeat, Stated, Step, Times, Work
from generator.source import Span
from generator.vocabulary.load import is_stitch, stitch

_COUNTED = {"st": "", "shell": "shell", "group": "group", "loop": "loop", "sp": "space", "mesh": "space"}
"""What may be counted up to: the word, and the name `Again` has for it."""
_PARTS = ("section", "sections", "side", "point", "repeat", "segment", "wedge", "group", "part", "division")
"""Words for one of the like parts of a round."""


@dataclass(frozen=True, slots=True)
class Until:
    """An end: `n` stitches (or of a `kind`; `each`: in every pass of the repeat), or a length in mm, or left open."""

    n: int = 0
    kind: str = ""
    each: bool = False
    length_mm: float = 0.0
    opened: bool = False


def _at_ends(c: Cursor, ahead: int) -> bool:
    near = [c.peek(ahead + k) for k in range(8)]
    shaped = any(t.value in ("inc", "dec") for t in near[:2])
    return shaped and any(
        t.value in ("each", "both") and near[k + 1].value in ("ending", "side", "ends") for k, t in enumerate(near[:7])
    )


def _sentence(c: Cursor) -> int:
    """Where the sentence ends."""
    at = c.i
    while at < c.end and not (c.tokens[at].type == "sign" and c.tokens[at].value in (".", ";")):
        at += 1
    return at


_CHANGING = ("having", "always", "work", "but", "inc", "dec", "except")


def changes(c: Cursor) -> Until | None:
    """`… having one more shell in each row until there are 18`: like it, but growing; how often, where it is said."""
    ahead = 1 if c.sign(",") else 0
    token = c.peek(ahead)
    rest = token.value == "as" and c.word("remaining", ahead=ahead + (2 if c.word("the", ahead=ahead + 1) else 1))
    if token.value not in _CHANGING and not rest:
        return None
    if token.value in ("but", "inc", "dec", "and") and _at_ends(c, ahead):
        c.i += ahead + (1 if token.value in ("but", "and") else 0)
        return None  # `Same as 2nd row, but increase 1 at each end`: read on
    if token.value == "work" and read_count(Cursor(c.tokens, c.i + ahead + 1, _sentence(c))) is not None:
        return None  # `Same as 3rd row, making 48 trebles`: what it comes to
    while not c.done() and not c.sign("."):
        if c.word("until"):
            return read_until(c)
        c.take()
    return Until(opened=True)


def read_until(c: Cursor) -> Until:
    """`until there are 60 sts`, `until piece measures 10 cm`, `until desired length`. Of several numbers (`10 rounds and
    21 sc`) the one that counts stitches is the end."""
    begin = c.i
    at = c.i
    number = 0.0
    while at < c.end and not (c.tokens[at].type == "sign" and c.tokens[at].value in (".", ";", ")")):
        token = c.tokens[at]
        after = c.tokens[at + 1] if at + 1 < c.end else None
        if token.type == "number":
            number = float(token.n)
            if after is not None and _length(c, at, after):
                return _end(c, at, Until(length_mm=number * LENGTHS[after.value]))
            if after is not None and (after.type == "stitch" or after.value in _COUNTED):
                kind = after.value if after.type == "stitch" else _COUNTED[after.value]
                return _end(c, at, Until(token.n, kind, _in_each(c, at + 2)))
        if token.type in ("decimal", "fraction") and after is not None and after.value in LENGTHS:
            value = fraction(token.value) + number if token.type == "fraction" else float(token.value)
            return _end(c, at, Until(length_mm=value * LENGTHS[after.value]))
        at += 1
    c.i = begin
    rest_of_clause(c)
    return Until(opened=True)


def _end(c: Cursor, at: int, until: Until) -> Until:
    c.i = at + 2
    rest_of_clause(c)
    return until


def _length(c: Cursor, at: int, after: Token) -> bool:
    """Whether the number at `at` is a length; `6 in each st` is none."""
    return after.value in LENGTHS and not (
        after.value == "in" and at + 2 < c.end and c.tokens[at + 2].value in ("next", "each")
    )


def _in_each(c: Cursor, at: int) -> bool:
    """`in each section`, `on each solid side`, `between points`."""
    words = [t.value for t in c.tokens[at : min(at + 5, c.end)]]
    return words[:1] != [] and words[0] in ("in", "on", "per") and any(word in _PARTS for word in words)


def stated_until(steps: list[Step], tokens: list[Token]) -> Stated | None:
    """What a line that ends in `until there are 60 sts` says of its last course: that there are just so many."""
    last = next((step for step in reversed(steps) if isinstance(step, (Again, Repeat, Choice))), None)
    at = next((k for k in range(len(tokens) - 1, -1, -1) if tokens[k].value == "until"), None)
    if last is None or at is None:
        return None
    if not last.span.start <= tokens[at].start < last.span.end:
        return None
    until = read_until(Cursor(tokens, at))
    if not until.n:
        return None
    number = next(k for k in range(at, len(tokens)) if tokens[k].type == "number" and tokens[k].n == until.n)
    span = Span(tokens[number].start, max(last.span.end, tokens[number + 1].end))
    if not until.kind or (until.each and is_stitch(until.kind)):
        return Stated(until.n, span=span, each=until.each)
    noun = "sp" if until.kind in ("loop", "space") else until.kind
    return Stated(None, ((noun, until.n),), span=span, each=until.each)


def times_until(until: Until, before: list[Step], body: list[Step]) -> Times:
    """How often a repeat is worked until there are so many: by what stands before it and what one pass makes."""
    there, each = (sum(_many(step, until.kind) for step in steps) for steps in (before, body))
    if each and until.n > there and (until.n - there) % each == 0:
        return Times((until.n - there) // each)
    return Times(to_end=True)


def _many(step: Step, kind: str) -> int:
    """How many of a kind a step makes, by its words alone; shells and groups are stitches in one place."""
    if isinstance(step, Choice):
        return sum(_many(inner, kind) for inner in step.options[0].steps)
    if isinstance(step, Repeat):
        return 0 if step.times.to_end else step.times.n * sum(_many(inner, kind) for inner in step.steps)
    heap = kind in ("shell", "group")
    if isinstance(step, Group):
        return 1 if heap else sum(_many(inner, kind) for inner in step.steps)
    if isinstance(step, Work):
        bunch = kind == "cluster" and stitch(step.stitch).family in ("cluster", "together")
        if step.stitch == kind or bunch:
            return step.each
        return int(heap and step.each > 1)
    return 0

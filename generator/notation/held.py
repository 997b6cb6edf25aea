"""Stitches whose last loops stay on the hook until all are drawn through at once: `holding back last loop of each dc on
hook make 3 dc in ring, thread over and draw through all loops on hook`, `3 tr into next sp, leaving last loop of each
on hook, …`. What they make is one cluster, or one stitch over several places."""

from dataclasses import replace

from generator.notation.cursor import Cursor
from generator.notation.multiples import plain
from generator.notation.places import read_place, starts_place
from generator.notation.spelled import closes
from generator.notation.tree import Chain, Choice, How, Noun, Remark, Ring, Step, Target, Work, Yarn
from generator.vocabulary.load import is_stitch, stitch

_HOLDING = ("holding", "hold", "keeping", "keep", "leaving", "leave", "retaining", "retain", "with")
_BASES = ("sc", "hdc", "dc", "tr", "dtr", "trtr")
_AROUND = ("back", "the", "on", "hook", "of", "each", "st", "these", "a", "always", "both", "all")
MOST_LEGS = 9
"""Unfinished stitches in one bunch; no hook holds more loops."""


def held_back(c: Cursor) -> list[Step] | None:
    """Words that hold the last loops back, the stitches, and how they are closed; takes nothing where one is missing."""
    begin = c.i
    if not _holds(c):
        return None
    while c.sign(",", ":") or c.word("and", "work"):
        c.take()
    n = c.take().n if c.peek().type == "number" else 0
    legs = c.peek().value if c.peek().type == "stitch" and c.peek().value in _BASES else ""
    if legs:
        c.take()
    target = read_place(c) if legs and starts_place(c) and not c.word("of", "to") else None
    if target is None:
        c.i = begin
        return None
    closes(c)
    made = _together(legs, n, target)
    if made is None:
        c.i = begin
        return None
    return [replace(made, span=c.span(begin))]


def held_after(c: Cursor, before: Step | None) -> Step | None:
    """`3 tr into next sp, leaving last loop of each on hook, …`: the stitches before it, as the one stitch they make."""
    work = before.options[0].steps[0] if isinstance(before, Choice) and len(before.options[0].steps) == 1 else before
    if not isinstance(work, Work) or work.stitch not in _BASES:
        return None
    begin = c.i
    if not _holds(c):
        return None
    made = _together(work.stitch, work.each, work.target)
    if made is None:
        c.i = begin
        return None
    closes(c)
    return replace(made, span=work.span.cover(c.span(begin)))


def dropped(c: Cursor, items: list[Step]) -> Step | None:
    """`5 dc in next st, drop loop from hook, insert hook in first dc and draw dropped loop through`: the stitches before
    it, as the popcorn they make; the chain that begins the round is one of them."""
    before = items[-1]
    work = before.options[-1].steps[0] if isinstance(before, Choice) and before.kind == "n-st" else before
    if not isinstance(work, Work) or not 2 <= work.each <= MOST_LEGS or work.stitch not in _BASES:
        return None
    begin = c.i
    while c.sign(",") or c.word("and"):
        c.take()
    if c.peek().value not in ("drop", "remove", "take", "slip") or not any(
        c.peek(k).value in ("loop", "st", "hook") for k in (1, 2, 3)
    ):
        c.i = begin
        return None
    for at in range(c.i, min(c.end, c.i + MOST_WORDS)):
        token = c.tokens[at]
        if token.type == "sign" and token.value in (".", ";", "*", "("):
            break
        if token.value == "through" and c.tokens[at - 1].value not in ("and",):
            c.i = at + 1
            usual, legs = stitch("popcorn"), work.each + _begins(items)
            same = legs == usual.legs and work.stitch == usual.base
            kind = "popcorn" if same else f"{work.stitch}-popcorn-{legs}"
            return Work(work.span.cover(c.span(begin)), kind, 1, work.target)
    c.i = begin
    return None


def _begins(items: list[Step]) -> bool:
    """Whether the chain that begins the course stands right before the last of these."""
    chain = items[-2] if len(items) > 1 else None
    return isinstance(chain, Chain) and chain.n >= 2 and all(isinstance(s, Remark | Yarn | Ring) for s in items[:-2])


MOST_WORDS = 30
"""Words and signs that tell how a popcorn is closed."""


def _holds(c: Cursor) -> bool:
    """Take `holding back (on hook) the last loop of each dc (on hook)`."""
    begin = c.i
    while c.sign(",") or c.word("and", "but"):
        c.take()
    if c.peek().value not in _HOLDING:
        c.i = begin
        return False
    c.take()
    while c.peek().value in _AROUND:
        c.take()
    if not c.word("last") or not c.word("loop", ahead=1):
        c.i = begin
        return False
    c.i += 2
    while c.peek().value in _AROUND or (c.peek().type == "stitch" and c.tokens[c.i - 1].value in ("each", "the", "of")):
        c.take()
    return True


def _together(legs: str, n: int, target: Target) -> Work | None:
    """`n` of a stitch in one place, or one in each of several places, closed together."""
    many = target.count if target.how is How.NEXT and target.noun is not Noun.RING else 1
    total = max(1, n) * many
    if not 2 <= total <= MOST_LEGS:
        return None
    if many > 1:
        together = f"{plain(legs)}{many}tog"
        return Work(stitch=together, target=target) if is_stitch(together) else None
    usual = stitch("cluster")
    same = total == usual.legs and legs == usual.base
    return Work(stitch="cluster" if same else f"{legs}-cluster-{total}", target=target)


def begun_by_chain(steps: list[Step]) -> None:
    """`ch 3, dc in next 2 held back, … ; * ch 4, dc in next 3 held back …`: the chain is the first leg of the first one,
    for the others have one leg more."""
    made = [s for s in _flat(steps) if isinstance(s, Work) and s.stitch.endswith("tog")]
    for k in range(len(steps) - 1):
        chain, first = steps[k], steps[k + 1]
        if isinstance(first, Work) and isinstance(chain, Chain) and made and first is made[0] and chain.counts is None:
            if any(isinstance(s, Work) and s.stitch != "sl-st" for s in steps[:k]):
                return
            places = first.target.count + 1
            wider = f"{plain(first.stitch)}{places}tog"
            if len(made) > 1 and made[1].stitch == wider and made[1].target.count == places:
                steps[k] = replace(chain, counts=False)
                steps[k + 1] = replace(first, stitch=wider, target=replace(first.target, count=places))
            return


def _flat(steps: list[Step]) -> list[Step]:
    out: list[Step] = []
    for step in steps:
        out.extend([step, *getattr(step, "steps", ())])
    return out

"""Chains between stitches that were just told: `1 dc in each loop, 5 ch between`, `12 tr in the ring with 1 ch between`."""

from dataclasses import replace

from generator.notation.cursor import Cursor
from generator.notation.multiples import chains_said
from generator.notation.tree import Chain, Group, How, Noun, Repeat, Skip, Step, Target, Times, Work


def spaced(c: Cursor, before: Step | None) -> Step | None:
    """The step before, with the chains said here behind each of its stitches; None, and nothing taken, where the words
    say something else or the step is no row of places."""
    if not isinstance(before, (Work, Group)):
        return None
    target = before.target
    ringed = before.each if isinstance(before, Work) and target.noun is Noun.RING else 0
    many = target.how is How.NEXT and target.count > 1 and target.noun is not Noun.RING
    if target.how is not How.EACH and ringed < 2 and not many:
        return None
    begin = c.i
    between = _between(c, target)
    if between is None:
        c.i = begin
        return None
    span = before.span.cover(between.span)
    if isinstance(before, Work) and ringed > 1:
        return Repeat(span, (replace(before, each=1), between), Times(ringed), 0, "")
    if many:
        return Repeat(span, (replace(before, target=replace(target, count=1)), between), Times(target.count), 0, "")
    one = replace(before, target=replace(target, how=How.NEXT, every=1, leave=0))
    skip = (Skip(between.span, Target(count=target.every - 1)),) if target.every > 1 else ()
    turns = any(t.type == "word" and t.value == "turn" for t in c.tokens[c.i :])
    return Repeat(span, (one, between, *skip), Times(to_end=True, leave=target.leave), 1 if turns else 0, "")


def _between(c: Cursor, target: Target) -> Step | None:
    """`with 4 chain between each`, `5 chain between`; `1 dc between` the stitches of two loops; None when that is not
    what stands here."""
    begin = c.i
    c.skip_words("and", "with", "a", "work")
    n, name = chains_said(c), ""
    if not n and target.noun is Noun.SPACE and c.peek().type == "number" and c.peek(1).type == "stitch":
        n, name = c.take().n, c.take().value
    c.skip_words("st")
    if not n or not c.word("between"):
        return None
    c.take()
    c.skip_words("each", "them", "the", "these", "every", "two")
    if not (c.done() or c.peek().type == "sign"):
        c.take()  # `between each petal`: what was just named
        c.skip_words("st", "group", "sp")
    if not (c.done() or c.peek().type == "sign"):
        return None
    return Work(c.span(begin), name, n) if name else Chain(c.span(begin), n)

"""A decrease told loop by loop: `* insert hook in next st, pull loop through, repeat from * once, yarn over and pull
through all loops`. Nothing names the stitch, yet it is one, worked over as many places as loops are drawn."""

from generator.notation.cursor import Cursor
from generator.notation.lexicon import known_stitch
from generator.notation.places import read_place, starts_place
from generator.notation.tree import Choice, How, Remark, Repeat, Step, Target, Work
from generator.source import Span


def worked_there(c: Cursor) -> list[Step] | None:
    """`insert the hook in the 4th chain, and work 1 treble`: the stitch, in the place the hook is put into first."""
    begin = c.i
    if c.peek().value not in ("insert", "inserting", "put"):
        return None
    c.take()
    c.skip_words("the", "hook")
    target = read_place(c) if starts_place(c) else None
    while c.sign(",") or c.word("and"):
        c.take()
    if target is not None and c.word("work"):
        c.take()
        n = c.take().n if c.peek().type == "number" else 1
        if c.peek().type == "stitch" and not starts_place(c, 1):
            return [Work(c.span(begin), c.take().value, max(1, n), target)]
    c.i = begin
    return None


def drawn_from(c: Cursor) -> Target | None:
    """The place a loop is drawn from, of the words at the cursor (which stays): `yarn over, insert hook in next st, …`."""
    at = next((k for k in range(6) if c.peek(k).value in ("insert", "inserting")), None)
    if at is None:
        return None
    probe = Cursor(c.tokens, c.i + at + 1, c.end)
    probe.skip_words("the", "hook")
    target = read_place(probe) if starts_place(probe) else None
    return target if target is not None and target.how is How.NEXT else None


def drawn_together(items: list[Step], words: str, place: Target | None, span: Span) -> Work | None:
    """The decrease, when `words` pull through all loops and only loops were drawn, over and over, before. The repeat
    that drew them is taken off `items`."""
    if place is None or not items or "all" not in words.split() or ("through" not in words and "off" not in words):
        return None
    repeat = (
        items[-1].options[0].steps[0]
        if isinstance(items[-1], Choice) and items[-1].kind in ("rep-n", "rep-closed")
        else items[-1]
    )
    if not isinstance(repeat, Repeat) or repeat.times.to_end:
        return None
    if not all(isinstance(step, Remark) and step.act == "manner" for step in repeat.steps):
        return None
    first = repeat.steps[0]
    over_first = isinstance(first, Remark) and first.words.split()[0] in ("yarn", "thread", "color", "yo", "wool")
    stitch = f"{'dc' if over_first else 'sc'}{repeat.times.n}tog"
    if not known_stitch(stitch):
        return None
    whole = items.pop().span.cover(span)
    return Work(whole, stitch, 1, Target(How.NEXT, place.noun, repeat.times.n, place.kind, place.size))

"""`1 treble on the 2nd stitch, 4 chain, 1 treble and so on until you have 12`: a beginning that shows how it goes on."""

from dataclasses import replace

from generator.notation.bare import in_one
from generator.notation.cursor import Cursor
from generator.notation.tree import Chain, How, Repeat, Step, Times, Work


def how_many(c: Cursor) -> int:
    """`until you have 12 trebles, including the 5 chain`, `in all 32 trebles`: the number; 0, and nothing taken, when
    none is said."""
    begin = c.i
    while c.sign(",") or c.word("until", "in", "total") or c.peek().value in (
        "you", "there", "have", "are", "all", "altogether", "till", "counts",
    ):  # fmt: skip
        c.take()
    if c.i == begin or c.peek().type != "number":
        c.i = begin
        return 0
    n = c.take().n
    c.skip_words("st", "in")
    if c.peek().type == "stitch":
        c.take()
    while c.word("in", "total") or c.peek().value in ("all", "altogether"):
        c.take()
    mark = c.i
    if c.sign(","):
        c.take()
    if c.peek().value == "including":
        while not c.done() and not c.sign(".", ";", "="):
            c.take()
    else:
        c.i = mark
    return n


def continued(items: list[Step], n: int) -> list[Step] | None:
    """The steps with what the beginning shows repeated until the course has n stitches, the chain that begins it among
    them; None where it shows no pattern of stitches that chains part."""
    chained = len(items) > 1 and isinstance(items[0], Chain) and items[0].n > 2
    shown = [in_one(s) for s in items[1:]] if chained else [in_one(s) for s in items]
    if len(shown) != 3:
        return None
    first, between, second = shown
    if not (isinstance(first, Work) and isinstance(between, Chain) and isinstance(second, Work)):
        return None
    if second.target.how is not How.NEXT or first.target.how is not How.NEXT:
        return None
    alike = second.target.implied or second.target == first.target
    body: tuple[Step, ...] = (first, between) if alike else (first, between, second, between)
    works = n - 1 if chained else n
    passes, over = divmod(works, len(body) // 2)
    if passes < 1:
        return None
    span = first.span.cover(second.span)
    rest = [replace(s) for s in body[: 2 * over]]
    return [*(items[:1] if chained else []), Repeat(span, body, Times(passes), 0, ""), *rest]

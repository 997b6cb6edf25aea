"""Filet: squares told by their number (`3 sps`, `2 bls`) or by the stitches of a block (`7 dc` behind a space)."""

from dataclasses import replace
from itertools import pairwise

from generator.notation.cursor import Cursor
from generator.notation.memory import Memory
from generator.notation.places import read_place
from generator.notation.tree import Chain, Choice, Group, How, Mesh, Remark, Repeat, Skip, Step, Work

_BLOCKS = ("block", "blocks", "bls", "bl", "blk", "blks")
_ENDS = (",", ".", ";", ")", "(", "*")


def meshes(c: Cursor, memory: Memory) -> list[Step] | None:
    """`3 sps`, `make 4 more sps`, `sp over next 7 sps`, `total 4 sp`, `2 bls`, `inc 1 sp`."""
    begin = c.i
    c.skip_words("work")
    grows = c.word("inc")
    total = c.word("total")
    if grows or total:
        c.take()
    n = c.take().n if c.peek().type == "number" else 0
    more = c.word("more")
    c.skip_words("more", "open")
    if solid := c.peek().value == "solid" and c.word("sp", "mesh", ahead=1):
        c.take()
    filled = solid or ((n > 0 or c.word("over", ahead=1)) and _block(c))
    if not filled and not (c.word("sp", "mesh") and (memory.started or n > 1 or total or c.word("over", ahead=1))):
        c.i = begin
        return None
    c.take()
    if c.word("over"):
        over = _over(c)
        if over < 0:
            c.i = begin
            return None
        n = max(n, over) if over else 0
    elif not n or not (c.done() or c.sign(*_ENDS) or c.peek().type in ("number", "stitch")):
        c.i = begin
        return None
    memory.started = True
    tall = memory.stitch if memory.stitch in ("dc", "tr") else "dc"
    made = Mesh(
        c.span(begin), n, filled, tall, memory.mesh or (3 if tall == "tr" else 2), total and not more, more, grows
    )
    return [made]


def _over(c: Cursor) -> int:
    """`over next 7 sps`, `over 2 bls`, `over each sp across`: how many squares; 0 for each, -1 for no such place."""
    begin = c.i
    c.take()
    c.skip_words("the", "next")
    each = c.word("each")
    if each:
        c.take()
    n = c.take().n if c.peek().type == "number" else 1
    token = c.peek()
    if token.value in _BLOCKS or (token.type == "loop" and token.value == "back"):
        c.take()
    else:
        c.i = begin
        target = read_place(c)
        if target is None:
            return -1
        each, n = target.how is How.EACH, target.count
    c.skip_words("across", "around")
    return 0 if each else n


def squares_named(c: Cursor, inner: Cursor, close: int, before: Step | None) -> bool:
    """`… dc in next dc (1 sp), …`, `2 dc in sp, dc in dc (1 bl)`: the few squares just worked, by their name, where more
    of the row follows; takes the bracket and says yes."""
    at = 1 if inner.peek().type == "number" else 0
    if not isinstance(before, (Work, Mesh)) or (at and inner.peek().n > MOST_NAMED):
        return False
    named = inner.word("sp", "mesh", ahead=at) or inner.peek(at).value in _BLOCKS
    named = named or (inner.peek(at).type == "loop" and inner.peek(at).value == "back")
    last = inner.i + at + 1 >= inner.end or inner.peek(at + 1).value in ("work", "over", "increased", "decreased")
    follows = not all(
        token.type in ("sign", "number") or token.value in ("join", "turn", "chain", "fasten-off", "with", "and")
        for token in c.tokens[close + 1 : c.end]
    )
    if not (named and last and follows):
        return False
    c.i = close + 1
    return True


MOST_NAMED = 3
"""Squares that are named one by one; more of them are a count."""


def total_of_squares(c: Cursor) -> bool:
    """`Total 4 sp, 4 dc, …` tells the row; it is no count."""
    first = c.word("total") and c.peek(1).type == "number" and c.word("sp", "mesh", ahead=2)
    return first and c.sign(",", ahead=3) and c.peek(4).type == "number"


def _block(c: Cursor) -> bool:
    """`bl`, `blocks`; where nothing but the next square follows, for `bl` is the back loop elsewhere."""
    token = c.peek()
    back = token.type == "loop" and token.value == "back" and token.end - token.start <= 3
    if not (back or (token.type == "other" and token.value in _BLOCKS)):
        return False
    return c.peek(1).type == "end" or c.sign(*_ENDS, ahead=1) or c.word("over", ahead=1) or c.word("and", ahead=1)


def netted(steps: list[Step], memory: Memory) -> list[Step]:
    """The steps of a filet row with its stitches between spaces as blocks; other steps as they are."""
    if (spanned := _spanned(steps)) > 0:
        memory.mesh = spanned
    if not _has_spaces(steps):
        return steps
    told = [n for step in _flat(steps) if (n := _bare(step)) > 2]
    width = next((s.chains for s in _flat(steps) if isinstance(s, Mesh)), 2) + 1
    out = _blocked(steps, width, 0 if told and all(n % width == 0 for n in told) else 1)
    first = next((k for k, step in enumerate(out) if not isinstance(step, Chain)), 0)
    grown = first and isinstance(work := out[first], Work) and work.target.how is How.FIRST
    at = first + 1
    while at < len(out) and isinstance(out[at], Remark):
        at += 1
    if grown and at < len(out) and isinstance(run := out[at], Mesh) and run.n and not run.more:
        out[at] = replace(run, total=True)  # the row is told whole, the square just made among the first ones
    return out


def _has_spaces(steps: list[Step] | tuple[Step, ...]) -> bool:
    return any(isinstance(s, Mesh) or (isinstance(s, Repeat) and _has_spaces(s.steps)) for s in steps)


def _flat(steps: list[Step] | tuple[Step, ...]) -> list[Step]:
    return [s for step in steps for s in ((step, *_flat(step.steps)) if isinstance(step, Repeat) else (step,))]


def _bare(step: Step) -> int:
    """Of `7 dc` with no place: 7; else 0."""
    bare = step.options[0].steps[0] if isinstance(step, Choice) and step.kind == "n-st" else step
    if isinstance(bare, Work) and bare.target.implied and bare.each == 1 and bare.target.how is How.NEXT:
        return bare.target.count
    return 0


def _blocked(steps: list[Step] | tuple[Step, ...], width: int, posts: int) -> list[Step]:
    """Stitches between spaces as blocks; their number has the post on either side (`posts` 1: 4, 7, 10) or not (3, 6, 9)."""
    out: list[Step] = []
    for step in steps:
        if isinstance(step, Repeat):
            out.append(replace(step, steps=tuple(_blocked(step.steps, width, posts))))
            continue
        n, over = divmod(_bare(step), width)
        begins = not out or isinstance(out[-1], Chain)
        if n and (over == posts or (over == 0 and begins)):
            bare = step.options[0].steps[0] if isinstance(step, Choice) else step
            assert isinstance(bare, Work)
            out.append(Mesh(step.span, n, True, bare.stitch, width - 1))
        else:
            out.append(step)
    return out


def _spanned(steps: list[Step] | tuple[Step, ...]) -> int:
    """How many chains a space has, where the row spells one out: `ch 3, skip 3 ch, tr in next ch`."""
    for before, after in pairwise(steps):
        if isinstance(before, Chain) and isinstance(after, Skip) and before.n == after.target.count <= 4:
            return before.n
    for step in steps:
        if isinstance(step, (Repeat, Group)) and (inner := _spanned(step.steps)):
            return inner
    return 0

"""Stitches spelled out loop by loop: `* thread over, insert hook in ring, pull through and work off 2 loops, repeat from
* twice, thread over and work off remaining loops` is three unfinished double crochets closed together.

A part of one is a `Leg` while the line is read; the words that close it gather the legs into the stitch they make. Legs
that nothing closes only tell how a stitch is done.
"""

from dataclasses import dataclass, replace

from generator.notation.cursor import Cursor
from generator.notation.places import read_place, starts_place
from generator.notation.tree import NEXT, Choice, How, Noun, Option, Remark, Repeat, Step, Target, Work
from generator.vocabulary.load import is_stitch, stitch

_BASES = ("sc", "dc", "tr", "dtr", "trtr")
"""Stitches by how often the thread goes over the hook before it is inserted."""
_TIMES = {"once": 1, "twice": 2, "thrice": 3}
_PULL = ("pull", "draw", "pulling", "drawing")
_ALL = ("remaining", "all", "both", "last", "each")


@dataclass(frozen=True, slots=True)
class Leg(Step):
    """One unfinished stitch."""

    base: str = "dc"
    target: Target = NEXT


def read_leg(c: Cursor) -> Step | None:
    """`thread over twice, insert hook in next st, pull loop through, work off 2 loops`; a whole stitch where all its
    loops are worked off. Takes nothing when no place is named."""
    begin = c.i
    over = 0
    while (n := _thread_over(c)) > 0:
        over += n
        _between(c)
    target = _inserted(c)
    if target is None or over >= len(_BASES):
        c.i = begin
        return None
    mark = c.i
    _between(c)
    if not _pulled(c):
        c.i = mark
    halves = 0
    while (n := _worked_off(c)) > 0:
        halves += n
    base = "hdc" if over == 1 and halves == 0 else _BASES[over]
    if halves > over:
        return Work(c.span(begin), base, 1, target)
    return Leg(c.span(begin), base, target)


def closes(c: Cursor) -> bool:
    """`thread over and work off remaining loops at one time`, `pull through all 3 loops`: takes it and says yes."""
    begin = c.i
    _between(c)
    if _thread_over(c):
        _between(c)
    if not _off(c):
        c.i = begin
        return False
    many = c.peek().value in _ALL
    while c.peek().value in _ALL or c.word("the", "of"):
        c.take()
    if c.peek().type == "number" and (many or c.peek().n > 2):
        c.take()
        many = True
    if not many or not c.word("loop", "st"):
        c.i = begin
        return False
    c.take()
    while c.word("on", "in", "hook", "the", "at", "times", "total", "together") or c.peek().value in (
        "at", "one", "once", "needle",
    ) or (c.peek().type == "number" and c.word("times", ahead=1)):  # fmt: skip
        c.take()
    return True


def closed_later(c: Cursor) -> bool:
    """Whether words that close legs come on this line."""
    probe = Cursor(c.tokens, c.i, c.end)
    while not probe.done():
        if (probe.peek().value in (*_PULL, "work", "through")) and closes(Cursor(c.tokens, probe.i, c.end)):
            return True
        probe.i += 1
    return False


def gathered(items: list[Step], span_from: Cursor, begin: int) -> list[Step] | None:
    """The steps with the legs at their end made into the stitch they are; None where there are none."""
    at = len(items)
    while at > 0 and _legs(items[at - 1]) is not None:
        at -= 1
    if at == len(items):
        return None
    span = items[at].span.cover(span_from.span(begin))
    counts: list[tuple[int, str]] = [(0, "")]
    base = ""
    targets: list[Target] = []
    for item in items[at:]:
        many = _legs(item)
        assert many is not None
        leg = _leg(item)
        base, targets = base or leg.base, [*targets, leg.target]
        reasons = [o.reason for o in item.options] if isinstance(item, Choice) else [""]
        counts = [(n + more, said or reason) for n, said in counts for more, reason in zip(many, reasons, strict=True)]
    made = [_stitch(base, n, targets[0]) for n, _ in counts]
    if len(made) == 1:
        return [*items[:at], replace(made[0], span=span)]
    options = tuple(
        Option((replace(work, span=span),), said, k)
        for k, (work, (_, said)) in enumerate(zip(made, counts, strict=True))
    )
    return [*items[:at], Choice(span, "rep-n", options)]


def swept(steps: list[Step]) -> list[Step]:
    """Steps without legs: what nothing closed is a remark."""
    return [_swept(step) for step in steps]


def _swept(step: Step) -> Step:
    if isinstance(step, Leg):
        return Remark(step.span, "", "manner")
    if isinstance(step, Repeat):
        return replace(step, steps=tuple(_swept(inner) for inner in step.steps))
    if isinstance(step, Choice):
        return step.between([tuple([_swept(inner) for inner in option.steps]) for option in step.options])
    return step


def _stitch(base: str, n: int, target: Target) -> Work:
    """`n` legs closed together: over as many places where each has its own, else in one place."""
    own = target.how is How.NEXT and target.noun is not Noun.RING
    if n == 1:
        return Work(stitch=base, target=target)
    together = f"{base}{n}tog"
    if own and is_stitch(together):
        return Work(stitch=together, target=replace(target, count=target.count * n))
    usual = stitch("cluster")
    same = n == usual.legs and base == usual.base
    return Work(stitch="cluster" if same else f"{base}-cluster-{n}", target=target)


def _legs(step: Step) -> list[int] | None:
    """How many legs a step has, for each way to read it; None when it is none."""
    if isinstance(step, Leg):
        return [1]
    if isinstance(step, Repeat) and step.steps and all(isinstance(inner, Leg) for inner in step.steps):
        # `* …, repeat from *` with nothing behind it: once more
        return [len(step.steps) * (2 if step.times.to_end else step.times.n)]
    if isinstance(step, Choice) and all(len(o.steps) == 1 for o in step.options):
        each = [_legs(o.steps[0]) for o in step.options]
        return [n[0] for n in each if n is not None] if all(each) else None
    return None


def _leg(step: Step) -> Leg:
    while not isinstance(step, Leg):
        step = step.options[0].steps[0] if isinstance(step, Choice) else step.steps[0]  # type: ignore[attr-defined]
    return step


def _between(c: Cursor) -> None:
    while c.sign(",") or c.word("and"):
        c.take()


def _thread_over(c: Cursor) -> int:
    """`thread over hook twice`, `yo`: how often; 0 (nothing taken) when not said."""
    if c.word("color") and (
        c.word("over", ahead=1) or (c.word("round", "around", ahead=1) and c.word("hook", ahead=2))
    ):
        c.i += 2
    elif c.peek().value in ("yo", "yoh", "yrh"):
        c.take()
    else:
        return 0
    c.skip_words("the", "hook", "needle")
    if c.peek().value in _TIMES:
        return _TIMES[c.take().value]
    if c.peek().type == "number" and c.word("times", ahead=1):
        n = c.take().n
        c.take()
        return n
    return 1


def _inserted(c: Cursor) -> Target | None:
    """`insert hook in next st`."""
    if c.peek().value not in ("insert", "inserting"):
        return None
    c.take()
    c.skip_words("the", "hook", "needle")
    return read_place(c) if starts_place(c) else None


def _pulled(c: Cursor) -> bool:
    """`pull loop through`, `draw up a loop`, `pull through`; not `pull through 2 loops`."""
    begin = c.i
    if c.peek().value not in _PULL:
        return False
    c.take()
    while c.word("a", "the", "loop", "color") or c.peek().value in ("up", "it", "long"):
        c.take()
    if c.peek().value == "through":
        c.take()
    if c.peek().type == "number" or c.peek().value in _ALL:
        c.i = begin
        return False
    return True


def _off(c: Cursor) -> bool:
    """`work off`, `pull through`, `draw thread through`: the verb, taken."""
    begin = c.i
    if c.word("work") and c.peek(1).value in ("off", "through"):
        c.i += 2
        return True
    if c.peek().value == "through" and begin and c.tokens[begin - 1].value in ("and", "over", "hook", ","):
        c.take()  # `thread over and through 2 loops`
        return True
    if c.peek().value in _PULL:
        c.take()
        c.skip_words("color", "loop", "the")
        if c.peek().value == "through":
            c.take()
            return True
    c.i = begin
    return False


def _worked_off(c: Cursor) -> int:
    """`(thread over and) work off 2 loops`, `draw through 2 loops twice`: how often; 0 (nothing taken) when not said."""
    begin = c.i
    _between(c)
    if _thread_over(c):
        _between(c)
    if not (_off(c) and c.peek().type == "number" and c.peek().n == 2 and c.word("loop", ahead=1)):
        c.i = begin
        return 0
    c.i += 2
    return _TIMES[c.take().value] if c.peek().value in _TIMES else 1

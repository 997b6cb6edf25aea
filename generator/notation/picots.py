"""Picots: by name (`p`, `picot of 4 ch`, `ch 5 for picot`, `picot (5 ch, 1 sc in first ch)`), or told as a chain that
closes on what it grew from (`ch 3, sl st in top of last dc`)."""

from collections.abc import Sequence
from dataclasses import replace

from generator.notation.cursor import Cursor
from generator.notation.memory import Memory
from generator.notation.places import read_place, starts_place
from generator.notation.tree import (
    NEXT,
    Chain,
    Choice,
    Group,
    How,
    Noun,
    Picot,
    Repeat,
    Step,
    Work,
)


def picot_here(c: Cursor, ahead: int = 0) -> bool:
    """Whether the word here is `picot` or `p`."""
    return c.peek(ahead).value == "picot" and c.peek(ahead).type in ("stitch", "word")


def named_picot(c: Cursor, memory: Memory, begin: int, n: int | None) -> list[Step]:
    """Behind the word: how many chains it has, where it goes. `n` is how many picots, None for one."""
    chains = _of_chains(c)
    if chains:
        memory.picot = Picot(n=chains)
    step = replace(memory.picot, span=c.span(begin))
    target = read_place(c) if starts_place(c) and not c.word("of", "to") else None
    if target is not None and target.how is How.NEXT and target.noun is Noun.STITCH:
        return [Group(c.span(begin), (Work(c.span(begin), "sc", 1, NEXT), step), target)]
    return [step] * max(1, n or 1)


def _of_chains(c: Cursor) -> int:
    """`of 4 ch`, `with 5 ch`."""
    if c.word("of", "with") and c.peek(1).type == "number" and c.word("chain", ahead=2):
        c.i += 3
        return c.tokens[c.i - 2].n
    return 0


def for_picot(c: Cursor) -> bool:
    """`for picot`, `to form a p`, taken: the chain before it is one."""
    mark = c.i
    if c.word("as", "to"):
        c.take()
        c.skip_words("work", "a")
        if c.peek().value in ("form", "forming"):
            c.take()
        c.skip_words("a")
        if picot_here(c):
            c.take()
            return True
    c.i = mark
    return False


def explained(steps: list[Step], inner: Cursor, memory: Memory) -> bool:
    """`1 picot (5 ch, 1 sc in the first ch)`: the bracket tells how large the picots of this text are."""
    if not steps or not isinstance(steps[-1], Picot):
        return False
    numbers = [k for k in range(inner.i, inner.end) if inner.tokens[k].type == "number"]
    if not numbers or not any(inner.tokens[k].value == "chain" for k in (numbers[0] - 1, numbers[0] + 1)):
        return False
    closes = next((t.value for t in inner.tokens[inner.i : inner.end] if t.type == "stitch"), "sl-st")
    memory.picot = Picot(n=inner.tokens[numbers[0]].n, close=closes, into="first")
    steps[-1] = replace(memory.picot, span=steps[-1].span)
    return True


def closed_chains(steps: Sequence[Step], inside: bool = False) -> tuple[Step, ...]:
    """Steps with every chain that closes on its own beginning made a picot. `inside`: they stand in a repeat or in one
    place, where nothing else can be meant by the first or the last of something."""
    out: list[Step] = []
    for k, step in enumerate(steps):
        step = _inside(step)
        before = out[-1] if out else None
        closable = isinstance(step, Work) and isinstance(before, Chain)
        goes_on = closable and (inside or any(isinstance(s, (Work, Group, Repeat, Choice)) for s in steps[k + 1 :]))
        if isinstance(step, Work) and isinstance(before, Chain) and len(out) > 1 and _on_its_first(before, step):
            out[-1] = Picot(before.span.cover(step.span), before.n, step.stitch, "hook")
            continue
        if isinstance(step, Work) and isinstance(before, Chain) and goes_on and (inside or len(out) > 1):
            grown_from = out[-2] if len(out) > 1 else None
            into = _closes(step, grown_from, inside)
            if into and before.n >= 2:
                out[-1] = Picot(before.span.cover(step.span), before.n, step.stitch, into)
                continue
        out.append(step)
    return tuple(out)


def _on_its_first(chain: Chain, step: Work) -> bool:
    """`ch 4, sc in 4th ch from hook`: closed on the first of its own chains, not worked back along them."""
    back = step.target.how is How.FROM_HOOK and step.stitch == "sc" and step.each == 1
    return back and 3 <= step.target.nth <= chain.n <= step.target.nth + 1 <= 8


def closes_here(c: Cursor, steps: list[Step], step: Step) -> bool:
    """In a list of what goes into one place: whether the step just read closes the chain at its end, which then is a
    picot; `for picot` behind it is taken too."""
    if not (steps and isinstance(chain := steps[-1], Chain) and isinstance(step, Work) and chain.n >= 2):
        return False
    into = _closes(step, steps[-2] if len(steps) > 1 else None, inside=True)
    back = step.target.how is How.FROM_HOOK and 0 <= chain.n - step.target.nth < 2 and len(steps) > 1
    into = "hook" if back and step.each == 1 else into
    if into and step.stitch in ("sl-st", "sc" if back else "sl-st"):
        steps[-1] = Picot(chain.span.cover(step.span), chain.n, step.stitch, into)
        for_picot(c)
        return True
    return False


def _inside(step: Step) -> Step:
    if isinstance(step, (Repeat, Group)) and any(isinstance(s, (Chain, Repeat, Group)) for s in step.steps):
        inner = closed_chains(step.steps, inside=True)
        return step if inner == step.steps else replace(step, steps=inner)
    if isinstance(step, Choice):
        return step.between([closed_chains(option.steps) for option in step.options])
    return step


def _closes(step: Work, grown_from: Step | None, inside: bool) -> str:
    """Where a stitch behind a chain closes it to a picot; empty when it does not."""
    target = step.target
    if step.each > 1 or target.count > 1 or step.stitch not in ("sl-st", "sc"):
        return ""
    if target.noun in (Noun.CHAIN, Noun.START) and target.how is How.FIRST and target.nth <= 1:
        return "first" if inside or target.noun is Noun.CHAIN else ""
    if target.noun is Noun.CHAIN and target.how is How.SAME:
        return "top"  # `in base of ch`
    if target.noun is not Noun.STITCH:
        return ""
    if target.how is How.PREVIOUS or (target.how is How.LAST and (inside or step.stitch == "sl-st")):
        return "top"
    slips = isinstance(grown_from, Work) and grown_from.stitch == "sl-st"
    if step.stitch == "sl-st" and inside and not slips and target.how in (How.SAME, How.FIRST):
        return "top" if target.how is How.SAME else "first"
    return ""

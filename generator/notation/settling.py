"""What only the whole line can tell: a slip stitch that joins, one word that means the whole round."""

from dataclasses import replace

from generator.notation.bare import bare_stitch
from generator.notation.endings import endings
from generator.notation.held import begun_by_chain
from generator.notation.inturn import at_each_end, behind_skips, in_turn, left_to_the_maker, shaped_throughout
from generator.notation.picots import closed_chains
from generator.notation.pieces import along_it
from generator.notation.starting import chain_left_out, started
from generator.notation.tree import (
    Chain,
    Choice,
    Convention,
    Define,
    FastenOff,
    Group,
    How,
    Join,
    Label,
    Noun,
    Option,
    PartRef,
    Picot,
    Remark,
    Repeat,
    Ring,
    Skip,
    Stay,
    Step,
    Times,
    Turn,
    Word,
    Work,
    Yarn,
)  # fmt: skip
from generator.source import Span
from generator.vocabulary.load import stitch


def settled(steps: list[Step], label: Label) -> tuple[Step, ...]:
    """Steps that only the whole line can name: a slip stitch into the first stitch at the end joins; a chain that
    nothing precedes and a label-less line is a foundation."""
    out = list(closed_chains(steps))
    started(out)
    _lone(out, label)
    if label.word is not Word.NONE or label.numbers:
        _listed(out)
    if any(isinstance(step, PartRef) for step in out):
        along_it(out)
    if label.word is Word.ROUND and label.numbers:
        chain_left_out(out)
    at_each_end(out, label.word is Word.ROUND)
    left_to_the_maker(out)
    shaped_throughout(out)
    if any(isinstance(s, (Repeat, Skip)) for s in out):
        out = list(behind_skips(out))
    out = [in_turn(step) for step in out]
    if any(isinstance(s, (Repeat, Skip)) for s in out):
        _behind_posts(out)
    endings(out)
    begun_by_chain(out)
    for k in range(1, len(out)):
        if (
            isinstance(chain := out[k - 1], Chain)
            and isinstance(ss := out[k], Work)
            and ss.stitch == "sl-st"
            and ss.target.noun is Noun.RING
        ):
            out[k - 1 : k + 1] = [Ring(chain.span.cover(ss.span), chain.n)]
            break
    at = len(out) - 1
    while at >= 0 and isinstance(out[at], (Remark, Turn)):
        at -= 1
    if (
        at > 0
        and isinstance(work := out[at], Work)
        and work.stitch == "sl-st"
        and work.each == 1
        and (
            work.target.how is How.FIRST
            or work.target.noun is Noun.START
            or _on_the_beginning(out, work)
            or (label.word is Word.ROUND and _after_the_whole(out[:at], work))
        )
    ):
        out[at] = Join(work.span, "sl-st", work.target)
    return tuple(out)


def _on_the_beginning(steps: list[Step], slip: Work) -> bool:
    """`3 chain, …, 1 single on the 3 chain`: the chain that begins the course, by its number."""
    first = next((s for s in steps if not isinstance(s, (Remark, Yarn, Turn, Stay))), None)
    target = slip.target
    chains = target.count if target.noun is Noun.CHAIN else target.size if target.noun is Noun.SPACE else 0
    return isinstance(first, Chain) and first.n == chains > 1 and target.how is How.NEXT


def _after_the_whole(steps: list[Step], slip: Work) -> bool:
    """`Ch 2, hdc around, sl st.`: a slip stitch without a place behind what goes all round joins the round."""
    first, last = next((s for s in steps if not isinstance(s, (Remark, Yarn))), None), steps[-1]
    whole = (isinstance(last, Work) and last.target.how is How.EACH) or (isinstance(last, Repeat) and last.times.to_end)
    return slip.target.implied and slip.target.count == 1 and isinstance(first, Chain) and whole


def _behind_posts(steps: list[Step]) -> None:
    """`skip 2 sc, … 1 front dc in each of next 2 dc of 2nd row below`: as many places passed over as stitches are worked
    lower down. They are the same columns; only one of the two takes them."""
    skips = [k for k, s in enumerate(steps) if isinstance(s, Skip) and s.target.noun is Noun.STITCH]
    deep = sum(s.target.count for s in steps if isinstance(s, Work) and s.target.below and s.target.how is How.NEXT)
    if deep and sum(_places(steps[k]) for k in skips) == deep:
        for k in skips:
            steps[k] = replace(steps[k], behind=True)  # type: ignore[call-arg]
    for k, step in enumerate(steps):
        if isinstance(step, Repeat):
            inner = list(step.steps)
            _behind_posts(inner)
            steps[k] = step if tuple(inner) == step.steps else replace(step, steps=tuple(inner))


def _places(skip: Step) -> int:
    return skip.target.count if isinstance(skip, Skip) else 0


def _listed(steps: list[Step]) -> None:
    """`Rnd 3: 1 sc, 1 inc (18)`: a short list with no word of repeating may stand for the whole round, over and over;
    the count decides."""
    at = [
        k
        for k, step in enumerate(steps)
        if bare_stitch(step) or (isinstance(step, Work) and step.target.implied) or isinstance(step, Picot)
    ]
    if len(at) < 2 or at != list(range(at[0], at[-1] + 1)) or len(at) > 8:
        return
    if any(isinstance(step, (Repeat, Group, Work)) for k, step in enumerate(steps) if k not in at):
        return
    if any(isinstance(step, Work) and step.target.how is How.EACH for step in steps):
        return
    run = tuple(steps[k] for k in at)
    span = run[0].span.cover(run[-1].span)
    once = Option(run, "worked once")
    over = Option((Repeat(span, run, Times(to_end=True), 0, ""),), "the list repeated round", 1)
    steps[at[0] : at[-1] + 1] = [Choice(span, "listed", (once, over, *_times_over(run, span)))]


def _times_over(run: tuple[Step, ...], span: Span) -> tuple[Option, ...]:
    """`sc 1, inc x 6`: where the count wants it, the list is worked so often, not its last stitch alone."""
    last = run[-1]
    if not isinstance(last, Work) or not (last.increase or last.decrease) or last.each > 2:
        return ()
    size = stitch(last.stitch).consumes if last.decrease else 1
    n = last.target.count // size
    if n < 2:
        return ()
    one = replace(last, target=replace(last.target, count=size))
    return (Option((Repeat(span, (*run[:-1], one), Times(n), 0, ""),), f"the list {n} times", 1),)


def _lone(steps: list[Step], label: Label) -> None:
    """`Rnd 5: Sc. (18)`: one stitch named and nothing else means the whole round; else it is one stitch."""
    works = [
        k
        for k, step in enumerate(steps)
        if not isinstance(step, (Remark, Yarn, Join, Turn, Stay, FastenOff, Chain, Define, Convention))
    ]
    if len(works) != 1 or not isinstance(work := steps[works[0]], Work):
        return
    target = work.target
    loops = (
        target.noun is Noun.SPACE and target.how is How.NEXT and target.count == 1 and not target.kind and label.numbers
    )
    if loops and target.size and not target.nth:
        around = replace(work, target=replace(target, how=How.EACH))
        steps[works[0]] = Choice(
            work.span, "lone", (Option((around,), "in each space of the round"), Option((work,), "worked once", 1))
        )
    if target.implied and target.how is How.NEXT and target.count <= 2 and (work.each == 1 or work.increase):
        around = replace(work, target=replace(target, how=How.EACH, count=1))
        steps[works[0]] = Choice(
            work.span, "lone", (Option((around,), "in each stitch of the round"), Option((work,), "worked once", 1))
        )

"""Places counted within a pass (`1 sc in the 1st stitch, 2 sc in the 2nd; repeat`), and at the two ends of a row."""

from dataclasses import replace

from generator.notation.shaped_where import AT_ENDS, AT_FIRST, AT_LAST
from generator.notation.tree import (
    Again,
    Chain,
    Choice,
    Group,
    How,
    Noun,
    Option,
    Remark,
    Repeat,
    Shape,
    Skip,
    Step,
    Target,
    Work,
)  # fmt: skip


def in_turn(step: Step) -> Step:
    """`* 1 sc in the 1st stitch, 2 sc in the 2nd stitch; repeat`: counted from where each pass begins."""
    if isinstance(step, Choice):
        return step.between([tuple([in_turn(s) for s in option.steps]) for option in step.options])
    if not isinstance(step, Repeat):
        return step
    body = tuple(_each_in_turn(in_turn(s), step) for s in step.steps)
    places = [s for s in body if isinstance(s, (Work, Group)) and s.target.noun is Noun.STITCH]
    first = places[0].target if len(places) > 1 else None
    if first is None or first.below or first.nth > 1 or first.how not in (How.FIRST, How.NEXT):
        return step if body == step.steps else replace(step, steps=body)
    body = tuple(_counted_from_the_first(body, first.how is How.FIRST))
    return step if body == step.steps else replace(step, steps=body)


def behind_skips(steps: tuple[Step, ...] | list[Step]) -> tuple[Step, ...]:
    """`miss 2, 1 dc in the 3d`: counted from where the skipping began, it is the next one."""
    out: list[Step] = []
    for step in steps:
        before = out[-1] if out else None
        if isinstance(step, Repeat):
            step = replace(step, steps=behind_skips(step.steps))
        elif isinstance(step, Work | Group) and isinstance(before, Skip):
            target, skipped = step.target, before.target
            plain = target.noun is Noun.STITCH and skipped.noun in (Noun.STITCH, Noun.CHAIN)
            if plain and target.how is How.NEXT and skipped.how is How.NEXT and target.nth == skipped.count + 1 > 1:
                step = replace(step, target=replace(target, nth=0))
        out.append(step)
    return tuple(out)


def left_to_the_maker(steps: list[Step]) -> None:
    """`1 dc in each, narrowing as usual at the toe`: where every place is worked already and nothing says which are
    shaped, no number follows; the words are kept."""
    for k in range(1, len(steps) - 1):
        work, each, told = steps[k], steps[k - 1], steps[k + 1]
        if not (isinstance(work, Work) and isinstance(each, Work) and isinstance(told, Remark) and told.words):
            continue
        shaped = (work.increase or work.decrease) and work.target.implied and work.target.how is How.NEXT
        if shaped and each.target.how is How.EACH and not each.target.leave:
            steps[k : k + 2] = [Remark(work.span.cover(told.span), told.words, "shaping")]
            return


def at_each_end(steps: list[Step], oval: bool) -> None:
    """`1 dc in each, increasing 1 at each end`, `dec 1 sc at beginning of row`: the first or the last of the row's
    stitches, or both. Where an earlier row is worked again (`same as 2nd row, but …`), so many more in all; so, too, in a
    round, whose ends (`oval`) are those of the piece."""
    for k, step in enumerate(steps):
        if not isinstance(step, Shape) or step.every >= 0:
            continue
        beside = [j for j in (k - 1, k + 1) if 0 <= j < len(steps)]
        at = next(
            (j for j in beside if isinstance(w := steps[j], Work) and w.target.how is How.EACH and w.each == 1), -1
        )
        if oval or (at < 0 and any(isinstance(s, Again) for s in steps)):
            steps[k] = replace(step, every=0)
            return
        each = steps[at] if at >= 0 else Work(step.span, step.stitch, 1, Target(How.EACH))
        assert isinstance(each, Work)
        steps[min(k, at if at >= 0 else k) : max(k, at) + 1] = _ended(step, each)
        return


def _ended(shape: Shape, each: Work) -> list[Step]:
    """A stitch in each, with so many more or less at the ends that the shaping names."""
    sides = 2 if shape.every == AT_ENDS else 1
    more = abs(shape.by) // sides
    grows = shape.by > 0
    leave = more * (1 if grows else 2)
    edge = replace(each, each=1 + more) if grows else replace(each, stitch=f"{each.stitch}2tog")
    first = replace(edge, target=replace(each.target, how=How.NEXT, count=1 if grows else leave))
    last = replace(first, target=replace(first.target, how=How.LAST)) if grows else first
    if shape.every == AT_FIRST:
        return [first, each]
    body = replace(each, target=replace(each.target, leave=leave))
    return [body, last] if shape.every == AT_LAST else [first, body, last]


def shaped_throughout(steps: list[Step]) -> None:
    """`sc around, inc in every 4th st`, `sc around, increasing 6 sc evenly`: the second tells how the first is done."""
    for k in range(len(steps) - 1):
        each, shape = steps[k], steps[k + 1]
        if isinstance(each, Shape) and each.by and not each.every:
            each, shape = shape, each  # `dec 1 sc at underarm, sc in each remaining sc`
        if not isinstance(each, Work) or not isinstance(shape, Shape) or not shape.by or shape.every < 0:
            continue
        target = each.target
        if target.how is How.EACH and target.noun is Noun.STITCH and each.each == 1 and not target.leave:
            steps[k : k + 2] = [replace(shape, span=each.span.cover(shape.span))]
            return


def _each_in_turn(inner: Step, step: Repeat) -> Step:
    """`* 1 dc on the centre of each scallop, 6 ch; repeat`: one of them in every pass."""
    if (
        not isinstance(inner, (Work, Group))
        or not step.times.to_end
        or not any(isinstance(s, Chain) for s in step.steps)
    ):
        return inner
    target = inner.target
    if target.how is not How.EACH or target.noun not in (Noun.SPACE, Noun.CORNER, Noun.GAP) or target.every > 1:
        return inner
    return replace(inner, target=replace(target, how=How.NEXT))


def _counted_from_the_first(body: tuple[Step, ...], sure: bool) -> list[Step]:
    """Ordinals as places from the beginning of a pass: the 2nd after the 1st is the next one. Where no first is named,
    that the one after two is the 3rd may be chance."""
    out: list[Step] = []
    at = 0
    for inner in body:
        if isinstance(inner, (Work, Group)) and inner.target.noun is Noun.STITCH:
            target = inner.target
            nth = 1 if target.how is How.FIRST else target.nth
            on = nth - at
            if sure and (target.how is How.FIRST or (target.how is How.NEXT and on > 0)):
                inner = replace(inner, target=replace(target, how=How.NEXT, nth=on if on > 1 else 0))
            elif not sure and nth > 1 and on == 1 and target.how is How.NEXT:
                turn = replace(inner, target=replace(target, nth=0))
                options = (
                    Option((turn,), f"number {nth} of each pass"),
                    Option((inner,), f"number {nth} from there", 1),
                )
                out.append(Choice(inner.span, "in-turn", options))
                at = nth
                continue
            at = nth if nth > at else at + target.count
        elif isinstance(inner, Skip):
            at += inner.target.count
        out.append(inner)
    return out

"""What a course leaves: rows or rounds, the edge after levelling, an edge of a stated size."""

from generator.fabric.asking import flat
from generator.fabric.course import Weaver
from generator.fabric.edge import Item, stitches_in
from generator.fabric.state import State
from generator.notation.tree import (
    Line,
    Repeat,
    Skip,
    Step,
    Target,
    Word,
    Work,
)  # fmt: skip


def in_rows(state: State, weaver: Weaver, line: Line | None, turns: bool) -> bool:
    if weaver.joined or weaver.sides:
        return False
    if weaver.ground.ring:  # half a motif is turned behind its first row, too
        return turns and line is not None and line.label.word is Word.ROW
    if state.rows:
        return True
    if line is not None and line.label.word is Word.ROUND:
        return False
    if turns:
        return not state.joined
    foundation = bool(weaver.ground.foundation)
    return foundation or (not state.started and line is not None and line.label.word is Word.ROW)


def places_used(weaver: Weaver, below: int) -> int:
    return min(weaver.hand.used, below) if weaver.extra == 0 else below


def covered_by_extra(edge: list[Item], weaver: Weaver, extra: int) -> list[Item]:
    """The edge with its first stitches covered by the levelling ones: they come last, the start has moved on."""
    k = extra
    items = [Item(i.kind, i.first, i.n, i.step, i.counted, i.group, i.start) for i in edge]
    while k > 0 and items:
        if items[0].n <= k:
            k -= items[0].n
            items.pop(0)
        else:
            items[0] = Item(
                items[0].kind,
                items[0].first + items[0].step * k,
                items[0].n - k,
                items[0].step,
                items[0].counted,
                items[0].group,
            )
            k = 0
    for run in weaver.runs:
        if run.role.value == "extra":
            if items and items[-1].kind == run.kind and items[-1].first + items[-1].n == run.first:
                items[-1].n += run.n
            else:
                items.append(Item(run.kind, run.first, run.n))
    return items


def spread(weaver: Weaver, body: tuple[Step, ...], below: int) -> int:
    """`* 9 chain, 1 treble; repeat 6 times` over 32 stitches: the places from one treble to the next where chains part
    them all and the text leaves out how many each spans; 1 where that is no such round."""
    used, spaces = weaver.hand.used, sum(1 for i in weaver.new if i.space)
    if weaver.settings.rows or not 1 < used < below or below % used or not used - 1 <= spaces <= used:
        return 1
    for step in flat(body):
        if isinstance(step, Skip) or (isinstance(step, Repeat) and step.times.to_end):
            return 1
        if isinstance(step, Work) and not (step.target.implied or step.stitch == "sl-st" or step.target == Target()):
            return 1
    return below // used


def resized(edge: list[Item], want: int) -> list[Item]:
    """An edge of the stated size: cut, or with its last stitch standing in for the missing ones."""
    counted = [i for i in edge if i.counted]
    have = stitches_in(edge)
    if have == want or not counted:
        return edge
    if have > want:
        out: list[Item] = []
        left = want
        for item in edge:
            if not item.counted:
                out.append(item)
            elif left > 0:
                n = min(left, item.n)
                out.append(Item(item.kind, item.first, n, item.step, True, item.group, item.start))
                left -= n
        return out
    last = counted[-1]
    number = last.first + last.step * (last.n - 1)
    return [*edge, Item(last.kind, number, want - have, 0, True)]

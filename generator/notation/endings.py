"""What follows a repeat to the end, and whether it comes after the last pass or in place of its ending."""

from dataclasses import replace

from generator.notation.folding import REPLACED
from generator.notation.tree import Chain, Choice, Group, Option, Repeat, Step, Work


def endings(steps: list[Step]) -> None:
    """What follows a repeat to the end may take the place of the last pass's ending: a chain that of its last chain;
    after `ending with`, a stitch that of the one stitch a pass of chains and a stitch has."""
    for k, body in enumerate(steps):
        if not isinstance(body, Repeat) or not body.steps or not body.times.to_end or body.stop_at not in (0, REPLACED):
            continue
        following = steps[k + 1] if k + 1 < len(steps) else None
        last = body.steps[-1]
        chained = isinstance(last, Chain) and isinstance(following, Chain) and len(body.steps) > 1
        one_stitch = (
            isinstance(last, Work) and len(body.steps) > 1 and all(isinstance(s, Chain) for s in body.steps[:-1])
        )
        said = body.stop_at == REPLACED and isinstance(following, (Work, Group))
        whole = replace(body, stop_at=0) if body.stop_at else body
        if chained or (said and one_stitch):
            steps[k] = _cut(body)
        elif said and _alike(last, following) and len(body.steps) > 1:
            after = Option((whole,), "the ending after the last repeat")
            instead = Option((_cut(body),), "the ending in place of the last stitch of the repeat")
            steps[k] = Choice(body.span, "ending", (after, instead))
        else:
            steps[k] = whole


def _cut(repeat: Repeat) -> Repeat:
    """A repeat whose last pass does without its ending."""
    return replace(repeat, stop_at=len(repeat.steps) - 1)


def _alike(last: Step, ending: Step | None) -> bool:
    """Whether an ending may stand for the last stitch of a pass: it is of the same stitch, in a place of its own."""
    if isinstance(last, Group) and isinstance(ending, Work):  # `…, shell in next sc; …, ending with 3 dc in last sc`
        return ending.each > 1 and all(isinstance(s, Work) and s.stitch == ending.stitch for s in last.steps)
    return isinstance(last, Work) and isinstance(ending, Work) and last.stitch == ending.stitch

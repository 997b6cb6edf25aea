"""Questions about steps before they are worked: what they are made of, and which places they are sure to take."""

from functools import cache

from generator.notation.tree import (
    Along,
    Chain,
    Group,
    How,
    Join,
    Mesh,
    Noun,
    Repeat,
    Shape,
    Skip,
    Step,
    Work,
)
from generator.vocabulary.load import stitch


def needs(steps: tuple[Step, ...]) -> int:
    """Stitches of the old edge that steps are sure to take."""
    total = 0
    for step in steps:
        if isinstance(step, Work):
            total += _needs_work(step)
        elif isinstance(step, Skip) and step.behind:
            pass
        elif isinstance(step, Skip) and step.target.noun in (Noun.STITCH, Noun.CHAIN) and step.target.how is How.NEXT:
            total += step.target.count
        elif isinstance(step, Skip) and step.target.how is How.FIRST:
            total += step.target.count - 1  # a beginning chain may stand on the first
        elif isinstance(step, Skip) and step.target.how in (How.LAST,):
            total += 1
        elif isinstance(step, Group):
            if step.target.noun is Noun.STITCH and step.target.how is How.NEXT:
                total += step.target.count
            elif step.target.how is How.LAST and step.target.noun is Noun.STITCH:
                total += 1
        elif isinstance(step, Repeat) and not step.times.to_end:
            total += step.times.n * needs(step.steps)
    return total


def _needs_work(step: Work) -> int:
    target = step.target
    if target.noun is Noun.START and step.stitch != "sl-st":
        return 1
    if target.noun not in (Noun.STITCH, Noun.PLACE, Noun.CHAIN) or target.course:
        return 0
    if target.how is How.NEXT:
        consumes = stitch(step.stitch).consumes
        return max(target.count, consumes) if consumes > 1 else target.count * consumes if consumes else 0
    return 1 if target.how is How.LAST else 0


def last_chains(rest: tuple[Step, ...], rows: bool = False) -> int:
    """Chain loops that what follows a repeat to the end takes for itself: `…, sc in ch 3 loop of last shell`; in rows
    also `…, sc in last sp`, `…, sc in ch-2 sp`, for no round's first loop can be meant there."""
    return sum(
        1
        for s in rest
        if isinstance(s, (Work, Group))
        and s.target.noun is Noun.SPACE
        and (
            (s.target.how is How.LAST and (s.target.kind or rows))
            or (rows and s.target.how is How.NEXT and s.target.count == 1)
        )
    )


def kept_for_the_end(rest: tuple[Step, ...]) -> int:
    """Places that `each st across` leaves because what follows names the last one or the turning chain."""
    return sum(
        1 for s in rest
        if isinstance(s, (Work, Group)) and (s.target.how is How.LAST or (s.target.noun is Noun.START and getattr(s, "stitch", "") != "sl-st"))
    )  # fmt: skip


def only_closes(rest: tuple[Step, ...], below: bool) -> bool:
    """Whether what follows takes no place any more: it closes the round with a stitch (`below`: in the one that closed
    the round before)."""
    works = [s for s in rest if isinstance(s, (Work, Group, Repeat, Along, Shape))]
    return len(works) == 1 and isinstance(last := works[0], Work) and (
        last.target.how is How.FIRST or last.target.noun is Noun.START or (below and bool(last.target.kind))
    )  # fmt: skip


def brings_chain(rest: tuple[Step, ...]) -> bool:
    """Whether what follows begins with a chain."""
    return next((isinstance(s, Chain) for s in rest if isinstance(s, (Chain, Work, Group, Repeat, Join))), False)


def main_stitch(steps: tuple[Step, ...]) -> str:
    """The stitch a course is mostly made of: its first one that is no slip stitch; empty when there is none."""
    for step in steps:
        if isinstance(step, Work) and step.stitch != "sl-st":
            return _tall(step.stitch)
        if isinstance(step, (Repeat, Group)):
            inner = main_stitch(step.steps)
            if inner:
                return inner
        if isinstance(step, Along):
            return step.stitch
        if isinstance(step, (Shape, Mesh)):
            return step.stitch
    return ""


def stitches_of(steps: tuple[Step, ...]) -> tuple[str, ...]:
    """Basic stitches a course is made of, in order of first use."""
    found: list[str] = []
    for step in steps:
        if isinstance(step, Work) and step.stitch != "sl-st":
            found.append(_tall(step.stitch))
        elif isinstance(step, (Repeat, Group)):
            found.extend(stitches_of(step.steps))
    return tuple(dict.fromkeys(found))


@cache
def _tall(identity: str) -> str:
    base = stitch(identity).base
    return base if stitch(base).family == "post" else "sc"


def chains_of(steps: tuple[Step, ...]) -> frozenset[int]:
    """Lengths of the chains between stitches; a chain that begins the course is not among them."""
    found: set[int] = set()
    begun = False
    for step in steps:
        if isinstance(step, Chain) and begun:
            found.add(step.n)
        begun = begun or isinstance(step, (Work, Group, Repeat, Skip))
        if isinstance(step, (Repeat, Group)):
            found |= {s.n for s in step.steps if isinstance(s, Chain)} | chains_of(step.steps)
    return frozenset(found)


def any_corner(rest: tuple[Step, ...]) -> bool:
    """Whether what follows is worked in every corner."""
    following = rest[0] if rest else None
    return (
        isinstance(following, (Work, Group))
        and following.target.how is How.EACH
        and following.target.noun is Noun.CORNER
    )


def corners_of(step: Step, rest: tuple[Step, ...]) -> Work | Group | None:
    """What is worked in every corner, when a stitch in each is followed by it."""
    if not (isinstance(step, Work) and step.target.how is How.EACH and step.target.noun is Noun.STITCH):
        return None
    following = rest[0] if rest else None
    if (
        isinstance(following, (Work, Group))
        and following.target.how is How.EACH
        and following.target.noun in (Noun.SPACE, Noun.CORNER)
    ):
        return following
    return None

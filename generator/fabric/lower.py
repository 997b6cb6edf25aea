"""Courses worked, in whole or in part, into an earlier one than that below: skirts, layers of petals, overlay stitches."""

from collections.abc import Callable
from dataclasses import replace

from generator.notation.tree import OPENING, Group, How, Noun, PartRef, Repeat, Step, Work, Yarn


def course_named(body: tuple[Step, ...]) -> int:
    """The number of the course that all stitches of this one go into, where the text names it; 0 when it does not."""
    for step in body:
        if isinstance(step, PartRef) and step.course > 0:
            return step.course
        if isinstance(step, Yarn) and step.target is not None and step.target.course:
            return step.target.course
    targets = [
        s.target for s in _placed(body) or _placed(body, slips=True) if s.target.how not in (How.SAME, How.PREVIOUS)
    ]
    named = {target.course for target in targets if target.noun is not Noun.START}
    return named.pop() if len(named) == 1 else 0


def _placed(steps: tuple[Step, ...], slips: bool = False) -> list[Work | Group]:
    """What takes places, inside repeats too; inside a group all is in that one place. Slip stitches may only lead there."""
    out: list[Work | Group] = []
    for step in steps:
        if isinstance(step, Repeat):
            out.extend(_placed(step.steps, slips))
        elif isinstance(step, Group) or (isinstance(step, Work) and (slips or step.stitch != "sl-st")):
            out.append(step)
    return out


def at_opening(steps: tuple[Step, ...]) -> bool:
    """Whether the course goes round an opening that was left in the work."""
    return any(isinstance(step, PartRef) and step.course == OPENING for step in steps)


def named_anywhere(steps: tuple[Step, ...]) -> bool:
    """Whether a stitch says by its number which course it goes into."""
    return any(step.target.course for step in _placed(steps, slips=True))


def at_hand(steps: tuple[Step, ...], lies_deeper: Callable[[int], bool]) -> tuple[Step, ...]:
    """The steps with those courses left unnamed that are the edge at hand anyway."""
    out: list[Step] = []
    for step in steps:
        if isinstance(step, (Work, Group)) and step.target.course and not lies_deeper(step.target.course):
            step = replace(step, target=replace(step.target, course=0))
        elif isinstance(step, Repeat):
            step = replace(step, steps=at_hand(step.steps, lies_deeper))
        out.append(step)
    return tuple(out)

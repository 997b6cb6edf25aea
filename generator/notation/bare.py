"""Steps that stand bare, without their place (`3 dc`), and what they mean in a group."""

from dataclasses import replace

from generator.notation.tree import (
    Choice,
    How,
    Noun,
    Step,
    Work,
)  # fmt: skip
from generator.vocabulary.load import stitch


def one_place(work: Work) -> bool:
    target = work.target
    return (
        target.count == 1 and target.how in (How.NEXT, How.SAME, How.FIRST, How.LAST) and target.noun is not Noun.START
    )


def each_hole(work: Work) -> bool:
    """`… in each corner loop`: what stands before it may be worked in every one of them, too."""
    return work.target.how is How.EACH and work.target.noun in (Noun.SPACE, Noun.CORNER) and work.target.every == 1


def next_stitch(step: Step) -> bool:
    return isinstance(step, Work) and step.target.how is How.NEXT


def bare_stitch(step: Step) -> bool:
    if isinstance(step, Work):
        return step.target.implied and step.target.how is How.NEXT and not step.increase and not step.decrease
    return isinstance(step, Choice) and step.kind == "n-st"


def in_one(step: Step) -> Step:
    """A bare `3 dc` inside a group is three in that place."""
    if isinstance(step, Choice) and step.kind == "n-st":
        return step.options[-1].steps[0] if len(step.options) > 1 else step.options[0].steps[0]
    if isinstance(step, Work) and step.target.count > 1 and step.each == 1 and stitch(step.stitch).consumes == 1:
        return replace(step, each=step.target.count, target=replace(step.target, count=1))
    return step

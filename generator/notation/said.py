"""What the words of a place have said so far, and the place they come to."""

from dataclasses import dataclass

from generator.notation.tree import How, Loop, Noun, Target

LOOPS = {"back": Loop.BACK, "front": Loop.FRONT, "third": Loop.THIRD, "both": Loop.BOTH}
SPACES = ("sp", "loop", "mesh")


@dataclass(slots=True)
class Said:
    """What the words said so far."""

    each: bool = False
    next: bool = False
    same: bool = False
    first: bool = False
    last: bool = False
    any: bool = False
    top: bool = False
    start: bool = False
    rest: bool = False
    side: bool = False
    previous: bool = False
    skipped: bool = False
    center: bool = False
    count: int = 0
    nth: int = 0
    every: int = 1
    loop: Loop = Loop.BOTH
    gap: bool = False

    @property
    def chosen(self) -> bool:
        """Whether it is said which one: next, each, same, first, last or any."""
        return self.each or self.next or self.same or self.first or self.last or self.any


def as_target(said: Said, noun: Noun, size: int = 0) -> Target:
    how = How.NEXT
    if said.gap and noun is Noun.STITCH:
        noun = Noun.GAP  # `between next 2 sts`
    if said.nth == 1 and noun is Noun.SPACE:
        said.first = True  # `first ch-2 sp`: here the ordinal did not belong to a chain
    if said.skipped:
        how = How.SKIPPED
    elif said.any:
        how = How.ANY
    elif said.same:
        how = How.SAME
    elif said.last and not said.count and not said.each:
        how = How.LAST
    elif said.first and not said.count and not said.each:
        how = How.FIRST
    elif (said.each or said.rest) and not said.count:
        how = How.EACH
    elif said.previous and noun is Noun.STITCH and not said.next:
        how = How.PREVIOUS
    if noun is Noun.GAP and said.gap and how is How.NEXT:
        return Target(how, noun, max(1, said.count if said.each else 1), loop=said.loop)
    if noun is Noun.STITCH and said.nth > 1 and how is How.NEXT and not said.each:
        return Target(how, noun, 1, nth=said.nth, loop=said.loop)
    return Target(
        how, noun, max(1, said.count), size=size, nth=said.nth if said.nth > 1 else 0, every=said.every, loop=said.loop,
    )  # fmt: skip


def enough(said: Said) -> bool:
    """`in next 3`, `in same`, `in next`: a place without its noun."""
    return (
        said.same
        or said.next
        or (said.first and not said.top)
        or said.last
        or said.rest
        or (said.each and said.count > 0)
        or said.nth > 1
        or said.skipped
    )

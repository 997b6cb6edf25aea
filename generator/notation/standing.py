"""`Sl st to center of loop, ch 3, 4 dc in loop`: the loop is the one the work stands over, not the next."""

import re
from collections.abc import Sequence
from dataclasses import replace

from generator.notation.tree import Chain, Group, How, Noun, Remark, Step, Work, Yarn

_SAYS_WHICH = re.compile(
    r"\b(?:next|nxt|each|every|following|first|last|second|other|remaining|\d+(?:st|nd|rd|th|d))\b", re.I
)


def over_its_loop(steps: Sequence[Step], text: str, offset: int) -> tuple[Step, ...]:
    """Steps in which what follows the chain that stands on a loop goes into that loop, where the words (`text`, which
    begins at `offset`) leave out which one is meant."""
    out = list(steps)
    for k, step in enumerate(out[:-2]):
        if isinstance(step, (Remark, Chain)) or (isinstance(step, Yarn) and not _into_loop(step)):
            continue
        after = out[k + 2]
        if _into_loop(step) and isinstance(out[k + 1], Chain) and isinstance(after, (Work, Group)):
            said = text[after.span.start - offset : after.span.end - offset]
            if after.target.how is How.NEXT and _is_loop(after.target.noun) and not _SAYS_WHICH.search(said):
                out[k + 2] = replace(after, target=replace(after.target, how=How.SAME))
        break
    return tuple(out)


def _is_loop(noun: Noun) -> bool:
    return noun in (Noun.SPACE, Noun.CORNER)


def _into_loop(step: Step) -> bool:
    """Whether it brings the work over a loop: a slip stitch into one, a yarn joined there."""
    if isinstance(step, Yarn):
        return step.how == "join" and step.target is not None and _is_loop(step.target.noun)
    return isinstance(step, Work) and step.stitch == "sl-st" and _is_loop(step.target.noun)

"""Shells and their like given a name where they are worked: `a shell of 2 dc, ch 1, 2 dc in next st`, `… (shell made)`,
`… — shell made`. From there on they may be called by it."""

from dataclasses import replace
from typing import TYPE_CHECKING

from generator.notation.cursor import Cursor
from generator.notation.tree import NEXT, Chain, Choice, Group, How, Noun, Remark, Step, Target, Work
from generator.vocabulary.load import is_stitch, stitch

if TYPE_CHECKING:
    from generator.notation.passage import Passage

_BUNCHES = ("popcorn", "cluster", "puff", "bobble")
NAMES = ("shell", "fan", "picot", "v", "cluster", "group", "popcorn", "puff", "bobble", "scallop", "block")
_PLURAL = {name + "s": name for name in NAMES}


def name_in(words: list[str]) -> str:
    """The name of a group among these words; empty where there is none."""
    return next((_PLURAL.get(word, word) for word in words if _PLURAL.get(word, word) in NAMES), "")


def names_group(passage: "Passage", words: list[str]) -> bool:
    """`… in next loop (shell made)` names the group just read; later lines may call it by that name."""
    name = name_in(words)
    if not name:
        return False
    items = passage.folder.items
    if name in _BUNCHES and _begun_as(items, name):
        return True
    for at in range(len(items) - 1, max(-1, len(items) - 4), -1):
        if (group := _as_group(items[at])) is None:
            continue
        if isinstance(group, Group):
            items[at] = replace(group, name=group.name or name)
            passage.memory.specials[name] = group.steps
        elif isinstance(group, Work):
            passage.memory.specials[name] = (replace(group, target=NEXT),)
        passage.folder.add([Remark(group.span, "", "note")])
        return True
    return False


def _begun_as(items: list[Step], name: str) -> bool:
    """`ch 3, 4 dc in ring, drop loop, … (first popcorn made)`: the chain and the stitches behind it are one."""
    works = [k for k, step in enumerate(items) if not isinstance(step, Remark)]
    if len(works) < 2 or any(isinstance(items[k], Work | Group | Choice) for k in works[:-2]):
        return False
    chain, work = items[works[-2]], items[works[-1]]
    if not isinstance(chain, Chain) or not isinstance(work, Work) or work.each < 2 or chain.n < 2:
        return False
    identity = f"{work.stitch}-{name}-{work.each + 1}"
    if not is_stitch(identity):
        return False
    items[works[-1]] = replace(work, stitch=_usual(identity, name), each=1)
    return True


def _usual(identity: str, name: str) -> str:
    """The bunch by its plain name where it has as many legs as usual."""
    plain, made = stitch(name), stitch(identity)
    return name if (plain.base, plain.legs) == (made.base, made.legs) else identity


def _as_group(step: Step) -> Step | None:
    """The group a step is, or, where that is left open, may be; a few stitches in one place are one, too."""
    if isinstance(step, Choice):
        for option in step.options:
            first = option.steps[0] if option.steps else None
            if len(option.steps) == 1 and isinstance(first, Group):
                return first
        step = step.options[0].steps[0] if step.options[0].steps else step
    if isinstance(step, Group) or (isinstance(step, Work) and step.each > 1):
        return step
    return None


def made_here(passage: "Passage") -> bool:
    """`… — shell made`, `…, a shell made`: such a name without its brackets, taken."""
    c = passage.c
    at = 1 if c.word("a", "first") or (c.peek().type in ("number", "ordinal") and c.peek().n == 1) else 0
    name = name_in([c.peek(at).value])
    if not name or not passage.folder.items:
        return False
    at += 2 if c.word("st", ahead=at + 1) else 1
    if c.peek(at).value != "work" or c.peek(at + 1).type not in ("sign", "end"):
        return False
    c.i += at + 1
    return names_group(passage, [name]) or True


def shell_of(c: Cursor) -> str:
    """`1 shell of 2 dc, ch 1, 2 dc …`, `a group of 3 dc in each …`: the name, its words taken; empty where what it is
    made of does not follow."""
    at = 0
    if (c.peek().type == "number" and c.peek().n == 1) or c.word("a"):
        at = 1
    name = name_in([c.peek(at).value])
    if not name or name == "picot":
        return ""
    at += 2 if c.word("st", ahead=at + 1) else 1
    if not (c.word("of", ahead=at) or c.peek(at).value in ("consisting", "composed")):
        return ""
    at += 2 if c.word("of", ahead=at + 1) else 1
    counted = c.peek(at).type == "number" and (c.peek(at + 1).type == "stitch" or c.word("chain", ahead=at + 1))
    if not counted and not c.sign("(", "[", ahead=at):
        return ""
    c.i += at
    return name


def completed(passage: "Passage") -> list[Step] | None:
    """`ch 3 and complete shell (as before)`: what is left of it when its first stitch is the chain just made."""
    c, items = passage.c, passage.folder.items
    if c.peek().value not in ("complete", "finish", "completing") or not items or not isinstance(items[-1], Chain):
        return None
    at = 1
    while c.word("the", "a", "first", ahead=at):
        at += 1
    parts = passage.memory.specials.get(name_in([c.peek(at).value]), ()) or passage.memory.heap
    if not name_in([c.peek(at).value]) or not parts:
        return None
    begin, c.i = c.i, c.i + at + 1
    c.skip_words("st", "as", "before", "previous", "round", "row", "usual", "in", "same", "sp", "place")
    first = parts[0]
    less = (replace(first, each=first.each - 1),) if isinstance(first, Work) and first.each > 1 else ()
    return [Group(c.span(begin), (*less, *parts[1:]), Target(How.SAME, Noun.PLACE))]

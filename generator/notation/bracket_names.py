"""Brackets that say how a stitch is worked, or name what was just worked."""

from dataclasses import replace
from typing import TYPE_CHECKING

from generator.notation.cursor import Cursor
from generator.notation.places import starts_place
from generator.notation.prose import remark
from generator.notation.times import read_times
from generator.notation.tree import (
    Choice,
    Define,
    Remark,
    Work,
)

if TYPE_CHECKING:
    from generator.notation.passage import Passage


def definition(passage: "Passage", inner: Cursor, begin: int, close: int) -> bool:
    """`(popcorn: 5 dc in same st, …)`, `(to decrease: …)`, `(shell made)`: explains and makes nothing."""
    c = passage.c
    at = inner.i
    while (
        at < inner.end
        and at < inner.i + 6
        and not (inner.tokens[at].type == "sign" and inner.tokens[at].value in (":", "=", ",", ";"))
    ):
        at += 1
    colon = at < inner.end and inner.tokens[at].value in (":",) and at > inner.i
    words = [t.value for t in inner.tokens[inner.i : inner.end]]
    if colon:
        c.i = close + 1
        passage.folder.add(
            [Define(c.span(begin), " ".join(words[: at - inner.i]), " ".join(words[at - inner.i + 1 :]))]
        )
        return True
    if "dec" in words and "shell" in words and _names_decrease(passage):
        c.i = close + 1
        return True
    if words and (
        words[-1] == "work"
        or (
            words[0]
            in (
                "this",
                "these",
                "first",
                "note",
                "see",
                "to",
                "the",
                "always",
                "by",
                "for",
                "as",
                "a",
                "right",
                "wrong",
                "center",
                "front",
                "back",
                "or",
            )
            and not any(t.type == "stitch" for t in inner.tokens[inner.i : inner.end])
        )
    ):
        c.i = close + 1
        if _names_group(passage, words):
            return True
        passage.folder.add([remark(inner.tokens[inner.i : inner.end], c.span(begin))])
        return True
    if words and words[0] in ("a", "=") and len(words) > 1:
        words = words[1:]
    plain = not any(t.type in ("sign", "number", "stitch") for t in inner.tokens[inner.i + 1 : inner.end])
    if (
        plain
        and len(words) <= 4
        and words
        and words[0]
        in (
            "shell",
            "picot",
            "cluster",
            "mesh",
            "popcorn",
            "v",
            "puff",
            "bobble",
            "sp",
            "loop",
            "corner",
            "pattern",
            "group",
        )
    ) or (len(words) == 1 and inner.peek().type == "other"):
        following = Cursor(c.tokens, close + 1, c.end)
        if read_times(following, star_multiplies=True) is None:
            c.i = close + 1
            if starts_place(following):
                passage.naming = words[0]
                return True
            if _names_group(passage, words):
                return True
            passage.folder.add([remark(inner.tokens[inner.i : inner.end], c.span(begin))])
            return True
    return False


def _names_decrease(passage: "Passage") -> bool:
    """`… (a decrease of 1 shell)`: what was just worked is what `decrease in next 2 shells` means from here on."""
    last = passage.folder.items[-1] if passage.folder.items else None
    step = last.options[0].steps[0] if isinstance(last, Choice) else last
    if not isinstance(step, Work):
        return False
    passage.memory.specials["decrease"] = (step,)
    passage.folder.add([Remark(step.span, "", "note")])
    return True


def _names_group(passage: "Passage", words: list[str]) -> bool:
    """`… in next loop (shell made)` names the group just read; later lines may call it by that name."""
    from generator.notation.tree import Group

    name = next(
        (w for w in words if w in ("shell", "fan", "picot", "v", "cluster", "group", "popcorn", "puff", "bobble")), ""
    )
    for item in reversed(passage.folder.items[-3:]):
        step = item.options[0].steps[0] if isinstance(item, Choice) and item.options[0].steps else item
        if name and isinstance(step, Group):
            passage.memory.specials[name] = step.steps
            passage.folder.add([Remark(step.span, "", "note")])
            return True
        if name and isinstance(step, Work) and step.each > 1:
            passage.memory.specials[name] = (replace(step, target=type(step.target)(implied=True)),)
            passage.folder.add([Remark(step.span, "", "note")])
            return True
    return False

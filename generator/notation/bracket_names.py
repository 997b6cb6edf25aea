"""Brackets that say how a stitch is worked, or name what was just worked."""

from typing import TYPE_CHECKING

from generator.notation.cursor import Cursor
from generator.notation.heaped import names_group
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


_DRAWN = ("insert", "draw", "pull", "through", "off", "skip", "together", "hook")


def definition(passage: "Passage", inner: Cursor, begin: int, close: int) -> bool:
    """`(popcorn: 5 dc in same st, …)`, `(to decrease: …)`, `(shell made)`: explains and makes nothing."""
    c = passage.c
    if inner.peek().value == "a" and (
        inner.peek(1).type == "number" or inner.sign("x", "×", ahead=1) or inner.peek(1).value == "x"
    ):
        return False  # `(A x 3, B x 1)`: a yarn called A
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
    if words[:2] in (["to", "dec"], ["to", "inc"]) and any(word in words for word in _DRAWN):
        c.i = close + 1  # `(to dec 1 sc, insert hook in next sc, …)`
        passage.folder.add([Define(c.span(begin), words[1], " ".join(words[2:]))])
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
        if names_group(passage, words):
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
            "scallop",
            "fan",
        )
    ) or (len(words) == 1 and inner.peek().type == "other"):
        following = Cursor(c.tokens, close + 1, c.end)
        if read_times(following, star_multiplies=True) is None:
            c.i = close + 1
            if starts_place(following):
                passage.naming = words[0]
                return True
            if names_group(passage, words):
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

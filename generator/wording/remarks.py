"""Remarks are the author's own words; they are kept, only moved: into the reader's dialect, out of abbreviations,
and to the other hand.
"""

import re
from functools import cache

from generator.vocabulary.load import language
from generator.vocabulary.records import Language
from generator.wording.voice import Voice, words_for

_KEPT_TERMS = ("stitch", "round", "row", "space", "repeat", "beginning", "right-side", "wrong-side", "back-loop", "front-loop",
               "turning-chain", "chain-space", "loop")  # fmt: skip
"""Terms whose abbreviations are unmistakable inside a remark; `m` or `c` would not be."""
_TURNED = re.compile(
    r"(?P<before>\b(?:to|on|from|at|toward|towards) (?:the |your )?|\b)"
    r"(?P<word>anti-?clockwise|counter-?clockwise|clockwise|left|right)\b"
    r"(?P<after>(?:[ -](?:hand(?:ed)?|edge|corner|end|of)\b)?)",
    re.IGNORECASE,
)
_NOT_A_HAND = re.compile(r" (?:sides?|angles?)\b", re.IGNORECASE)
_SPACED = re.compile(r"[a-z]{1,2} [a-z]{1,2}(?: [a-z])?")
"""Old forms such as `s c` and `tr c`, unmistakable where they stand."""
_MANY = re.compile(r"(?:[2-9]|\d\d+) $")
_OTHER_HAND = {"left": "right", "right": "left", "clockwise": "anticlockwise"}


def move(words: str, voice: Voice) -> str:
    """A remark for this reader."""
    text = " ".join(words.split()).rstrip(".")
    author = voice.author
    if author is not None and (voice.whole or author.code != voice.language.code):
        text = _translate(text, author, voice)
    return mirror(text, voice) if voice.left_handed else text


def _translate(text: str, author: Language, voice: Voice) -> str:
    """Stitch names of the author's dialect become the reader's, in one pass so that none is moved twice."""
    forms = _forms(author.code)

    def swap(match: re.Match[str]) -> str:
        found = forms.get(match[0].lower())
        if found is None:
            return match[0]
        kind, key, n = found
        if _MANY.search(text, 0, match.start()):
            n = 2
        new = voice.stitch(key, n) if kind == "stitch" else voice.term(key, n)
        if kind == "stitch" and n > 1 and new == words_for(key, voice.language).name:
            new = words_for(key, voice.language).plural  # what has no short form keeps its s: `twelve picots`
        return (
            new[0].upper() + new[1:] if match[0][0].isupper() and match[0][1:].islower() and new[0].islower() else new
        )

    return _pattern(author.code).sub(swap, text)


@cache
def _forms(code: str) -> dict[str, tuple[str, str, int]]:
    """Forms of a dialect that a remark may use: form to kind, identity and number."""
    found: dict[str, tuple[str, str, int]] = {}
    words = language(code)
    for key in _KEPT_TERMS:
        term = words.terms[key]
        if term.abbreviation != term.name:
            found[term.abbreviation.lower()] = ("term", key, 1)
            found[term.abbreviation.lower() + "s"] = ("term", key, 2)
    for key, stitch in words.stitches.items():
        found[stitch.plural.lower()] = ("stitch", key, 2)
        found.setdefault(f"{stitch.name.lower()}s", ("stitch", key, 2))  # `double crochets`, as prose has it
        found[stitch.name.lower()] = ("stitch", key, 1)
        found[stitch.abbreviation.lower()] = ("stitch", key, 1)
        found.update({form: ("stitch", key, 1) for form in stitch.also if _SPACED.fullmatch(form)})
    return found


@cache
def _pattern(code: str) -> re.Pattern[str]:
    longest = sorted(_forms(code), key=lambda form: (-len(form), form))
    return re.compile(r"\b(?:" + "|".join(map(re.escape, longest)) + r")\b(?!-(?!\d))", re.IGNORECASE)


def mirror(text: str, voice: Voice) -> str:
    """Left and right, clockwise and anticlockwise change places; the right side of the fabric stays the right side."""
    other_way = "anticlockwise" if voice.language.code == "en-GB" else "counterclockwise"

    def turn(match: re.Match[str]) -> str:
        word = match["word"].lower()
        if word in ("left", "right") and not (match["before"] or match["after"]):
            return match[0]  # `two are left`, `right through`: no direction
        if word in ("left", "right") and _NOT_A_HAND.match(text, match.end()):
            return match[0]
        new = _OTHER_HAND.get(word, "clockwise")
        new = other_way if new == "anticlockwise" else new
        return match["before"] + (new.capitalize() if match["word"][0].isupper() else new) + match["after"]

    return _TURNED.sub(turn, text)

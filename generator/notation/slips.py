"""Typing slips: a word that is nothing, one keystroke away from a word the trade uses, is read as that word and told."""

from functools import lru_cache

from generator.notation.lexicon import Lexicon
from generator.notation.tokens import Token, tokenize
from generator.source import Span

_COMMON = ("next", "each", "stitch", "stitches", "around", "repeat", "times", "chain", "join", "skip", "turn", "same", "loop", "space", "first", "last", "round", "row", "from", "into", "single", "double", "crochet", "treble", "half", "ring", "magic", "work", "hook", "sts", "sc", "dc", "hdc", "tr", "ch", "inc", "dec", "rep", "rnd", "st", "sp", "across", "corner", "twice", "more", "fasten", "shell", "cluster", "picot", "htr", "dtr", "slst", "back", "front", "increase", "decrease")  # fmt: skip


def _near(word: str, other: str) -> bool:
    """One letter put in, left out, changed, or two swapped."""
    if abs(len(word) - len(other)) > 1 or word == other:
        return False
    if len(word) == len(other):
        differ = [i for i in range(len(word)) if word[i] != other[i]]
        if len(differ) == 1:
            return True
        return (
            len(differ) == 2
            and differ[1] == differ[0] + 1
            and word[differ[0]] == other[differ[1]]
            and word[differ[1]] == other[differ[0]]
        )
    short, long = sorted((word, other), key=len)
    return any(long[:i] + long[i + 1 :] == short for i in range(len(long)))


@lru_cache(maxsize=2048)
def nearest(word: str, words: tuple[str, ...] = _COMMON) -> str:
    """The trade's word one keystroke away, or empty. Two-letter words only take a swap or a doubled letter."""
    for other in words:
        if _near(word, other) and (len(word) > 3 or len(other) >= 3 or sorted(set(word)) == sorted(set(other))):
            return other
    return ""


def mend(tokens: list[Token], words: Lexicon) -> tuple[list[Token], tuple[tuple[Span, str], ...]]:
    """The tokens with unknown words read as their nearest known ones, and what was mended: where and as what."""
    out: list[Token] = []
    what: list[tuple[Span, str]] = []
    for token in tokens:
        better = nearest(token.value) if token.type == "other" else ""
        if not better:
            out.append(token)
            continue
        what.append((Span(token.start, token.end), better))
        for fresh in tokenize(better, 0, words):
            out.append(fresh._replace(start=token.start, end=token.end, glued=token.glued))
    return out, tuple(what)

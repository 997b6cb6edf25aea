"""Rounds named in words, with the numbers they have now."""

import re
from collections.abc import Mapping

_ROUND = re.compile(
    r"(?P<word>\b(?:rnds?|rounds?)\.? )(?P<first>\d+)(?P<to>(?: to |-|–| and )(?P<last>\d+))?", re.IGNORECASE
)
_BLOCK = re.compile(r"(?ms)^---$.*?^---$|^```.*?^```$")


def renumbered(words: str, numbers: Mapping[int, int]) -> str:
    """`Rnds 7 and 8` after old round 7 went to `numbers[7]`; what is not in there keeps its number."""

    def renamed(match: re.Match[str]) -> str:
        first, last = int(match["first"]), match["last"]
        told = match["word"] + str(numbers.get(first, first))
        return told + match["to"].replace(last, str(numbers.get(int(last), int(last)))) if last else told

    return _ROUND.sub(renamed, words)


def prose_renumbered(text: str, numbers: Mapping[int, int]) -> str:
    """The same in the prose of a source; header and working blocks stay as they are."""
    out, at = [], 0
    for block in _BLOCK.finditer(text):
        out += [renumbered(text[at : block.start()], numbers), block[0]]
        at = block.end()
    return "".join(out) + renumbered(text[at:], numbers)

"""Who speaks: a language, a style, and the words both choose. The only place where identities become words."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from generator.vocabulary.load import is_stitch, stitch
from generator.vocabulary.records import Language, Words


class Style(StrEnum):
    """How much is written out."""

    SHORT = "short"
    """house style: abbreviations, every place named"""
    TERSE = "terse"
    """chart room: what can go without saying goes"""
    SPELLED = "spelled"
    """no abbreviation left, for listening and for beginners"""
    STEPS = "steps"
    """repeats and ranges unrolled, one instruction a step"""


@dataclass(frozen=True, slots=True)
class Voice:
    """A language in one style, with the names of the pattern's yarns and of its own stitches.

    `yarns` maps a yarn's key to its colour name. `own` maps a stitch the pattern itself defines to its word.
    `author` is the language the source is written in: remarks are kept in the author's words and moved from there.
    """

    language: Language
    style: Style = Style.SHORT
    yarns: Mapping[str, str] = field(default_factory=dict)
    left_handed: bool = False
    author: Language | None = None
    own: Mapping[str, str] = field(default_factory=dict)

    @property
    def whole(self) -> bool:
        """Whole words instead of abbreviations."""
        return self.style is Style.SPELLED

    @property
    def terse(self) -> bool:
        """What can go without saying goes."""
        return self.style is Style.TERSE

    def say(self, phrase: str, **gaps: object) -> str:
        """A phrase of the language with its gaps filled."""
        return self.language.phrases[phrase].format(**gaps)

    def stitch(self, identity: str, n: int = 1) -> str:
        """The word for a stitch, or for several."""
        if identity in self.own:
            return self.own[identity]
        words = words_for(identity, self.language)
        if not self.whole:
            return words.abbreviation
        return words.name if n == 1 else words.plural

    def term(self, key: str, n: int = 1) -> str:
        """The word for anything else of the trade; abbreviations form their plural with s."""
        words = self.language.terms[key]
        if self.whole:
            return words.name if n == 1 else words.plural
        if n == 1 or words.plural == words.name:
            return words.abbreviation
        return words.abbreviation + "s" if words.abbreviation != words.name else words.plural

    def chains(self, n: int = 1) -> str:
        """`ch`, or `chs` for several single chains named as places."""
        words = self.language.stitches["ch"]
        if self.whole:
            return words.name if n == 1 else words.plural
        return words.abbreviation + ("s" if n > 1 else "")

    def yarn(self, key: str) -> str:
        """What a line calls a yarn it takes up: key and colour name, or the words used where the header has none."""
        colour = self.yarns.get(key, "")
        return self.say("yarn-named", key=key, colour=colour) if colour and colour != key else key


_TOGETHER = re.compile(r"(?P<base>[a-z]+?)(?P<n>[0-9]+)tog")
_BUNCH = re.compile(r"(?P<base>[a-z]+)-(?P<bunch>cluster|puff|bobble|popcorn)-(?P<n>[0-9]+)")


def words_for(identity: str, language: Language) -> Words:
    """The language's words for a stitch, composed from its parts where the language has no entry for the whole.

    A stitch that nobody has a word for is called by its identity, so that nothing is lost; `checks` reports it.
    """
    known = language.stitches.get(identity)
    if known is not None:
        return known
    say = language.phrases
    if (match := _TOGETHER.fullmatch(identity)) and is_stitch(match["base"]):
        base = words_for(match["base"], language)
        short = say["together-abbreviation"].format(stitch=base.abbreviation, n=match["n"])
        name = say["together-name"].format(stitch=base.name, n=match["n"])
        return Words(short, name, name, ())
    if (match := _BUNCH.fullmatch(identity)) and is_stitch(match["base"]):
        base, bunch = words_for(match["base"], language), language.terms[match["bunch"]]
        pattern, whole = say["multiple-bunch"], say["multiple-bunch-name"]
        return Words(
            pattern.format(n=match["n"], stitch=base.abbreviation, bunch=bunch.abbreviation),
            whole.format(n=match["n"], stitch=base.name, bunch=bunch.name),
            whole.format(n=match["n"], stitch=base.name, bunch=bunch.plural),
            (),
        )
    plain = identity.replace("-", " ")
    return Words(plain, plain, plain, ())


def takes(identity: str) -> int:
    """Places a stitch takes in the work below; 1 for what the vocabulary does not know (a pattern's own stitch)."""
    return stitch(identity).consumes if is_stitch(identity) else 1

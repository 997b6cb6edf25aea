"""The list of abbreviations a pattern needs: exactly those its published text uses, no more, no fewer."""

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from generator.fabric.model import Fabric
from generator.notation import tree
from generator.source import NOWHERE
from generator.vocabulary.records import Language
from generator.wording.flow import listed
from generator.wording.instructions import Style, Written
from generator.wording.places import Scene
from generator.wording.settle import flat
from generator.wording.steps import picot
from generator.wording.voice import Voice, words_for


def unnamed(lines: Iterable[Written], language: Language, yarns: Mapping[str, str]) -> tuple[str, ...]:
    """Lines as printed, but for the names of yarns (`yarns` maps keys to them): what the lists here are read off."""
    voice = Voice(language, yarns=yarns)
    names = {voice.yarn(key): key for key in yarns}
    texts = [line.whole for line in lines]
    for name, key in names.items():
        texts = [text.replace(name, key) for text in texts]
    return tuple(texts)


def abbreviations(fabric: Fabric, language: Language, lines: Sequence[str]) -> tuple[tuple[str, str], ...]:
    """Pairs (abbreviation, whole words) used in the lines of all parts, in alphabetical order.

    The text itself is searched, so the list can't drift from what is printed.
    """
    return used(lines, _possible(fabric, language))


def used(texts: Iterable[str], possible: Iterable[tuple[str, str]]) -> tuple[tuple[str, str], ...]:
    """Those of the possible pairs whose abbreviation stands in a text, the longest first taken at every place."""
    meanings = dict(possible)
    if not meanings:
        return ()
    # `Sc` at the head of a sentence is `sc`; a yarn called `M` is not a marker (`m`).
    shown = {form: short for short in meanings for form in {short, short[0].upper() + short[1:]} if len(form) > 1}
    longest = sorted(shown, key=lambda form: (-len(form), form))
    pattern = re.compile(r"(?<![A-Za-z])(" + "|".join(map(re.escape, longest)) + r")s?(?![A-Za-z])")
    found = {shown[match[1]] for text in texts for match in pattern.finditer(text)}
    return tuple(sorted(((short, meanings[short]) for short in found), key=lambda pair: (pair[0].lower(), pair[0])))


def _possible(fabric: Fabric, language: Language) -> Iterator[tuple[str, str]]:
    """All pairs of the language, and those composed for stitches of this fabric that it has no entry for."""
    for table in (language.terms, language.stitches):
        for words in table.values():
            if words.abbreviation != words.name:
                yield words.abbreviation, words.name
    for identity in kinds_used(fabric):
        words = words_for(identity, language)
        if words.abbreviation != words.name:
            yield words.abbreviation, words.name


def kinds_used(fabric: Fabric) -> tuple[str, ...]:
    """Identities of all stitches in the fabric, in order of first use."""
    return tuple(dict.fromkeys(run.kind for part in fabric.parts for course in part.courses for run in course.runs))


_SIGNS = (
    ("count", re.compile(r"\(\d+(?: [^()]*)?\)$")),
    ("group", re.compile(r"\[[^\]]*\] (?:in|around) ")),
    ("times", re.compile(r"\) (?:\d+ times|× \d+)")),
    ("star", re.compile(r"\*[^;]*; [^*]*\* ")),
    ("along", re.compile(r"(?:^|[(,:] ?)\d+ [a-z]+(?=[,)])")),
)


def signs(language: Language, lines: Sequence[str], style: Style = Style.SHORT) -> tuple[tuple[str, str], ...]:
    """Pairs (sample, meaning) for the brackets and signs that the lines use; in the order of `_SIGNS`."""
    say = language.phrases
    gaps = {"repeat": language.terms["repeat"].abbreviation, "stitches": language.terms["stitch"].abbreviation + "s",
            "stitch": language.terms["stitch"].abbreviation, "sc": language.stitches["sc"].abbreviation}  # fmt: skip
    terse = "-terse" if style is Style.TERSE else ""
    return tuple(
        (say[f"sign-{name}{terse if f'sign-{name}-terse' in say else ''}"].format(**gaps), say[f"means-{name}"])
        for name, form in _SIGNS
        if (name != "along" or terse) and any(form.search(line) for line in lines)
    )


def own_stitches(
    fabric: Fabric, language: Language, own: Mapping[str, str], style: Style = Style.SHORT
) -> tuple[tuple[str, str], ...]:
    """Pairs (name, what it is worked as) for the stitches the pattern defines itself, in order of first use, and picots."""
    scene = Scene(Voice(language, style, own=own), inside=True, in_place=True)
    found: dict[str, str] = {}
    steps = (step for part in fabric.parts for line in part.lines for step in flat(line.steps))
    for step in steps:
        if isinstance(step, tree.Group) and step.name in own and step.name not in found:
            found[step.name] = language.phrases["means-own"].format(steps=listed(step.steps, scene))
    return (*((own[key], text) for key, text in found.items()), *_picots(fabric, scene))


def _picots(fabric: Fabric, scene: Scene) -> tuple[tuple[str, str], ...]:
    """Picots that the lines only name, as nobody can tell from the name how many chains they are and where they close."""
    steps = (step for part in fabric.parts for line in part.lines for step in flat(line.steps))
    plain = dict.fromkeys(step for step in steps if isinstance(step, tree.Picot) and not step.into)
    made = {picot(step, scene): picot(replace(step, span=NOWHERE, into="first"), scene) for step in plain}
    return tuple((name, scene.voice.say("means-picot", made=text)) for name, text in made.items() if name != text)

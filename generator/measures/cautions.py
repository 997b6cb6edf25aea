"""Usual cautions for what a pattern contains and whom it is for; all of it data (tables cautions, content-signs).

Nothing here declares a thing safe. Limits carry their edition and status, and every caution defers to local rules.
"""

import re
from collections.abc import Iterator, Mapping
from functools import cache
from typing import Any

from generator.fabric.model import Fabric, Role
from generator.measures.measured import Caution, Limit
from generator.measures.published import rows
from generator.notation.pattern import Header
from generator.notation.tree import Remark

NOT_MEANT = re.compile(r"\b(?:no|not|without|never|instead of)\s+(?:\w+\s+){0,2}$")
"""Words before a sign that take it back (`no stuffing`, `not for candles`). They take back stuff, not danger: see FIRM."""
WORKED_EYES = re.compile(r"\b(?:embroider|stitch|crochet|sew|work|felt|french knot)")
"""Eyes that are no part to come off."""
FIRM = ("flame", "hot things", "sleep")
"""Signs that count even when the pattern only warns of them."""


@cache
def _patterns() -> tuple[tuple[str, frozenset[str], re.Pattern[str]], ...]:
    found = []
    for row in rows("content-signs"):
        words = "|".join(re.escape(word) for word in sorted(row["words"], key=len, reverse=True))
        found.append((str(row["sign"]), frozenset(row["where"]), re.compile(rf"\b(?:{words})\b")))
    return tuple(found)


def signs_in(text: str, where: str) -> Iterator[tuple[str, str]]:
    """Signs a text shows, each with the word that shows it. `where` is the kind of text it is."""
    lowered = text.lower()
    for sign, places, pattern in _patterns():
        for match in pattern.finditer(lowered) if where in places else ():
            if sign in FIRM or not NOT_MEANT.search(lowered[: match.start()]):
                yield sign, match[0]
                break


def _texts(header: Header, fabric: Fabric) -> Iterator[tuple[str, str]]:
    """Every text of a pattern with the kind of text it is."""
    names = (header.title, header.kind, *header.tags, *(part.name for part in fabric.parts))
    yield from ((name, "name") for name in names)
    yield from ((notion, "notions") for notion in header.notions)
    yield from ((yarn.fibre, "fibre") for yarn in header.yarns)
    yield header.summary, "summary"


def _worked_signs(fabric: Fabric) -> Iterator[tuple[str, str]]:
    """Signs in the working itself."""
    acts = {"stuff": "stuffing", "eyes": "plastic eyes"}
    for part in fabric.parts:
        for course in part.courses:
            if any(run.role is Role.CORD for run in course.runs):
                yield "cord", "worked cord"
        for line in part.lines:
            for step in line.steps:
                if isinstance(step, Remark):
                    if step.act in acts and not (step.act == "eyes" and WORKED_EYES.search(step.words.lower())):
                        yield acts[step.act], step.words
                    found = signs_in(step.words, "notions")
                    yield from ((sign, word) for sign, word in found if sign in ("small parts", "cord"))


def signs_of(header: Header, fabric: Fabric, openwork: bool, stuffed: bool) -> Mapping[str, str]:
    """What a pattern contains: sign to the words that showed it, in the order of the table."""
    found: dict[str, str] = {}
    for text, where in _texts(header, fabric):
        for sign, word in signs_in(text, where):
            found.setdefault(sign, word)
    for sign, word in _worked_signs(fabric):
        found.setdefault(sign, word)
    for tie in header.ties:
        found.setdefault("loop" if tie.loop else "cord", tie.name)
    if openwork:
        found["openwork"] = "chain spaces"
    if stuffed or header.stuffed:
        found.setdefault("stuffing", "stuffed")
    if header.audience == "pet":
        found.setdefault("pet", "for a pet")
    if header.stuffed is False:
        found.pop("stuffing", None)
    order = [row["sign"] for row in rows("content-signs")] + ["openwork"]
    return {sign: found[sign] for sign in order if sign in found}


def _applies(row: Mapping[str, Any], signs: Mapping[str, str]) -> bool:
    return all(sign in signs for sign in row["all"]) and not any(sign in signs for sign in row["unless"])


def limit(name: str) -> Limit:
    """A published limit by name; a missing one is our own mistake and raises KeyError."""
    for row in rows("safety-limits"):
        if row["name"] == name:
            return Limit(name, float(row["value"]), row["unit"], row["what"], row["edition"], row["source"])
    raise KeyError(name)


def cautions(signs: Mapping[str, str], audience: str) -> tuple[Caution, ...]:
    """The cautions for a pattern with those signs, in the table's order."""
    return tuple(
        Caution(
            name=row["name"],
            title=row["title"],
            text=row["text"],
            because="; ".join(f"{sign} ({signs[sign]})" for sign in row["all"]),
            limits=tuple(limit(name) for name in row["limits"]),
            source=row["source"],
        )
        for row in rows("cautions")
        if audience in row["for"] and _applies(row, signs)
    )


def depends_on_audience(signs: Mapping[str, str]) -> bool:
    """Whether some caution would come or go with the audience."""
    return any(_applies(row, signs) and "child" in row["for"] and "adult" not in row["for"] for row in rows("cautions"))

"""Yarns and hooks in the header: what the maker gets together before the first stitch."""

import re
from collections.abc import Mapping

from generator.notation import quantities
from generator.notation.facts import Fact, Items, Table, Words
from generator.notation.pattern import YarnSpec
from generator.notation.reading import Desk, Take, measure, nothing, shown, text, whole
from generator.vocabulary.weights import categories_for

_MM = re.compile(rf"({quantities.NUMBER})\s*mm\b", re.IGNORECASE)
_LABEL = re.compile(
    r"(?i)(?:(?:us|uk)\b\s*)?(?:size\s+)?(?:[a-z](?:/[a-z])?(?:[-/ ]?\d{1,2}(?:[ ./]\d{1,2}){0,2})?|(?<=[sk] )\d{1,2})"
)
"""A letter as hooks carry it (`G`, `US H-8`, `size K/10½`), or a number that says whose it is (`UK 6`)."""
LARGEST_HOOK = 50.0
"""Millimetres; arm's length above the largest hook in the published tables."""


def hooks(desk: Desk, path: str, fact: Fact) -> tuple[tuple[float, ...], str] | None:
    """Hook sizes in millimetres and the letter or number written beside them: `4 mm (US G-6)`, `[4 mm, 3.5 mm]`."""
    sizes: list[float] = []
    labels: list[str] = []
    for index, item in enumerate(fact.facts if isinstance(fact, Items) else (fact,)):
        place = f"{path}.{index}" if isinstance(fact, Items) else path
        if not isinstance(item, Words):
            desk.wrong(place, item, f"`{desk.key(path)}` is {shown(item)}, where a size belongs", "4 mm")
            continue
        if _LABEL.fullmatch(item.text):  # a check names the millimetres it may mean
            labels.append(item.text)
            continue
        found = [value for match in _MM.finditer(item.text) if (value := quantities.number(match[1]))]
        if not found or not all(0.3 <= size <= LARGEST_HOOK for size in found):
            bare = quantities.number(item.text)
            fits = f"{quantities.plain(bare)} mm" if bare and bare <= LARGEST_HOOK else "4 mm, or 4 mm (US G-6)"
            desk.wrong(place, item, f"{shown(item)} is no hook size in millimetres", fits)
            continue
        sizes.extend(found)
        label = re.sub(r"\b(?:and|or|hook)\b", " ", _MM.sub(" ", item.text))
        labels.append(" ".join(label.strip(" ()[],;/").split()))
    return (tuple(sizes), "; ".join(label for label in labels if label)) if sizes or labels else None


def swatch_colour(desk: Desk, path: str, fact: Fact) -> str | None:
    """A colour for pictures: `"#6b7f3a"`."""
    if isinstance(fact, Words) and re.fullmatch(r"#(?:[0-9a-fA-F]{3}|[0-9a-fA-F]{6})", fact.text):
        digits = fact.text[1:].lower()
        return "#" + (digits if len(digits) == 6 else "".join(digit * 2 for digit in digits))
    fits = '"#6b7f3a": red, green and blue in two digits each'
    return desk.wrong(path, fact, f"{shown(fact)} is no colour for a picture", fits)


def category(desk: Desk, path: str, fact: Fact) -> int | None:
    """The published weight category, 0 to 7, by figure (words may follow: `4 medium`) or by the trade's word (`DK`)."""
    if isinstance(fact, Words):
        named = categories_for(fact.text)  # first, since the trade's words have figures of their own: `4 ply`
        if len(named) == 1:
            return named[0]
        if named:
            either = " or ".join(map(str, named))
            return desk.wrong(
                path, fact, f"{shown(fact)} is said of more than one weight of yarn", f"category {either}"
            )
        if match := re.match(r"#?([0-7])(?!\d|[ -]*ply\b)", fact.text):
            return int(match[1])
    fits = "a category from 0 (lace) to 7 (jumbo), or a word of the trade such as DK"
    return desk.wrong(path, fact, f"{shown(fact)} is no weight of yarn", fits)


def mass_and_length(example: str) -> Take:
    """`50 g = 85 m`, either half alone, in any order; gives (grams, metres)."""

    def take(desk: Desk, path: str, fact: Fact) -> tuple[float | None, float | None] | None:
        halves = re.split(r"\s*(?:=|/|,(?!\d)|\band\b)\s*", fact.text) if isinstance(fact, Words) else []
        masses = [value for half in halves if (value := quantities.grams(half))]
        lengths = [value for half in halves if (value := quantities.metres(half))]
        if not halves or len(masses) > 1 or len(lengths) > 1 or len(masses) + len(lengths) != len(halves):
            return desk.wrong(path, fact, f"{shown(fact)} is no amount of yarn", example)
        return (masses[0] if masses else None, lengths[0] if lengths else None)

    return take


_YARN: Mapping[str, tuple[str, Take]] = {
    "colour": ("colour", text), "color": ("colour", text), "swatch": ("swatch", swatch_colour),
    "weight": ("weight", category), "fibre": ("fibre", text), "fiber": ("fibre", text),
    "ball": ("ball", mass_and_length("50 g = 85 m")), "needs": ("needs", mass_and_length("40 g, 68 m")),
    "grams per ball": ("grams_per_ball", measure(quantities.grams, "50 g", most=10_000.0)),
    "metres per ball": ("metres_per_ball", measure(quantities.metres, "85 m", most=100_000.0)),
    "strands": ("strands", whole(1, 12)),
}  # fmt: skip


def yarns(desk: Desk, path: str, fact: Fact) -> tuple[YarnSpec, ...] | None:
    """Yarns by the name the working lines use: `A: {colour: reed green, weight: 4}`, or `A: reed green`."""
    if not isinstance(fact, Table):
        return desk.wrong(
            path, fact, f"`{desk.key(path)}` is {shown(fact)}, where yarns belong", "A: {colour: reed green, weight: 4}"
        )
    return tuple(yarn for entry in fact.entries if (yarn := _yarn(desk, path, entry.key, entry.fact)) is not None)


def _yarn(desk: Desk, path: str, key: str, fact: Fact) -> YarnSpec | None:
    inner = f"{path}.{key}"
    desk.spans[inner] = fact.span
    if isinstance(fact, Words):
        return YarnSpec(key, key if nothing(fact) or not fact.text else fact.text)
    if not isinstance(fact, Table):
        return desk.wrong(
            inner, fact, f"`{key}` is {shown(fact)}, where a yarn belongs", "{colour: reed green, weight: 4}"
        )
    found = desk.table(inner, fact, _YARN)
    grams, metres = found.pop("ball", (None, None))
    stated = found.pop("needs", (None, None))
    if "colour" not in found and f"{inner}.colour" not in desk.spans:
        desk.wrong(inner, fact, f"yarn `{key}` has no colour", "colour: reed green")
    found.setdefault("colour", key)
    put_up = {"grams_per_ball": grams, "metres_per_ball": metres}
    return YarnSpec(key, stated_grams=stated[0], stated_metres=stated[1], **(put_up | found))

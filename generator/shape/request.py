"""What a designer asks for: the `key: value` lines of a shape block, read with their places.

    form: egg
    height: 7 cm
    width: 5.2 cm
    gauge: 22 sc x 23 rounds = 10 cm
    bands: A to 3 cm, B to 5 cm, C

Wrong values are told at their own place and left out, like those of a header.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field

from generator.diagnostics.record import Checked, Finding, Severity
from generator.notation import quantities
from generator.notation.facts import Fact, Items, Words, read_facts
from generator.notation.gauge import gauge, named_in
from generator.notation.pattern import Gauge
from generator.notation.reading import Desk, Take, choice, measure, shown, text, whole
from generator.notation.stash import category, hooks
from generator.shape.bands import Band
from generator.shape.profile import Point
from generator.shape.sketch import SketchError, sketch
from generator.shape.solids import FORMS
from generator.source import Source, Span

FREE = ("profile", "path")
"""Forms given by their outline: points of radius and height, or an SVG path."""
WHERE = "shape"
LARGEST_MM = 3000.0


@dataclass(frozen=True, slots=True)
class Request:
    """One shape block, read. Sizes in mm by name; None, 0 and () are what was left out."""

    form: str = ""
    sizes: Mapping[str, float] = field(default_factory=dict)
    points: tuple[Point, ...] = ()
    """Outline of a free form as given (a path's unit is its own until `height` or `width` scales it)."""
    gauge: Gauge | None = None
    hook: float = 0.0
    weight: int | None = None
    stitch: str = ""
    joined: bool = False
    top_first: bool = False
    bottom: str = ""
    top: str = ""
    corners: bool = False
    repeat: int = 0
    grow: int = 2
    """Of a frill: one stitch more after every so many."""
    bands: tuple[Band, ...] = ()
    spans: Mapping[str, Span] = field(default_factory=dict)


def read_request(source: Source, terms: str = "") -> Checked[Request]:
    """Read a shape block's text, stitches in US terms unless `terms` is `UK`.

    Gives what a header gives, and `shape-without-form`.
    """
    facts = read_facts(source, Span(0, len(source.text)))
    desk = Desk()
    found = desk.table(WHERE, facts.value, {**FIELDS, "stitch": ("stitch", choice(**STITCHES[terms or "US"]))})
    if "gauge" in found:
        found["gauge"] = named_in(desk, f"{WHERE}.gauge", found["gauge"], terms)
    sizes = {name: found.pop(name) for name in SIZES.values() if name in found}
    findings = [*facts.findings, *desk.findings]
    if f"{WHERE}.points" in desk.spans and f"{WHERE}.form" not in desk.spans:
        found["form"] = "profile"
    if "form" not in found and f"{WHERE}.form" not in desk.spans and not facts.findings:
        end = len(source.text.rstrip())
        message = "the shape block names no form"
        fits = "form: ball, or one of " + ", ".join(sorted({*FORMS, "profile"}))
        findings.append(Finding("shape-without-form", Severity.ERROR, message, Span(0, end), fits))
    found.pop("note", None)
    for name, yes in (("joined", "joined"), ("top_first", "top"), ("corners", "stacked")):
        if name in found:
            found[name] = found[name] == yes
    return Checked(Request(sizes=sizes, spans=desk.spans, **found), tuple(findings))


_LENGTH = measure(quantities.millimetres, "7 cm, or 2 3/4 in", most=LARGEST_MM)


def _hook(desk: Desk, path: str, fact: Fact) -> float | None:
    found = hooks(desk, path, fact)
    return found[0][0] if found else None


def _items(fact: Fact) -> tuple[Words, ...] | None:
    """A list, or the same written with commas or semicolons; each with its place."""
    if isinstance(fact, Items):
        words = tuple(item for item in fact.facts if isinstance(item, Words))
        return words if len(words) == len(fact.facts) else None
    if not isinstance(fact, Words):
        return None
    found = []
    for match in re.finditer(r"[^,;]+", fact.text):
        start = fact.span.start + match.start() + len(match[0]) - len(match[0].lstrip())
        found.append(Words(match[0].strip(), Span(start, start + len(match[0].strip()))))
    return tuple(item for item in found if item.text)


_POINT = re.compile(rf"({quantities.NUMBER})\s*(mm|cm|in)?\s*(?:x|×|at|@|\s)\s*(-?{quantities.NUMBER})\s*(mm|cm|in)?")
_UNIT = {"mm": 1.0, "cm": 10.0, "in": 25.4}


def points(desk: Desk, path: str, fact: Fact) -> tuple[Point, ...] | None:
    """`0 x 0, 3 x 0, 4.5 x 2 cm`: radius times height, in cm where no unit stands; one unit serves all."""
    fits = "0 x 0, 3 x 0, 4.5 x 2, 3 x 6 cm: radius x height, from the beginning of the work"
    items = _items(fact)
    if not items or len(items) < 2:
        return desk.wrong(path, fact, f"`{path}` is {shown(fact)}, where an outline belongs", fits)
    matches = [(_POINT.fullmatch(item.text), item) for item in items]
    units = {unit for match, _ in matches if match for unit in (match[2], match[4]) if unit}
    found = []
    for match, item in matches:
        if match is None:
            message = f"`{item.text}` is no point of an outline"
            if re.match(r"\s*-", item.text):
                message = f"`{item.text}` has a radius below 0"
            return desk.wrong(path, item, message, fits)
        only = next(iter(units)) if len(units) == 1 else "cm"
        scale = _UNIT[match[4] or match[2] or only]
        level = match[3].lstrip("-")
        sign = -1 if match[3].startswith("-") else 1
        found.append(((quantities.number(match[1]) or 0.0) * scale, sign * (quantities.number(level) or 0.0) * scale))
    return tuple(found)


def path_points(desk: Desk, path: str, fact: Fact) -> tuple[Point, ...] | None:
    """An SVG path: its left edge lies on the axis, up is up. Its first point is where the work begins."""
    fits = "M 0 90 C 40 90 50 60 30 0: x is the radius, y runs down as in SVG"
    if not isinstance(fact, Words):
        return desk.wrong(path, fact, f"`{path}` is {shown(fact)}, where an SVG path belongs", fits)
    try:
        return sketch(fact.text)
    except SketchError as error:
        return desk.wrong(path, fact, str(error), fits)


_BAND = re.compile(rf"(?P<yarn>\S+?)\s*(?:(?:to|up to|until|:)\s*(?P<upto>{quantities.NUMBER}\s*[^\W\d]+\.?|top))?")


def bands(desk: Desk, path: str, fact: Fact) -> tuple[Band, ...] | None:
    """`A to 3 cm, B to 5 cm, C`: zones by height from the lowest point; the last needs no end."""
    fits = "A to 3 cm, B to 5 cm, C"
    items = _items(fact)
    if not items:
        return desk.wrong(path, fact, f"`{path}` is {shown(fact)}, where colour zones belong", fits)
    found: list[Band] = []
    for i, item in enumerate(items):
        match = _BAND.fullmatch(item.text)
        upto = None if match is None else _upto(match["upto"], last=i == len(items) - 1)
        if match is None or upto is None:
            return desk.wrong(path, item, f"`{item.text}` is no colour zone with its end", fits)
        if found and upto <= found[-1].upto:
            return desk.wrong(path, item, f"the zone `{item.text}` ends below the one before it", fits)
        found.append(Band(match["yarn"], upto))
    return (*found[:-1], Band(found[-1].yarn, float("inf")))


def _upto(words: str | None, last: bool) -> float | None:
    if words in (None, "top"):
        return float("inf") if last else None
    return quantities.millimetres(words or "")


STITCHES: Mapping[str, Mapping[str, str]] = {
    "US": {"sc": "sc", "hdc": "hdc", "dc": "dc"},
    "UK": {"dc": "sc", "htr": "hdc", "tr": "dc"},
}
"""Stitches that rounds are planned in, by the writer's word for them."""

SIZES: Mapping[str, str] = {
    "width": "width", "diameter": "width", "across": "width", "height": "height", "tall": "height", "length": "length",
    "thickness": "thickness", "circumference": "circumference", "opening": "opening",
}  # fmt: skip
"""Sizes by the words that name them."""

FIELDS: Mapping[str, tuple[str, Take]] = {
    "form": ("form", choice(**{name: name for name in (*FORMS, *FREE)}, sphere="ball", cylinder="tube", torus="ring")),
    **{word: (name, _LENGTH) for word, name in SIZES.items()},
    "points": ("points", points),
    "profile": ("points", points),
    "path": ("points", path_points),
    "gauge": ("gauge", gauge),
    "hook": ("hook", _hook),
    "weight": ("weight", category),
    "stitch": ("stitch", choice(**STITCHES["US"])),
    "rounds": ("joined", choice(joined="joined", spiral="spiral")),
    "from": ("top_first", choice(top="top", bottom="bottom", above="top", below="bottom")),
    "bottom": ("bottom", choice(open="open", closed="closed")),
    "top": ("top", choice(open="open", closed="closed")),
    "corners": ("corners", choice(stacked="stacked", staggered="staggered", yes="stacked", no="staggered")),
    "repeat": ("repeat", whole(2, 24)),
    "grow": ("grow", whole(1, 50)),
    "bands": ("bands", bands),
    "colours": ("bands", bands),
    "note": ("note", text),
}
"""Every key of a shape block, the field it fills and its reader."""

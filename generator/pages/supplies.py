"""The materials list for paper: the same rows the page shows, joined into one value each, both systems of units."""

from collections.abc import Iterator

from generator.measures.measured import Measured
from generator.notation.pattern import Header
from generator.pages import materials
from generator.pages.amounts import Both, HookRow
from generator.pages.leaflet import Thread
from generator.pages.studio import Studio
from generator.pages.testreport import Report, Spread
from generator.wording import numbers
from generator.wording.voice import Voice


def joined(value: Both, studio: Studio) -> str:
    """`12 cm (4¾ in)`, the studio's own system first; one of them when they are alike."""
    first, second = value.metric, value.imperial
    if studio.units == "imperial" and second:
        first, second = second, first
    return f"{first} ({second})" if first and second and first != second else first or second


def facts(header: Header, measured: Measured | None, studio: Studio, voice: Voice) -> tuple[tuple[str, str], ...]:
    """Name and value in printing order; what is not known is not there."""
    return tuple((name, value) for name, value in _facts(header, measured, studio, voice) if value)


def _facts(header: Header, measured: Measured | None, studio: Studio, voice: Voice) -> Iterator[tuple[str, str]]:
    if header.level:
        note = materials.level_note(header.level)
        yield "Level", f"{header.level}, {note}" if note else header.level
    for name, value in materials.sizes(header, measured):
        yield name, joined(value, studio)
    hooks = materials.hook_rows(header, measured)
    yield "Hook" if len(hooks) < 2 else "Hooks", ", ".join(map(_hook, hooks))
    yield voice.language.terms["gauge"].name.capitalize(), joined(_gauge(header, voice), studio)
    yield "Time", materials.hours(header, measured)[0]


def _hook(row: HookRow) -> str:
    labels = [f"US {row.us}"] * bool(row.us) + [f"UK {row.uk}"] * bool(row.uk)
    return f"{row.mm} ({', '.join(labels)})" if labels else row.mm


def _gauge(header: Header, voice: Voice) -> Both:
    """The page's gauge; with whole words where the style has no abbreviations."""
    value = materials.gauge(header)[voice.language.code == "en-GB"]
    if not voice.whole or header.gauge is None:
        return value
    short = Voice(voice.language).stitch(header.gauge.stitch)
    whole = voice.stitch(header.gauge.stitch, 2)
    tie = numbers.TIE
    return Both(*(text.replace(f"{tie}{short} ", f"{tie}{whole} ") for text in (value.metric, value.imperial)))


def _testers(spread: Spread | None) -> str:
    """What testers' weighings say."""
    if spread is None:
        return ""
    low, high = (numbers.mass(grams, numbers.System.METRIC) for grams in (spread.low, spread.high))
    return f"testers used {numbers.between(low, high)}"


def threads(
    header: Header, measured: Measured | None, studio: Studio, test: Report | None = None
) -> tuple[Thread, ...]:
    """The yarns with what is needed of each and what testers used, in the header's order."""
    made = []
    used = {spread.name: spread for spread in test.grams if spread.n > 1} if test else {}
    for yarn, row in zip(header.yarns, materials.yarn_rows(header, measured), strict=True):
        ball = ""
        if yarn.grams_per_ball and yarn.metres_per_ball:
            metres, grams = numbers.plain(yarn.metres_per_ball), numbers.plain(yarn.grams_per_ball)
            ball = f"{metres}{numbers.TIE}m to {grams}{numbers.TIE}g"
        detail = ", ".join(part for part in (row.weight, row.fibre, ball) if part)
        amounts = (joined(row.length, studio), joined(row.mass, studio), row.note, _testers(used.get(row.key)))
        made.append(Thread(row.key, row.colour, yarn.swatch, detail, ", ".join(part for part in amounts if part)))
    return tuple(made)

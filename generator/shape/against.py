"""Rounds somebody has written, held against a wish: how far the worked piece is from the outline."""

from dataclasses import replace

from generator.diagnostics.record import Checked, Finding, Severity
from generator.fabric.model import Fabric, Make, Part
from generator.measures.gauge import scale_of
from generator.measures.measured import Measured
from generator.notation.pattern import Pattern
from generator.shape.hand import REPEATS, hand_of
from generator.shape.plan import Plan, finish
from generator.shape.possible import profile_of
from generator.shape.profile import Point
from generator.shape.request import read_request
from generator.shape.rescale import kind_of, rounds_of
from generator.shape.worked import deviation
from generator.source import NOWHERE, Source


def against(
    source: Source, pattern: Pattern, fabric: Fabric, measured: Measured | None = None, name: str = ""
) -> Checked[Plan | None]:
    """The rounds of a part (the first one, unless named) over the wish in the words of a shape block.

    Where the part has been measured its outline is the one measured, stuffed if it is stuffed, as on its page.

    Gives what a shape block gives, and `shape-nothing-to-compare`.
    """
    read = read_request(source, pattern.header.terms)
    shaped = profile_of(read.value)
    findings = read.findings + shaped.findings
    if shaped.value is None or findings:
        return Checked(None, findings)
    part = next((part for part in fabric.parts if part.name == name or not name), None)
    scale = scale_of(pattern.header)
    kind = kind_of(part) if part else ""
    if part is None or kind not in REPEATS or not scale.width_mm or any(c.make is Make.ROW for c in part.courses):
        return Checked(None, (_nothing(name, fabric, bool(scale.width_mm)),))
    profile = shaped.value.turned() if read.value.top_first else shaped.value
    plan = finish(profile, hand_of(scale, kind), *_counts(part))
    points = _outline(part, measured)
    if points:
        plan = replace(plan, points=points, deviation=deviation(profile, points, plan.hand.height))
    return Checked(plan, ())


def _outline(part: Part, measured: Measured | None) -> tuple[Point, ...]:
    """The measured outline of a part that stands; empty for flat ones."""
    forms = [found.form for found in measured.parts if found.name == part.name] if measured else []
    if not forms or forms[0].profile.flat or len(forms[0].profile.points) < 2:
        return ()
    return tuple((point.radius_mm, point.height_mm) for point in forms[0].profile.points)


def _counts(part: Part) -> tuple[tuple[int, ...], int]:
    """Counts round by round, and the foundation where it begins open."""
    rounds = rounds_of(part)
    foundation = rounds[0].live if part.courses[0].make is Make.FOUNDATION else 0
    return tuple(course.live for course in rounds if course.make is not Make.FOUNDATION), foundation


def _nothing(name: str, fabric: Fabric, scaled: bool) -> Finding:
    names = ", ".join(f"`{part.name}`" for part in fabric.parts if part.name)
    message = f"there is no part `{name}` worked in rounds" if name else "no part is worked in rounds of one stitch"
    fits = names or "a part worked in rounds"
    if not scaled:
        message, fits = "the pattern has no gauge, so its rounds have no size", "gauge: 20 sc x 21 rounds = 10 cm"
    return Finding("shape-nothing-to-compare", Severity.ERROR, message, NOWHERE, fits)

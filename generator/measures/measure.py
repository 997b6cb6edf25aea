"""Puts all measures of a pattern together."""

from generator.fabric.model import Fabric, Part, Role
from generator.measures.cautions import cautions, depends_on_audience, signs_of
from generator.measures.crown import laid_flat
from generator.measures.form import form
from generator.measures.gauge import Scale, scale_of
from generator.measures.hooks import measure_hook
from generator.measures.measured import Measured, PartMeasure, Shape, TieMeasure
from generator.measures.openings import eyelets, openwork
from generator.measures.substitute import neighbours
from generator.measures.time import hours
from generator.measures.yarn import amounts, calibrate, chain_length_mm
from generator.notation.pattern import Header, Pattern, Tie

WORN = ("hat",)
"""Kinds that are begun at the crown and measured along the fabric, as they lie on a table."""
KNOT = 2.0
"""A cord is wanted about twice as long as the way round: common practice, no source."""


def measure(pattern: Pattern, fabric: Fabric) -> Measured:
    """Measures a pattern as far as its header and its working allow. Never fails on partial input."""
    header = pattern.header
    scale = scale_of(header)
    parts = tuple(_part(part, scale, header) for part in fabric.parts)
    stuffed = sum(part.make for part in parts if part.form.stuffed)
    ties = tuple(_tie(tie, parts, _worked(tie, fabric)) for tie in header.ties)
    known = calibrate(header, scale)
    signs = signs_of(header, fabric, any(openwork(part, scale) for part in fabric.parts), stuffed > 0)
    kind = scale.stitch
    in_round = bool(header.gauge and header.gauge.in_round)
    return Measured(
        basis=scale.basis,
        stitch_width_mm=scale.width_mm,
        stitch_height_mm=scale.height(kind, in_round),
        stitch=kind,
        calibrated=known.known,
        swatch_ratio=known.factor if known.known else None,
        parts=parts,
        yarns=amounts(header, fabric, scale, sum(tie.metres for tie in ties) * 1000, known),
        ties=ties,
        hooks=tuple(measure_hook(mm, _weight(header)) for mm in header.hooks_mm if mm > 0),
        hours=hours(fabric, stuffed),
        cautions=cautions(signs, header.audience),
        signs=tuple(signs),
        needs_audience=not header.audience and depends_on_audience(signs),
        substitutions=tuple(neighbours(header, scale)),
    )


def _part(part: Part, scale: Scale, header: Header) -> PartMeasure:
    made = form(part, scale, header.stuffed)
    if header.kind in WORN:
        made = laid_flat(made)
    return PartMeasure(part.name, part.make, made, part.count(), eyelets(part, scale, made.shape))


def _weight(header: Header) -> int | None:
    return next((yarn.weight for yarn in header.yarns if yarn.weight is not None), None)


def _worked(tie: Tie, fabric: Fabric) -> bool:
    """Whether the text itself works that tie, so that its yarn is already counted."""
    named = tie.name.lower()
    parts = (part.name.lower() for part in fabric.parts if part.courses and part.name)
    if any(named in part or part in named for part in parts if named):
        return True
    return any(run.role is Role.CORD for part in fabric.parts for course in part.courses for run in course.runs)


def _tie(tie: Tie, parts: tuple[PartMeasure, ...], worked: bool) -> TieMeasure:
    around = around_tie(parts)
    metres = 0.0 if worked else chain_length_mm(tie.length_mm) / 1000
    return TieMeasure(tie.name, tie.length_mm, tie.loop, around, KNOT * around, metres)


def around_tie(parts: tuple[PartMeasure, ...]) -> float:
    """Way round where a tie runs: the last eyelet round, else the widest opening; 0.0 where there is neither."""
    holed = [each.around_mm for part in parts for each in part.eyelets]
    if holed:
        return holed[-1]
    return max((part.form.opening_mm for part in parts if part.form.shape is not Shape.NOTHING), default=0.0)


def scale_for(pattern: Pattern) -> Scale:
    """The scale of a pattern, for whoever draws or plans with it."""
    return scale_of(pattern.header)

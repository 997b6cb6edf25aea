"""How much yarn: the length of every stitch from its size, the ends, the ties; calibrated by the designer's swatch.

The model and what it is held against: tables yarn-model and yarn-measured.
"""

from collections import Counter, defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil

from generator.fabric.model import Course, Fabric, Part, Role
from generator.measures.gauge import Scale
from generator.measures.measured import Basis, YarnAmount
from generator.measures.published import value
from generator.measures.weights import LEAST, metres_per_gram
from generator.notation.pattern import Header, Swatch, YarnSpec
from generator.vocabulary.load import is_stitch, stitch

Lengths = defaultdict[str, float]
"""Millimetres by yarn key."""

CARRY_COURSES = 3
"""Courses over which a resting yarn is carried rather than cut; common practice, no source."""


def chain_length_mm(length_mm: float) -> float:
    """Yarn in a chain of that length: about five times, not the three or four often repeated."""
    return length_mm * value("yarn-model", "chain-per-length")


def stitch_length_mm(kind: str, scale: Scale, role: Role = Role.STITCH) -> float:
    """Yarn in one stitch. A foundation chain is as wide as what is worked into it, any other chain hangs free."""
    if kind == "ch":
        return chain_length_mm(scale.width_mm if role is Role.FOUNDATION else scale.free_chain())
    single = chain_length_mm(scale.width_mm) + value("yarn-model", "stem-per-height") * scale.height("sc")
    if not is_stitch(kind):
        return single
    known = stitch(kind)
    if known.family == "foundation":  # makes its own chain and stands on it
        return chain_length_mm(scale.width_mm) + single * stitch(known.base).yarn
    return single * known.yarn


@dataclass(frozen=True, slots=True)
class Calibration:
    """What the designer's own swatch says of the model."""

    factor: float = 1.0
    """Measured over modelled yarn; 1.0 without a swatch."""
    known: bool = False


def swatch_metres(swatch: Swatch, yarn: YarnSpec | None) -> float | None:
    """Metres in a swatch, by weight where only grams are given; None when nothing tells."""
    if swatch.metres and swatch.metres >= LEAST:
        return swatch.metres
    gram = metres_per_gram(yarn) if yarn else None
    return swatch.grams * gram[0] if gram and swatch.grams and swatch.grams >= LEAST else None


def calibrate(header: Header, scale: Scale) -> Calibration:
    """Measured over modelled yarn of the swatch, its foundation chain included."""
    swatch = header.swatch
    if swatch is None or not scale.width_mm or swatch.stitches <= 0 or swatch.rows <= 0:
        return Calibration()
    metres = swatch_metres(swatch, header.yarns[0] if header.yarns else None)
    if not metres:
        return Calibration()
    model = swatch.stitches * swatch.rows * stitch_length_mm(swatch.stitch, scale)
    model += swatch.stitches * stitch_length_mm("ch", scale, Role.FOUNDATION)
    return Calibration(metres * 1000 / model, True)


def worked_mm(part: Part, scale: Scale) -> Lengths:
    """Yarn in the stitches of one piece by yarn key, mm; uncalibrated, without ends."""
    tally: Counter[tuple[str, str, Role]] = Counter()
    found: Lengths = defaultdict(float)
    for course in part.courses:
        for run in course.runs:
            tally[run.yarn, run.kind, run.role] += run.n
        for yarn, n in carried(course):
            found[yarn] += n * scale.width_mm * value("yarn-model", "carried")
    for (yarn, kind, role), n in tally.items():
        found[yarn] += n * stitch_length_mm(kind, scale, role)
    return found


def carried(course: Course) -> Iterator[tuple[str, int]]:
    """Yarns that come and go within a course, each with the stitches it is carried past."""
    first = course.runs[0].yarn if course.runs else ""
    if all(run.yarn == first for run in course.runs):
        return
    for yarn, times in Counter(run.yarn for run in course.runs).items():
        if times > 1:
            yield yarn, sum(run.n for run in course.runs if run.yarn != yarn)


def lengths_of_yarn(part: Part) -> Counter[str]:
    """How often each yarn is begun in one piece: once, and again after a cut or a rest too long to carry it over."""
    begun: Counter[str] = Counter()
    last: dict[str, int] = {}
    for i, course in enumerate(part.courses):
        for yarn in dict.fromkeys(run.yarn for run in course.runs):
            if yarn not in last or i - last[yarn] > CARRY_COURSES:
                begun[yarn] += 1
            last[yarn] = i
        if course.cut:
            last.clear()
    return begun


def piece_count(fabric: Fabric) -> int:
    """Pieces to work in all."""
    return sum(part.make for part in fabric.parts if part.courses)


def ends_mm(part: Part, several: bool) -> Lengths:
    """Tails of one piece by yarn key: two ends a length, and one long tail to sew with where there are several pieces."""
    found: Lengths = defaultdict(float)
    for yarn, n in lengths_of_yarn(part).items():
        found[yarn] += 2 * n * value("yarn-model", "end")
    if several and part.courses and part.courses[-1].runs:
        found[part.courses[-1].runs[-1].yarn] += value("yarn-model", "sewing-tail")
    return found


def spread(scale: Scale, calibration: Calibration) -> float:
    """Share by which the amount may be out either way."""
    if calibration.known:
        return value("yarn-model", "spread-calibrated")
    return value("yarn-model", "spread-no-gauge" if scale.basis is Basis.HOOK else "spread-uncalibrated")


def amounts(header: Header, fabric: Fabric, scale: Scale, tie_mm: float, known: Calibration) -> tuple[YarnAmount, ...]:
    """Every yarn the header names or the working uses, header's order first.

    Args:
        tie_mm: yarn in ties that are not worked in the text; counted to the first yarn.
        known: what the swatch says.
    """
    stitches, ends = _sums(header, fabric, scale)
    keys = [yarn.key for yarn in header.yarns] + [key for key in stitches if key not in {y.key for y in header.yarns}]
    if not scale.width_mm:
        stitches, ends = defaultdict(float), defaultdict(float)
    if keys and tie_mm:
        ends[keys[0]] += tie_mm
    specs = {yarn.key: yarn for yarn in header.yarns}
    share = spread(scale, known)
    return tuple(
        _amount(key, specs.get(key), stitches[key] * known.factor / 1000, ends[key] / 1000, share) for key in keys
    )


def _sums(header: Header, fabric: Fabric, scale: Scale) -> tuple[Lengths, Lengths]:
    first = header.yarns[0].key if header.yarns else ""
    several = piece_count(fabric) > 1
    stitches: Lengths = defaultdict(float)
    ends: Lengths = defaultdict(float)
    for part in fabric.parts:
        for found, into in ((worked_mm(part, scale), stitches), (ends_mm(part, several), ends)):
            for yarn, mm in found.items():
                into[yarn or first] += mm * part.make
    return stitches, ends


def _amount(key: str, spec: YarnSpec | None, worked: float, fixed: float, share: float) -> YarnAmount:
    strands = max(1, spec.strands) if spec else 1
    worked, fixed = worked * strands, fixed * strands
    metres, low, high = worked + fixed, worked * (1 - share) + fixed, worked * (1 + share) + fixed
    buy = metres * (1 + value("yarn-model", "allowance"))
    gram = metres_per_gram(spec) if spec else None
    ball = spec.metres_per_ball if spec else None
    return YarnAmount(
        key=key, colour=spec.colour if spec else key, metres=metres, low_metres=low, high_metres=high, buy_metres=buy,
        grams=metres / gram[0] if gram else None,
        low_grams=low / gram[2] if gram else None,
        high_grams=high / gram[1] if gram else None,
        buy_grams=buy / gram[0] if gram else None,
        balls=ceil(buy / ball) if ball and ball >= LEAST and metres else None,
        grams_from=gram[3] if gram else "",
    )  # fmt: skip

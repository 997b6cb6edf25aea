"""A rough range of working time from stitch counts and kinds (table pace). Rests included, learning not."""

from collections import Counter

from generator.fabric.model import Fabric, Part
from generator.measures.published import value
from generator.measures.yarn import lengths_of_yarn, piece_count
from generator.vocabulary.load import is_stitch, stitch


def effort(kind: str) -> float:
    """Time of one stitch in single crochets, from the yarn it takes."""
    yarn = stitch(kind).yarn if is_stitch(kind) else 1.0
    return value("pace", "stitch-fixed") + value("pace", "stitch-per-yarn") * yarn


def part_effort(part: Part) -> float:
    """Time of one piece in single crochets."""
    tally: Counter[str] = Counter()
    for course in part.courses:
        for run in course.runs:
            tally[run.kind] += run.n
    return sum(n * effort(kind) for kind, n in tally.items())


def finishing_minutes(fabric: Fabric, stuffed: int) -> float:
    """Weaving in, sewing on, stuffing: minutes, the same for quick and slow hands."""
    ends = sum(2 * sum(lengths_of_yarn(part).values()) * part.make for part in fabric.parts)
    sewn = max(0, piece_count(fabric) - 1)
    return ends * value("pace", "end") + sewn * value("pace", "piece") + stuffed * value("pace", "stuffing")


def minutes(stitches: float, per_minute: float) -> float:
    """Minutes for so many single crochets at a steady rate."""
    return stitches / per_minute


def hours(fabric: Fabric, stuffed: int = 0) -> tuple[float, float]:
    """Hours for a quick and for a slow maker; (0.0, 0.0) when nothing is worked.

    Args:
        stuffed: pieces to stuff.
    """
    total = sum(part_effort(part) * part.make for part in fabric.parts)
    if not total:
        return 0.0, 0.0
    extra = finishing_minutes(fabric, stuffed)
    quick, slow = (minutes(total, value("pace", name)) + extra for name in ("quick", "slow"))
    return quick / 60, slow / 60

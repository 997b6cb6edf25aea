"""Ripples: rows that rise and fall because they gain in the same places and lose in others."""

from math import atan, cos

from generator.fabric.model import Course, Role, Run
from generator.measures.gauge import Scale

PEAK, PLAIN = 3, 4
"""Stitches in the place of a peak, at most; stitches to a peak, at least. More and fewer are shells."""


def is_peak(run: Run) -> bool:
    """Whether the run is two or three stitches in one place."""
    return 1 < run.share <= PEAK and run.parent >= 0


def peaks(course: Course) -> float:
    """Peaks of a row; two increases side by side are one, an increase at either end is half of one."""
    runs = [run for run in course.runs if run.role is Role.STITCH]
    found = 0.0
    for i, run in enumerate(runs):
        if is_peak(run) and not (i and is_peak(runs[i - 1])):
            last = i
            while last + 1 < len(runs) and is_peak(runs[last + 1]):
                last += 1
            found += 0.5 if i == 0 or last == len(runs) - 1 else 1.0
    return found


def lean(course: Course, scale: Scale) -> float:
    """Cosine of the angle at which the stitches of a row lie; 1.0 for a plain one.

    Geometry: the row gains t stitches on either side of a peak while it climbs one row, so it lies at atan(t·w/h). Such
    a piece is narrower than its stitch count and longer than its rows.
    """
    found = peaks(course)
    gained = sum(run.n - run.n // run.share for run in course.runs if is_peak(run) and run.role is Role.STITCH)
    lost = course.below + gained - course.live
    if not found or gained < 2 or abs(gained - lost) > 2 or course.live - gained < PLAIN * found:
        return 1.0
    height = scale.height(course.runs[-1].kind)
    return cos(atan(gained / found / 2 * scale.width_mm / height)) if height else 1.0

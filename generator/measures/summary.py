"""The measures as plain values for JSON and for tables: rounded, named, without the course by course outline."""

from typing import Any

from generator.measures.measured import Caution, Form, Measured, PartMeasure, YarnAmount


def _round(number: float | None) -> float | None:
    return None if number is None else round(number, 1)


def plain(measured: Measured) -> dict[str, Any]:
    """Everything measured, JSON-ready. Lengths mm with one decimal, yarn metres and grams, time hours."""
    return {
        "basis": measured.basis.value,
        "stitch_mm": {
            "of": measured.stitch,
            "width": round(measured.stitch_width_mm, 2),
            "height": round(measured.stitch_height_mm, 2),
        },
        "calibrated": measured.calibrated,
        "parts": [_part(part) for part in measured.parts],
        "yarns": [_yarn(yarn) for yarn in measured.yarns],
        "ties": [
            {
                "name": tie.name,
                "length_mm": _round(tie.length_mm),
                "around_mm": _round(tie.around_mm),
                "wanted_mm": _round(tie.wanted_mm),
                "enough": tie.enough,
            }
            for tie in measured.ties
        ],
        "hooks": [
            {"mm": hook.mm, "us": hook.us, "us_note": hook.us_note, "uk": hook.uk, "uk_note": hook.uk_note}
            for hook in measured.hooks
        ],
        "hours": [_round(hour) for hour in measured.hours],
        "cautions": [_caution(caution) for caution in measured.cautions],
        "contains": list(measured.signs),
        "instead": [
            {
                "weight": other.category,
                "hook_mm": other.hook_mm,
                "stitches_to_10_cm": _round(other.stitches),
                "size_ratio": round(other.size_ratio, 2),
                "yarn_ratio": round(other.yarn_ratio, 2),
            }
            for other in measured.substitutions
        ],
    }


def _part(part: PartMeasure) -> dict[str, Any]:
    return {
        "name": part.name,
        "make": part.make,
        "stitches": part.stitches,
        **_form(part.form),
        "eyelets": [
            {
                "course": each.course,
                "count": each.count,
                "spacing_mm": _round(each.spacing_mm),
                "regular": each.regular,
            }
            for each in part.eyelets
        ],
    }


def _form(form: Form) -> dict[str, Any]:
    return {
        "shape": form.shape.value,
        "width_mm": _round(form.width_mm),
        "depth_mm": _round(form.depth_mm),
        "height_mm": _round(form.height_mm),
        "circumference_mm": _round(form.circumference_mm),
        "opening_mm": _round(form.opening_mm),
        "area_cm2": _round(form.area_mm2 / 100),
        "volume_cm3": _round(form.volume_mm3 / 1000),
        "lies": form.lie.value,
        "lies_from_course": form.lie_from,
        "corners": form.corners,
        "stuffed": form.stuffed,
        "outline_mm": [[_round(point.height_mm), _round(point.radius_mm)] for point in form.profile.points],
    }


def _yarn(yarn: YarnAmount) -> dict[str, Any]:
    return {
        "key": yarn.key,
        "colour": yarn.colour,
        "metres": _round(yarn.metres),
        "between_metres": [_round(yarn.low_metres), _round(yarn.high_metres)],
        "with_allowance_metres": _round(yarn.buy_metres),
        "grams": _round(yarn.grams),
        "between_grams": [_round(yarn.low_grams), _round(yarn.high_grams)],
        "with_allowance_grams": _round(yarn.buy_grams),
        "balls": yarn.balls,
        "grams_from": yarn.grams_from,
    }


def _caution(caution: Caution) -> dict[str, Any]:
    return {
        "name": caution.name,
        "title": caution.title,
        "text": caution.text,
        "limits": [
            {"what": limit.what, "value": limit.value, "unit": limit.unit, "edition": limit.edition}
            for limit in caution.limits
        ],
    }

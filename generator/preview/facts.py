"""The running numbers beside the page: where the work stands, how large it is, what yarn it takes."""

from generator.fabric.model import Course, Part
from generator.measures.measured import Basis, Form, Measured
from generator.pipeline import Compiled
from generator.wording import numbers


def facts(compiled: Compiled) -> tuple[tuple[str, str], ...]:
    """Pairs of a term and its value, in the order to show them."""
    parts = [part for part in compiled.fabric.parts if part.courses]
    if not parts:
        return ()
    last, found = parts[-1], []
    if len(parts) > 1:
        found.append(("Part", last.name or str(len(parts))))
    found.append((_word(last.courses[-1]), _where(last)))
    found.append(("Stitches now", str(last.courses[-1].live)))
    measured = compiled.measured
    if measured is not None and measured.basis is not Basis.NONE:
        found.extend(_measures(measured))
    return tuple(found)


def _word(course: Course) -> str:
    return "Row" if course.make == "row" else "Round"


def _where(part: Part) -> str:
    numbered = [course.number for course in part.courses if course.number is not None]
    return str(numbered[-1]) if numbered else str(len(part.courses))


def _measures(measured: Measured) -> list[tuple[str, str]]:
    largest, found = measured.largest(), []
    if largest is not None and (size := _size(largest.form)):
        found.append(("Size", size))
    for yarn in measured.yarns:
        if yarn.metres:
            found.append((f"Yarn {yarn.key}".strip(), numbers.yarn_length(yarn.metres, numbers.System.METRIC)))
    return found


def _size(form: Form) -> str:
    lengths = [numbers.length(mm, numbers.System.METRIC) for mm in (form.width_mm, form.height_mm) if mm > 0]
    return " × ".join(lengths)

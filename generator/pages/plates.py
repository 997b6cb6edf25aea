"""Drawings for editions: the charts of a part and its outline, as pictures of their own with a text alternative.

The page shows the same drawings with both dialects in the key; a printed edition speaks one.
"""

import re
from collections.abc import Iterator

from generator.charts.draw import KINDS, draw, kinds_for
from generator.charts.options import ChartOptions, Ink
from generator.charts.svg import UNIT, to_svg
from generator.fabric.model import Part
from generator.measures.measured import Form, Measured, PartMeasure, Shape
from generator.notation.pattern import Header
from generator.pages import materials
from generator.pages.figures import LARGEST, course_text
from generator.pages.leaflet import Figure
from generator.pages.prose import anchor
from generator.pages.studio import Studio
from generator.pages.supplies import joined
from generator.vocabulary.records import Language
from generator.wording import numbers
from generator.wording.voice import words_for

CHAIN_MM = 3.2
"""Length of a chain in a chart that reads well on paper (our choice): a single crochet is then about as high."""

_BOX = re.compile(r'viewBox="\S+ \S+ (\S+) (\S+)"')


def plates(
    header: Header, parts: tuple[Part, ...], measured: Measured | None, studio: Studio, language: Language
) -> dict[int, tuple[Figure, ...]]:
    """The drawings of every part, by its index: its best chart, then its outline to scale."""
    return {
        index: tuple(_of_part(header, part, _measure(measured, index), studio, language))
        for index, part in enumerate(parts)
        if part.courses and part.count() <= LARGEST
    }


def _measure(measured: Measured | None, index: int) -> PartMeasure | None:
    return measured.parts[index] if measured and index < len(measured.parts) else None


def _of_part(
    header: Header, part: Part, measure: PartMeasure | None, studio: Studio, language: Language
) -> Iterator[Figure]:
    name = part.name or header.title
    for kind in kinds_for(part)[:1]:
        said = f"Chart of {name}. The rounds in words say the same, stitch by stitch; nothing is in the chart alone."
        yield _figure(part, kind, f"{name}: chart in {language.title}", said, header, studio, language, None)
    if measure and "silhouette" in KINDS and _has_outline(measure.form):
        form = measure.form
        wide, high = (joined(materials.both(mm, numbers.length), studio) for mm in (form.width_mm, form.height_mm))
        said = f"Outline of {name} to scale: {wide} wide, {high} high, {form.shape.value}."
        yield _figure(part, "silhouette", f"{name}: outline and size", said, header, studio, language, form)


def _has_outline(form: Form) -> bool:
    return form.shape in (Shape.VESSEL, Shape.SOLID, Shape.TUBE) and form.height_mm > 0 and len(form.profile.points) > 2


def _figure(
    part: Part, kind: str, title: str, said: str, header: Header, studio: Studio, language: Language, form: Form | None
) -> Figure:
    svg = to_svg(draw(part, kind, _options(part, title, said, header, studio, language, form)), "p", plain=True)
    found = _BOX.search(svg)
    width, height = (float(found[1]), float(found[2])) if found else (1.0, 1.0)
    name = f"{anchor(part.name or 'work')}-{kind}"
    return Figure(kind, name, svg, title, said, width, height, CHAIN_MM / UNIT if form is None else 0.0)


def _options(
    part: Part, title: str, said: str, header: Header, studio: Studio, language: Language, form: Form | None
) -> ChartOptions:
    kinds = dict.fromkeys(run.kind for course in part.courses for run in course.runs)
    words = {}
    if form is not None:
        pairs = (("width", form.width_mm), ("height", form.height_mm))
        words = {name: joined(materials.both(mm, numbers.length), studio) for name, mm in pairs}
    return ChartOptions(
        inks={key: Ink(name, colour, i) for i, (key, (name, colour)) in enumerate(materials.colours(header).items())},
        sc_sign=studio.sc_sign,
        title=title,
        description=said,
        course_texts={index: course_text(course) for index, course in enumerate(part.courses)},
        names={kind: words_for(kind, language).abbreviation for kind in kinds},
        profile=tuple((point.radius_mm, point.height_mm) for point in form.profile.points) if form else (),
        profile_words=words,
    )

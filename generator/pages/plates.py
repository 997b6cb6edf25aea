"""Drawings for editions: the charts of a part and its outline, as pictures of their own with a text alternative.

The page shows the same drawings with both dialects in the key; a printed edition speaks one.
"""

import re
from base64 import b64encode
from collections.abc import Iterator, Sequence
from dataclasses import replace

from generator.charts.draw import MIRRORED, draw, for_the_left_hand, kinds_for
from generator.charts.marks import Drawing
from generator.charts.options import ChartOptions, Ink
from generator.charts.paths import UNIT
from generator.charts.svg import to_svg
from generator.fabric.model import Part
from generator.measures.measured import Form, Measured, PartMeasure, Shape
from generator.notation.pattern import Header
from generator.pages import materials
from generator.pages.figures import LARGEST, Kept, course_text
from generator.pages.leaflet import Figure
from generator.pages.photos import Ready
from generator.pages.prose import anchor
from generator.pages.rounds import unique
from generator.pages.studio import Studio
from generator.pages.supplies import joined
from generator.vocabulary.records import Language
from generator.wording import numbers
from generator.wording.voice import words_for

CHAIN_MM = 3.2
"""Length of a chain in a chart that reads well on paper (our choice): a single crochet is then about as high."""

OUTLINE = "silhouette"
_BOX = re.compile(r'viewBox="\S+ \S+ (\S+) (\S+)"')


Plates = dict[int, tuple[Figure, ...]]
"""Drawings by index of their part."""


def plates(
    header: Header,
    parts: tuple[Part, ...],
    measured: Measured | None,
    studio: Studio,
    languages: Sequence[Language],
    kept: Kept | None = None,
) -> dict[tuple[str, bool], Plates]:
    """The drawings of every part, by language code and whether for the left hand: its best chart, then its outline.

    A chart is laid out once, or taken from those `kept` of the page; the languages differ in the words of its key
    alone, the hands by a mirror.
    """
    drawn = {
        index: tuple(_of_part(header, part, _measure(measured, index), studio, kept or {}))
        for index, part in enumerate(parts)
        if part.courses and part.count() <= LARGEST and not _is_cord(_measure(measured, index))
    }
    taken: set[str] = set()
    names = [unique(anchor(part.name or "work"), taken) for part in parts]
    return {
        (language.code, left): {
            index: tuple(_figure(_handed(drawing, left), names[index], language) for drawing in drawings)
            for index, drawings in drawn.items()
        }
        for language in languages
        for left in (False, True)
    }


def _handed(drawing: Drawing, left: bool) -> Drawing:
    if not left or drawing.kind not in MIRRORED:
        return drawing
    title = f"{drawing.title} for the left hand"
    return replace(for_the_left_hand(drawing), title=title)


def photograph(ready: Ready) -> Figure:
    """A photo for print: the file every browser shows, wrapped so that it is printed like any drawing."""
    picture = ready.picture
    data = b64encode(ready.files[picture.src]).decode()
    size = f'width="{picture.width}" height="{picture.height}"'
    image = f'<image {size} href="data:image/jpeg;base64,{data}"/>'
    svg = f'<svg xmlns="http://www.w3.org/2000/svg" {size}>{image}</svg>'
    return Figure("photo", "photo", svg, "", picture.alt, picture.width, picture.height)


def _measure(measured: Measured | None, index: int) -> PartMeasure | None:
    return measured.parts[index] if measured and index < len(measured.parts) else None


def _of_part(header: Header, part: Part, measure: PartMeasure | None, studio: Studio, kept: Kept) -> Iterator[Drawing]:
    name = part.name or header.title
    for kind in kinds_for(part)[:1]:
        said = f"Chart of {name}. The rounds in words say the same, stitch by stitch; nothing is in the chart alone."
        drawn = kept.get((id(part), kind)) or draw(part, kind, _options(part, "", "", header, studio, None))
        yield replace(drawn, title=f"{name}: chart", description=said)
    if measure and _has_outline(measure.form):
        form = measure.form
        wide, high = (joined(materials.both(mm, numbers.length), studio) for mm in (form.width_mm, form.height_mm))
        said = f"Outline of {name} to scale: {wide} wide, {high} high, {form.shape.value}."
        yield draw(part, OUTLINE, _options(part, f"{name}: outline and size", said, header, studio, form))


def _is_cord(measure: PartMeasure | None) -> bool:
    """A plain cord needs no chart."""
    return measure is not None and measure.form.shape is Shape.CORD


def _has_outline(form: Form) -> bool:
    return form.shape in (Shape.VESSEL, Shape.SOLID, Shape.TUBE) and form.height_mm > 0 and len(form.profile.points) > 2


def _figure(drawing: Drawing, name: str, language: Language) -> Figure:
    outline = drawing.kind == OUTLINE
    key = tuple(replace(entry, word=words_for(entry.identity, language).abbreviation) for entry in drawing.key)
    title = drawing.title if outline or not key else f"{drawing.title} in {language.title}"
    svg = to_svg(drawing if outline else replace(drawing, key=key, title=title), "p", plain=True)
    found = _BOX.search(svg)
    width, height = (float(found[1]), float(found[2])) if found else (1.0, 1.0)
    scale = 0.0 if outline else CHAIN_MM / UNIT
    return Figure(drawing.kind, f"{name}-{drawing.kind}", svg, title, drawing.description, width, height, scale)


def _options(part: Part, title: str, said: str, header: Header, studio: Studio, form: Form | None) -> ChartOptions:
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
        profile=tuple((point.radius_mm, point.height_mm) for point in form.profile.points) if form else (),
        profile_courses=tuple(point.course for point in form.profile.points) if form else (),
        profile_words=words,
    )

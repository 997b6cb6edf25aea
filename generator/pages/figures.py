"""The drawings of a part, made ready for a page: inline SVG, with its style rules apart.

The page's content security policy allows no style inside the page, so the rules a chart brings along are taken out
and published as a style sheet beside the page.
"""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from markupsafe import Markup

from generator.charts.draw import draw, kinds_for
from generator.charts.marks import Drawing
from generator.charts.options import ChartOptions, Ink
from generator.charts.svg import to_svg
from generator.fabric.model import Course, Make, Part
from generator.measures.measured import PartMeasure, Shape
from generator.notation.tree import Loop
from generator.pages.opened import opened
from generator.pages.records import ChartView
from generator.vocabulary.load import language
from generator.wording import numbers
from generator.wording.voice import words_for

LARGEST = 6000
"""Stitches of a part that still get a drawing of every stitch in the page; more would be pages of their own weight."""


@dataclass(frozen=True, slots=True)
class Figures:
    """All drawings of a part."""

    charts: tuple[ChartView, ...]
    css: str
    files: Mapping[str, Callable[[], bytes]] = field(default_factory=dict)
    """Pictures that the page links to, by their names beside it; each is drawn by its call."""


_STYLE = re.compile(r"<style>(.*?)</style>", re.DOTALL)
_BY_STITCH = ("ring", "band", "rows")
"""Kinds that show every stitch: mirrored for the left hand, and their like rounds may be folded."""
_TITLES = {
    "ring": "Chart: round by round from the middle",
    "band": "Chart: a stretch of each round, unrolled",
    "rows": "Chart: row by row from below",
    "strip": "Colours, round by round",
    "silhouette": "Outline, to scale",
}


@dataclass(frozen=True, slots=True)
class Scene:
    """What the drawings of a pattern share."""

    colours: Mapping[str, tuple[str, str]]
    """(name, `#rrggbb`) by yarn key."""
    sc_sign: str
    title: str
    place: int = 0
    """Which part of the page it is: keeps the ids of its drawings apart from those of the others."""


Drawer = Callable[[Part, PartMeasure | None, str, Scene], Figures]
"""Draws a part: `figures`, or the preview's own way that remembers drawings by the anchor of the part."""


Kept = dict[tuple[int, str], Drawing]
"""Drawings of one fabric by the identity of the part and the kind: laid out once, for the page and for print."""


def figures(part: Part, measure: PartMeasure | None, anchor: str, scene: Scene, kept: Kept | None = None) -> Figures:
    """The drawings that help with this part, best first. They are put into `kept` too, where there is one."""
    charts: list[ChartView] = []
    rules: list[str] = []
    files: dict[str, Callable[[], bytes]] = {}
    if part.count() > LARGEST or not part.courses:
        return Figures((), "")
    for kind in chosen(part, measure):
        options = options_for(part, measure, scene, kind)
        drawing = draw(part, kind, options)
        if kept is not None:
            kept[id(part), kind] = drawing
        # capitals, which no anchor of a page has; short, because every symbol names one
        svg = to_svg(drawing, f"{chr(65 + len(charts))}{scene.place}", reachable=not charts)
        rules.extend(_STYLE.findall(svg))
        words = _TITLES.get(kind, "Chart")
        every = opened(part, drawing, options, scene.place) if kind in _BY_STITCH else None
        files.update(every.files if every else {})
        names = (every.right, every.left) if every else ()
        charts.append(ChartView(kind, words, Markup(_STYLE.sub("", svg)), kind in _BY_STITCH, names))
    return Figures(tuple(charts), "".join(rules), files)


_SOLID = (Shape.VESSEL, Shape.SOLID, Shape.TUBE)


def _stands(measure: PartMeasure | None) -> bool:
    """Whether a part has a side to be seen from."""
    return measure is not None and measure.form.shape in _SOLID and len(measure.form.profile.points) > 2


def chosen(part: Part, measure: PartMeasure | None) -> tuple[str, ...]:
    """Kinds for the page: one that shows every stitch, the outline of what stands, the colours where there are several.

    What stands up is drawn unrolled: from above its walls would lie over each other.
    """
    able = kinds_for(part)
    stitches = ("band", "ring", "rows") if _stands(measure) else ("ring", "rows", "band")
    kinds = [next((kind for kind in stitches if kind in able), "")]
    kinds += ["silhouette"] if _stands(measure) and "silhouette" in able else []
    kinds += ["strip"] if "strip" in able else []
    return tuple(kind for kind in kinds if kind)


def options_for(part: Part, measure: PartMeasure | None, scene: Scene, kind: str) -> ChartOptions:
    """What a drawing of the part needs besides its stitches: inks, words, the outline's lengths."""
    points = measure.form.profile.points if measure and kind == "silhouette" else ()
    return ChartOptions(
        inks={key: Ink(name, colour, i) for i, (key, (name, colour)) in enumerate(scene.colours.items())},
        sc_sign=scene.sc_sign,
        title=f"{_TITLES.get(kind, 'Chart')}, {scene.title}",
        description="The rounds are written out beside it, one by one; the words alone are enough to work from.",
        course_texts={index: course_text(course) for index, course in enumerate(part.courses)},
        names=names(part),
        profile=tuple((point.radius_mm, point.height_mm) for point in points),
        profile_courses=tuple(point.course for point in points),
        profile_words=_lengths(measure) if points and measure else {},
    )


def _lengths(measure: PartMeasure) -> Mapping[str, str]:
    form = measure.form
    return {
        "width": numbers.length_both(form.width_mm),
        "height": numbers.length_both(form.height_mm),
    }


def course_text(course: Course) -> str:
    """What a screen reader says for a course of the chart."""
    word = "Row" if course.make is Make.ROW else "Foundation" if course.make is Make.FOUNDATION else "Round"
    number = f" {course.number}" if course.number is not None else ""
    return f"{word}{number}, {course.live} {'stitch' if course.live == 1 else 'stitches'}"


def names(part: Part) -> Mapping[str, str]:
    """Words for the chart's key: US and UK side by side where they differ, since the drawing serves both."""
    found = {}
    for identity in dict.fromkeys(run.kind for course in part.courses for run in course.runs):
        us, uk = (words_for(identity, language(code)).abbreviation for code in ("en-US", "en-GB"))
        found[identity] = us if us == uk else f"{us} (UK {uk})"
    terms = language("en-US").terms
    return found | {loop.value: terms[key].name for loop in Loop if (key := loop.value.replace(" ", "-")) in terms}

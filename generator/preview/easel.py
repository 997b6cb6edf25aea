"""Remembers drawings: a chart is the slowest thing on a page, and most saves leave most charts as they are.

In a hurry the last drawing of a part stands in for the new one, which then follows a moment later.
"""

from collections.abc import Callable
from dataclasses import dataclass, field, replace

from generator.fabric.model import Course, Part, Run
from generator.measures.measured import PartMeasure
from generator.pages.figures import Figures, Scene, figures

Job = tuple[Part, PartMeasure | None, str, Scene]


def look(part: Part, measure: PartMeasure | None, scene: Scene) -> object:
    """Everything a drawing depends on: the stitches, not where their words stand."""
    profile = measure.form.profile if measure else None
    size = (measure.form.width_mm, measure.form.height_mm, measure.form.shape) if measure else None
    colours = tuple(scene.colours.items())
    return (
        part.name,
        tuple(map(_course, part.courses)),
        profile,
        size,
        colours,
        scene.sc_sign,
        scene.title,
        scene.place,
    )


def _course(course: Course) -> object:
    runs = tuple(map(_run, course.runs))
    return (course.number, course.make, course.forward, course.side, runs, course.edge, course.live, course.extra,
            course.shift, course.turned, course.cut)  # fmt: skip


def _run(run: Run) -> object:
    return (run.first, run.n, run.kind, run.yarn, run.parent, run.takes, run.share, run.step, run.into, run.loop, run.role,
            run.group, run.below)  # fmt: skip


@dataclass(slots=True)
class Easel:
    """The drawings of one pattern, by the name its part has in the page."""

    drawn: dict[str, tuple[object, Figures]] = field(default_factory=dict)
    due: dict[str, Job] = field(default_factory=dict)
    """Drawings that the last hurried page had to do without."""

    def quickly(self, part: Part, measure: PartMeasure | None, anchor: str, scene: Scene) -> Figures:
        """The drawing if it is still right; else the last one, the new one being due. Drawn if there is none at all."""
        key, kept = look(part, measure, scene), self.drawn.get(anchor)
        if kept is None:
            return self._without_files(self.draw((part, measure, anchor, scene)))
        if kept[0] == key:
            self.due.pop(anchor, None)
        else:
            self.due[anchor] = (part, measure, anchor, scene)
        return self._without_files(kept[1])

    def file(self, name: str) -> bytes | None:
        """A picture that a page only links to, drawn now that somebody follows the link."""
        draw = next((made.files[name] for _, made in self.drawn.values() if name in made.files), None)
        return draw() if draw else None

    def _without_files(self, made: Figures) -> Figures:
        return replace(made, files={})

    def draw(self, job: Job, drawer: Callable[..., Figures] = figures) -> Figures:
        """Draw now, and remember."""
        part, measure, anchor, scene = job
        made = drawer(part, measure, anchor, scene)
        self.drawn[anchor] = (look(part, measure, scene), made)
        if self.due.get(anchor) is job:
            del self.due[anchor]
        return made

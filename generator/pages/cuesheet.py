"""The cue sheet: round by round in large type, to be read from a stand beside the camera."""

from collections.abc import Mapping, Sequence
from typing import Any

from generator.pages.booklet import Paper, frame, template
from generator.pages.chapters import Chapter
from generator.pages.leaflet import Leaflet
from generator.pages.typesetting import Printed, typeset
from generator.wording.numbers import film_time

STAND = Paper("A4 and US Letter", 210, 279.4, 15, 20, blocks=True)
"""Legible from about a metre and a half: 20 pt (our choice)."""


def cue_sheet(leaflet: Leaflet, chapters: Sequence[Chapter], templates: Mapping[str, str], accent: str = "") -> Printed:
    """One card a line with label, words and count; the film's time where a chapter names the round."""
    return typeset(template(templates, "cues"), cues(leaflet, chapters, accent))


def cues(leaflet: Leaflet, chapters: Sequence[Chapter], accent: str = "") -> dict[str, Any]:
    """What the cue template prints."""
    times = {chapter.title.casefold(): film_time(chapter.seconds) for chapter in chapters}
    return {
        **frame(f"{leaflet.title}: cue sheet", leaflet, STAND, accent),
        "terms": leaflet.terms,
        "materials": [f"{t.key}  {t.colour}" for t in leaflet.threads] + [f"{n}: {v}" for n, v in leaflet.facts],
        "chapters": [[film_time(chapter.seconds), chapter.title] for chapter in chapters],
        "sections": [
            {
                "name": section.name,
                "make": section.make,
                "cards": [
                    {
                        "label": entry.label,
                        "text": entry.text,
                        "count": entry.count,
                        "time": times.get(entry.label.casefold(), ""),
                    }
                    for entry in section.lines
                ],
            }
            for section in leaflet.sections
            if section.lines
        ],
    }

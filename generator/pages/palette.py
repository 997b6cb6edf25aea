"""A studio's own colours: the style sheet that sets them, and whether they can be read.

Contrast by WCAG 2.2, success criteria 1.4.3 (text, 4.5 to 1) and 1.4.11 (controls, 3 to 1); the ratio is never
rounded up.
"""

import re
from collections.abc import Mapping

from generator.diagnostics.record import Finding, Severity
from generator.measures.colour import contrast
from generator.pages.studio import Studio
from generator.source import NOWHERE

_NAMES = {"paper": "paper", "ink": "ink", "accent": "accent", "quiet": "quiet", "rule": "line"}
_TEXT = 4.5
_HEX = re.compile(r"#[0-9a-fA-F]{6}")


def studio_css(studio: Studio) -> bytes:
    """Rules that put the studio's colours in place of the theme's, light and dark."""
    light = _rules(studio.colours, "")
    dark = _rules(studio.colours, "-dark")
    text = f":root{{{light}}}\n" if light else ""
    if dark:
        text += f"@media (prefers-color-scheme:dark){{:root{{{dark}}}}}\n"
    return (text or "/* the theme's own colours */\n").encode()


def _rules(colours: Mapping[str, str], suffix: str) -> str:
    found = []
    for name, variable in _NAMES.items():
        value = colours.get(name + suffix, "")
        if _HEX.fullmatch(value):
            found.append(f"--{variable}:{value}")
            if name == "accent":
                found.append(f"--on-accent:{on(value)}")
    return ";".join(found)


def on(colour: str) -> str:
    """Black or white, whichever reads better on a colour."""
    return max(("#ffffff", "#000000"), key=lambda one: contrast(one, colour))


def contrast_findings(studio: Studio, theme: Mapping[str, str]) -> tuple[Finding, ...]:
    """`colour-contrast` for every pair of colours that can't be read. `theme` holds the colours not given by the studio."""
    found: list[Finding] = []
    for suffix, page in (("", "light"), ("-dark", "dark")):
        paper = _colour(studio, theme, "paper" + suffix)
        for name in ("ink", "accent", "quiet"):
            key = name + suffix
            colour = _colour(studio, theme, key)
            if key not in studio.colours and "paper" + suffix not in studio.colours:
                continue
            ratio = contrast(colour, paper)
            if ratio < _TEXT:
                shown = int(ratio * 100) / 100
                span = studio.spans.get(f"colours.{key}", studio.spans.get(f"colours.paper{suffix}", NOWHERE))
                message = f"`{key}` {colour} on {paper} has a contrast of {shown}, on the {page} page it needs 4.5"
                found.append(Finding("colour-contrast", Severity.ERROR, message, span, nearest(colour, paper)))
    return tuple(found)


def _colour(studio: Studio, theme: Mapping[str, str], key: str) -> str:
    own = studio.colours.get(key, "")
    return own if _HEX.fullmatch(own) else theme.get(key, "#000000")


def nearest(colour: str, paper: str) -> str:
    """The colour moved towards black or white no further than it must to be read."""
    target = on(paper)
    for step in range(101):
        pairs = ((int(colour[i : i + 2], 16), int(target[i : i + 2], 16)) for i in (1, 3, 5))
        tried = "#" + "".join(f"{round(a + (b - a) * step / 100):02x}" for a, b in pairs)
        if contrast(tried, paper) >= _TEXT:
            return tried
    return target

"""What a shape block may say, in Markdown, out of the same tables that read it."""

from generator.shape.solids import FORMS

EXAMPLE = "form: egg\nheight: 7 cm\nbands: A to 2.5 cm, B\n"
"""A block that the tests make."""

_KEYS = (
    ("form", "which form, or `profile` with an outline of your own"),
    ("width, height, length, thickness, circumference", "sizes, in mm, cm or in; which ones a form needs stands below"),
    ("points", "an outline of your own, radius x height from the beginning on: `0 x 0, 3 x 0, 4.5 x 2, 3 x 6 cm`"),
    ("path", "the same drawn by hand: an SVG path, its left edge on the axis; `height` gives it its size"),
    ("gauge", "the pattern's own when left out; or `hook` and `weight`"),
    ("stitch", "`sc`, `hdc` or `dc`; the gauge's when left out"),
    ("rounds", "`spiral` or `joined`"),
    ("from", "the end to begin at: `bottom` or `top`"),
    ("bottom, top", "`open` or `closed`"),
    ("opening", "how wide an open end of a closed form is: a ball with `opening: 4 cm` is a round vase"),
    ("corners", "`stacked` where you want a polygon; else the increases are staggered"),
    ("repeat", "how often a shaped round should repeat, where it can"),
    ("bands", "colour zones by height: `A to 3 cm, B to 5 cm, C`"),
    ("grow", "of a frill: one stitch more after every so many"),
)


def markdown() -> str:
    """The section on shape blocks."""
    keys = "\n".join(f"- `{name}`: {words}" for name, words in _KEYS)
    forms = "\n".join(f"- `{name}`: {', '.join(form.needs)}{_follow(name)}" for name, form in FORMS.items())
    return (
        "## Shapes instead of rounds\n\nA block called `shape` says what you want, and its rounds are worked out: as close "
        "to the outline as your gauge allows, with repeats that come out even. The page prints the rounds; "
        "`spiralbound shape --write` puts them into your text, to be changed by hand.\n\n"
        f"````text\n```shape\n{EXAMPLE}```\n````\n\n{keys}\n\nThe forms and the sizes they need:\n\n{forms}"
    )


def _follow(name: str) -> str:
    """Sizes that may be left out, with what they follow from."""
    rows = [f"{size} is {times:g} times the {other}" for size, other, times in FORMS[name].default]
    return f" (left out, {'; '.join(rows)})" if rows else ""

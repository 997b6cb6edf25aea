"""Colours that can be seen: yarn colours brought to enough contrast on light and dark paper, and their patterns.

Contrast is that of WCAG 2.2 (relative luminance of linearised sRGB, ratio (L1 + 0.05) / (L2 + 0.05)); 4.5 is asked
for strokes because they are thin.
"""

LIGHT_PAPER = "#fbf8f1"
DARK_PAPER = "#171b1c"
LIGHT_INK = "#1f2a2e"
DARK_INK = "#ece6d8"
LIGHT_SECOND = "#8c3f22"
DARK_SECOND = "#f0a983"

PATTERNS = ("plain", "dots", "slant", "level", "crossed", "upright", "rings", "dashes")
"""Names of the fills that tell yarns apart without colour; `Ink.pattern` is an index, taken modulo their number."""


def _channels(colour: str) -> tuple[float, float, float]:
    value = int(colour.lstrip("#"), 16)
    return (value >> 16 & 255, value >> 8 & 255, value & 255)


def luminance(colour: str) -> float:
    """Relative luminance, 0 to 1."""
    r, g, b = (
        c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in (x / 255 for x in _channels(colour))
    )
    return 0.2126 * r + 0.7152 * g + 0.0722 * b


def contrast(one: str, other: str) -> float:
    """Contrast ratio, 1 to 21."""
    a, b = sorted((luminance(one), luminance(other)))
    return (b + 0.05) / (a + 0.05)


def mix(one: str, other: str, share: float) -> str:
    """`share` of the other colour in the one, mixed channel by channel."""
    pairs = zip(_channels(one), _channels(other), strict=True)
    return "#" + "".join(f"{round(a + (b - a) * share):02x}" for a, b in pairs)


def readable(colour: str, paper: str, ratio: float = 4.5) -> str:
    """The colour, moved toward black or white no further than needed to stand out from the paper."""
    towards = "#000000" if luminance(paper) > 0.18 else "#ffffff"
    for step in range(21):
        candidate = mix(colour, towards, step / 20)
        if contrast(candidate, paper) >= ratio:
            return candidate
    return towards


def tint(colour: str, paper: str) -> str:
    """The yarn as a quiet ground: mostly paper."""
    return mix(paper, colour, 0.26 if luminance(paper) > 0.18 else 0.34)

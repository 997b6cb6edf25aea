"""Telling colours apart: contrast, colour-vision deficiency, colour difference. Colours are `#rrggbb`.

Contrast: WCAG 2.2, relative luminance and contrast ratio (w3.org/WAI). Deficiency: Machado, Oliveira & Fernandes 2009,
severity 1.0, on linear RGB (inf.ufrgs.br/~oliveira/pubs_files/CVD_Simulation); its tritan matrix is an approximation.
Difference: CIEDE2000, Sharma, Wu & Dalal 2005 (doi 10.1002/col.20070), D65.
"""

from collections.abc import Sequence
from functools import lru_cache
from math import atan2, cos, degrees, exp, hypot, radians, sin, sqrt
from types import MappingProxyType

Triple = tuple[float, float, float]

MACHADO = MappingProxyType(
    {
        "protan": (
            (0.152286, 1.052583, -0.204868),
            (0.114503, 0.786281, 0.099216),
            (-0.003882, -0.048116, 1.051998),
        ),
        "deutan": (
            (0.367322, 0.860646, -0.227968),
            (0.280085, 0.672501, 0.047413),
            (-0.011820, 0.042940, 0.968881),
        ),
        "tritan": (
            (1.255528, -0.076749, -0.178779),
            (-0.078411, 0.930809, 0.147602),
            (0.004733, 0.691367, 0.303900),
        ),
    }
)
TEXT = 4.5
"""Least contrast of text (WCAG 2.2, 1.4.3)."""
GRAPHIC = 3.0
"""Least contrast of what must be seen to understand a picture, and of large text (1.4.11, 1.4.3)."""
APART = 12.0
"""CIEDE2000 below which two yarns may be taken for one, under normal sight or any deficiency. No source for yarn was
found; flat samples are told apart from 5 up (own choice, from memory)."""


def rgb(colour: str) -> Triple:
    """Red, green, blue from 0 to 1."""
    digits = colour.lstrip("#")
    return int(digits[0:2], 16) / 255, int(digits[2:4], 16) / 255, int(digits[4:6], 16) / 255


def _linear(c: float) -> float:
    return c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4


def _encoded(c: float) -> float:
    return 12.92 * c if c <= 0.0031308 else 1.055 * c ** (1 / 2.4) - 0.055


def luminance(colour: str) -> float:
    """Relative luminance, 0 black to 1 white."""
    r, g, b = (_linear(c) for c in rgb(colour))
    return 0.2126 * r + 0.7152 * g + 0.0722 * b


def contrast(one: str, other: str) -> float:
    """Contrast ratio, 1 to 21. Not to be rounded up before it is compared."""
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def seen(colour: str, deficiency: str = "") -> Triple:
    """Encoded RGB (0 to 1, unrounded) as seen with `protan`, `deutan` or `tritan`; as it is when empty."""
    if not deficiency:
        return rgb(colour)
    source = tuple(_linear(c) for c in rgb(colour))
    mixed = (sum(m * c for m, c in zip(row, source, strict=True)) for row in MACHADO[deficiency])
    r, g, b = (_encoded(min(1.0, max(0.0, c))) for c in mixed)
    return r, g, b


def simulated(colour: str, deficiency: str) -> str:
    """The colour as `#rrggbb` for somebody with that deficiency."""
    return "#" + "".join(f"{round(c * 255):02x}" for c in seen(colour, deficiency))


def lab(encoded: Sequence[float]) -> Triple:
    """CIE L*a*b* under D65 of encoded RGB (0 to 1)."""
    r, g, b = (_linear(c) for c in encoded)
    x = (0.4124564 * r + 0.3575761 * g + 0.1804375 * b) / 0.95047
    y = 0.2126729 * r + 0.7151522 * g + 0.0721750 * b
    z = (0.0193339 * r + 0.1191920 * g + 0.9503041 * b) / 1.08883
    fx, fy, fz = (c ** (1 / 3) if c > 216 / 24389 else (24389 / 27 * c + 16) / 116 for c in (x, y, z))
    return 116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz)


def _hue(a: float, b: float) -> float:
    return degrees(atan2(b, a)) % 360 if a or b else 0.0


def _mean_hue(h1: float, h2: float, grey: bool) -> float:
    if grey:
        return h1 + h2
    if abs(h1 - h2) <= 180:
        return (h1 + h2) / 2
    return (h1 + h2 + 360) / 2 if h1 + h2 < 360 else (h1 + h2 - 360) / 2


def _hue_step(h1: float, h2: float, grey: bool) -> float:
    if grey:
        return 0.0
    step = h2 - h1
    return step - 360 if step > 180 else step + 360 if step < -180 else step


def ciede2000(one: Triple, other: Triple) -> float:
    """Difference of two L*a*b* colours."""
    (l1, a1, b1), (l2, a2, b2) = one, other
    mean_c = (hypot(a1, b1) + hypot(a2, b2)) / 2
    g = 0.5 * (1 - sqrt(mean_c**7 / (mean_c**7 + 25**7)))
    a1, a2 = a1 * (1 + g), a2 * (1 + g)
    c1, c2, h1, h2 = hypot(a1, b1), hypot(a2, b2), _hue(a1, b1), _hue(a2, b2)
    grey = c1 * c2 == 0
    dh = 2 * sqrt(c1 * c2) * sin(radians(_hue_step(h1, h2, grey) / 2))
    ml, mc, mh = (l1 + l2) / 2, (c1 + c2) / 2, _mean_hue(h1, h2, grey)
    t = (
        1 - 0.17 * cos(radians(mh - 30)) + 0.24 * cos(radians(2 * mh))
        + 0.32 * cos(radians(3 * mh + 6)) - 0.20 * cos(radians(4 * mh - 63))
    )  # fmt: skip
    sl = 1 + 0.015 * (ml - 50) ** 2 / sqrt(20 + (ml - 50) ** 2)
    sc, sh = 1 + 0.045 * mc, 1 + 0.015 * mc * t
    turn = -sin(radians(60 * exp(-(((mh - 275) / 25) ** 2)))) * 2 * sqrt(mc**7 / (mc**7 + 25**7))
    dl, dc = (l2 - l1) / sl, (c2 - c1) / sc
    return sqrt(dl**2 + dc**2 + (dh / sh) ** 2 + turn * dc * (dh / sh))


def difference(one: str, other: str, deficiency: str = "") -> float:
    """CIEDE2000 of two colours as seen with that deficiency (unrounded simulation)."""
    return ciede2000(lab(seen(one, deficiency)), lab(seen(other, deficiency)))


@lru_cache(maxsize=1024)
def least_difference(one: str, other: str) -> tuple[float, str]:
    """The smallest difference over normal sight and the three deficiencies, and for whom (empty: everybody)."""
    return min((difference(one, other, kind), kind) for kind in ("", *MACHADO))

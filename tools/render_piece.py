"""Renders a worked piece as a picture: round after round of its stitches, in its own yarns, on a plain ground.

The demo studio has no camera, so its pictures are made by this: nobody worked these pieces in yarn, and their text
alternatives say so. Every stitch is where the working has it; the light, the ground and the twist of the yarn are ours.

    .venv/bin/python tools/render_piece.py sluice-lantern --lit
"""

import argparse
import math
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PIL import Image
from scipy.ndimage import gaussian_filter

from generator import library
from generator.fabric.model import Part
from generator.measures.measured import PartMeasure
from generator.pipeline import compile_pattern

Field = NDArray[np.float32]
WIDE, HIGH, FINE = 1440, 1080, 2
"""Pixels of the picture, and how many times finer it is worked."""
LIGHT = np.array([-0.5, 0.62, 0.6]) / np.linalg.norm([-0.5, 0.62, 0.6])
PATTERNS = Path("content/patterns")


def rows(part: Part, measure: PartMeasure) -> list[tuple[list[str], str, float, float, float, float]]:
    """Each course: its cells by kind, its yarn, and height and radius (mm) where it begins and where it ends."""
    ends = {point.course: (point.height_mm, point.radius_mm) for point in measure.form.profile.points}
    low = (0.0, 0.4)
    found = []
    for index, course in enumerate(part.courses):
        if index not in ends and course.number is None:
            continue  # the short stitches that level a step lie on the round they belong to
        high = ends.get(index, low)
        cells = [run.kind for run in course.runs for _ in range(run.n)]
        if math.dist(low, high) > 0.2:
            found.append((cells, course.runs[-1].yarn, *low, *high))
        low = high
    return found


def strand(s: Field, t: float, a: tuple[float, float], b: tuple[float, float], radius: float) -> tuple[Field, Field]:
    """How far a strand of yarn from a to b stands out at each place (0: not at all), and its twist there."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    long = math.hypot(dx, dy)
    along = np.clip(((s - a[0]) * dx + (t - a[1]) * dy) / long, 0, long)
    across = ((s - a[0]) * dy - (t - a[1]) * dx) / long
    off = np.hypot(s - a[0] - along * dx / long, t - a[1] - along * dy / long) / radius
    rise = np.sqrt(np.clip(1 - off * off, 0, None)) * radius
    twist = np.sin(math.tau * along / (radius * 1.5) + across / radius * 2.2)
    return rise, twist


def stitch(kind: str, s: Field, t: float, w: float, h: float) -> tuple[Field, Field]:
    """One cell (s, t in mm from its lower left corner): a single crochet is a small V over a bar; a chain lies along the top."""
    r = 0.235 * w
    if kind == "ch":
        parts = [strand(s, t, (-0.1 * w, 0.93 * h), (1.1 * w, 0.93 * h), 0.8 * r)]
    elif kind == "dc":
        parts = [
            strand(s, t, (0.5 * w, -0.1 * h), (x * w, 0.97 * h), r) for x in (0.3, 0.7)
        ] + [strand(s, t, (0.2 * w, 0.42 * h), (0.8 * w, 0.56 * h), 0.9 * r)]  # fmt: skip
    else:
        parts = [strand(s, t, (0.5 * w, -0.12 * h), (x * w, 0.97 * h), r) for x in (0.08, 0.92)]
        parts.append(strand(s, t, (0.1 * w, 0.02 * h), (0.9 * w, 0.02 * h), 0.7 * r))
    rise, twist = np.full_like(s, -0.2), np.zeros_like(s)
    for one, turned in parts:
        twist = np.where(one > rise, turned, twist)
        rise = np.maximum(rise, one)
    return rise, twist


@dataclass(frozen=True)
class Laid:
    """A course laid round the piece: which cell each line of points runs through, and where in it."""

    x: Field
    cell: NDArray[np.int64]
    kinds: NDArray[np.str_]
    cells: NDArray[np.str_]
    wide: float
    deep: float

    @staticmethod
    def of(row: tuple[list[str], str, float, float, float, float], start: float, turn: Field) -> "Laid":
        """Laid with its first stitch a share of a turn on."""
        cells, _, h0, r0, h1, r1 = row
        x = (turn + start) % 1 * len(cells)
        cell = np.minimum(x.astype(int), len(cells) - 1)
        kinds = np.array(cells)
        return Laid(x, cell, kinds[cell], kinds, math.tau * max(r0, r1) / len(cells), math.dist((h0, r0), (h1, r1)))

    def at(self, t: float) -> tuple[Field, Field]:
        """How far the yarn stands out at a height over the course's foot (mm), and its twist."""
        found = np.full_like(self.x, -0.2), np.zeros_like(self.x)
        for kind in sorted(set(self.cells)):
            for side in (-1, 0, 1):  # a neighbour's arm leans over
                rise, twist = stitch(kind, (self.x - self.cell + side) * self.wide, t, self.wide, self.deep)
                beside = self.cells[(self.cell - side) % len(self.cells)] == kind
                found = higher(found, (np.where(beside, rise, -0.2), twist))
        return found


def higher(one: tuple[Field, Field], other: tuple[Field, Field]) -> tuple[Field, Field]:
    """Of two strands the upper one, place by place."""
    return np.maximum(one[0], other[0]), np.where(other[0] > one[0], other[1], one[1])


def surface(part: Part, measure: PartMeasure, colours: dict[str, NDArray[np.float64]], scale: float, lit: bool):  # type: ignore[no-untyped-def]
    """Points of the whole piece: place (mm), colour, openness and glow; one row of the grid per line of points."""
    work = rows(part, measure)
    around = int(math.tau * max(row[5] for row in work) * scale * 1.25)
    turn = np.linspace(0, 1, around, endpoint=False, dtype=np.float32)
    noise = np.random.default_rng(7)
    lines: dict[str, list[Field]] = {name: [] for name in ("height", "radius", "rise", "twist", "shade")}
    inks: list[NDArray[np.float64]] = []
    starts = np.cumsum([0.5 / len(row[0]) for row in work])
    laid = [Laid.of(row, start, turn) for row, start in zip(work, starts, strict=True)]
    for number, (cells, yarn, h0, r0, h1, r1) in enumerate(work):
        here, last = laid[number], number == len(work) - 1
        many = max(3, int(here.deep * scale * 1.3))
        tone = 1 + 0.05 * noise.standard_normal(len(cells)).astype(np.float32)[here.cell]
        for step in range(many):
            t = (step + 0.5) / many * here.deep
            rise, twist = here.at(t)
            if t > 0.75 * here.deep and not last:  # the feet of the round above stand on this one
                rise, twist = higher((rise, twist), laid[number + 1].at(t - here.deep))
            if t < 0.3 * here.deep and number:  # and the heads of the round below reach into it
                rise, twist = higher((rise, twist), laid[number - 1].at(t + laid[number - 1].deep))
            hole = (here.kinds == "ch") & (rise <= 0)
            if last and "dc" in cells:
                crest = np.sqrt(np.abs(np.sin(math.pi * here.x * sum(a == "sc" for a in cells) / len(cells))))
                hole |= t > here.deep * (0.25 + 0.75 * crest)
            share = (step + 0.5) / many
            lines["height"].append(np.full_like(turn, h0 + (h1 - h0) * share))
            lines["radius"].append(np.full_like(turn, r0 + (r1 - r0) * share))
            lines["rise"].append(np.where(hole, np.nan, rise))
            lines["twist"].append(twist)
            lines["shade"].append(tone)
            inks.append(colours[yarn])
    grid = {name: np.array(values) for name, values in lines.items()}
    return turn, grid, np.array(inks)


def linear(swatch: str) -> NDArray[np.float64]:
    """`#rrggbb` as light."""
    value = np.array([int(swatch[i : i + 2], 16) for i in (1, 3, 5)]) / 255
    return value**2.2


def shaded(turn: Field, grid: dict[str, Field], inks: NDArray[np.float64], lit: bool, height: float):  # type: ignore[no-untyped-def]
    """Places and colours of all points that are not holes."""
    rise = np.nan_to_num(grid["rise"], nan=-0.6)
    bumpy = rise + 0.05 * grid["twist"] * (rise > 0)
    slope = np.gradient(grid["radius"], axis=0), np.gradient(grid["height"], axis=0)
    long = np.hypot(*slope) + 1e-9
    out, up = slope[1] / long, -slope[0] / long
    angle = math.tau * turn - math.pi / 2
    radius, tall = grid["radius"] + bumpy * out, grid["height"] + bumpy * up
    place = np.stack([radius * np.cos(angle), tall, -radius * np.sin(angle)], -1)
    normal = np.cross(np.gradient(place, axis=1), np.gradient(place, axis=0))
    facing = np.stack([out * np.cos(angle), up, -out * np.sin(angle)], -1)
    normal /= np.linalg.norm(normal, axis=-1, keepdims=True) + 1e-9
    normal *= np.sign((normal * facing).sum(-1, keepdims=True) + 1e-9)
    hollow = gaussian_filter(rise, (9, 9), mode=("nearest", "wrap")) - rise
    open_ = np.clip(1.05 - 0.9 * np.clip(hollow, -0.3, 1.2), 0.25, 1.25)
    wrap = np.clip((normal @ LIGHT + 0.25) / 1.25, 0, None)
    sky = 0.5 + 0.5 * normal[..., 1]
    light = (0.95 * wrap + 0.34 * sky + 0.10) * open_
    colour = inks[:, None, :] * (grid["shade"] * (1 + 0.10 * grid["twist"]))[..., None]
    if lit:
        warm = np.array([1.0, 0.55, 0.18])
        gaps = gaussian_filter(np.isnan(grid["rise"]).astype(np.float32), (22, 22), mode=("nearest", "wrap"))
        through = gaussian_filter(np.clip(0.12 - rise, 0, None), (2, 2), mode=("nearest", "wrap"))
        near = np.exp(-(((grid["height"] / height - 0.66) / 0.27) ** 2))
        glow = (1.1 * gaps + 1.3 * through * near)[..., None] * warm
        colour = colour * (0.36 * light[..., None] * np.array([0.75, 0.86, 1.1])) + colour * glow * 2.2 + 0.10 * glow
    else:
        colour = colour * light[..., None]
    kept = ~np.isnan(grid["rise"])
    if lit:  # what is seen through a window is the lamp, not the wall behind it
        kept &= (np.sin(-angle)[None, :] > -0.05) | (grid["height"] > 0.80 * height)
    return place[kept].astype(np.float32), colour[kept].astype(np.float32), facing[kept].astype(np.float32)


def ground(lit: bool, foot: tuple[float, float], wide: float) -> NDArray[np.float64]:
    """Plain paper with the piece's soft shadow."""
    y, x = np.mgrid[0 : HIGH * FINE, 0 : WIDE * FINE].astype(np.float32)
    fall = np.hypot((x / (WIDE * FINE) - 0.36) * 1.1, y / (HIGH * FINE) - 0.3)
    paper = linear("#39434c") * 0.5 if lit else linear("#dcdfdc")
    picture = paper * (1.12 - 0.5 * fall[..., None])
    dx, dy = (x - foot[0]) / wide, (y - foot[1]) / wide
    if lit:
        pool = np.exp(-((dx / 1.9) ** 2 + (dy / 0.62) ** 2))
        picture += 0.075 * pool[..., None] * np.array([1.0, 0.55, 0.18])
    far = np.exp(-(((dx - 0.38) / 0.85) ** 2 + ((dy - 0.02) / 0.2) ** 2))
    close = np.exp(-((dx / 0.62) ** 2 + ((dy - 0.02) / 0.11) ** 2))
    return picture * (1 - (0.25 if lit else 0.34) * far - 0.42 * close)[..., None]


def render(part: Part, measure: PartMeasure, colours: dict[str, str], lit: bool, tilt: float) -> Image.Image:
    """The picture. `tilt` in degrees: how far the eye looks down."""
    tall = measure.form.height_mm
    scale = min(0.60 * HIGH / tall, 0.55 * HIGH / measure.form.width_mm) * FINE
    turn, grid, inks = surface(part, measure, {key: linear(one) for key, one in colours.items()}, scale, lit)
    place, colour, _ = shaded(turn, grid, inks, lit, tall)
    c, s = math.cos(math.radians(tilt)), math.sin(math.radians(tilt))
    middle, bottom = WIDE * FINE / 2, HIGH * FINE * 0.5 + tall * c * scale / 2
    px = middle + place[:, 0] * scale
    py = bottom - (place[:, 1] * c - place[:, 2] * s) * scale
    depth = place[:, 2] * c + place[:, 1] * s
    wide = measure.form.width_mm / 2 * scale
    foot = (middle, bottom)
    picture = ground(lit, foot, wide).reshape(-1, 3)
    if lit:
        _lamp(picture, middle, bottom, wide, tall * c * scale)
    order = np.argsort(depth, kind="stable")
    for ox, oy in ((0, 0), (1, 0), (0, 1), (1, 1)):
        at = ((py + oy).astype(int) * WIDE * FINE + (px + ox).astype(int))[order]
        picture[at] = colour[order]
    return developed(picture.reshape(HIGH * FINE, WIDE * FINE, 3), lit)


def _lamp(picture: NDArray[np.float64], middle: float, bottom: float, wide: float, tall: float) -> None:
    """The lit jar inside, seen through whatever is open."""
    y, x = np.mgrid[0 : HIGH * FINE, 0 : WIDE * FINE].astype(np.float32)
    inside = (np.abs(x - middle) < wide * 0.93) & (y < bottom - 0.05 * tall) & (y > bottom - tall * 0.93)
    near = np.exp(-(((x - middle) / wide) ** 2 * 0.9 + ((bottom - y) / tall - 0.68) ** 2 * 5))
    light = near[..., None] * np.array([3.0, 1.9, 0.8])
    picture.reshape(HIGH * FINE, WIDE * FINE, 3)[inside] = light[inside]


def developed(picture: NDArray[np.float64], lit: bool) -> Image.Image:
    """Light to pixels: bloom, a soft shoulder, fine grain."""
    small = picture.reshape(HIGH, FINE, WIDE, FINE, 3).mean((1, 3))
    bright = np.clip(small - 0.75, 0, None)
    bloom = sum(gaussian_filter(bright, (sigma, sigma, 0)) for sigma in (6, 26, 80))
    small = small + (0.55 if lit else 0.12) * bloom
    small = small / (1 + 0.22 * small) * 1.12
    grain = np.random.default_rng(3).standard_normal((HIGH, WIDE, 1)) * 0.004
    return Image.fromarray((np.clip(small ** (1 / 2.2) + grain, 0, 1) * 255).round().astype(np.uint8))


def main() -> None:
    """The command line."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("pattern", help="its folder in content/patterns")
    parser.add_argument("--lit", action="store_true", help="at dusk, with a lamp inside")
    parser.add_argument("--tilt", type=float, default=14)
    parser.add_argument("--part", type=int, default=0)
    parser.add_argument("--out", help="file to write (beside the pattern)")
    options = parser.parse_args()
    folder = PATTERNS / options.pattern
    compiled = compile_pattern(library.load_text(folder / f"{options.pattern}.md").source)
    assert compiled.measured is not None
    colours = {yarn.key: yarn.swatch for yarn in compiled.pattern.header.yarns}
    part, measure = compiled.fabric.parts[options.part], compiled.measured.parts[options.part]
    picture = render(part, measure, colours, options.lit, options.tilt)
    picture.save(options.out or folder / f"{options.pattern}.jpg", quality=80, optimize=True, progressive=True)


if __name__ == "__main__":
    main()

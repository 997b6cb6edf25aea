"""The kinds of chart: folder equals table, and each has golden drawings made from patterns a designer could read.

A golden case is `cases/charts/<name>.<kind>.txt`: options as `# key: value` lines, then bare working lines. Beside it
lies the SVG. Drawings are compared as pictures (a blurred raster by cairosvg and pillow), because the last digit of a
coordinate may differ between machines. `--update` writes the SVG anew; a person looks at it.
"""

import io
from pathlib import Path

import cairosvg
import numpy as np
import pytest
from PIL import Image, ImageFilter

from generator.charts import kinds
from generator.charts.audit import audit
from generator.charts.draw import KINDS, draw
from generator.charts.options import ChartOptions, Ink
from generator.charts.specimen import entries, specimen
from generator.charts.svg import to_svg
from generator.pipeline import compile_bare
from generator.source import Source
from generator.vocabulary.load import stitches

CASES = Path(__file__).parents[1] / "cases" / "charts"
TOLERANCE = 0.004
"""Mean difference of grey, 0 to 1, that two renderings of one drawing may have."""


def drawn(case: Path) -> str:
    text = case.read_text(encoding="utf-8")
    asked = dict(line[1:].strip().split(": ", 1) for line in text.splitlines() if line.startswith("#"))
    working = "\n".join(line for line in text.splitlines() if not line.startswith("#"))
    compiled = compile_bare(Source(case.name, working), asked.get("terms", "US"))
    assert not [f for f in compiled.findings if f.severity == "error"], compiled.findings
    inks = {"A": Ink("reed", "#6b7f3a", 0), "B": Ink("peat", "#4e3524", 1), "C": Ink("salt", "#efe6d0", 2)}
    options = ChartOptions(
        inks=inks, left_handed=asked.get("hand") == "left", sc_sign=asked.get("sc", "+"), title=case.stem
    )
    kind = case.stem.rsplit(".", 1)[1]
    part = compiled.fabric.parts[0]
    drawing = draw(part, kind, options)
    if kind in ("ring", "rows", "band"):
        measured = audit(drawing, part)
        assert measured.clean, measured
    return to_svg(drawing, "c", plain=True)


def grey(svg: str) -> "np.ndarray[tuple[int, ...], np.dtype[np.float64]]":
    png = cairosvg.svg2png(bytestring=svg.encode(), output_width=500)
    picture = Image.open(io.BytesIO(png)).convert("L").filter(ImageFilter.GaussianBlur(1.5))
    return np.asarray(picture, dtype=np.float64) / 255


@pytest.mark.parametrize("case", sorted(CASES.glob("*.txt")), ids=lambda p: p.stem)
def test_golden(case: Path, update: bool) -> None:
    svg, golden = drawn(case), case.with_suffix(".svg")
    if update:
        golden.write_text(svg + "\n", encoding="utf-8")
    ours, theirs = grey(svg), grey(golden.read_text(encoding="utf-8"))
    assert ours.shape == theirs.shape
    assert float(np.abs(ours - theirs).mean()) < TOLERANCE


def test_specimen_of_every_symbol(update: bool) -> None:
    golden = CASES / "specimen.svg"
    sheet = specimen({})
    if update:
        golden.write_text(sheet + "\n", encoding="utf-8")
    assert float(np.abs(grey(sheet) - grey(golden.read_text(encoding="utf-8"))).mean()) < TOLERANCE
    assert {kind for kind, _ in entries()} >= set(stitches())


def test_folder_equals_table() -> None:
    files = {p.stem for p in Path(kinds.__file__).parent.glob("*.py")} - {"__init__"}
    assert files == set(KINDS)


def test_every_kind_has_a_golden_case() -> None:
    assert {p.stem.rsplit(".", 1)[1] for p in CASES.glob("*.txt")} == set(KINDS)


def test_the_key_names_every_loop_that_is_marked() -> None:
    text = "Rnd 1: 6 sc in magic ring\nRnd 2: in back loops only, 2 sc in each st around\nRnd 3: hdc in front loop of each st around"
    part = compile_bare(Source("<key>", text)).fabric.parts[0]
    names = {"sc": "sc", "hdc": "hdc", "back loop": "behind", "front loop": "in front"}
    words = [entry.word for entry in draw(part, "ring", ChartOptions(names=names)).key]
    assert words == ["sc", "sc, behind", "hdc", "hdc, in front"]

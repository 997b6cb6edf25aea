"""The SVG text: well-formed, reachable, self-contained, the same every time, and counted back.

Parsed with lxml, rasterised with cairosvg: general libraries as outside readers. Roles are those of the WAI-ARIA
Graphics Module 1.0 (graphics-document, graphics-object). Contrast: WCAG 2.2, 1.4.11 and the luminance definition;
the values below are the ones printed in its techniques (#767676 on white 4.54; #777777 4.48).
"""

import gzip
import re

import cairosvg
import pytest
from hand_worked import disc, flower, granny, oval, rows
from lxml import etree

from generator.charts.audit import symbols_in
from generator.charts.draw import KINDS, draw
from generator.charts.inks import DARK_PAPER, LIGHT_PAPER, contrast, luminance, mix, readable, tint
from generator.charts.marks import Sign
from generator.charts.options import ChartOptions, Ink
from generator.charts.paths import number
from generator.charts.svg import to_svg
from generator.fabric.model import Make, Part

SVG = "{http://www.w3.org/2000/svg}"
PARTS = {"disc": disc(6), "coaster": disc(4, "dc", 12, make=Make.JOINED), "square": granny(3), "flower": flower(),
         "oval": oval(), "ball": disc(5, even=5, down=4)}  # fmt: skip
OPTIONS = ChartOptions(
    title="A <small> chart",
    description="Rounds & rows",
    names={"sc": "single crochet"},
    course_texts={0: 'Round 1: "6"'},
)


def parsed(part: Part, kind: str = "ring", **how: bool) -> "etree._Element":
    return etree.fromstring(to_svg(draw(part, kind, OPTIONS), "k", standalone=True, **how).encode())


@pytest.mark.parametrize("name", PARTS)
def test_every_reference_inside_is_there(name: str) -> None:
    root = parsed(PARTS[name])
    ids = [e.get("id") for e in root.iter() if e.get("id")]
    assert len(ids) == len(set(ids))
    used = [e.get("href") for e in root.iter(f"{SVG}use", f"{SVG}textPath")]
    assert used and all(href.startswith("#") and href[1:] in ids for href in used)


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_is_well_formed_and_asks_nobody(kind: str) -> None:
    part = rows() if kind == "rows" else disc(4, even=5)
    text = to_svg(draw(part, kind, OPTIONS), "k")
    etree.fromstring(text.replace("<svg ", '<svg xmlns="http://www.w3.org/2000/svg" ', 1).encode())
    assert "http" not in text and "url(http" not in text and "@import" not in text and "<script" not in text


def test_roles_title_description_and_rounds() -> None:
    root = parsed(PARTS["disc"])
    assert root.get("role") == "graphics-document document"
    assert root[0].tag == f"{SVG}title" and root[0].text == "A <small> chart"
    assert root[1].tag == f"{SVG}desc" and root[1].text == "Rounds & rows"
    assert root.get("aria-labelledby") == "k-title k-desc"
    rounds = [e for e in root.iter(f"{SVG}g") if "course" in (e.get("class") or "").split()]
    assert [e.get("data-course") for e in rounds] == [str(i) for i in range(6)]
    assert all(e.get("role") == "graphics-object" and e.get("tabindex") == "0" for e in rounds)
    assert rounds[0].get("aria-label") == 'Round 1: "6"'
    assert all(e.get("aria-label") for e in rounds)


@pytest.mark.parametrize("name", ["disc", "square", "oval", "ball", "coaster"])
def test_symbols_counted_back_from_the_finished_text(name: str) -> None:
    part = PARTS[name]
    counted = symbols_in(to_svg(draw(part, "ring", ChartOptions()), "k"))
    for courses, drawn in counted.items():
        worked = sum(part.courses[int(c)].size for c in courses.split())
        moved = 1 if name == "oval" else 0  # the chain nearest the hook stands up as the first round's beginning
        assert abs(drawn - worked) <= moved, courses


def test_same_bytes_every_time() -> None:
    assert to_svg(draw(granny(3), "ring", OPTIONS), "k") == to_svg(draw(granny(3), "ring", OPTIONS), "k")


def test_small() -> None:
    part = disc(25)
    text = to_svg(draw(part, "ring", ChartOptions()), "c").encode()
    assert len(text) / part.count() < 60
    assert len(gzip.compress(text)) / part.count() < 10


def test_left_hand_is_the_mirror_image_with_readable_words() -> None:
    right, left = (draw(PARTS["coaster"], "ring", ChartOptions(left_handed=hand)) for hand in (False, True))
    ours = [p for g in right.groups for p in g.pieces if isinstance(p, Sign)]
    theirs = [p for g in left.groups for p in g.pieces if isinstance(p, Sign)]
    assert [(-a.x, a.y, -a.turn) for a in ours] == [(b.x, b.y, b.turn) for b in theirs]
    assert "scale(-1" not in to_svg(left, "k")
    assert re.findall(r'class="number"[^>]*>(\d+)<', to_svg(left, "k")) == ["1", "2", "3", "4"]


@pytest.mark.parametrize("kind", ["ring", "strip"])
def test_plain_form_can_be_rasterised(kind: str) -> None:
    inks = {"": Ink("natural", "#efe6d0", 3)}
    png = cairosvg.svg2png(
        bytestring=to_svg(draw(PARTS["disc"], kind, ChartOptions(inks=inks)), "k", plain=True).encode()
    )
    assert png.startswith(b"\x89PNG")
    assert "var(" not in to_svg(draw(PARTS["disc"], kind, ChartOptions()), "k", plain=True)


@pytest.mark.parametrize(
    "value, text", [(0.0, "0"), (-0.0, "0"), (-0.04, "0"), (12.50, "12.5"), (3.0, "3"), (-7.26, "-7.3")]
)
def test_one_number_formatter(value: float, text: str) -> None:
    assert number(value, 1) == text


def test_contrast_as_published() -> None:
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.005)
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.005)
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)
    assert luminance("#ffffff") == pytest.approx(1.0)


@pytest.mark.parametrize("paper", [LIGHT_PAPER, DARK_PAPER])
@pytest.mark.parametrize("yarn", ["#efe6d0", "#4e3524", "#6b7f3a", "#ffff00", "#101010", "#808080"])
def test_every_yarn_can_be_seen_on_its_ground(paper: str, yarn: str) -> None:
    assert contrast(readable(yarn, paper), paper) >= 4.5
    ground = tint(yarn, paper)
    assert contrast(readable(yarn, ground), ground) >= 4.5


def test_mixing() -> None:
    assert mix("#000000", "#ffffff", 0.5) == "#808080"
    assert mix("#123456", "#abcdef", 0.0) == "#123456"

"""The drawn cover says what the fabric says: as many rings as rounds, as many dashes as stitches."""

import math
import re
from pathlib import Path

import pytest
from lxml import etree

from generator import library
from generator.measures.colour import contrast
from generator.pages import cards, emblem, palette
from generator.pages.amounts import Both
from generator.pages.cards import sharing
from generator.pages.records import Card
from generator.pages.studio import Studio
from generator.pipeline import compile_pattern
from generator.source import Source
from tests.site.conftest import CONTENT, pattern


def rings(svg: str) -> list[float]:
    """Dashes round every ring, from its radius and the length of one dash with its gap (SVG 2, stroke-dasharray)."""
    found = re.findall(r' r="([\d.]+)"[^>]*stroke-dasharray="([\d.]+) ([\d.]+)"', svg)
    return [math.tau * float(r) / (float(dash) + float(gap)) for r, dash, gap in found]


def test_a_ring_a_round_and_a_dash_a_stitch() -> None:
    compiled = compile_pattern(Source("disc.md", pattern()))
    assert [round(n, 1) for n in rings(emblem.emblem(compiled.fabric, {"A": "#446644"}))] == [6, 12, 18, 24, 30, 36]


def test_every_cover_of_the_demo_is_a_sound_drawing_on_which_every_yarn_shows() -> None:
    seen = 0
    for text in library.load_patterns(CONTENT):
        compiled = compile_pattern(text.source)
        yarns = {yarn.key: yarn.swatch for yarn in compiled.pattern.header.yarns if yarn.swatch}
        svg = emblem.cover(compiled.fabric, yarns, compiled.pattern.header.title)
        tree = etree.fromstring(svg.encode())
        assert tree.xpath("count(//*[@stroke-dasharray])") > 3
        assert all(contrast(colour, emblem.ground(yarns)) > 1.15 for colour in yarns.values()), text.source.path
        seen += 1
    assert seen > 10


@pytest.mark.parametrize(
    "title", ["Hat", "A very long name for a very small pincushion in three colours", "Мохеровый шарф"]
)
def test_sharing_pictures_come_out_in_size_for_any_title(title: str) -> None:
    from io import BytesIO

    from PIL import Image

    card = Card("x", title, "", level="easy", hours="1–2 hours", length=Both("40 m", "44 yd"))
    svg = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 600 600"><circle cx="300" cy="300" r="200"/></svg>'
    both = sharing(card, svg, "#27332f", Studio(title="Studio"))
    assert Image.open(BytesIO(both.wide)).size == (1200, 630) and Image.open(BytesIO(both.tall)).size == (1000, 1500)


def test_the_nearest_readable_colour_is_readable() -> None:
    """WCAG 2.2, 1.4.3: 4.5 to 1."""
    for colour in ("#ffffff", "#e8d9a0", "#777777", "#000000"):
        for paper in ("#ffffff", "#f6f1e4", "#1c1a16"):
            assert contrast(palette.nearest(colour, paper), paper) >= 4.5


def test_both_themes_can_be_read_as_they_come() -> None:
    import tomllib

    for file in sorted((Path(__file__).parents[2] / "themes").glob("*/theme.toml")):
        colours = tomllib.loads(file.read_text())["colours"]
        for suffix in ("", "-dark"):
            for name in ("ink", "accent", "quiet"):
                assert contrast(colours[name + suffix], colours["paper" + suffix]) >= 4.5, (
                    file.parent.name,
                    name,
                    suffix,
                )


@pytest.mark.parametrize(
    ("title", "shown"),
    [
        ("Neap moon", "Neap moon"),
        ("x" * 100, "x" * 100),
        ("Words, " * 20, "Words, " * 13 + "Words…"),
        ("針" * 120, "針" * 100 + "…"),
    ],
)
def test_a_title_that_no_picture_holds_is_cut(title: str, shown: str) -> None:
    assert cards._cut(title) == shown

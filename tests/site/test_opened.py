"""Folded rounds of a chart, opened from the page: pictures of their own beside it, read back by a general parser (lxml)."""

from pathlib import Path

import pytest
from lxml import etree, html

from generator.preview.desk import Desk
from tests.site.conftest import TODAY, made, pattern, studio
from tests.site.test_pages import patterns, read

TUBE = """---
title: Small tube
published: 2026-05-01
terms: US
hook: 4 mm
gauge: 16 sc x 18 rounds = 10 cm
yarns:
  A: {{colour: samphire, swatch: "#4f7a4a", weight: 4, fibre: cotton}}
rounds: spiral
---

## Tube

```rounds
With A
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnds 3-{last}: sc in each st around (12)
Fasten off
```
"""


def test_folded_rounds_can_be_opened(tmp_path: Path) -> None:
    """A link for each hand, without a script; the pictures are SVG of their own, with every stitch and every number."""
    content = studio(tmp_path, {"small-tube": TUBE.format(last=9), "small-disc": pattern()})
    assert made(content, tmp_path / "site").ok
    page = tmp_path / "site/patterns/small-tube/index.html"
    drawn = read(page).xpath("//figure[.//*[@data-folded]]//figcaption//a")
    assert [(a.get("class"), str(a.text)) for a in drawn] == [
        ("righthand", "Every round drawn"),
        ("lefthand", "Every round drawn"),
    ]
    ways = []
    for link in drawn:
        tree = etree.parse(page.parent / link.get("href")).getroot()
        assert tree.tag == "{http://www.w3.org/2000/svg}svg" and tree.get("role", "").startswith("graphics-document")
        named = [str(tree.xpath(f"string(//*[@id='{name}'])")) for name in tree.get("aria-labelledby", "").split()]
        assert "every round drawn" in named[0] and all(named)
        assert not tree.xpath("//@data-folded") and tree.xpath("//*[local-name()='style']/text()")
        courses = tree.xpath("//*[@data-course]")
        assert len(courses) >= 9 and all(course.get("aria-label") for course in courses)
        signs = [use for course in courses for use in course.iter("{http://www.w3.org/2000/svg}use")]
        assert len(signs) >= 6 + 6 + 7 * 12, "increases are one sign of two stitches"
        assert not [a for e in tree.iter() for a in e.attrib.values() if "http" in a], "it asks nobody for anything"
        ways.append([use.get("transform") for use in signs])
    assert ways[0] != ways[1], "the other hand works the other way round"


def test_nothing_is_offered_to_open_where_nothing_is_folded(tmp_path: Path) -> None:
    """And pictures that are not linked to any more are swept away with the next build."""
    content, site = studio(tmp_path, {"small-tube": TUBE.format(last=9), "small-disc": pattern()}), tmp_path / "site"
    assert made(content, site).ok
    assert not read(site / "patterns/small-disc/index.html").xpath("//*[@class='opened']")
    assert not list((site / "patterns/small-disc").glob("every-round*"))
    assert len(list((site / "patterns/small-tube").glob("every-round*.svg"))) == 2
    (content / "patterns/small-tube/small-tube.md").write_text(TUBE.format(last=4), encoding="utf-8")
    assert made(content, site).removed == 2
    assert not read(site / "patterns/small-tube/index.html").xpath("//*[@class='opened']")
    assert not list((site / "patterns/small-tube").glob("every-round*"))


def test_the_preview_opens_them_too_and_follows_the_text(tmp_path: Path) -> None:
    content = studio(tmp_path, {"small-tube": TUBE.format(last=9)})
    text = content / "patterns/small-tube/small-tube.md"
    desk = Desk(content, tmp_path / "site", TODAY)

    def offered() -> list[str]:
        shown = desk.page("patterns/small-tube/") or b""
        return [str(way) for way in html.document_fromstring(shown).xpath("//*[@class='opened']/a/@href")]

    before = [desk.page(f"patterns/small-tube/{way}") for way in offered()]
    assert len(before) == 2 and all(before)
    text.write_text(TUBE.format(last=12), encoding="utf-8")
    desk.changed([text.resolve()])
    assert all(desk.page(f"patterns/small-tube/{way}") for way in offered()), "the last drawing stands in"
    desk.settle()
    assert b'data-course="11"' in (desk.page("patterns/small-tube/every-round-1.svg") or b"")
    text.write_text(TUBE.format(last=4), encoding="utf-8")
    desk.changed([text.resolve()])
    desk.settle()
    assert not offered() and desk.page("patterns/small-tube/every-round-1.svg") is None


@pytest.mark.parametrize("theme", ["demo", "other_theme"])
def test_the_demo_opens_its_folds_in_both_themes(theme: str, request: pytest.FixtureRequest) -> None:
    site: Path = request.getfixturevalue(theme)
    opened = 0
    for page in patterns(site):
        for figure in read(page).xpath("//figure[contains(@class,'mirrors')]"):
            links_out = figure.xpath(".//span[@class='opened']/a")
            assert bool(links_out) is bool(figure.xpath(".//@data-folded")), page
            opened += len(links_out)
    assert opened >= 8

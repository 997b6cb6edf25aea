"""Every page of the demo site, read back by a general HTML parser (lxml) and held to published rules."""

import gzip
import json
import re
from collections import Counter
from itertools import pairwise
from pathlib import Path
from urllib.parse import unquote, urlsplit

import jsonschema
import pytest
from lxml import etree, html

from tests.site.conftest import CONTENT, copy_without_theme, made, pattern, studio

REFERENCE = Path(__file__).parents[1] / "reference"


def pages(site: Path) -> list[Path]:
    """All pages of a site."""
    found = sorted(site.rglob("*.html"))
    assert len(found) > 15
    return found


def read(page: Path) -> html.HtmlElement:
    """A page, parsed."""
    return html.document_fromstring(page.read_bytes())


def links(tree: html.HtmlElement) -> list[tuple[str, str]]:
    """(element, address) of everything a page loads or leads to."""
    found = [(str(element.tag), str(element.get(name))) for name in ("href", "src", "action") for element in tree.iter()
             if isinstance(element.tag, str) and element.get(name)]  # fmt: skip
    for element in tree.iter("img", "source"):
        for part in (element.get("srcset") or "").split(", "):
            if part:
                found.append(("img", part.split()[0]))
    return found


@pytest.mark.parametrize("theme", ["demo", "other_theme"])
def test_every_link_and_anchor_leads_somewhere(theme: str, request: pytest.FixtureRequest) -> None:
    site: Path = request.getfixturevalue(theme)
    anchors = {page: {str(e.get("id")) for e in read(page).iter() if e.get("id")} for page in pages(site)}
    for page in pages(site):
        for tag, address in links(read(page)):
            parts = urlsplit(address)
            if parts.scheme or parts.netloc:
                assert tag in ("a", "link"), f"{page}: {tag} asks another host: {address}"
                continue
            base = page.parent if not parts.path.startswith("/") else site
            target = (base / unquote(parts.path).lstrip("/")).resolve() if parts.path else page
            assert target.is_file(), f"{page.relative_to(site)} leads to {address}"
            if parts.fragment and tag != "use":
                known = anchors.get(target, set())
                assert unquote(parts.fragment) in known, f"{page.relative_to(site)} leads to {address}"


@pytest.mark.parametrize("theme", ["demo", "other_theme"])
def test_links_are_relative_so_that_a_site_works_in_any_folder(theme: str, request: pytest.FixtureRequest) -> None:
    site: Path = request.getfixturevalue(theme)
    for page in pages(site):
        if page.name != "404.html":
            rooted = [address for _, address in links(read(page)) if address.startswith("/")]
            assert not rooted, page


@pytest.mark.parametrize("theme", ["demo", "other_theme"])
def test_nothing_on_a_page_needs_a_laxer_policy(theme: str, request: pytest.FixtureRequest) -> None:
    """Content Security Policy Level 3 (W3C): inline scripts, styles and handlers are what the policy forbids."""
    site: Path = request.getfixturevalue(theme)
    for page in pages(site):
        tree = read(page)
        [policy] = tree.xpath("//meta[@http-equiv='Content-Security-Policy']/@content")
        if page.name == "search.html":
            policy = policy.replace("'wasm-unsafe-eval'", "")
        assert "default-src 'none'" in policy and "unsafe" not in policy and "http" not in policy
        assert not tree.xpath("//style | //@style"), page
        assert all(e.get("src") or e.get("type") == "application/ld+json" for e in tree.iter("script")), page
        assert not [name for e in tree.iter() if isinstance(e.tag, str) for name in e.attrib if name.startswith("on")]


@pytest.mark.parametrize("theme", ["demo", "other_theme"])
def test_pages_are_sound_documents(theme: str, request: pytest.FixtureRequest) -> None:
    """One h1, no level of heading skipped, no id twice, every picture with text and size (WCAG 2.2, 1.1.1 and 1.3.1)."""
    site: Path = request.getfixturevalue(theme)
    for page in pages(site):
        tree = read(page)
        levels = [int(e.tag[1]) for e in tree.iter("h1", "h2", "h3", "h4", "h5", "h6")]
        assert levels.count(1) == 1 and levels[0] == 1, page
        assert all(b - a <= 1 for a, b in pairwise(levels)), page
        ids = Counter(e.get("id") for e in tree.iter() if e.get("id"))
        assert not [name for name, n in ids.items() if n > 1], page
        assert tree.get("lang") and tree.xpath("//title/text()")
        for image in tree.iter("img"):
            assert image.get("alt") and int(image.get("width")) > 0 and int(image.get("height")) > 0


def patterns(site: Path) -> list[Path]:
    """Pattern pages."""
    return sorted((site / "patterns").glob("*/index.html"))


def test_every_round_stands_in_both_dialects_with_one_count(demo: Path) -> None:
    assert len(patterns(demo)) >= 5
    for page in patterns(demo):
        rounds = read(page).xpath("//li[contains(concat(' ',@class,' '),' round ')]")
        assert rounds
        for row in rounds:
            us = row.xpath(".//p[starts-with(@class,'short')]//span[@class='us']")
            uk = row.xpath(".//p[starts-with(@class,'short')]//span[@class='uk']")
            assert len(us) == len(uk)
            numbers = [re.findall(r"\d+", str(part.text_content())) for part in (*us, *uk)]
            assert numbers[: len(us)] == numbers[len(us) :], row.get("id")
            assert row.xpath(".//input[@type='checkbox']"), row.get("id")


def test_what_heads_a_line_without_a_number_is_printed(demo: Path) -> None:
    tree = read(demo / "patterns" / "channel-float" / "index.html")
    headed = tree.xpath("//li[@class='setup']//p[@class='short'][starts-with(., 'To level the step: ')]")
    assert len(headed) == 3


def test_the_side_of_a_row_stands_apart_from_its_name(demo: Path) -> None:
    page = html.parse(demo / "patterns/ebb-ripple-cloth/index.html")
    words = {"".join(word.itertext()) for word in page.iterfind(".//a[@class='figure']/span")}
    assert {"Row", "Row (RS)", "Row (right side)"} <= words


def test_every_round_of_a_range_can_be_linked_to(demo: Path) -> None:
    ids = {str(i) for i in read(demo / "patterns/sluice-lantern/index.html").xpath("//@id")}
    assert {f"cover-{n}" for n in range(1, 31)} <= ids


def test_a_round_and_its_course_in_the_chart_find_each_other(demo: Path) -> None:
    for page in patterns(demo):
        for part in read(page).xpath("//section[@data-part]"):
            named = {c for row in part.xpath(".//li/@data-courses") for c in row.split()}
            drawn = {c for group in part.xpath(".//figure//*[@data-course]/@data-course") for c in group.split()}
            assert drawn, f"{page}: no course of the part is drawn"
            more = page.read_text().count(f'data-part="{part.get("data-part")}"') > 1
            assert more or named <= drawn, f"{page}: {sorted(named - drawn)}"


def test_a_page_is_small(demo: Path) -> None:
    """HTML, CSS and scripts of a pattern of at most 20 rounds stay under 60 KB, gzipped (the project's own aim)."""
    shared = b"".join(
        (demo / "assets" / name).read_bytes()
        for name in ("ground.css", "theme.css", "studio.css", "choices.js", "place.js")
    )
    seen = 0
    for page in patterns(demo):
        rounds = sum(len(row.split()) for row in read(page).xpath("//li/@data-courses"))
        if rounds <= 20:
            seen += 1
            sheet = page.with_name("chart.css")
            whole = page.read_bytes() + (sheet.read_bytes() if sheet.exists() else b"") + shared
            assert len(gzip.compress(whole)) < 60_000, page
    assert seen > 3


def test_the_feed_is_atom(demo: Path) -> None:
    """RFC 4287 by a RELAX NG grammar written from it; identities are lasting and differ (4.2.6)."""
    grammar = etree.RelaxNG(etree.parse(REFERENCE / "atom.rng"))
    feed = etree.parse(demo / "feed.xml")
    grammar.assertValid(feed)
    ids = feed.xpath("//a:entry/a:id/text()", namespaces={"a": "http://www.w3.org/2005/Atom"})
    assert len(ids) == len(set(ids)) >= 7
    stamps = feed.xpath("//a:entry/a:updated/text()", namespaces={"a": "http://www.w3.org/2005/Atom"})
    assert stamps == sorted(stamps, reverse=True)


def test_the_grammar_refuses_what_the_rfc_forbids(demo: Path) -> None:
    grammar = etree.RelaxNG(etree.parse(REFERENCE / "atom.rng"))
    text = (demo / "feed.xml").read_text(encoding="utf-8")
    for wrong in (
        text.replace("T00:00:00Z</updated>", "</updated>", 1),
        re.sub("<id>.*?</id>", "", text, count=1),
        text.replace("<title>", "<name>", 1).replace("</title>", "</name>", 1),
    ):
        assert not grammar.validate(etree.fromstring(wrong.encode()))


DATE = {"type": "string", "pattern": r"^\d{4}-\d{2}-\d{2}$"}
ADDRESS = {"type": "string", "pattern": "^https://"}
SHAPES = {
    # Properties that the types require or recommend: https://schema.org/Article, /BlogPosting, /BreadcrumbList, /VideoObject.
    "Article": {"required": ["headline", "image", "datePublished", "dateModified", "author", "mainEntityOfPage"],
                "properties": {"headline": {"type": "string", "maxLength": 110}, "datePublished": DATE, "dateModified": DATE,
                               "image": {"type": "array", "items": ADDRESS, "minItems": 1}}},
    "BlogPosting": {"required": ["headline", "datePublished", "author"], "properties": {"datePublished": DATE}},
    "BreadcrumbList": {"required": ["itemListElement"], "properties": {"itemListElement": {"type": "array", "minItems": 2,
        "items": {"required": ["@type", "position", "name", "item"], "properties": {"item": ADDRESS, "@type": {"const": "ListItem"}}}}}},
    "VideoObject": {"required": ["name", "thumbnailUrl", "uploadDate", "contentUrl", "duration"],
                    "properties": {"duration": {"type": "string", "pattern": r"^PT\d+S$"}, "contentUrl": ADDRESS, "thumbnailUrl": ADDRESS}},
}  # fmt: skip


def test_structured_data_has_the_shape_of_its_types(demo: Path) -> None:
    seen: Counter[str] = Counter()
    for page in [*patterns(demo), *sorted((demo / "journal").glob("*.html"))]:
        for text in read(page).xpath("//script[@type='application/ld+json']/text()"):
            data = json.loads(text)
            assert data["@context"] == "https://schema.org"
            for item in data["@graph"]:
                jsonschema.validate(item, SHAPES[item["@type"]])
                seen[item["@type"]] += 1
    assert {"Article", "BlogPosting", "BreadcrumbList", "VideoObject"} <= set(seen)


def test_the_sitemap_lists_every_page_once(demo: Path) -> None:
    """sitemaps.org protocol 0.9: absolute addresses below the sitemap's own folder, W3C dates."""
    space = {"s": "http://www.sitemaps.org/schemas/sitemap/0.9"}
    tree = etree.parse(demo / "sitemap.xml")
    listed = tree.xpath("//s:loc/text()", namespaces=space)
    base = "https://orrow-sluicehouse.example/"
    there = {page.relative_to(demo).as_posix() for page in pages(demo)} - {"404.html", "search.html"}
    assert sorted(unquote(address.removeprefix(base)) for address in listed) == sorted(there)
    assert all(
        re.fullmatch(r"\d{4}-\d{2}-\d{2}", stamp) for stamp in tree.xpath("//s:lastmod/text()", namespaces=space)
    )


def test_sharing_data_names_a_picture_that_is_there(demo: Path) -> None:
    """Open Graph protocol (ogp.me): title, type, image and url are required."""
    from PIL import Image

    for page in patterns(demo):
        tree = read(page)
        found = {str(e.get("property")): str(e.get("content")) for e in tree.iter("meta") if e.get("property")}
        assert {"og:title", "og:type", "og:image", "og:url"} <= set(found), page
        file = demo / found["og:image"].removeprefix("https://orrow-sluicehouse.example/")
        with Image.open(file) as picture:
            assert picture.size == (1200, 630)
        [pin] = page.parent.glob("pin.*")
        with Image.open(pin) as picture:
            assert picture.size == (1000, 1500)


def test_the_index_knows_every_pattern_and_both_names_of_its_stitches(demo: Path) -> None:
    text = (demo / "search-index.js").read_text(encoding="utf-8")
    entries = json.loads(text.removeprefix("window.spiralboundIndex=").rstrip(";\n"))
    addresses = {entry["u"] for entry in entries}
    assert {page.relative_to(demo).as_posix() for page in patterns(demo)} <= addresses
    coaster = next((entry for entry in entries if "foam-line-doily" in entry["u"]), None)
    assert coaster and "double crochet" in coaster["s"] and "treble" in coaster["s"]


def test_private_notes_are_nowhere(demo: Path) -> None:
    """Words of `Why:` lines are looked for in every published file."""
    secrets = [
        line.partition(":")[2].strip()
        for file in CONTENT.rglob("*.md")
        for line in file.read_text().splitlines()
        if line.startswith("Why:")
    ]
    assert secrets
    whole = "".join(
        file.read_text(encoding="utf-8")
        for file in demo.rglob("*")
        if file.suffix in (".html", ".js", ".xml", ".json", ".svg")
    )
    assert not [secret for secret in secrets if secret in whole]


def test_the_same_texts_make_the_same_bytes(tmp_path: Path) -> None:
    copy_without_theme(CONTENT, tmp_path / "content")
    for name in ("one", "two"):
        made(tmp_path / "content", tmp_path / name, pictures=name == "never")
    files = sorted(p.relative_to(tmp_path / "one") for p in (tmp_path / "one").rglob("*") if p.is_file())
    assert files == sorted(p.relative_to(tmp_path / "two") for p in (tmp_path / "two").rglob("*") if p.is_file())
    # The record holds dates of files, which differ from folder to folder only when photos are there.
    different = [
        str(file) for file in files if (tmp_path / "one" / file).read_bytes() != (tmp_path / "two" / file).read_bytes()
    ]
    assert not different


def test_howto_is_written_only_when_asked(tmp_path: Path) -> None:
    """https://schema.org/HowTo: step, supply; off by itself, since search engines stopped showing it."""
    toml = 'title = "T"\naddress = "https://t.example/"\n'
    for asked in (False, True):
        content = studio(tmp_path / str(asked), {"one": pattern()}, toml + f"howto = {str(asked).lower()}\n")
        assert made(content, tmp_path / str(asked) / "site").ok
        text = read(tmp_path / str(asked) / "site/patterns/one/index.html").xpath(
            "//script[@type='application/ld+json']/text()"
        )[0]
        kinds = {item["@type"]: item for item in json.loads(text)["@graph"]}
        assert ("HowTo" in kinds) is asked
        if asked:
            assert len(kinds["HowTo"]["step"]) == 6 and kinds["HowTo"]["step"][0]["text"].startswith("6 sc")

"""Publishing tried with what happens to real folders: changes, faults, strange names, no room, interruptions."""

import errno
import json
import os
import signal
import struct
import zlib
from datetime import date
from pathlib import Path
from urllib.parse import quote

import pytest
from jinja2 import Environment

from generator import library
from generator.publish import compiled, folders, patterns, record
from tests.site.conftest import made, pattern, rules, studio


def page(site: Path, slug: str) -> Path:
    """A pattern's page."""
    return site / "patterns" / slug / "index.html"


def test_only_what_changed_is_made_again(tmp_path: Path) -> None:
    content = studio(tmp_path, {name: pattern(name.title()) for name in ("one", "two", "three")})
    site = tmp_path / "site"
    assert made(content, site).made == 3
    before = page(site, "one").stat()
    text = content / "patterns/two/two.md"
    text.write_text(text.read_text().replace("Flat.", "Flat, or nearly."))
    report = made(content, site)
    assert (report.made, report.kept) == (1, 2)
    assert "or nearly" in page(site, "two").read_text()
    after = page(site, "one").stat()
    assert (before.st_ino, before.st_mtime_ns) == (after.st_ino, after.st_mtime_ns), (
        "an unchanged page is the same file"
    )
    assert made(content, site, fresh=True).made == 3


def test_a_page_changed_by_hand_is_made_again(tmp_path: Path) -> None:
    content, site = studio(tmp_path, {"one": pattern()}), tmp_path / "site"
    made(content, site)
    page(site, "one").write_text("something else")
    assert made(content, site).made == 1
    assert "Small disc" in page(site, "one").read_text()


def test_what_is_gone_from_content_goes_from_the_site(tmp_path: Path) -> None:
    content, site = studio(tmp_path, {"one": pattern("One"), "two": pattern("Two")}), tmp_path / "site"
    (site).mkdir()
    (site / ".gitignore").write_text("*\n")
    made(content, site)
    (content / "patterns/two/two.md").unlink()
    report = made(content, site)
    assert not page(site, "two").exists() and report.removed > 0
    assert (site / ".gitignore").read_text() == "*\n"


def test_a_pattern_with_an_error_keeps_its_last_good_page(tmp_path: Path) -> None:
    content, site = studio(tmp_path, {"one": pattern("One"), "two": pattern("Two")}), tmp_path / "site"
    made(content, site)
    good = page(site, "two").read_bytes()
    (content / "patterns/two/two.md").write_text(pattern("Two, newer", third=19))
    report = made(content, site)
    assert rules(report) == ["count-differs"] and not report.ok and report.swapped
    assert page(site, "two").read_bytes() == good
    assert "Two" in (site / "index.html").read_text()
    (content / "patterns/two/two.md").write_text(pattern("Two, newer"))
    assert made(content, site).ok and "newer" in page(site, "two").read_text()


def test_a_faulty_pattern_stays_out_and_the_rest_is_built(tmp_path: Path) -> None:
    content, site = studio(tmp_path, {"good": pattern("Good"), "bad": pattern("Bad", third=20)}), tmp_path / "site"
    report = made(content, site)
    assert rules(report) == ["count-differs"]
    assert page(site, "good").exists() and not page(site, "bad").exists()
    assert "Bad" not in (site / "index.html").read_text()


def test_two_patterns_with_one_address(tmp_path: Path) -> None:
    content, site = (
        studio(tmp_path, {"a": pattern("A", more="slug: disc\n"), "b": pattern("B", more="slug: disc\n")}),
        tmp_path / "site",
    )
    for _ in range(2):
        report = made(content, site)
        assert rules(report) == ["slug-taken"]
        assert "<h1>A</h1>" in page(site, "disc").read_text()


def test_addresses_that_differ_in_capitals_alone_are_one(tmp_path: Path) -> None:
    texts = {"a": pattern("A", more="slug: Disc\n"), "b": pattern("B", more="slug: disc\n"), "disc-2": pattern("C")}
    report = made(studio(tmp_path, texts), tmp_path / "site")
    assert [(f.rule, f.fits) for _, f in report.findings if f.severity == "error"] == [("slug-taken", "slug: disc-3")]
    assert "<h1>A</h1>" in page(tmp_path / "site", "Disc").read_text()


def test_drafts_and_the_future_wait(tmp_path: Path) -> None:
    texts = {
        "now": pattern("Now"),
        "draft": pattern("Draft", more="draft: yes\n"),
        "later": pattern("Later", "2027-01-01"),
    }
    content, site = studio(tmp_path, texts), tmp_path / "site"
    report = made(content, site)
    assert report.ok and report.held == 2
    assert sorted(p.parent.name for p in site.glob("patterns/*/index.html")) == ["now"]
    assert made(content, site, today=date(2027, 1, 1)).held == 1
    assert page(site, "later").exists()


@pytest.mark.parametrize("slug", ["très long nom", "мохер", "日本の編み物", "a & b's #1?"])
def test_names_in_any_script(tmp_path: Path, slug: str) -> None:
    content, site = studio(tmp_path, {slug: pattern(f"Title of {slug}")}), tmp_path / "site"
    report = made(content, site)
    assert report.ok, report.findings
    [made_page] = site.glob("patterns/*/index.html")
    index = (site / "index.html").read_text(encoding="utf-8")
    assert quote(f"patterns/{made_page.parent.name}/index.html") in index


def test_scripts_in_prose_and_titles_are_words(tmp_path: Path) -> None:
    bad = '<script>alert(1)</script><img src=x onerror="alert(1)">'
    text = pattern(
        title=f"'Disc {bad}'", prose=f"{bad} [click](javascript:alert(1)) ![x](https://elsewhere.example/x.png)"
    )
    content, site = (
        studio(tmp_path, {"one": pattern(title=f"'Disc {bad}'", prose=f"{bad} [click](javascript:alert(1))")}),
        tmp_path / "site",
    )
    report = made(content, site)
    assert report.ok, report.findings
    from lxml import html

    for file in (page(site, "one"), site / "index.html", site / "tags/quick.html"):
        tree = html.document_fromstring(file.read_bytes())
        assert all(e.get("src") or e.get("type") == "application/ld+json" for e in tree.iter("script"))
        assert not tree.xpath("//img[@src='x'] | //@onerror | //a[starts-with(@href, 'javascript')]")
    json.loads(
        html.document_fromstring(page(site, "one").read_bytes()).xpath("//script[@type='application/ld+json']/text()")[
            0
        ]
    )
    (content / "patterns/one/one.md").write_text(text)
    assert rules(made(content, site)) == ["photo-elsewhere"]


def png(width: int, height: int) -> bytes:
    """The head of a picture of that size; nothing in it."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(b"\0" * 100)) + chunk(b"IEND", b"")
    )


@pytest.mark.parametrize(
    ("name", "data", "said"),
    [
        ("photo.jpg", b"this is no picture at all", "is not a picture"),
        ("photo.jpg", b"", "is not a picture"),
        ("photo.png", png(10_000, 10_000), "100 megapixels"),
        ("photo.png", png(100_000, 100_000), "larger than can be decoded safely"),
        ("photo.png", png(40, 40), "is not a picture"),
        ("photo.svg", b'<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>', "is not a picture"),
    ],
)
def test_photos_that_are_none(tmp_path: Path, name: str, data: bytes, said: str) -> None:
    photo = f'photo: {{file: {name}, alt: "A disc"}}\n'
    content, site = studio(tmp_path, {"one": pattern(more=photo), "two": pattern("Two")}), tmp_path / "site"
    (content / "patterns/one" / name).write_bytes(data)
    report = made(content, site)
    [(source, finding)] = [(s, f) for s, f in report.findings if f.severity == "error"]
    assert finding.rule == "photo-unusable" and said in finding.message
    assert name in source.words(finding.span)
    assert page(site, "two").exists()


def test_a_photo_that_is_not_there(tmp_path: Path) -> None:
    photo = 'photo: {file: gone.jpg, alt: "A disc"}\n'
    site = tmp_path / "site"
    report = made(studio(tmp_path, {"one": pattern(more=photo)}), site)
    assert not rules(report) and rules(report, "warning").count("photo-missing") == 1
    text = page(site, "one").read_text(encoding="utf-8")
    assert "gone.jpg" not in text and "cover.svg" in text  # the drawn cover stands in for it


def test_links_that_lead_out_of_content_are_not_followed(tmp_path: Path) -> None:
    (tmp_path / "outside.md").write_text(pattern("Outside"))
    (tmp_path / "secret.jpg").write_bytes(b"secret")
    content, site = (
        studio(tmp_path, {"one": pattern(more='photo: {file: secret.jpg, alt: "x"}\n'), "two": pattern("Two")}),
        tmp_path / "site",
    )
    (content / "patterns/two/outside.md").symlink_to(tmp_path / "outside.md")
    (content / "patterns/one/secret.jpg").symlink_to(tmp_path / "secret.jpg")
    (content / "patterns/loop").symlink_to(content / "patterns")
    assert rules(made(content, site), "warning").count("photo-missing") == 1
    assert not list(site.glob("patterns/one/secret*"))
    assert not list(site.glob("patterns/outside*"))
    assert page(site, "two").exists()


def test_an_address_leads_nowhere_but_into_the_site(tmp_path: Path) -> None:
    """Also a journal entry's and a page's: all three become paths on the disk."""
    away = pattern("Away", more="slug: ../../../away\n")
    content, site = studio(tmp_path / "studio", {"one": pattern(), "away": away}), tmp_path / "studio/site"
    (content / "journal").mkdir()
    (content / "journal/news.md").write_text(
        "---\ntitle: News\nslug: ../../away\npublished: 2026-05-01\n---\n\nNews.\n"
    )
    (content / "page.md").write_text("---\ntitle: Page\nslug: ../away\n---\n\nA page.\n")
    report = made(content, site)
    assert rules(report) == ["header-wrong-value"] * 3 and report.swapped
    assert [place.name for place in tmp_path.rglob("*away*")] == ["away", "away.md"]
    assert page(site, "one").exists()


def test_names_of_any_length(tmp_path: Path) -> None:
    """A disk takes 255 bytes for a name: neither a file's, a part's, a tag's nor a photo's may sink the build."""
    long = "針" * 80
    text = pattern(more=f'photo: {{file: {long}.jpg, alt: "A disc"}}\n').replace("## Disc", f"## {long * 4}")
    text = text.replace("tags: [round, quick]", f"tags: [{long * 4}, {'x' * 400}]")
    content, site = studio(tmp_path, {long: text, "two": pattern("Two")}), tmp_path / "site"
    from PIL import Image

    Image.new("RGB", (600, 400)).save(content / f"patterns/{long}/{long}.jpg")
    report = made(content, site, editions=True)
    assert report.ok, report.findings
    assert report.made == 2 and all(len(name.rpartition("/")[2].encode()) < 255 for name in folders.listing(site))


def test_two_photos_of_one_name_stay_two(tmp_path: Path) -> None:
    more = 'photos:\n  - {file: shot.jpg, alt: "Red"}\n  - {file: shot.png, alt: "Blue"}\n  - {file: near/shot.jpg, alt: "Green"}\n'
    content, site = studio(tmp_path, {"one": pattern(more=more)}), tmp_path / "site"
    from PIL import Image

    folder = content / "patterns/one"
    (folder / "near").mkdir()
    for name, colour in (("shot.jpg", "#ff0000"), ("shot.png", "#0000ff"), ("near/shot.jpg", "#00ff00")):
        Image.new("RGB", (480, 300), colour).save(folder / name)
    report = made(content, site)
    assert report.ok, report.findings
    from lxml import html

    shown = html.document_fromstring(page(site, "one").read_bytes()).xpath("//picture//img")
    assert [(one.get("alt"), one.get("src")) for one in shown] == [
        ("Red", "shot-480.jpg"),
        ("Blue", "shot-2-480.jpg"),
        ("Green", "shot-3-480.jpg"),
    ]
    for one, most in zip(shown, (0, 2, 1), strict=True):
        red_green_blue = Image.open(site / "patterns/one" / one.get("src")).getpixel((9, 9))
        assert max(range(3), key=lambda n: red_green_blue[n]) == most


def test_two_parts_of_one_name_have_a_chart_each(tmp_path: Path) -> None:
    text = pattern().replace("## Disc", "## Side a")
    block = text[text.index("```rounds") :].replace(
        "Rnd 6: *sc in next 4 sts, 2 sc in next st; rep from * around (36)\n", ""
    )
    content, site = studio(tmp_path, {"one": f"{text}\n## Side (a)\n\n{block}"}), tmp_path / "site"
    assert made(content, site, editions=True).ok
    charts = sorted(file.name for file in site.glob("patterns/one/one-*-ring.svg"))
    assert charts == ["one-side-a-2-ring.svg", "one-side-a-ring.svg"]


def test_an_address_of_the_sites_own_is_told(tmp_path: Path) -> None:
    content, site = studio(tmp_path, {"one": pattern()}), tmp_path / "site"
    (content / "journal").mkdir()
    for name, title in (("index", "Index"), ("2026-05-01-news", "May"), ("2026-06-01-news", "June")):
        text = f"---\ntitle: {title}\npublished: 2026-05-01\n---\n\nWords.\n"
        (content / f"journal/{name}.md").write_text(text)
    (content / "journal/waiting.md").write_text("---\ntitle: Waiting\nslug: news\ndraft: yes\n---\n\nWords.\n")
    (content / "search.md").write_text("---\ntitle: Searching\n---\n\nWords.\n")
    report = made(content, site)
    said = [(source.path, f.message, f.fits) for source, f in report.findings if f.rule == "slug-taken"]
    assert said == [
        (
            "content/journal/2026-06-01-news.md",
            "the address `news` is already taken by content/journal/2026-05-01-news.md",
            "slug: news-2",
        ),
        (
            "content/journal/index.md",
            "the address `index` is already taken by the list of the journal",
            "slug: index-2",
        ),
        ("content/search.md", "the address `search` is already taken by the search page", "slug: search-2"),
    ]
    assert ">May</h1>" in (site / "journal/news.html").read_text()
    assert ">Searching</h1>" not in (site / "search.html").read_text()
    assert "May" in (site / "journal/index.html").read_text()


def test_a_folder_of_somebodys_own_files_is_left_alone(tmp_path: Path) -> None:
    content, site = studio(tmp_path, {"one": pattern()}), tmp_path / "letters"
    site.mkdir()
    (site / "letter.txt").write_text("Dear aunt")
    assert rules(made(content, site)) == ["site-not-ours"]
    assert [p.name for p in site.iterdir()] == ["letter.txt"]


def test_a_site_that_cannot_be_written(tmp_path: Path) -> None:
    content = studio(tmp_path, {"one": pattern()})
    (tmp_path / "file").write_text("a file where a folder should be")
    assert rules(made(content, tmp_path / "file" / "site")) == ["site-not-writable"]


def test_a_full_disk_leaves_the_last_good_site(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    content, site = studio(tmp_path, {"one": pattern()}), tmp_path / "site"
    made(content, site)
    before = {p: p.read_bytes() for p in site.rglob("*") if p.is_file()}
    (content / "patterns/one/one.md").write_text(pattern("Changed"))
    real, left = Path.write_bytes, [3]

    def full(self: Path, data: bytes) -> int:
        left[0] -= 1
        if left[0] < 0:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        return real(self, data)

    monkeypatch.setattr(Path, "write_bytes", full)
    report = made(content, site)
    monkeypatch.undo()
    assert rules(report) == ["site-not-writable"] and "no space left" in report.findings[0][1].message
    assert {p: p.read_bytes() for p in site.rglob("*") if p.is_file()} == before
    assert sorted(p.name for p in tmp_path.iterdir()) == ["content", "site"]
    assert made(content, site).ok


def test_an_interrupted_build_leaves_the_last_good_site(tmp_path: Path) -> None:
    content, site = studio(tmp_path, {"one": pattern("One"), "two": pattern("Two")}), tmp_path / "site"
    made(content, site)
    before = page(site, "one").read_bytes()
    for slug in ("one", "two"):
        (content / f"patterns/{slug}/{slug}.md").write_text(pattern(f"{slug} again"))

    def stop(done: int, of: int, name: str) -> None:
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        made(content, site, progress=stop)
    assert page(site, "one").read_bytes() == before
    assert sorted(p.name for p in tmp_path.iterdir()) == ["content", "site"]


def test_power_lost_in_the_middle_of_the_swap(tmp_path: Path) -> None:
    content, site = studio(tmp_path, {"one": pattern()}), tmp_path / "site"
    made(content, site)
    site.rename(folders.beside(site, folders.OLD))
    (folders.beside(site, folders.NEW) / "half").mkdir(parents=True)
    folders.tidy(site)
    assert page(site, "one").exists()
    assert sorted(p.name for p in tmp_path.iterdir()) == ["content", "site"]
    assert made(content, site).kept == 1


def test_a_damaged_record_only_costs_time(tmp_path: Path) -> None:
    content, site = studio(tmp_path, {"one": pattern()}), tmp_path / "site"
    made(content, site)
    for text in (
        "",
        "{",
        '{"version": 1}',
        '{"version": 99, "entries": {}}',
        '{"version": 1, "entries": {"x": {"card": 3}}}',
    ):
        (site / record.FILE).write_text(text)
        report = made(content, site)
        assert report.ok and report.made == 1


def test_a_studio_overrides_single_templates(tmp_path: Path) -> None:
    content, site = studio(tmp_path, {"one": pattern()}), tmp_path / "site"
    (content / "templates").mkdir()
    (content / "templates/missing.html").write_text(
        '{% extends "base.html" %}{% block main %}<h1>Own page</h1>{% endblock %}'
    )
    assert made(content, site).ok
    assert "Own page" in (site / "404.html").read_text()
    good = page(site, "one").read_bytes()
    (content / "templates/pattern.html").write_text(
        '{% extends "base.html" %}\n{% block main %}{{ view.titel }}{% endblock %}'
    )
    report = made(content, site)
    assert rules(report) == ["template-broken"]
    assert page(site, "one").read_bytes() == good


def test_an_unknown_theme_and_colours_nobody_can_read(tmp_path: Path) -> None:
    toml = 'title = "T"\ntheme = "velvet"\n[colours]\naccent = "#e8d9a0"\n'
    content, site = studio(tmp_path, {"one": pattern()}, toml), tmp_path / "site"
    report = made(content, site)
    assert rules(report) == ["colour-contrast", "theme-missing"]
    [(source, finding)] = [(s, f) for s, f in report.findings if f.rule == "colour-contrast"]
    assert source.words(finding.span).startswith("accent") and finding.fits.startswith("#")
    assert page(site, "one").exists() and "#e8d9a0" not in (site / "assets/studio.css").read_text()


def test_a_theme_of_ones_own_is_a_folder(tmp_path: Path) -> None:
    content, site = studio(tmp_path, {"one": pattern()}, 'title = "T"\ntheme = "bare"\n'), tmp_path / "site"
    theme = content / "themes/bare"
    theme.mkdir(parents=True)
    base = '{% extends "frame.html" %}{% import "parts.html" as p with context %}{% block body %}<main id="main">{% block main %}{% endblock %}</main>{% endblock %}'
    (theme / "base.html").write_text(base)
    (theme / "index.html").write_text(
        '{% extends "base.html" %}{% block main %}<h1>{{ heading }}</h1>{% for card in cards %}{{ card.title }}{% endfor %}{% endblock %}'
    )
    (theme / "pattern.html").write_text(
        '{% extends "base.html" %}{% block main %}<h1>{{ view.title }}</h1>{% endblock %}'
    )
    (theme / "theme.css").write_text("body { color: #000 }")
    report = made(content, site)
    assert report.ok, report.findings
    assert "<h1>Small disc</h1>" in page(site, "one").read_text()


def test_an_empty_studio_publishes_too(tmp_path: Path) -> None:
    (tmp_path / "content").mkdir()
    report = made(tmp_path / "content", tmp_path / "site")
    assert report.ok and "Nothing here yet" in (tmp_path / "site/index.html").read_text()
    from lxml import etree

    grammar = etree.RelaxNG(etree.parse(Path(__file__).parents[1] / "reference/atom.rng"))
    grammar.assertValid(etree.parse(tmp_path / "site/feed.xml"))


def test_several_processes_make_the_same_site(tmp_path: Path) -> None:
    content = studio(tmp_path, {f"p{n}": pattern(f"Disc {n}") for n in range(6)})
    for name, jobs in (("one", 1), ("two", 2)):
        assert made(content, tmp_path / name, jobs=jobs).made == 6
    for file in (tmp_path / "one").rglob("*"):
        if file.is_file():
            assert file.read_bytes() == (tmp_path / "two" / file.relative_to(tmp_path / "one")).read_bytes(), file


def test_a_correction_that_changes_the_work_is_a_feed_entry_and_a_mark(tmp_path: Path) -> None:
    more = 'revisions:\n  - {date: 2026-06-01, note: "Round 3 said 17; it is 18.", part: Disc, rounds: [3], was: "17", now: "18"}\n  - {date: 2026-07-01, note: "A comma.", changes_work: false}\n'
    content, site = studio(tmp_path, {"one": pattern(more=more)}), tmp_path / "site"
    assert made(content, site).ok
    feed = (site / "feed.xml").read_text()
    assert "Round 3 said 17" in feed and "A comma" not in feed and "2026-06-01T00:00:00Z</updated>" in feed
    text = page(site, "one").read_text()
    assert text.count('href="#corrections"') == 1 and "<del>17</del>" in text


def test_pages_about_all_patterns_stay_while_no_card_changes(tmp_path: Path) -> None:
    content = studio(tmp_path, {"disc": pattern(), "other": pattern("Other disc")})
    site = tmp_path / "site"
    made(content, site)
    names = ("index.html", "feed.xml", "search-index.js", "tags/round.html")
    before = {name: (site / name).stat().st_ino for name in names}
    text = content / "patterns/disc/disc.md"
    text.write_text(pattern(prose="Quite flat."), encoding="utf-8")
    assert made(content, site).made == 1
    assert {name: (site / name).stat().st_ino for name in names} == before
    text.write_text(pattern("Large disc"), encoding="utf-8")
    made(content, site)
    assert all("Large disc" in (site / name).read_text(encoding="utf-8") for name in names)
    (site / "index.html").unlink()
    made(content, site)
    assert "Large disc" in (site / "index.html").read_text(encoding="utf-8")


def test_templates_compiled_before_are_used_again_and_a_damaged_copy_is_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    kept = tmp_path / "kept"
    monkeypatch.setenv(compiled.PLACE, str(kept))
    content = studio(tmp_path, {"disc": pattern()})
    page = "patterns/disc/index.html"
    made(content, tmp_path / "first")
    copies = [place for place in kept.rglob("*") if place.is_file()]
    assert copies
    for place in copies:
        place.write_bytes(place.read_bytes()[:-9])
    made(content, tmp_path / "second")
    monkeypatch.setattr(Environment, "compile", lambda *_, **__: pytest.fail("a kept template was compiled again"))
    made(content, tmp_path / "third")
    pages = [(tmp_path / name / page).read_bytes() for name in ("first", "second", "third")]
    assert pages[0] == pages[1] == pages[2]


@pytest.mark.parametrize("kept", ["", "/dev/null/nowhere"])
def test_without_a_place_to_keep_templates_all_is_well(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, kept: str
) -> None:
    monkeypatch.setenv(compiled.PLACE, kept)
    content = studio(tmp_path, {"disc": pattern()})
    assert made(content, tmp_path / "site").ok


def test_a_process_that_the_system_stops_takes_one_pattern_along(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    content, site = studio(tmp_path, {f"p{n}": pattern(f"Disc {n}") for n in range(6)}), tmp_path / "site"
    real = patterns.build

    def build(text: library.Text, *rest: object) -> object:
        if text.folder.name == "p3":
            os.kill(os.getpid(), signal.SIGKILL)
        return real(text, *rest)  # type: ignore[arg-type]

    monkeypatch.setattr(patterns, "build", build)
    report = made(content, site, jobs=2)
    assert rules(report) == ["could-not-build"] and report.swapped and report.made == 5
    assert "the system stopped it" in report.findings[0][1].message
    assert not page(site, "p3").exists() and page(site, "p5").exists()


def test_two_faults_of_our_own_are_two(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    content, site = studio(tmp_path, {f"p{n}": pattern(f"Disc {n}") for n in range(3)}), tmp_path / "site"
    real = patterns.build

    def build(text: library.Text, *rest: object) -> object:
        return real(text, *rest) if text.folder.name == "p1" else [][0]  # type: ignore[arg-type]

    monkeypatch.setattr(patterns, "build", build)
    assert rules(made(content, site)) == ["could-not-build"] * 2
    assert page(site, "p1").exists()

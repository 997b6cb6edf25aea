"""A pattern's folder is made in steps: what an edit does not touch is not made again, and comes out as if it had been."""

import zlib
from dataclasses import fields
from pathlib import Path

import pytest

from generator import library
from generator.pages import figures
from generator.pages.studio import Studio
from generator.pipeline import compile_pattern
from generator.publish import build, finished, steps
from generator.publish.files import work
from tests.site.conftest import CONTENT, made, pattern, studio

TOML = 'title = "Test studio"\naddress = "https://studio.example/sub/"\n{more}'


def contents(site: Path) -> dict[str, bytes]:
    """Every file of a site."""
    return {file.relative_to(site).as_posix(): file.read_bytes() for file in sorted(site.rglob("*")) if file.is_file()}


def edited(content: Path, more: str) -> None:
    (content / "studio.toml").write_text(TOML.format(more=more), encoding="utf-8")


def no_working(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(build, "compile_pattern", lambda _: pytest.fail("a text was worked again"))


@pytest.mark.parametrize(
    "more",
    [
        'tagline = "Another line at the foot"',
        'author = "Somebody Else"\nlinks = [{label = "Letters", address = "https://letters.example/"}]',
        'theme = "tidetable"',
        'units = "imperial"',
        '[colours]\naccent = "#1f5a52"',
    ],
)
def test_an_edit_of_theme_or_studio_works_no_stitch_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, more: str
) -> None:
    photo = 'photo: {file: shot.jpg, alt: "A disc"}\n'
    content = studio(tmp_path, {"one": pattern("One"), "two": pattern("Two", more=photo)}, TOML.format(more=""))
    from PIL import Image

    Image.new("RGB", (900, 700), "#4f7a4a").save(content / "patterns/two/shot.jpg")
    made(content, tmp_path / "site")
    edited(content, more)
    with monkeypatch.context() as held:
        no_working(held)
        report = made(content, tmp_path / "site")
    assert report.ok, report.findings
    assert made(content, tmp_path / "fresh").made == 2
    assert contents(tmp_path / "site") == contents(tmp_path / "fresh")


def test_a_picture_for_sharing_carries_the_new_name(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    content, site = studio(tmp_path, {"one": pattern("One")}, TOML.format(more="")), tmp_path / "site"
    made(content, site, pictures=True)
    before = contents(site)
    (content / "studio.toml").write_text('title = "Renamed"\n', encoding="utf-8")
    no_working(monkeypatch)
    assert made(content, site, pictures=True).ok
    after = contents(site)
    card, cover = "patterns/one/card.png", "patterns/one/cover.svg"
    assert before[card] != after[card] and before[cover] == after[cover]
    assert f"{steps.READY}/one" in after, "the page can be printed again"


def test_booklets_stay_while_nothing_in_them_changes(tmp_path: Path) -> None:
    content, site = studio(tmp_path, {"one": pattern("One")}, TOML.format(more="")), tmp_path / "site"
    made(content, site, editions=True)
    booklets = sorted(site.glob("patterns/one/*.pdf"))
    before = [file.stat().st_ino for file in booklets]
    edited(content, 'tagline = "Another line at the foot"')
    assert made(content, site, editions=True).made == 1
    assert booklets and before == [file.stat().st_ino for file in booklets]
    edited(content, 'units = "imperial"')
    made(content, site, editions=True)
    assert before != [file.stat().st_ino for file in booklets]


def test_a_sign_of_the_charts_is_drawn_again(tmp_path: Path) -> None:
    content, site = studio(tmp_path, {"one": pattern("One")}, TOML.format(more="")), tmp_path / "site"
    made(content, site)
    edited(content, 'sc_sign = "x"')
    made(content, site)
    made(content, tmp_path / "fresh")
    assert contents(site) == contents(tmp_path / "fresh")


def test_a_style_sheet_changes_no_page(tmp_path: Path) -> None:
    content, site = studio(tmp_path, {"one": pattern("One")}, 'title = "T"\ntheme = "own"\n'), tmp_path / "site"
    own = content / "themes/own"
    own.mkdir(parents=True)
    for file in (CONTENT.parent / "themes/quire").iterdir():
        if file.is_file():
            (own / file.name).write_bytes(file.read_bytes())
    made(content, site)
    page = (site / "patterns/one/index.html").stat()
    (own / "theme.css").write_text("body { color: #000 }", encoding="utf-8")
    report = made(content, site)
    assert (report.made, report.kept) == (0, 1)
    assert (site / "patterns/one/index.html").stat().st_ino == page.st_ino
    assert (site / "assets/theme.css").read_text() == "body { color: #000 }"


def test_a_page_made_again_to_the_same_bytes_is_the_same_file(tmp_path: Path) -> None:
    content, site = studio(tmp_path, {"one": pattern("One")}, TOML.format(more="")), tmp_path / "site"
    made(content, site)
    page = (site / "patterns/one/index.html").stat().st_ino
    (content / "patterns/one/one.md").write_text(pattern("One") + "\n", encoding="utf-8")
    assert made(content, site).made == 1
    assert (site / "patterns/one/index.html").stat().st_ino == page


@pytest.mark.parametrize("data", [b"", b"damaged", zlib.compress(b"[1, 2]"), zlib.compress(b"[[],3,4]")])
def test_a_damaged_record_of_a_page_only_costs_time(tmp_path: Path, data: bytes) -> None:
    content, site = studio(tmp_path, {"one": pattern("One")}, TOML.format(more="")), tmp_path / "site"
    made(content, site)
    ready = site / steps.READY / "one"
    ready.write_bytes(data.ljust(ready.stat().st_size, b"\0"))
    edited(content, 'tagline = "Another line at the foot"')
    assert made(content, site).ok
    made(content, tmp_path / "fresh")
    assert contents(site) == contents(tmp_path / "fresh")


def test_rounds_changed_in_silence_are_told_after_an_edit_of_the_studio_too(tmp_path: Path) -> None:
    content, site = studio(tmp_path, {"one": pattern("One")}, TOML.format(more="")), tmp_path / "site"
    made(content, site)
    text = content / "patterns/one/one.md"
    text.write_text(
        text.read_text().replace("*sc in next st, 2 sc in next st; rep", "*2 sc in next st, sc in next st; rep")
    )
    for more in ("", 'tagline = "Another line"', 'tagline = "And another"'):
        edited(content, more)
        assert "rounds-changed-in-silence" in [finding.rule for _, finding in made(content, site).findings]


@pytest.mark.parametrize("text", library.load_patterns(CONTENT), ids=lambda text: text.folder.name)
def test_the_record_of_a_page_comes_back_as_it_was(text: library.Text) -> None:
    compiled = compile_pattern(text.source)
    record, _ = work(compiled, {}, Studio(), figures.figures)
    assert finished.unpack(finished.pack(record)) == record


def test_a_step_sees_what_its_key_tells_and_no_more() -> None:
    named = {one.name for one in fields(Studio)}
    for step, seen in steps._SEEN.items():
        assert set(seen) <= named, step
    whole = Studio(title="A", tagline="B", colours={"accent": "#123456", "ink": "#000000"}, terms="UK")
    assert steps.seen_by(steps.WORK, whole) == Studio(terms="UK")
    assert steps.seen_by(steps.SHARING, whole) == Studio(title="A", colours={"accent": "#123456"})


def test_a_photo_is_encoded_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A text's edit leaves its photos as they are; another photo, or another first one, is made."""
    from PIL import Image

    from generator.pages import photos

    more = 'photos:\n  - {file: a.jpg, alt: "A"}\n  - {file: b.jpg, alt: "B"}\n'
    content, site = studio(tmp_path, {"one": pattern(more=more)}, TOML.format(more="")), tmp_path / "site"
    folder = content / "patterns/one"
    for name, colour in (("a", "#4f7a4a"), ("b", "#7a4a4f")):
        Image.new("RGB", (600, 500), colour).save(folder / f"{name}.jpg")
    made(content, site, pictures=True)
    before = contents(site)
    assert "patterns/one/card.jpg" in before
    encoded: list[str] = []
    encode = photos._encode

    def counting(image: Image.Image, suffix: str) -> bytes:
        encoded.append(suffix)
        return encode(image, suffix)

    monkeypatch.setattr(photos, "_encode", counting)
    text = folder / "one.md"
    text.write_text(pattern(more=more.replace('"A"', '"A disc"'), prose="Other words."), encoding="utf-8")
    made(content, site, pictures=True)
    assert not encoded and contents(site).keys() == before.keys()
    text.write_text(
        pattern(more=more.replace("a.jpg", "x").replace("b.jpg", "a.jpg").replace("x", "b.jpg")), encoding="utf-8"
    )
    made(content, site, pictures=True)
    assert encoded == ["jpg", "jpg"], "the other photo is cut for sharing"
    Image.new("RGB", (600, 500), "#4a4f7a").save(folder / "b.jpg")
    (site / "patterns/one/a-480.avif").write_bytes(b"cut short")
    encoded.clear()
    made(content, site, pictures=True)
    assert sorted(encoded) == sorted(["avif", "webp", "jpg"] * 2 + ["jpg", "jpg", "avif"])
    made(content, tmp_path / "fresh", pictures=True)
    assert contents(site) == contents(tmp_path / "fresh")

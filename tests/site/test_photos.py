"""Photos, read back by Pillow: sizes, formats, nothing left of place and camera, upright, the same bytes again."""

import io
from datetime import date
from pathlib import Path

import pytest
from lxml import html
from PIL import ExifTags, Image

from generator.pages import photos
from generator.preview.desk import Desk
from tests.site.conftest import made, pattern, rules, studio

GPS = 0x8825
"""EXIF 2.32, tag of the pointer to the place."""


def camera(width: int = 1800, height: int = 1200, *, turned: int = 1) -> bytes:
    """A photo as a phone saves it: with maker, place and the way it was held."""
    image = Image.new("RGB", (width, height), "#336655")
    image.paste("#ddbb77", (0, 0, width // 2, height // 2))
    exif = Image.Exif()
    exif[ExifTags.Base.Make] = "Invented Camera Works"
    exif[ExifTags.Base.Orientation] = turned
    exif[GPS] = {1: "N", 2: (51.0, 30.0, 0.0)}
    out = io.BytesIO()
    image.save(out, "JPEG", exif=exif, comment=b"secret words")
    return out.getvalue()


def test_nothing_of_place_or_camera_is_left() -> None:
    ready = photos.prepare(camera(), "hat.jpg", "A hat")
    files = [*ready.files.values(), ready.wide, ready.tall]
    assert len(files) > 6
    for data in files:
        image = Image.open(io.BytesIO(data))
        assert not image.getexif() and "comment" not in image.info and "xmp" not in image.info
        assert b"Invented" not in data and b"secret" not in data


def test_widths_formats_and_dimensions() -> None:
    ready = photos.prepare(camera(), "Hat on a post.JPG", "A hat")
    assert sorted(ready.files) == sorted(
        f"hat-on-a-post-{width}.{kind}" for width in (480, 960, 1440) for kind in ("jpg", "webp", "avif")
    )
    for name, data in ready.files.items():
        image = Image.open(io.BytesIO(data))
        assert image.width == int(name.rpartition("-")[2].partition(".")[0])
        assert image.height == round(image.width * 2 / 3)
    picture = ready.picture
    assert (picture.src, picture.width, picture.height) == ("hat-on-a-post-960.jpg", 960, 640)
    assert [kind for kind, _ in picture.sources] == ["image/avif", "image/webp"]
    assert Image.open(io.BytesIO(ready.wide)).size == (1200, 630)
    assert Image.open(io.BytesIO(ready.tall)).size == (1000, 1500)


def test_a_small_photo_is_not_blown_up() -> None:
    assert {name.partition(".")[0] for name in photos.prepare(camera(300, 200), "a.jpg", "x").files} == {"a-300"}


@pytest.mark.parametrize(
    ("wide", "files"), [(480, {480}), (960, {480, 960}), (1440, {480, 960, 1440}), (1441, {480, 960, 1440})]
)
def test_a_photo_of_a_page_s_own_width_is_kept_whole(wide: int, files: set[int]) -> None:
    ready = photos.prepare(camera(wide, 400), "a.jpg", "x")
    assert {int(name.partition(".")[0].removeprefix("a-")) for name in ready.files} == files


@pytest.mark.parametrize("turned", [3, 6, 8])
def test_a_photo_held_another_way_stands_upright(turned: int) -> None:
    upright = Image.open(
        io.BytesIO(
            photos.prepare(camera(800, 400, turned=turned), "a.jpg", "x").files[
                "a-400.jpg" if turned != 3 else "a-800.jpg"
            ]
        )
    )
    assert (upright.width > upright.height) == (turned == 3)


def test_the_same_photo_gives_the_same_bytes() -> None:
    one, two = (photos.prepare(camera(900, 600), "a.jpg", "x") for _ in range(2))
    assert one.files == two.files and one.wide == two.wide


def test_a_see_through_picture_lies_on_white() -> None:
    out = io.BytesIO()
    Image.new("RGBA", (600, 400), (255, 0, 0, 0)).save(out, "PNG")
    data = photos.prepare(out.getvalue(), "a.png", "x").files["a-600.jpg"]
    assert Image.open(io.BytesIO(data)).getpixel((10, 10)) == (255, 255, 255)


def test_photos_on_a_page(tmp_path: Path) -> None:
    more = 'photo: {file: hat.jpg, alt: "A hat on a post"}\n'
    prose = "Here it is: ![The brim from below](brim view.jpg)".replace("brim view.jpg", "<brim view.jpg>")
    content, site = studio(tmp_path, {"hat": pattern(more=more, prose=prose)}), tmp_path / "site"
    for name in ("hat.jpg", "brim view.jpg"):
        (content / "patterns/hat" / name).write_bytes(camera(1000, 700))
    report = made(content, site, pictures=True)
    assert report.ok, report.findings
    tree = html.document_fromstring((site / "patterns/hat/index.html").read_bytes())
    alts = {image.get("alt"): image for image in tree.iter("img")}
    assert set(alts) == {"A hat on a post", "The brim from below"}
    assert alts["A hat on a post"].get("loading") is None, "the first picture is what a reader waits for"
    assert alts["The brim from below"].get("loading") == "lazy"
    for image in alts.values():
        assert (site / "patterns/hat" / image.get("src")).is_file() and image.get("width") == "960"
    assert (site / "patterns/hat/card.jpg").is_file()
    # A list shows it small, so it takes the small file: 480 wide, of a picture of ten by seven.
    assert (
        'src="patterns/hat/hat-480.jpg" alt="A hat on a post" width="480" height="336"'
        in (site / "index.html").read_text()
    )


@pytest.mark.parametrize("line", ["photo: {file: hat.jpg}\n", 'photo: {file: hat.jpg, alt: ""}\n'])
def test_a_photo_without_words_is_not_published(tmp_path: Path, line: str) -> None:
    content, site = studio(tmp_path, {"hat": pattern(more=line)}), tmp_path / "site"
    (content / "patterns/hat/hat.jpg").write_bytes(camera(300, 200))
    assert "hat" not in [p.parent.name for p in site.glob("patterns/*/index.html")]
    assert rules(made(content, site)) == ["picture-without-words"]


def test_photos_of_the_journal(tmp_path: Path) -> None:
    content, site = studio(tmp_path, {"disc": pattern()}), tmp_path / "site"
    (content / "journal").mkdir()
    text = "---\ntitle: High water\npublished: 2026-05-05\nsummary: Wet.\n---\n\n![The sill at dusk](sill.jpg)\n"
    (content / "journal/high-water.md").write_text(text)
    (content / "journal/sill.jpg").write_bytes(camera(700, 500))
    for _ in range(2):
        assert made(content, site).ok
        tree = html.document_fromstring((site / "journal/high-water.html").read_bytes())
        [image] = tree.iter("img")
        assert image.get("alt") == "The sill at dusk"
        assert (site / "journal" / image.get("src")).resolve().is_file()


def test_the_preview_shows_the_photos_that_publish_makes(tmp_path: Path) -> None:
    photo = 'photo: {file: hat.jpg, alt: "A hat on a post"}\n'
    content = studio(tmp_path, {"hat": pattern(more=photo, prose="![The brim](hat.png)")})
    folder, site = content / "patterns/hat", tmp_path / "site"
    (folder / "hat.jpg").write_bytes(camera(3200, 2950, turned=6))
    Image.new("RGBA", (500, 301), "#40608080").save(folder / "hat.png")
    (content / "journal").mkdir()
    entry = "---\ntitle: High water\npublished: 2026-05-05\nsummary: Wet.\nphoto: {file: sill.jpg, alt: The sill}\n---\nX.\n"
    (content / "journal/high-water.md").write_text(entry)
    (content / "journal/sill.jpg").write_bytes(camera(700, 500))
    assert made(content, site).ok
    desk = Desk(content, site, date(2026, 11, 25))
    for path in ("patterns/hat/index.html", "journal/high-water.html"):
        told = desk.page(path)
        assert told is not None
        published, shown = (
            [picture.attrib for picture in html.document_fromstring(page).iter("img", "source")]
            for page in ((site / path).read_bytes(), told)
        )
        assert shown == published and shown
    files = [place.relative_to(site).as_posix() for place in site.rglob("*.avif")]
    files += [place.relative_to(site).as_posix() for place in site.rglob("*-*.jpg")]
    assert len(files) >= 12
    for file in files:
        assert desk.page(file) == (site / file).read_bytes(), file
    assert desk.page("patterns/hat/hat-961.jpg") is None and desk.page("pictures/high-water/../hat.jpg") is None


def test_the_preview_says_which_photo_of_the_journal_is_none(tmp_path: Path) -> None:
    content = studio(tmp_path, {"disc": pattern()})
    (content / "journal").mkdir()
    (content / "journal/tide.md").write_text("---\ntitle: Tide\npublished: 2026-05-05\n---\n![Low](low.jpg)\n")
    (content / "journal/low.jpg").write_bytes(b"no picture")
    desk = Desk(content, tmp_path / "site", date(2026, 11, 25))
    page = desk.page("journal/tide.html")
    assert page is not None and b"low" not in page.partition(b"<main")[2].partition(b"</main>")[0]
    assert "photo-unusable" in str(desk.state("journal/tide.html"))

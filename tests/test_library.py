"""The studio's folder as it may be found on a disk: what is read, what is left alone, what is said."""

import os
from pathlib import Path

import pytest

from generator.library import (
    Catalogue,
    decode,
    find_photos,
    load_catalogue,
    load_studio,
    load_text,
    photo_file,
    twins,
)  # fmt: skip
from generator.notation.document import LONGEST, read_document
from generator.pages.studio import Studio
from generator.pages.wanted import of_pattern
from generator.source import Source

PATTERN = "---\ntitle: {}\n---\n```rounds\nRnd 1: 6 sc in magic ring (6)\n```\n"


def put(folder: Path, **files: str | bytes) -> Path:
    for name, content in files.items():
        file = folder / name.replace("__", "/")
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_bytes(content if isinstance(content, bytes) else content.encode())
    return folder


def write(folder: Path, name: str, content: str | bytes) -> None:
    put(folder, **{name: content})


@pytest.fixture
def content(tmp_path: Path) -> Path:
    folder = tmp_path / "content"
    write(folder, "patterns/hat/hat.md", PATTERN.format("Hat"))
    return folder


def names(catalogue: Catalogue) -> list[str]:
    return [text.source.path for text in catalogue.patterns]


def test_patterns_of_any_script_and_with_blanks_are_found_in_a_fixed_order(content: Path) -> None:
    for name in ("patterns/かご/かご.md", "patterns/Reed bed/Reed bed No. 2.MD", "patterns/loose.markdown"):
        write(content, name, PATTERN.format("x"))
    assert names(load_catalogue(content)) == [
        "content/patterns/Reed bed/Reed bed No. 2.MD", "content/patterns/hat/hat.md", "content/patterns/loose.markdown",
        "content/patterns/かご/かご.md",
    ]  # fmt: skip


def test_what_editors_leave_behind_is_no_pattern(content: Path) -> None:
    for name in (".hat.md.swp", ".hidden.md", "hat.md~", "#hat.md#", "~$hat.md", "notes.txt"):
        write(content, f"patterns/hat/{name}", "x")
    write(content, "patterns/.git/x.md", "x")
    assert names(load_catalogue(content)) == ["content/patterns/hat/hat.md"]


@pytest.mark.skipif(not hasattr(os, "symlink"), reason="no links on this system")
def test_links_are_followed_inside_content_only(content: Path, tmp_path: Path) -> None:
    write(tmp_path, "secret/secret.md", "not yours")
    write(content, "shared/mat.md", PATTERN.format("Mat"))
    (content / "patterns" / "out").symlink_to(tmp_path / "secret")
    (content / "patterns" / "secret.md").symlink_to(tmp_path / "secret" / "secret.md")
    (content / "patterns" / "mat.md").symlink_to(content / "shared" / "mat.md")
    (content / "patterns" / "loop").symlink_to(content / "patterns")
    (content / "patterns" / "nowhere.md").symlink_to(content / "missing.md")
    assert names(load_catalogue(content)) == ["content/patterns/hat/hat.md", "content/patterns/mat.md"]


@pytest.mark.parametrize("name", ["../outside.jpg", "/etc/hostname", "missing.jpg", "folder", "a\0b"])
def test_a_photo_is_a_file_inside_content(content: Path, tmp_path: Path, name: str) -> None:
    write(tmp_path, "outside.jpg", b"x")
    (content / "patterns" / "hat" / "folder").mkdir()
    folder = content / "patterns" / "hat"
    assert photo_file(folder, name, folder) is None


def test_a_missing_photo_is_told_at_its_name(content: Path) -> None:
    text = PATTERN.format(
        "Hat\nphoto: {file: lantern.jpg, alt: x}\nphotos: [{file: Round.jpg, alt: y}, {file: b.jpg, alt: z}]"
    )
    write(content, "patterns/hat/round.JPG", b"")
    pattern = read_document(Source("hat.md", text)).value
    findings = find_photos(of_pattern(pattern), content / "patterns" / "hat", content).findings
    assert [(finding.rule, pattern.source.words(finding.span)) for finding in findings] == [
        ("photo-missing", "lantern.jpg"), ("photo-missing", "Round.jpg"), ("photo-missing", "b.jpg"),
    ]  # fmt: skip
    assert findings[1].fits == "round.JPG"


def test_pictures_of_prose_and_journal_are_looked_for_like_those_of_the_header(content: Path) -> None:
    write(content, "patterns/hat/brim.jpg", b"")
    text = PATTERN.format("Hat") + "\n![The brim](brim.jpg) ![Crown](crown.jpg) ![Far](https://far.example/a.png)\n"
    pattern = read_document(Source("hat.md", text)).value
    found = find_photos(of_pattern(pattern), content / "patterns" / "hat", content)
    assert [path.name for path in found.value.values()] == ["brim.jpg"]
    assert [(one.rule, one.severity, pattern.source.words(one.span)) for one in found.findings] == [
        ("photo-missing", "warning", "crown.jpg"), ("photo-elsewhere", "error", "https://far.example/a.png"),
    ]  # fmt: skip
    entry = '---\ntitle: High water\nphoto: {file: sill.jpg, alt: ""}\n---\n\n![](brim.jpg)\n'
    write(content, "journal/high-water.md", entry)
    said = next(one for one in load_catalogue(content).said if "high-water" in one.source.path)
    assert sorted((one.rule, said.source.words(one.span)) for one in said.findings) == [
        ("photo-missing", "brim.jpg"), ("photo-missing", "sill.jpg"),
        ("picture-without-words", "brim.jpg"), ("picture-without-words", "sill.jpg"),
    ]  # fmt: skip


def test_two_patterns_cannot_have_one_address() -> None:
    patterns = [
        read_document(Source(path, PATTERN.format("x"))).value for path in ("a/hat.md", "b/Hat.md", "c/hat-2.md")
    ]
    found = twins(patterns)
    assert [(path, finding.message, finding.fits) for path, finding in found.items()] == [
        ("b/Hat.md", "the address `hat` is already taken by a/hat.md", "slug: hat-3")
    ]


@pytest.mark.parametrize(
    ("data", "text", "rules"),
    [
        (b"\xef\xbb\xbfa\r\nb\rc\n", "a\nb\nc\n", []),
        ("é".encode("utf-16"), "é", []),
        (b"caf\xe9\r\n", "café\n", ["not-utf-8"]),
        (b"\x89PNG\0\0", "", ["not-text"]),
        (b"x" * (LONGEST + 1), "", ["too-long"]),
        (b"", "", []),
    ],
)
def test_bytes_become_text(data: bytes, text: str, rules: list[str]) -> None:
    found = decode("x.md", data, Path())
    assert (found.source.text, [finding.rule for finding in found.findings]) == (text, rules)


def test_the_wrong_code_is_told_at_its_first_letter() -> None:
    found = decode("x.md", b"a\r\nb\r\ncaf\xe9", Path())
    assert found.source.place(found.findings[0].span.start) == (3, 4)


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root may read everything")
def test_a_file_that_may_not_be_read_is_told(content: Path) -> None:
    (content / "patterns" / "hat" / "hat.md").chmod(0)
    assert [finding.rule for finding in load_catalogue(content).patterns[0].findings] == ["file-not-readable"]


def test_a_folder_in_place_of_a_file_is_told(content: Path) -> None:
    assert [finding.rule for finding in load_text(content).findings] == ["file-not-readable"]


STUDIO = """title = "Marsh"
address = "https://marsh.example/shop"
theme = "quire"
units = "imperial"
links = [["Letters", "mailto:keeper@marsh.example"]]
[colours]
accent = "#AA5500"
"""


def test_a_studio_is_read(content: Path) -> None:
    write(content, "studio.toml", STUDIO)
    write(content, "templates/base.html", "x")
    checked = load_studio(content)
    assert checked.findings == ()
    studio = checked.value
    assert (studio.title, studio.address, studio.units) == ("Marsh", "https://marsh.example/shop/", "imperial")
    assert (studio.colours, studio.links) == ({"accent": "#aa5500"}, (("Letters", "mailto:keeper@marsh.example"),))
    assert studio.templates == {"base.html": "x"}


def test_without_a_file_a_studio_has_its_defaults(content: Path) -> None:
    assert load_studio(content).value == Studio()


@pytest.mark.parametrize(
    ("written", "rule", "line"),
    [
        ("title = 3", "studio-wrong-value", 1),
        ('title = "x"\ntitel = "y"', "studio-unknown-key", 2),
        ('title = "x"\n\naddress = "marsh"', "studio-wrong-value", 3),
        ('address = "https://marsh.example/?a=b"', "studio-wrong-value", 1),
        ('sc_sign = "o"', "studio-wrong-value", 1),
        ('[colours]\naccent = "red"', "studio-wrong-value", 1),
        ('links = [["x", "javascript:alert(1)"]]', "studio-wrong-value", 1),
        ('theme = "../../etc"', "studio-wrong-value", 1),
        ('language = "english please"', "studio-wrong-value", 1),
        ("title = Marsh", "studio-not-readable", 1),
        ('title = "Marsh', "studio-not-readable", 1),
        ('title = "a"\ntitle = "b"', "studio-not-readable", 2),
        ("\0", "not-text", 1),
    ],
)
def test_a_wrong_studio_is_told_once_at_its_line(content: Path, written: str, rule: str, line: int) -> None:
    write(content, "studio.toml", written)
    said = load_catalogue(content).said
    assert [(f.rule, entry.source.place(f.span.start)[0]) for entry in said for f in entry.findings] == [(rule, line)]


def test_journal_and_pages_are_read(content: Path) -> None:
    write(
        content,
        "journal/2026-09-27-Equinox.md",
        "---\ntitle: The equinox\npublished: 2026-09-27\ntags: [a]\n---\n\nWords.\n",
    )
    write(content, "about.md", "---\ntitle: About\n---\nMe.\n")
    catalogue = load_catalogue(content)
    assert [(post.slug, post.title, post.body) for post in catalogue.posts] == [("equinox", "The equinox", "Words.\n")]
    assert [(page.slug, page.published) for page in catalogue.pages] == [("about", None)]


@pytest.mark.parametrize(
    ("text", "rule"),
    [("", "empty-file"), ("Words", "header-missing"), ("---\nhook: 4 mm\n---\n", "header-unknown-key"), ("---\npublished: soon\n---\n", "header-wrong-value")],
)  # fmt: skip
def test_a_wrong_journal_entry_is_told(content: Path, text: str, rule: str) -> None:
    write(content, "journal/x.md", text)
    assert [finding.rule for said in load_catalogue(content).said for finding in said.findings] == [rule]

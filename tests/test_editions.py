"""Editions of the demo patterns: nothing private, nothing lost, no abbreviation where none may be."""

import io
import json
import re
from functools import cache
from pathlib import Path

import pikepdf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator
from leaflets import TEMPLATES
from PIL import Image
from pypdf import PdfReader

from generator.library import load_studio
from generator.pages.binding import bind
from generator.pages.chapters import chapters
from generator.pages.cuesheet import cue_sheet
from generator.pages.desk import desk
from generator.pages.editions import DIALECTS, EDITIONS, Bound, bind_all, editions, statement, statement_text
from generator.pages.patternjson import pattern_json
from generator.pages.photos import prepare
from generator.pages.plaintext import plain_text
from generator.pages.plates import photograph
from generator.pages.preedit import pre_edit, pre_edit_text
from generator.pages.shownotes import ROOM, show_notes
from generator.pages.views import pattern_view
from generator.pipeline import Compiled, compile_pattern
from generator.source import Source
from generator.vocabulary.load import language
from generator.wording.instructions import Style

CONTENT = Path(__file__).parent.parent / "content"
SCHEMA = Path(__file__).parent.parent / "generator" / "pattern.schema.json"
STUDIO = load_studio(CONTENT).value
SLUGS = sorted(path.name for path in (CONTENT / "patterns").iterdir() if path.is_dir())


@cache
def compiled(slug: str) -> Compiled:
    path = CONTENT / "patterns" / slug / f"{slug}.md"
    return compile_pattern(Source(f"content/patterns/{slug}/{slug}.md", path.read_text(encoding="utf-8")))


@cache
def bound(slug: str) -> Bound:
    return bind_all(compiled(slug), STUDIO)


@cache
def made(slug: str) -> dict[str, bytes]:
    return editions(bound(slug), TEMPLATES).value


def flat(text: str) -> str:
    return re.sub(r"\s+", "", text)


def pdf_text(content: bytes) -> str:
    """The words of a PDF with the running foot and repeated table heads taken out, white space gone."""
    pages = [page.extract_text() for page in PdfReader(io.BytesIO(content)).pages]
    return re.sub(r"DoneRoundWork(Count)?", "", "".join(flat(re.sub(r"page \d+ of \d+", "", page)) for page in pages))


def private_notes(slug: str) -> list[str]:
    source = compiled(slug).pattern.source.text
    return re.findall(r"(?im)^why:\s*(.+)$", source)


def short_forms(code: str) -> set[str]:
    """Every abbreviation of a language that is no word in full, lower case; single letters are names of yarns."""
    words = language(code)
    whole = {
        form.lower() for table in (words.stitches, words.terms) for w in table.values() for form in (w.name, w.plural)
    }
    inside = {part for form in whole for part in form.split()}
    found = {
        w.abbreviation.lower()
        for table in (words.stitches, words.terms)
        for w in table.values()
        if w.abbreviation != w.name
    }
    single = {form for form in found if " " not in form and len(form) > 1}
    return {form for form in single | {form + "s" for form in single} if form not in inside}


@pytest.mark.parametrize("slug", SLUGS)
@pytest.mark.parametrize("key", DIALECTS)
def test_the_spelled_out_edition_has_no_abbreviation(slug: str, key: str) -> None:
    """Word by word against the vocabulary's own list of abbreviations (sources in the language files)."""
    text = made(slug)[f"{slug}-{key}-spoken.txt"].decode()
    address = STUDIO.address
    words = re.findall(r"[A-Za-z0-9]+(?:'[a-z]+)?", text.replace(address, ""))
    forms = short_forms("en-US") | short_forms("en-GB")
    found = [word for word in words if word.lower() in forms]
    assert not found
    assert not set(text) & set("*[]×–½¼¾•\u00a0")


@pytest.mark.parametrize("slug", SLUGS)
def test_the_booklets_say_what_the_page_says(slug: str) -> None:
    view = pattern_view(compiled(slug).pattern, compiled(slug).fabric, compiled(slug).measured, STUDIO).view
    rows = [row for section in view.sections if section.part for row in section.part.rows]
    assert rows
    for key in DIALECTS:
        for edition in ("a4", "letter", "large-18", "large-24"):
            text = pdf_text(made(slug)[f"{slug}-{key}-{edition}.pdf"])
            for row in rows:
                assert flat(getattr(row.text, key)) in text, (edition, row.text)


@pytest.mark.parametrize("slug", SLUGS)
def test_a_private_note_is_in_no_file(slug: str) -> None:
    notes = private_notes(slug)
    view = pattern_view(compiled(slug).pattern, compiled(slug).fabric, compiled(slug).measured, STUDIO).view
    papers = desk(bound(slug), TEMPLATES, view.card, made(slug)).value
    for name, content in {**made(slug), **papers}.items():
        text = pdf_text(content) if name.endswith(".pdf") else content.decode("utf-8", "replace")
        for note in notes:
            assert flat(note) not in flat(text), name


def test_some_pattern_has_a_private_note() -> None:
    assert any(private_notes(slug) for slug in SLUGS)


@pytest.mark.parametrize("slug", SLUGS[:3])
def test_all_editions_come_out_the_same_again(slug: str) -> None:
    again = editions(bind_all(compiled(slug), STUDIO), TEMPLATES).value
    assert list(again) == list(made(slug))
    assert [name for name in again if again[name] != made(slug)[name]] == []


@pytest.mark.parametrize("slug", SLUGS)
def test_the_statement_names_what_is_there_and_nothing_else(slug: str) -> None:
    files = made(slug)
    available = statement(files)
    assert [one.file for one in available] == list(files)
    assert all(one.bytes == len(files[one.file]) for one in available)
    assert {one.title for one in available} >= {edition.title for edition in EDITIONS}
    few = {name: content for name, content in files.items() if "large" not in name}
    assert "Large print" not in statement_text(statement(few))


@pytest.mark.parametrize("slug", SLUGS)
def test_the_data_has_every_line_in_both_dialects_and_the_worked_counts(slug: str) -> None:
    data = json.loads(made(slug)[f"{slug}.json"])
    Draft202012Validator(json.loads(SCHEMA.read_text(encoding="utf-8"))).validate(data)
    for part, worked in zip(data["parts"], compiled(slug).fabric.parts, strict=True):
        numbered = [line for line in part["lines"] if line["numbers"]]
        lives = [line.live for line in worked.lines if line.line.label.numbers]
        assert [line["live"] for line in numbered] == lives
        assert all(set(line["text"]) == set(DIALECTS.values()) for line in part["lines"])


@pytest.mark.parametrize("slug", SLUGS)
def test_steps_are_ticked_one_by_one(slug: str) -> None:
    leaflet = bind(compiled(slug), STUDIO, language("en-US"), Style.STEPS, {})
    assert any(entry.steps for entry in leaflet.entries())
    text = pdf_text(made(slug)[f"{slug}-us-steps.pdf"])
    for entry in leaflet.entries():
        for step in entry.steps:
            assert flat(step) in text


@pytest.mark.parametrize("slug", SLUGS)
def test_show_notes_have_chapters_and_fit_under_a_film(slug: str) -> None:
    header = compiled(slug).pattern.header
    marks = chapters(header.film, header.spans)
    assert not marks.findings
    leaflet = bound(slug).leaflets["us", Style.SHORT]
    text = show_notes(leaflet, marks.value)
    assert len(text) <= ROOM
    for chapter in marks.value:
        assert f"\n{chapter.line()}\n" in text
    assert leaflet.address in text
    short = show_notes(leaflet, marks.value, room=100)
    assert "THE ROUNDS" not in short and leaflet.title in short


def test_the_cue_sheet_has_every_round_in_large_type() -> None:
    leaflet = bound("sluice-lantern").leaflets["us", Style.SHORT]
    text = pdf_text(cue_sheet(leaflet, (), TEMPLATES).content)
    for entry in leaflet.entries():
        assert flat(entry.label) in text and flat(entry.text) in text


def test_the_pre_edit_sheet_lists_what_was_proved_and_what_was_overridden() -> None:
    text = (
        "---\ntitle: Net\nterms: US\nintended: {count-missing: counts follow in the film}\n---\n\n## Base\n\n```rounds\n"
        "Rnd 1: 6 sc in magic ring. (6)\nRnd 2: 2 sc in each st around. (13)\n```\n"
    )
    found = compile_pattern(Source("net.md", text))
    sheet = pre_edit(found, bind(found, STUDIO, language("en-US"), Style.SHORT, {}))
    assert [(row.source_line, row.stated, row.live, row.status) for row in sheet.rows] == [
        (10, "6", 6, "proved"),
        (11, "13", 12, "count differs"),
    ]
    assert sheet.overridden == (("whole pattern", "count-missing: counts follow in the film"),)
    assert any("line 11" in said for said in sheet.open)
    assert "the prose: sense, tone" in pre_edit_text(sheet)


def test_partial_patterns_are_bound_too() -> None:
    for text in ("", "---\ntitle: x\n---\n", "---\ntitle: x\n---\n```rounds\nRnd 1: blarg\n```\n", "no header"):
        found = compile_pattern(Source("x.md", text))
        files = editions(bind_all(found, STUDIO), TEMPLATES).value
        assert all(content for content in files.values())


def test_a_wrong_template_is_told_once_and_the_rest_is_made() -> None:
    wrong = {**TEMPLATES, "booklet.typ": "#nothing-of-this-name"}
    found = editions(bound("ebb-ring-coaster"), wrong)
    assert [finding.rule for finding in found.findings] == ["booklet-not-set"]
    assert "nothing-of-this-name" in found.findings[0].message
    assert [name for name in found.value if name.endswith(".txt")]
    assert not [name for name in found.value if name.endswith(".pdf")]


def test_the_desk_has_papers_for_film_testers_editor_and_release() -> None:
    slug = "sluice-lantern"
    view = pattern_view(compiled(slug).pattern, compiled(slug).fabric, compiled(slug).measured, STUDIO).view
    papers = desk(bound(slug), TEMPLATES, view.card, made(slug))
    assert not papers.findings
    assert {name.split("/")[0] for name in papers.value} == {"notes", "test", "editor", "release", "editions.txt"}
    sheet = pdf_text(papers.value[f"test/{slug}-test-sheet.pdf"])
    for entry in bound(slug).leaflets["us", Style.SHORT].entries():
        assert not entry.boxes or flat(entry.label) in sheet
    for name, size in {"1200x630": (1200, 630), "1000x1500": (1000, 1500), "1080x1080": (1080, 1080)}.items():
        assert Image.open(io.BytesIO(papers.value[f"release/picture-{name}.png"])).size == size
    post = papers.value["release/post.txt"].decode()
    assert len(post) <= 281 and f"{STUDIO.address}patterns/{slug}/" in post


WORDS = st.text(alphabet=st.sampled_from("abc Rnd12:*()[]sc,;.\n#-`<>&é½\u00a0🧶"), max_size=60)


@settings(max_examples=40, deadline=None)
@given(title=WORDS, prose=WORDS, work=WORDS)
def test_leaflets_of_any_text_never_fail(title: str, prose: str, work: str) -> None:
    head = json.dumps(title, ensure_ascii=False)
    text = f"---\ntitle: {head}\nterms: US\n---\n\n{prose}\n\n## Part\n\n```rounds\n{work}\n```\n\n{prose}\n"
    found = compile_pattern(Source("x.md", text))
    both = {code: bind(found, STUDIO, language(code), Style.SHORT, {}) for code in DIALECTS.values()}
    assert pattern_json(found, both)
    spelled = bind(found, STUDIO, language("en-US"), Style.SPELLED, {})
    assert plain_text(spelled).endswith("End of the pattern.\n")
    assert show_notes(spelled, ())
    assert pre_edit_text(pre_edit(found, both["en-US"]))


SIDES = """---
title: Flag
terms: US
hook: 4 mm
gauge: 16 sc x 18 rows = 10 cm
yarns: {A: {colour: slate, weight: 4}}
---
## Flag
```rounds
Ch 6
Row 1: Sc in 2nd ch from hook and in each ch across, turn. (5)
Row 2: Ch 1, sc in each st across. (5)
Note: the pole goes through the left edge
```
"""


def test_the_left_hand_has_the_mirror_image_and_its_own_sides() -> None:
    both = bind_all(compile_pattern(Source("flag.md", SIDES)), STUDIO)
    right, left = both.leaflets["us", Style.SHORT], both.left["us"]
    assert "left edge" in right.entries()[-1].text and "right edge" in left.entries()[-1].text
    assert [entry.text for entry in right.entries()[:-1]] == [entry.text for entry in left.entries()[:-1]]
    [drawn], [mirrored] = ([figure for section in one.sections for figure in section.figures] for one in (right, left))
    assert (drawn.width, drawn.height) == (mirrored.width, mirrored.height)
    assert drawn.svg != mirrored.svg and "left hand" in mirrored.title
    text = pdf_text(editions(both, TEMPLATES).value["flag-us-left-a4.pdf"])
    assert "rightedge" in text and "Left-handedbooklet" in text


def test_a_photo_is_printed_with_its_words() -> None:
    """PDF/UA-1 (ISO 14289-1), 7.3: every figure has an alternative; the words of it are the page's own."""
    folder = CONTENT / "patterns" / "neap-moon"
    alt = compiled("neap-moon").pattern.header.photos[0].alt
    photo = photograph(prepare((folder / "neap-moon.jpg").read_bytes(), "neap-moon.jpg", alt))
    files = editions(bind_all(compiled("neap-moon"), STUDIO, photo=photo), TEMPLATES).value
    for name in ("neap-moon-us-a4.pdf", "neap-moon-uk-large-24.pdf"):
        with pikepdf.open(io.BytesIO(files[name])) as pdf:
            told = [str(o["/Alt"]) for o in pdf.objects if isinstance(o, pikepdf.Dictionary) and "/Alt" in o]
            assert told.count(alt) == 1
            shown = [o for o in pdf.objects if isinstance(o, pikepdf.Stream) and o.get("/Subtype") == "/Image"]
            assert max(int(image.get("/Width", 0)) for image in shown) == 960
        assert len(files[name]) < 500_000
        assert len(files[name]) > len(made("neap-moon")[name]), "without a photo there is none"

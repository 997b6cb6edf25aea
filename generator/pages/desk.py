"""The designer's own papers for one pattern: nothing of it is published. One folder, ready to send or to print from.

notes/      show notes, cue sheet, chapters
test/       test edition, sheet for testers, what to tell them
editor/     pre-edit sheet
release/    texts and pictures for the day
editions.txt
"""

from collections.abc import Mapping

from generator.diagnostics.record import Checked, Finding
from generator.pages import emblem, materials
from generator.pages.booklet import A4, booklet
from generator.pages.chapters import chapters
from generator.pages.cuesheet import cue_sheet
from generator.pages.editions import Bound, statement, statement_text
from generator.pages.leaflet import Leaflet
from generator.pages.preedit import pre_edit, pre_edit_print, pre_edit_text
from generator.pages.records import Card
from generator.pages.release import release_pictures, release_texts
from generator.pages.shownotes import show_notes
from generator.pages.testsheet import RULES, sheet, sheet_print
from generator.wording.voice import Style


def desk(
    bound: Bound, templates: Mapping[str, str], card: Card, public: Mapping[str, bytes]
) -> Checked[dict[str, bytes]]:
    """All papers of a pattern by path in its folder.

    Args:
        bound: the pattern.
        templates: the theme's booklet templates.
        card: what lists know of it; for the pictures.
        public: its published editions by file name, for the statement.

    Gives what `chapters.chapters` and `booklet.booklet` give.
    """
    header = bound.compiled.pattern.header
    own = bound.leaflets["uk" if header.terms == "UK" else "us", Style.SHORT]
    marks = chapters(header.film, header.spans)
    accent = bound.studio.colours.get("accent", "")
    test = booklet(own, A4, "Test edition: please do not pass it on", templates, accent)
    check = pre_edit(bound.compiled, own)
    swatches = {key: colour for key, (_, colour) in materials.colours(header).items()}
    cover = emblem.cover(bound.compiled.fabric, swatches, header.title)
    files = {
        "notes/show-notes.txt": show_notes(own, marks.value).encode(),
        "notes/cue-sheet.pdf": cue_sheet(own, marks.value, templates, accent).content,
        "test/test-edition.pdf": test.value.content,
        f"test/{header.slug}-test-sheet.csv": sheet(own),
        f"test/{header.slug}-test-sheet.pdf": sheet_print(own, templates, accent).content,
        "test/for-testers.txt": for_testers(own).encode(),
        "editor/pre-edit.md": pre_edit_text(check).encode(),
        "editor/pre-edit.pdf": pre_edit_print(check, own, templates, accent).content,
        "editions.txt": statement_text(statement(public)).encode(),
    }
    if marks.value:
        files["notes/chapters.txt"] = "".join(chapter.line() + "\n" for chapter in marks.value).encode()
    alt = next((photo.alt for photo in header.photos if photo.alt), f"Drawing of {header.title}: {header.summary}")
    files |= {f"release/{name}": text for name, text in release_texts(own, header.tags, marks.value, alt).items()}
    pictures = release_pictures(card, cover, emblem.ground(swatches), bound.studio)
    files |= {f"release/{name}": content for name, content in pictures.items()}
    findings: tuple[Finding, ...] = (*marks.findings, *test.findings)
    return Checked(files, findings)


def for_testers(leaflet: Leaflet) -> str:
    """The letter that goes with a test."""
    lines = [f"Test of {leaflet.title}", "", "Thank you for testing. A few rules make your work count:", ""]
    lines += [f"- {rule}" for rule in RULES]
    lines += [
        "",
        f"Fill the sheet {leaflet.slug}-test-sheet.csv in any spreadsheet and save it as CSV again.",
        f"Terms: {leaflet.terms}.",
    ]
    return "\n".join(lines) + "\n"

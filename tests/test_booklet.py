"""Booklets, read back by other programs: tags, fonts, letters, page breaks, edges."""

import io
import re
from dataclasses import replace

import pikepdf
import pytest
from leaflets import TEMPLATES, figure, leaflet
from PIL import Image
from pypdf import PdfReader

from generator.pages.booklet import A4, LARGE_18, LARGE_24, LETTER, STEPS, Paper, booklet, breaking, data, template
from generator.pages.leaflet import Thread
from generator.pages.typesetting import outside_house, picture, typeset

PAPERS = (A4, LETTER, STEPS, LARGE_18, LARGE_24)
PLATES = (figure(), figure(3200, 400))


def printed(paper: Paper, rounds: int = 24, turns: int = 2) -> bytes:
    return booklet(leaflet(rounds, turns=turns, figures=PLATES), paper, "Booklet", TEMPLATES).value.content


def pages(content: bytes) -> list[str]:
    return [flat(page.extract_text()) for page in PdfReader(io.BytesIO(content)).pages]


def flat(text: str) -> str:
    """Words only: how a reader spaces and breaks lines is its own affair."""
    return re.sub(r"\s+", "", text)


def tags(pdf: pikepdf.Pdf) -> list[tuple[str, pikepdf.Object]]:
    found: list[tuple[str, pikepdf.Object]] = []

    def walk(node: pikepdf.Object) -> None:
        if isinstance(node, pikepdf.Array):
            for child in node:
                walk(child)
        elif isinstance(node, pikepdf.Dictionary):
            if "/S" in node:
                found.append((str(node["/S"]), node))
            if "/K" in node:
                walk(node["/K"])

    walk(pdf.Root["/StructTreeRoot"])
    return found


@pytest.mark.parametrize("paper", PAPERS, ids=lambda p: f"{p.name} {p.size}")
def test_a_booklet_is_tagged_as_iso_14289_1_asks(paper: Paper) -> None:
    """ISO 14289-1 (PDF/UA-1), clauses from memory: tagged, titled, a language, TH with scope, alternatives."""
    with pikepdf.open(io.BytesIO(printed(paper))) as pdf:
        root = pdf.Root
        assert root["/MarkInfo"]["/Marked"]
        assert str(root["/Lang"]).startswith("en")
        assert root["/ViewerPreferences"]["/DisplayDocTitle"]
        with pdf.open_metadata() as meta:
            assert meta["pdfuaid:part"] == "1"
            assert meta["dc:title"] == "Sedge basket"
        found = tags(pdf)
        names = {name for name, _ in found}
        assert {"/H1", "/H2"} <= names or {"/Title", "/H1"} <= names
        figures = [node for name, node in found if name == "/Figure"]
        assert len(figures) == len(PLATES)
        assert all(str(node["/Alt"]) == "Six rounds from the middle." for node in figures)
        heads = [node for name, node in found if name == "/TH"]
        if not paper.large:
            assert heads
        assert all("/Scope" in str(node.get("/A", "")) for node in heads)


@pytest.mark.parametrize("paper", PAPERS, ids=lambda p: f"{p.name} {p.size}")
def test_a_checker_of_another_house_finds_nothing_against_it(paper: Paper, tmp_path) -> None:  # type: ignore[no-untyped-def]
    pdfua = pytest.importorskip("pdfua")
    place = tmp_path / "booklet.pdf"
    place.write_bytes(printed(paper))
    report = pdfua.validate(place)
    failed = [found for found in report.findings if "UA-14-001" not in str(found)]
    assert not failed, failed


@pytest.mark.parametrize("paper", PAPERS, ids=lambda p: f"{p.name} {p.size}")
def test_all_fonts_are_embedded(paper: Paper) -> None:
    with pikepdf.open(io.BytesIO(printed(paper))) as pdf:
        fonts = [o for o in pdf.objects if isinstance(o, pikepdf.Dictionary) and o.get("/Type") == "/FontDescriptor"]
        assert fonts
        assert all({"/FontFile", "/FontFile2", "/FontFile3"} & set(font.keys()) for font in fonts)
        if paper.large:
            assert all("Italic" not in str(font["/FontName"]) for font in fonts)


@pytest.mark.parametrize("paper", (LARGE_18, LARGE_24), ids=lambda p: f"{p.size} pt")
def test_nothing_in_large_print_is_smaller_than_its_name_says(paper: Paper) -> None:
    """18 pt at least for large print (ACB guidelines 2022, acb.org/node/173); read back letter by letter."""
    sizes: list[float] = []

    def look(text: str, _cm: list[float], tm: list[float], _font: object, size: float) -> None:
        if text.strip():
            sizes.append(round(abs(tm[3]) * size, 1))

    content = booklet(leaflet(12), paper, "Booklet", TEMPLATES).value.content
    for page in PdfReader(io.BytesIO(content)).pages:
        page.extract_text(visitor_text=look)
    assert len(sizes) > 50
    assert min(sizes) >= paper.size


@pytest.mark.parametrize("paper", PAPERS, ids=lambda p: f"{p.name} {p.size}")
def test_every_round_stands_whole_on_one_page(paper: Paper) -> None:
    said = leaflet(24, turns=2)
    found = pages(printed(paper))
    for entry in said.entries():
        here = [page for page in found if flat(entry.text) in page]
        assert len(here) == 1, entry.label
        assert flat(entry.label) in here[0]
        assert flat(entry.count) in here[0]


def test_the_words_come_in_the_order_of_the_leaflet() -> None:
    text = "".join(pages(printed(A4)))
    places = [text.index(flat(entry.text)) for entry in leaflet(24, turns=2).entries()]
    assert places == sorted(places)


@pytest.mark.parametrize("paper", PAPERS, ids=lambda p: f"{p.name} {p.size}")
def test_no_ink_comes_near_the_edge_of_the_paper(paper: Paper) -> None:
    """What is cut off would run over the edge; 8 mm are free of ink on every side of every page."""
    for page in pictures(paper, leaflet(40, turns=3, figures=PLATES)):
        edge = round(8 / 25.4 * 40)
        width, height = page.size
        for strip in (
            (0, 0, width, edge),
            (0, height - edge, width, height),
            (0, 0, edge, height),
            (width - edge, 0, width, height),
        ):
            assert page.crop(strip).convert("L").getextrema()[0] > 250


def test_words_wider_than_a_column_do_not_run_off_the_paper() -> None:
    long = replace(
        leaflet(3, title="Donaudampfschifffahrtselektrizitätenhauptbetriebswerkbauunterbeamtengesellschaftsbeutel"),
        notions=("n" * 200,),
        threads=(Thread("A", "x" * 90, "#123456", "y" * 60, "z" * 70),),
    )
    for paper in (A4, LARGE_24):
        edge = round(8 / 25.4 * 40)
        for page in pictures(paper, long):
            width, height = page.size
            for strip in ((0, height - edge, width, height), (width - edge, 0, width, height)):
                assert page.crop(strip).convert("L").getextrema()[0] > 250


def pictures(paper: Paper, said) -> list[Image.Image]:  # type: ignore[no-untyped-def]
    import json

    import typst

    from generator.pages.typesetting import _compiler

    text = json.dumps(breaking(data(said, paper, "Booklet"), paper))
    compiler = _compiler(own=False)
    assert isinstance(compiler, typst.Compiler)
    made = compiler.compile(template(TEMPLATES, "booklet").encode(), format="png", ppi=40.0, sys_inputs={"data": text})
    return [Image.open(io.BytesIO(page)) for page in (made if isinstance(made, list) else [made])]


def test_the_same_leaflet_gives_the_same_bytes() -> None:
    assert printed(A4) == printed(A4)
    assert printed(LARGE_24) == printed(LARGE_24)


def test_a_round_longer_than_a_page_goes_on_and_loses_nothing() -> None:
    said = leaflet(2, turns=90)
    for paper in (A4, LARGE_24):
        text = "".join(pages(booklet(said, paper, "Booklet", TEMPLATES).value.content))
        assert text.count("next") == 2 * 180, "a page break moves words, it loses none"


def test_three_hundred_rounds_are_all_there() -> None:
    text = "".join(pages(booklet(leaflet(300), A4, "Booklet", TEMPLATES).value.content))
    assert all(flat(entry.label + entry.text) in text for entry in leaflet(300).entries())


def test_letters_that_no_font_has_are_told_and_printed_as_code_points() -> None:
    """U+0E44 is a Thai letter, U+10383 one of Ugaritic; a computer may have fonts for the first, hardly for the other."""
    found = booklet(leaflet(2, title="Basket \U00010383"), A4, "Booklet", TEMPLATES)
    rules = {(finding.rule, finding.severity.value) for finding in found.findings}
    assert ("letters-not-in-font", "warning") in rules or ("letters-not-in-font", "note") in rules
    assert "Basket" in "".join(pages(found.value.content))


@pytest.mark.parametrize(
    "title",
    [
        "yarn \U0001f9f6 ball",
        "a\x0bb",
        "\u200e\u200f x",
        "\ue000",
        "\U0001f469\u200d\U0001f467",
        "\ufeffbom",
        "\u0378",
        '"\\u{b}"',
    ],
)
def test_odd_letters_never_stop_a_booklet(title: str) -> None:
    """Emoji, control and direction marks, private and unassigned code points, what looks like an escape."""
    found = booklet(leaflet(2, title=title), A4, "Booklet", TEMPLATES)
    assert found.value.content.startswith(b"%PDF")
    assert len([finding for finding in found.findings if finding.severity.value == "warning"]) <= 1


def test_letters_from_another_font_are_noted() -> None:
    found = booklet(leaflet(2, title="Корзина"), A4, "Booklet", TEMPLATES)
    assert [finding.severity.value for finding in found.findings] == ["note"]
    assert "`К`" in found.findings[0].message
    assert "Корзина" in "".join(pages(found.value.content))
    assert not booklet(leaflet(2, title="Häkelkörbchen, édition nº 2"), A4, "Booklet", TEMPLATES).findings


def test_the_house_font_is_asked_letter_by_letter() -> None:
    assert outside_house(frozenset("aé×½–’")) == ()
    assert outside_house(frozenset("aж漢")) == ("ж", "漢")


def test_a_chart_wider_than_the_page_is_turned_or_told() -> None:
    wide = leaflet(2, figures=(figure(3200, 400),))
    shown = data(wide, A4, "Booklet")["sections"][0]["figures"][0]
    assert shown["turned"] and shown["width"] <= A4.depth and shown["height"] <= A4.measure
    assert not booklet(wide, A4, "Booklet", TEMPLATES).findings
    vast = booklet(leaflet(2, figures=(figure(9000, 8000),)), A4, "Booklet", TEMPLATES)
    assert [finding.rule for finding in vast.findings] == ["chart-wider-than-page"]
    assert "900 mm" in vast.findings[0].message and "174 mm" in vast.findings[0].message


def test_markup_in_a_title_stays_words() -> None:
    title = '#eval("1") *bold* <b>$x$ \\ "quoted"'
    assert flat(title) in "".join(pages(booklet(leaflet(2, title=title), A4, "Booklet", TEMPLATES).value.content))


def test_a_picture_has_the_size_asked_for() -> None:
    made = Image.open(io.BytesIO(picture(figure().svg, 1200, 630)))
    assert made.size == (1200, 630)
    assert made.convert("L").getextrema()[0] < 100


def test_an_empty_leaflet_prints() -> None:
    from generator.pages.leaflet import Leaflet

    made = booklet(Leaflet("", "x", "en-US", "US terms", "short"), A4, "Booklet", TEMPLATES)
    assert typeset and made.value.content.startswith(b"%PDF")

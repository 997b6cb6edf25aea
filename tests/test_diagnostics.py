"""How findings are shown: at a terminal, one a line, in the margin. Nothing a text holds may play tricks there."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.diagnostics import lines, panel, terminal
from generator.diagnostics.placing import WINDOW, excerpt, ordered
from generator.diagnostics.record import Finding, Label, Severity
from generator.source import Source, Span

TEXT = "---\ntitle: x\n---\nRnd 5: *sc in next 3 sts, inc; rep from * around (24)\nRnd 6: sc around (24)\n"
SOURCE = Source("heron-hat.md", TEXT)


def at(words: str, source: Source = SOURCE) -> Span:
    start = source.text.index(words)
    return Span(start, start + len(words))


FINDING = Finding(
    "group-does-not-fit", Severity.ERROR, "the group uses 4 stitches; 18 is 4 × 4 and 2 over", at("*sc in next 3 sts, inc"),
    "to get 24 from 18: `*sc in next 2 sts, inc; rep from * around`",
)  # fmt: skip


def test_at_a_terminal() -> None:
    assert terminal.render(SOURCE, FINDING) == (
        "heron-hat.md:4:8  group does not fit   the group uses 4 stitches; 18 is 4 × 4 and 2 over\n"
        "    4 | Rnd 5: *sc in next 3 sts, inc; rep from * around (24)\n"
        "      |        ^^^^^^^^^^^^^^^^^^^^^^\n"
        "    fits: to get 24 from 18: `*sc in next 2 sts, inc; rep from * around`"
    )


def test_one_a_line() -> None:
    assert lines.render(SOURCE, FINDING) == (
        "heron-hat.md:4:8: error: the group uses 4 stitches; 18 is 4 × 4 and 2 over; "
        "fits: to get 24 from 18: `*sc in next 2 sts, inc; rep from * around` [group-does-not-fit]"
    )


def test_further_places_are_shown_with_what_is_said_of_them() -> None:
    finding = Finding("x", Severity.NOTE, "m", at("Rnd 6"), labels=(Label(at("(24)"), "stated here"),))
    assert terminal.render(SOURCE, finding).splitlines()[3:] == [
        "    4 | Rnd 5: *sc in next 3 sts, inc; rep from * around (24)",
        "      |                                                  ---- stated here",
    ]


def test_colour_only_where_it_is_wanted() -> None:
    assert "\x1b[31m" in terminal.render(SOURCE, FINDING, colour=True)
    assert "\x1b" not in terminal.render(SOURCE, FINDING)
    assert terminal.wants_colour(True, {})
    assert not terminal.wants_colour(False, {})
    # The convention: any value but none turns colour off (no-color.org, from memory).
    assert not terminal.wants_colour(True, {"NO_COLOR": "1"})
    assert terminal.wants_colour(True, {"NO_COLOR": ""})
    assert not terminal.wants_colour(True, {"TERM": "dumb"})


@pytest.mark.parametrize(
    ("text", "marked", "under"),
    [
        ("かぎ編み sc", "sc", 9),  # four wide letters are eight columns (Unicode Standard Annex 11)
        ("e\u0301 sc", "sc", 2),  # a combining accent takes none
        ("\tsc", "sc", 1),
    ],
)
def test_the_underline_stands_under_the_words(text: str, marked: str, under: int) -> None:
    source = Source("x.md", text)
    line = terminal.render(source, Finding("x", Severity.ERROR, "m", at(marked, source))).splitlines()[2]
    assert line == "      | " + " " * under + "^^"


def test_a_long_line_is_shown_round_the_place() -> None:
    source = Source("x.md", "sc, " * 5000 + "dcc, " + "sc, " * 5000)
    shown = terminal.render(source, Finding("x", Severity.ERROR, "m", at("dcc", source)))
    assert "dcc" in shown and "…" in shown
    assert max(map(len, shown.splitlines())) < WINDOW + 20


def test_a_place_over_several_lines_is_shown_on_its_first() -> None:
    place = excerpt(SOURCE, Span(at("title").start, at("Rnd 6").end))
    assert (place.line, place.before, place.marked, place.after) == (2, "", "title: x", "")


def test_findings_stand_in_the_order_of_the_text() -> None:
    late, early = Finding("b", Severity.NOTE, "m", at("Rnd 6")), Finding("a", Severity.ERROR, "m", at("Rnd 5"))
    assert ordered((late, early)) == (early, late)


def test_the_margin_gets_escaped_text_with_the_words_as_code() -> None:
    source = Source("x.md", "<script>alert(1)</script> & `sc`")
    slip = panel.slip(source, Finding("x", Severity.ERROR, "`<b>` is <not> known", at("alert(1)", source), "`sc & dc`"))
    assert slip.message == "<code>&lt;b&gt;</code> is &lt;not&gt; known"
    assert (slip.before, slip.marked, slip.fits) == ("&lt;script&gt;", "alert(1)", "<code>sc &amp; dc</code>")
    assert slip.file == "", "beside its own page nobody asks which file"
    named = panel.slip(Source("journal/<a>.md", "x"), Finding("x", Severity.ERROR, "m", Span(0, 1)), named=True)
    assert named.file == "journal/&lt;a&gt;.md"


@given(st.text(), st.text(), st.integers(0, 50), st.integers(0, 50))
def test_property_nothing_a_text_holds_moves_the_cursor_or_breaks_a_page(
    text: str, said: str, start: int, more: int
) -> None:
    source = Source("x\x1b[2J.md", text)
    finding = Finding("x", Severity.ERROR, said, Span(min(start, len(text)), min(start + more, len(text))), said)
    for shown in (terminal.render(source, finding), lines.render(source, finding)):
        assert not {chr(n) for n in (*range(10), *range(11, 32), 127, 0x9B, 0x202E, 0x2066)} & set(shown)
    assert "\n" not in lines.render(source, finding)
    slip = panel.slip(source, finding)
    assert "<" not in (
        slip.before + slip.marked + slip.after + slip.message.replace("<code>", "").replace("</code>", "")
    )

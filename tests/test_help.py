"""Help pages say what is true: their example lines are read, worked and proved, their rules are all explained."""

import importlib
import pkgutil
import re

import pytest
from markdown_it import MarkdownIt

from generator.checks import rules
from generator.fabric.model import Status
from generator.fabric.state import Settings
from generator.fabric.work import work
from generator.notation.parse import Context, read_lines
from generator.notation.tree import Piece
from generator.pages import help as pages
from generator.source import Source, Span
from generator.vocabulary.load import language

EXAMPLES = [(family, line) for family in pages.families() for line in family.lines]
RULES = sorted(module.name for module in pkgutil.iter_modules(rules.__path__))


@pytest.mark.parametrize(("family", "line"), EXAMPLES, ids=lambda value: value[:40] if isinstance(value, str) else "")
def test_what_can_be_written_is_read_and_proved(family: pages.Family, line: str) -> None:
    text = "\n".join([*family.after.splitlines(), line])
    lines = read_lines(Source("example", text), Span(0, len(text)), Context(terms="US")).value
    part = work((Piece(lines=lines),), Settings()).parts[0]
    counted = [worked.status for worked in part.lines if worked.line.stated is not None]
    assert set(counted) <= {Status.PROVED}, text
    assert Status.NOT_UNDERSTOOD not in {worked.status for worked in part.lines}, text


@pytest.mark.parametrize("name", RULES)
def test_every_rule_explains_itself(name: str) -> None:
    module = importlib.import_module(f"generator.checks.rules.{name}")
    page = pages.rule_help(module.RULE, module.SEVERITY, module.__doc__ or "", module.BAD, module.GOOD)
    assert page.rule == name.replace("_", "-")
    assert page.summary.endswith(".") and "\n\n" not in page.summary
    assert [title for title, _ in page.sections] == list(pages.HEADINGS)
    assert all(text for _, text in page.sections)


def test_rule_pages_are_sound_markdown() -> None:
    page = pages.rule_help(
        "reeds-bent", "warning", "Reeds bend.\n\nWhat it finds\n-------------\nBent reeds.\n\nSource\n------\nthe wind\n",
        bad="---\ntitle: x\n---\n\n```rounds\nRnd 1: 6 sc in ring\n```\n",
    )  # fmt: skip
    assert page.sections == (("What it finds", "Bent reeds."), ("Source", "the wind"))
    html = MarkdownIt("commonmark", {"html": False}).render(pages.rule_markdown(page))
    assert re.findall(r"<h[12]>(.*?)</h[12]>", html) == [
        "reeds-bent",
        "What it finds",
        "Source",
        "A text with this finding",
    ]
    assert html.count("<pre>") == 1 and "```rounds" in html


def test_rules_are_listed_by_weight_and_linked() -> None:
    given = [pages.RuleHelp("b-two", "note", "Tells.", ()), pages.RuleHelp("a-one", "error", "Stops.", ())]
    text = pages.rules_markdown(given, "rules/{rule}/")
    assert text.index("[a-one](rules/a-one/): Stops.") < text.index("[b-two](rules/b-two/): Tells.")
    assert "## Warnings" not in text


def test_the_stitch_table_has_every_stitch_in_both_dialects() -> None:
    rows = pages.stitch_rows()
    assert {row.identity for row in rows} == set(language("en-US").stitches)
    assert [row.identity for row in rows[:5]] == ["ch", "sl-st", "sc", "hdc", "dc"]
    sc = rows[2]
    assert (sc.us, sc.uk) == (("sc", "single crochet"), ("dc", "double crochet"))


def test_the_writing_page_shows_every_family() -> None:
    html = MarkdownIt("commonmark", {"html": False}).render(pages.writing_markdown())
    for family in pages.families():
        assert f"<h2>{family.title}</h2>" in html
    assert "<strong>sc</strong>, single crochet (US): <strong>dc</strong>, double crochet (UK)" in html


def test_the_glossary_is_alphabetical_and_whole() -> None:
    for code in ("en-US", "en-GB"):
        pairs = pages.glossary(language(code))
        assert [short.lower() for short, _ in pairs] == sorted(short.lower() for short, _ in pairs)
        assert dict(pairs)["sl st"] == "slip stitch"

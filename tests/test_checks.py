"""The proofreading rules: each documents itself, speaks about its bad example and is silent about its good one.

The examples are the rules' own; what the rules say of whole texts with one mistake is in `test_one_mistake.py`.
"""

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from products import applied, compiled, findings_of, made

from generator import checks
from generator.checks.rule import HEADINGS, Rule
from generator.checks.run import RULES, overrides, rule, run
from generator.diagnostics.record import Severity

EACH = pytest.mark.parametrize("each", RULES, ids=[r.name for r in RULES])


def test_folder_equals_table() -> None:
    folder = Path(checks.__file__).parent / "rules"
    files = {path.stem.replace("_", "-") for path in folder.glob("*.py") if path.stem != "__init__"}
    assert files == {each.name for each in RULES}
    assert len(RULES) == len({each.name for each in RULES})


@EACH
def test_documents_itself(each: Rule) -> None:
    assert tuple(heading for heading, _text in each.help) == HEADINGS
    assert all(text for _heading, text in each.help)
    assert each.title.endswith(".")
    assert each.module.check.__doc__


@EACH
def test_speaks_about_its_bad_example_once(each: Rule) -> None:
    found = findings_of(each.bad)
    assert [f.rule for f in found if f.rule == each.name] == [each.name]
    # One mistake gives one finding: nobody else calls it an error or a warning about the same thing.
    assert [f for f in found if f.severity is Severity.ERROR and f.rule != each.name] == []


@EACH
def test_silent_about_its_good_example(each: Rule) -> None:
    found = findings_of(each.good)
    assert [f for f in found if f.rule == each.name or f.severity is Severity.ERROR] == []


@EACH
def test_voice(each: Rule) -> None:
    for finding in findings_of(each.bad):
        for words in (finding.message, finding.fits):
            assert not words.endswith("."), words
            assert words[:1] == words[:1].lower() or words.startswith(("`", "-")), words
            assert "  " not in words and "\n" not in words


@EACH
def test_points_into_the_text(each: Rule) -> None:
    product = made(each.bad)
    for finding in run(product):
        assert 0 <= finding.span.start <= finding.span.end <= len(each.bad)


@EACH
def test_offered_fix_mends(each: Rule) -> None:
    """What is offered has been proved; pasted in, the finding is gone and no error has come instead."""
    before = findings_of(each.bad)
    for finding in (f for f in before if f.rule == each.name and f.fix):
        assert finding.fix is not None
        after = findings_of(applied(each.bad, finding.fix))
        assert [f for f in after if f.rule == each.name or f.severity is Severity.ERROR] == []


@EACH
def test_weighs_less_in_pasted_text(each: Rule) -> None:
    order = [None, Severity.NOTE, Severity.WARNING, Severity.ERROR]
    assert order.index(each.bare) <= order.index(each.severity)


def test_answered_in_the_header() -> None:
    each = rule("terms-unsaid")
    assert each is not None
    text = each.bad.replace("---\n", "---\nintended: {terms-unsaid: the words are the same in both}\n", 1)
    product = made(text)
    assert "terms-unsaid" not in {f.rule for f in run(product)}
    (answer,) = overrides(product)
    assert (answer.rule, answer.reason, answer.used) == ("terms-unsaid", "the words are the same in both", 1)


def test_answered_on_a_line() -> None:
    each = rule("count-differs")
    assert each is not None
    text = each.bad + "intended(count-differs): the step is counted too\n"
    product = made(text)
    assert "count-differs" not in {f.rule for f in run(product)}
    (answer,) = overrides(product)
    assert (answer.rule, answer.line, answer.used) == ("count-differs", True, 1)


@pytest.mark.parametrize(
    "answer", [" intended: as printed", " — intended(count-differs): as printed", "  # intended: as printed"]
)
def test_an_answer_may_stand_behind_its_line(answer: str) -> None:
    text = "Rnd 1: 6 sc in magic ring (6)\nRnd 2: inc around (13)" + answer + "\n"
    product = made(text)
    assert not run(product)
    assert [(one.reason, one.used) for one in overrides(product)] == [("as printed", 1)]


def test_answer_that_is_not_needed() -> None:
    each = rule("terms-unsaid")
    assert each is not None
    text = each.good.replace("---\n", "---\nintended: {terms-unsaid: never mind}\n", 1)
    product = made(text)
    (answer,) = overrides(product)
    assert answer.used == 0


_WORDS = st.sampled_from(
    [
        *[
            "Rnd",
            "1:",
            "2:",
            "3:",
            "Rnds",
            "4-6:",
            "Row",
            "sc",
            "dc",
            "inc",
            "dec",
            "in",
            "next",
            "st",
            "sts",
            "each",
            "around",
            "across",
            "*",
            ";",
            "rep",
            "from",
            "(",
            ")",
            "[",
            "]",
            "6",
            "times",
            "(6)",
            "(12)",
            "ch",
            "3",
            "join",
            "turn",
            "sl",
            "with",
            "A",
            "B",
            "magic",
            "ring",
            "fasten",
            "off",
            "until",
            "10",
            "cm",
            "(10",
            "in)",
            "chart",
            "Note:",
            "stuff",
            "firmly",
            "eyes",
            "left",
            "of",
            "start",
        ],
        "\n",
        "\n",
        " ",
        "٣",
        "½",
        "🐌",
        "\x00",
    ]
)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.lists(_WORDS, max_size=60).map(" ".join), st.sampled_from(["", "US", "UK"]))
def test_never_raises(text: str, terms: str) -> None:
    header = f"---\ntitle: T\nterms: {terms}\nfor: baby\nkind: mat\n---\n\n{text}\n\n```rounds\n{text}\n```\n"
    for whole in (text, header):
        product = made(whole)
        found = run(product)
        assert all(0 <= f.span.start <= f.span.end <= len(whole) for f in found)
        assert found == run(replace(product, memo={}, spent=[0]))


def test_answers_travel_with_the_compiled_pattern() -> None:
    each = rule("terms-unsaid")
    assert each is not None
    text = each.bad.replace("---\n", "---\nintended: {terms-unsaid: the words are the same in both}\n", 1)
    found, _bare = compiled(text)
    assert [(answer.rule, answer.used) for answer in found.answers] == [("terms-unsaid", 1)]

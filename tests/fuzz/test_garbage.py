"""No text makes the compiler fall over, hang, lose a line or point outside the text.

Each file in `cases/fuzz` once did (or would have); it is kept as it was found, made small. What the random search
finds next goes there too.
"""

from pathlib import Path

import pytest
from holding import holds_bare, holds_pattern, lines_with_entry
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from soup import bare_texts, changed, lines, nests, odd_words, outsized, passages, patterns, soup, words

from generator.fabric.model import Status
from generator.notation.parse import LONGEST_LINE

CASES = sorted((Path(__file__).parent.parent / "cases" / "fuzz").glob("*.txt"))


def often(examples: int) -> settings:
    """Some random texts in a usual run (all of them together take about a minute); as many as asked for in a long one."""
    many = examples if settings().derandomize else max(examples, settings().max_examples)
    return settings(max_examples=many, deadline=None, suppress_health_check=list(HealthCheck))


@pytest.mark.parametrize("case", CASES, ids=lambda path: path.stem)
def test_what_was_found_stays_mended(case: Path) -> None:
    text = case.read_bytes().decode("utf-8", "surrogateescape")
    holds_bare(text)
    holds_pattern(f"---\ntitle: T\n---\n```rounds\n{text}\n```\n")
    holds_pattern(text)


@often(200)
@given(soup(words()), st.sampled_from(["", "US", "UK"]))
def test_property_soup_of_words(text: str, terms: str) -> None:
    holds_bare(text, terms)


@often(100)
@given(soup(odd_words()))
def test_property_soup_with_odd_letters(text: str) -> None:
    holds_bare(text)


@often(200)
@given(changed(passages()))
def test_property_right_texts_with_wrong_words(text: str) -> None:
    holds_bare(text)


@often(25)
@given(nests())
def test_property_brackets_within_brackets(text: str) -> None:
    holds_bare(text)


@often(80)
@given(outsized())
def test_property_numbers_no_maker_would_work(text: str) -> None:
    holds_bare(text)


@often(80)
@given(changed(patterns(), most=8), st.sampled_from(["\n", "\r\n"]))
def test_property_pattern_files_with_wrong_words(text: str, end: str) -> None:
    holds_pattern(text.replace("\n", end))


@often(60)
@given(bare_texts(), st.sampled_from(["rounds", "rows", "shape", "work"]))
def test_property_garbage_in_a_pattern_file(text: str, kind: str) -> None:
    holds_pattern(
        f"---\ntitle: T\nterms: US\ngauge: 18 sc x 20 rounds = 10 cm\n---\n## Ear (make 2)\n```{kind}\n{text}\n```\n"
    )


@often(60)
@given(st.lists(st.sampled_from(lines()), min_size=1, max_size=8))
def test_property_lines_of_different_patterns(rows: list[str]) -> None:
    """Right lines in a wrong order: still an entry each."""
    compiled = holds_bare("\n".join(rows))
    assert sum(len(part.lines) for part in compiled.fabric.parts) == len(lines_with_entry("\n".join(rows)))


@pytest.mark.parametrize(
    "bit",
    ["– ", "= ", "3 sc. ", "*sc; rep from * 2 times, ", "[sc] 3 times, ", "(", "* ", "( sc ) ", "and ", "ch 3, ", "1-", "'", "sc2tog ",
     "in next ch-2 sp ", "to last 2 sts, ", "until ", "rep from * ", "(2 dc, ch 2, 2 dc) in next st, ", "\t", "99 ", "Rnd 2: "],
)  # fmt: skip
def test_a_line_of_one_thing_ends(bit: str) -> None:
    """The longest line there may be, of nothing but one thing: what is looked through again from every place shows."""
    long = ("Rnd 2: " + bit * LONGEST_LINE)[:LONGEST_LINE]
    holds_bare(f"Rnd 1: 6 sc in magic ring\n{long}")


def test_a_line_too_long_is_told() -> None:
    compiled = holds_bare(
        "Rnd 1: 6 sc in magic ring (6)\n" + "sc, " * LONGEST_LINE + "\nRnd 3: sc in each st around (6)"
    )
    assert "line-too-long" in {finding.rule for finding in compiled.findings}
    assert [line.status for line in compiled.fabric.parts[0].lines][:2] == [Status.PROVED, Status.NOT_UNDERSTOOD]


def test_many_lines_with_many_readings_end() -> None:
    """Every `3 sc` can be read two ways, every line is wrong, and there are many: readings are given up, not the text."""
    row = "Rnd 2: " + "3 sc, " * 200 + "(7)\n"
    compiled = holds_bare("Rnd 1: 600 sc in magic ring (600)\n" + row * 12)
    assert all(line.status is not Status.PROVED for line in compiled.fabric.parts[0].lines[1:])

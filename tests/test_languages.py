"""The language files: complete, sorted, formatted, at one with the published lists."""

import ast
import csv
import re
import string
import tomllib
from itertools import chain
from pathlib import Path

import pytest

from generator.vocabulary.load import is_stitch, language, languages, stitches
from generator.vocabulary.records import Language, Words

FOLDER = Path(__file__).parents[1] / "generator" / "vocabulary" / "languages"
REFERENCE = Path(__file__).parent / "reference"
CODES = languages()


def _rows(name: str) -> list[dict[str, str]]:
    text = (REFERENCE / name).read_text(encoding="utf-8")
    return list(csv.DictReader(line for line in text.splitlines() if not line.startswith("#")))


def _forms(words: Words) -> set[str]:
    return {form.lower() for form in (words.abbreviation, words.name, words.plural, *words.also)}


def _all(words: Language) -> list[Words]:
    return [*words.stitches.values(), *words.terms.values()]


@pytest.mark.parametrize("code", CODES)
def test_every_stitch_has_its_word(code: str) -> None:
    assert set(stitches()) <= set(language(code).stitches)
    assert [key for key in language(code).stitches if not is_stitch(key)] == []


@pytest.mark.parametrize("code", CODES)
def test_all_languages_have_the_same_entries(code: str) -> None:
    first = language(CODES[0])
    assert set(language(code).stitches) == set(first.stitches)
    assert set(language(code).terms) == set(first.terms)
    assert set(language(code).phrases) == set(first.phrases)


@pytest.mark.parametrize("code", CODES)
def test_phrases_of_one_key_have_the_same_gaps(code: str) -> None:
    def gaps(pattern: str) -> set[str]:
        return {name for _, name, _, _ in string.Formatter().parse(pattern) if name}

    ours, first = language(code).phrases, language(CODES[0]).phrases
    assert {key: gaps(text) for key, text in ours.items()} == {key: gaps(text) for key, text in first.items()}


@pytest.mark.parametrize("code", CODES)
def test_file_is_sorted(code: str) -> None:
    data = tomllib.loads((FOLDER / f"{code}.toml").read_text(encoding="utf-8"))
    for table in ("stitches", "terms", "phrases"):
        assert list(data[table]) == sorted(data[table]), table


@pytest.mark.parametrize("code", CODES)
def test_no_form_means_two_stitches(code: str) -> None:
    owner: dict[str, str] = {}
    for key, words in language(code).stitches.items():
        for form in sorted(_forms(words)):
            assert owner.setdefault(form, key) == key, form


@pytest.mark.parametrize("code", CODES)
def test_further_forms_are_lower_case_and_not_said_twice(code: str) -> None:
    for words in _all(language(code)):
        assert list(words.also) == [form.lower() for form in dict.fromkeys(words.also)], words.name
        assert not set(words.also) & {words.abbreviation.lower(), words.name.lower(), words.plural.lower()}, words.name


def test_us_words_are_those_of_the_published_list() -> None:
    """Craft Yarn Council abbreviation list, see tests/reference/abbreviations-us.csv."""
    known = [_forms(words) for words in _all(language("en-US"))]
    # Left to other entries: slip marker is no term of ours, `ch-` is a way of writing, not an abbreviation.
    missing = []
    for row in _rows("abbreviations-us.csv"):
        if row["abbreviation"] in ("ch-", "sm or sl m"):
            continue
        for form in re.split(r" or ", row["abbreviation"]):
            meanings = re.split(r" or |/", row["meaning"])
            if not any(form.lower() in forms and any(m in forms for m in meanings) for forms in known):
                missing.append(row["abbreviation"])
    assert missing == []


def test_uk_names_stand_one_step_up() -> None:
    """Conversion tables, see tests/reference/terms-us-uk.csv."""
    us, uk = language("en-US").stitches, language("en-GB").stitches
    for row in _rows("terms-us-uk.csv"):
        key = row["identity"]
        assert (us[key].abbreviation, uk[key].abbreviation) == (row["us"], row["uk"])
        if row["us_name"]:
            assert (us[key].name, uk[key].name) == (row["us_name"], row["uk_name"])


def test_no_stitch_of_the_other_dialect_slips_in() -> None:
    """`sc` and `hdc` are US only, `htr` is UK only: published lists of both, in tests/reference."""
    us = set(chain.from_iterable(_forms(words) for words in language("en-US").stitches.values()))
    uk = set(chain.from_iterable(_forms(words) for words in language("en-GB").stitches.values()))
    # "single crochet" is read in UK texts: in old ones it is the slip stitch.
    assert not {"sc", "hdc", "half double crochet", "sc2tog"} & uk
    assert not {"htr", "half treble", "htr2tog", "qtr2tog"} & us


def _phrases_said() -> set[str]:
    """Names of phrases that `wording` asks for, read off its syntax trees."""
    found: set[str] = set()
    for file in sorted((FOLDER.parents[1] / "wording").glob("*.py")):
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            asked: list[ast.AST] = []
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr == "say":
                asked = list(node.args[:1])
            elif isinstance(node, ast.Assign) and any(getattr(name, "id", "") == "phrase" for name in node.targets):
                asked = [node.value]
            for part in asked:
                branches = [part.body, part.orelse] if isinstance(part, ast.IfExp) else [part]
                found |= {one.value for one in branches if isinstance(one, ast.Constant) and isinstance(one.value, str)}
    return found


@pytest.mark.parametrize("code", CODES)
def test_every_phrase_that_is_said_is_there(code: str) -> None:
    said = _phrases_said()
    assert len(said) > 50
    assert said - set(language(code).phrases) == set()

"""The trade's words for yarn weights (`DK`, `worsted`, `4 ply`), by the published category they mean."""

import re
from collections.abc import Mapping
from typing import Any, cast

from generator.vocabulary.load import table


def categories_for(word: str) -> tuple[int, ...]:
    """Every category, 0 to 7, that a word may mean (`4 ply` is two in the UK); empty when nobody uses it."""
    wanted = _plain(word)
    rows = cast(tuple[Mapping[str, Any], ...], table("yarn-weights").rows)
    return tuple(int(row["category"]) for row in rows if wanted and wanted in _words(row))


def _words(row: Mapping[str, Any]) -> set[str]:
    listed = [row["name"], *row["us_words"], *row["uk_words"], *row["au_words"]]
    # What stands behind a word in the table says who else uses it so: `4 ply in S11 S12`, `DK (double knitting)`.
    said = [part for words in listed for part in re.split(r"\s*[()]\s*|\s+in S\d", words)]
    return {_plain(words) for words in said} - {"", "contested"}


def _plain(words: str) -> str:
    return " ".join(words.lower().replace("-", " ").split())

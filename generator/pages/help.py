"""Help pages: one for every rule, from the rule's own docstring, and "what you can write", from the reader's own words.

Rules stand above this floor, so their texts are handed in. Everything here gives Markdown or plain records; how it
looks is for the theme.
"""

import re
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from importlib import resources

from generator.shape.describe import markdown as shapes
from generator.vocabulary.load import language
from generator.vocabulary.records import Language, Words

HEADINGS = ("What it finds", "Why it matters", "Example", "Write instead", "Source")
_HEADING = re.compile(r"^(?P<title>\S[^\n]*)\n-{3,}\n", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class RuleHelp:
    """One rule, explained."""

    rule: str
    """Its name, as a finding shows it."""
    severity: str
    summary: str
    """One sentence: the fault."""
    sections: tuple[tuple[str, str], ...]
    """Heading and Markdown, in the order of HEADINGS."""
    bad: str = ""
    good: str = ""
    """Whole texts that the tests run: one with the fault, one without."""


def rule_help(rule: str, severity: str, docstring: str, bad: str = "", good: str = "") -> RuleHelp:
    """A rule's page from its docstring: a sentence, then sections under underlined headings."""
    text = docstring.strip("\n")
    marks = list(_HEADING.finditer(text))
    summary = text[: marks[0].start()] if marks else text
    sections = []
    for here, following in zip(marks, [*marks[1:], None], strict=True):
        end = following.start() if following else len(text)
        sections.append((here["title"].strip(), text[here.end() : end].strip()))
    return RuleHelp(rule, severity, summary.strip(), tuple(sections), bad, good)


def rule_markdown(page: RuleHelp) -> str:
    """The page of one rule."""
    parts = [f"# {page.rule}", page.summary]
    parts.extend(f"## {title}\n\n{text}" for title, text in page.sections)
    if page.bad:
        parts.append(f"## A text with this finding\n\n{_fenced(page.bad)}")
    if page.good:
        parts.append(f"## The same without it\n\n{_fenced(page.good)}")
    return "\n\n".join(parts) + "\n"


def _fenced(text: str) -> str:
    """A text as a code block whose fence is longer than any inside it."""
    longest = max((len(found) for found in re.findall(r"`{3,}", text)), default=2)
    fence = "`" * max(3, longest + 1)
    return f"{fence}text\n{text.rstrip()}\n{fence}"


_WEIGHTS = (
    ("error", "Errors", "These stop publishing."),
    ("warning", "Warnings", "These ask you to look; answer with `intended: reason` if you meant it."),
    ("note", "Notes", "These only tell."),
)


def rules_markdown(pages: Iterable[RuleHelp], address: str = "{rule}.html") -> str:
    """The list of all rules by weight, each linked to its page; `address` has a gap for the rule's name."""
    by_weight: dict[str, list[RuleHelp]] = {}
    for page in pages:
        by_weight.setdefault(page.severity, []).append(page)
    parts = ["# What is checked"]
    for weight, title, words in _WEIGHTS:
        rows = sorted(by_weight.get(weight, ()), key=lambda page: page.rule)
        if rows:
            listed = "\n".join(f"- [{page.rule}]({address.format(rule=page.rule)}): {page.summary}" for page in rows)
            parts.append(f"## {title}\n\n{words}\n\n{listed}")
    return "\n\n".join(parts) + "\n"


@dataclass(frozen=True, slots=True)
class Family:
    """One kind of thing a designer writes, with lines that are proved by a test."""

    title: str
    words: str
    after: str
    """Lines the examples stand on; empty when they begin the work."""
    lines: tuple[str, ...]


@cache
def families() -> tuple[Family, ...]:
    """All families, in the order of a pattern."""
    text = resources.files(__package__).joinpath("writing.toml").read_text(encoding="utf-8")
    return tuple(
        Family(entry["title"], entry["words"], entry["after"], tuple(entry["lines"]))
        for entry in tomllib.loads(text)["family"]
    )


@dataclass(frozen=True, slots=True)
class StitchRow:
    """A stitch in both dialects, with the further forms the reader takes."""

    identity: str
    us: tuple[str, str]
    """Abbreviation and name."""
    uk: tuple[str, str]
    us_also: tuple[str, ...]
    uk_also: tuple[str, ...]


def stitch_rows() -> tuple[StitchRow, ...]:
    """All stitches that have words, basic ones first, then by US name."""
    us, uk = language("en-US"), language("en-GB")
    order = {identity: i for i, identity in enumerate(("ch", "sl-st", "sc", "hdc", "dc", "tr", "dtr", "trtr", "qtr"))}
    keys = sorted(us.stitches, key=lambda key: (order.get(key, len(order)), us.stitches[key].name))
    return tuple(_row(key, us.stitches, uk.stitches) for key in keys if key in uk.stitches)


def _row(key: str, us: Mapping[str, Words], uk: Mapping[str, Words]) -> StitchRow:
    a, b = us[key], uk[key]
    return StitchRow(key, (a.abbreviation, a.name), (b.abbreviation, b.name), a.also, b.also)


def writing_markdown() -> str:
    """The page "what you can write"."""
    parts = [
        "# What you can write",
        "Write the way patterns are printed. Every word of a working line is understood, kept as a remark, or reported; "
        "nothing is skipped in silence. Where a phrase can be read two ways, the count at the end of the line decides.",
    ]
    for family in families():
        shown = "\n".join(family.lines)
        parts.append(f"## {family.title}\n\n{family.words}\n\n{_fenced(shown)}")
    parts.append(shapes())
    parts.append(
        "## Stitches\n\nThe header says which terms a pattern is written in; the page shows both.\n\n" + _listed()
    )
    return "\n\n".join(parts) + "\n"


def _listed() -> str:
    """The stitches as a list, which a phone shows better than a table of six columns."""
    return "\n".join(
        f"- **{row.us[0]}**, {row.us[1]} (US): **{row.uk[0]}**, {row.uk[1]} (UK). "
        f"Also read: {_few(row.us_also)} (US); {_few(row.uk_also)} (UK)"
        for row in stitch_rows()
    )


def _few(forms: tuple[str, ...]) -> str:
    return ", ".join(form for form in forms if "|" not in form)


def glossary(words: Language) -> tuple[tuple[str, str], ...]:
    """All abbreviations of a language with their whole words, for the glossary page; in alphabetical order."""
    pairs = {
        entry.abbreviation: entry.name
        for table in (words.terms, words.stitches)
        for entry in table.values()
        if entry.abbreviation != entry.name
    }
    return tuple(sorted(pairs.items(), key=lambda pair: (pair[0].lower(), pair[0])))

"""The sheet a tester fills: every round and every number she has to confirm, as a CSV file any spreadsheet opens.

Rows have an `id` that never changes with the wording, so that filled sheets merge. What a test asks: union of the forms
several designers describe for their test calls, as gathered in the project's study of the trade.
"""

import csv
import io
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from generator.pages.booklet import Paper, breaking, dateline, frame, template
from generator.pages.leaflet import Entry, Leaflet
from generator.pages.typesetting import Printed, typeset

PAPER = Paper("A4 and US Letter", 210, 279.4, 16, 10)

COLUMNS = ("id", "part", "what", "printed", "yours", "stumbled", "remark")
"""The head of the sheet. `yours`, `stumbled` and `remark` are the tester's."""

RULES = (
    "Please read the pattern through once before you begin.",
    "Use the stated yarn weight and hook, or write down what you used instead.",
    "Work exactly what is written, even where you would do it differently; write down where you wanted to.",
    "Weigh every colour before you begin and when you are done, in grams, with the ball band taken off.",
    "Put a cross into `stumbled` wherever you had to stop and think, count again or pull back.",
    "Please do not pass the test edition on.",
)
"""What testers are told."""


@dataclass(frozen=True, slots=True)
class Question:
    """One row of the sheet."""

    id: str
    part: str
    what: str
    printed: str = ""


_ABOUT = (
    ("tester", "Your initials or a name you like"),
    ("experience", "How long have you crocheted?"),
    ("hand", "Which hand holds the hook?"),
    ("reads", "Which terms do you usually read, US or UK?"),
    ("begun", "Date begun"),
    ("done", "Date done"),
    ("hours", "Hours of work, making up included"),
)
_AFTER = (
    ("words", "Words you did not understand"),
    ("slips", "Typing slips you found"),
    ("links", "Links and film times you tried, and whether they were right"),
    ("outside", "Did you need help from outside the pattern? With what?"),
    ("differently", "What would you change?"),
    ("photos", "May your photos be shown, and under which name?"),
)


def questions(leaflet: Leaflet) -> tuple[Question, ...]:
    """Everything a tester is asked about a pattern, in the order she meets it."""
    return tuple(_questions(leaflet))


def _questions(leaflet: Leaflet) -> Iterator[Question]:
    for name, what in _ABOUT:
        yield Question(f"about.{name}", "About you", what)
    for name, value in leaflet.facts:
        yield Question(f"fact.{_slug(name)}", "Materials and measures", name, value)
    for thread in leaflet.threads:
        part = f"Yarn {thread.key}, {thread.colour}"
        yield Question(f"yarn.{thread.key}.used", part, "What did you use? Fibre, weight, metres a ball", thread.detail)
        yield Question(f"yarn.{thread.key}.before", part, "Grams before", thread.amount)
        yield Question(f"yarn.{thread.key}.after", part, "Grams left over")
    for section in leaflet.sections:
        for entry in section.lines:
            if entry.boxes:
                yield Question(f"round.{entry.anchor}", section.name, entry.label, _stitches(entry))
    for name, what in _AFTER:
        yield Question(f"after.{name}", "When you are done", what)


def sheet(leaflet: Leaflet) -> bytes:
    """The empty sheet: CSV with a byte-order mark (so that every spreadsheet reads the letters right)."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    for question in questions(leaflet):
        writer.writerow((*map(_tame, (question.id, question.part, question.what, question.printed)), "", "", ""))
    return b"\xef\xbb\xbf" + out.getvalue().encode()


def sheet_print(leaflet: Leaflet, templates: Mapping[str, str], accent: str = "") -> Printed:
    """The same sheet to fill by hand."""
    data = {
        **frame(f"Test sheet: {leaflet.title}", leaflet, PAPER, accent),
        "summary": f"{leaflet.studio}, {leaflet.terms}. {dateline(leaflet)}".strip(),
        "sections": [["Please", list(RULES)]],
        "table-title": "What to confirm",
        "columns": [1.3, 2, 2, 1.6, 0, 2.4],
        "right": [],
        "roomy": True,
        "sign": "",
        "head": ["Part", "What", "Printed", "Yours", "Stumbled", "Remark"],
        "rows": [[one.part, one.what, one.printed, "", "", ""] for one in questions(leaflet)],
    }
    return typeset(template(templates, "sheet"), breaking(data, PAPER))


def _stitches(entry: Entry) -> str:
    return entry.count or (str(entry.live) if entry.live else "")


def _tame(text: str) -> str:
    """A spreadsheet takes a cell that begins like a formula for one; an apostrophe keeps it text."""
    return "'" + text if text[:1] in ("=", "+", "-", "@", "\t", "\r") else text


def _slug(name: str) -> str:
    return "-".join(name.casefold().split())

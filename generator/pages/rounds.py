"""The working lines of a part as rows of the page: both dialects, both wordings, and what a script needs to count along."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from generator.fabric.model import Part, WorkedLine
from generator.notation.pattern import Header, Revision
from generator.notation.tree import Repeat, Work
from generator.pages.prose import anchor
from generator.pages.records import Picture, RoundRow, Said
from generator.pages.studio import Studio
from generator.vocabulary.load import language
from generator.wording.instructions import Style, Written, write_script
from generator.wording.numbers import day
from generator.wording.settle import settle
from generator.wording.voice import Voice

MOST_BOXES = 12
"""A range of more rounds than this gets one box instead of one a round: a wall of boxes helps nobody."""


@dataclass(frozen=True, slots=True)
class Extras:
    """What else the header says about rounds: pictures by round, film marks by label."""

    pictures: Mapping[int, Picture]
    film: Mapping[str, tuple[str, str]]
    """Lower-case label to (time, link)."""


def rows(
    part: Part,
    writings: Sequence[Mapping[int, Written]],
    header: Header,
    studio: Studio,
    colours: Mapping[str, tuple[str, str]],
    taken: set[str],
    extras: Extras,
) -> tuple[RoundRow, ...]:
    """All lines of a part, of which `writings` are the `write`. `colours` maps yarn keys to (name, `#rrggbb`);
    `taken` collects the page's anchors.
    """
    done: list[RoundRow] = []
    before = ""
    for index in sorted({line for writing in writings for line in writing}):
        row = _row(part, index, [writing.get(index) for writing in writings], header, studio, colours, extras)
        name = row.colours[0][0] if row.colours else before
        if len(header.yarns) > 1 and row.kind == "work":
            row = replace(row, change=name if name != before and before else "")
            before = name
        done.append(_placed(row, part, taken))
    return tuple(done)


def write(part: Part, header: Header, yarns: Mapping[str, str]) -> list[dict[int, Written]]:
    """US short, UK short, US spelled, UK spelled, US left, UK left: by line. Left only where it may be another.

    `yarns` maps keys to names.
    """
    author = language("en-GB" if header.terms == "UK" else "en-US")
    own = {special.key: special.name for special in header.stitches}
    script = settle(part)
    made: list[dict[int, Written]] = []
    for style, left in ((Style.SHORT, False), (Style.SPELLED, False), (Style.SHORT, True)):
        for n, code in enumerate(("en-US", "en-GB")):
            only = [line for line, written in made[n].items() if _HAND.search(written.text)] if left else None
            lines = write_script(script, Voice(language(code), style, yarns, left, author, own), only)
            made.append({written.line: written for written in lines})
    return made


_HAND = re.compile("left|right|clockwise", re.IGNORECASE)
"""What must stand in a line for the other hand to read it differently."""


_NUMBER = re.compile(r"\s*(\d[\d–\-, ]*(?:(?:and|to)\s\d+)?)")


def _split(label: str) -> tuple[str, str]:
    """`Rnds 4–8 (RS)` as `Rnds (RS)` and `4–8`."""
    match = _NUMBER.search(label)
    if not match:
        return label, ""
    before, after = label[: match.start()].strip(), label[match.end() :].strip()
    return (f"{before} {after}" if after.startswith("(") else before + after).strip(), match[1].strip()


def _whole(label: str) -> tuple[str, str]:
    """What heads a line that is no round, such as `To level the step`: no figure to be made big."""
    return label, ""


def _said(us: str | None, uk: str | None) -> Said:
    return Said(us or "", uk or us or "")


def _text(us: Written | None, uk: Written | None) -> Said:
    return _said(us.text if us else None, uk.text if uk else None)


def _row(
    part: Part,
    index: int,
    written: Sequence[Written | None],
    header: Header,
    studio: Studio,
    colours: Mapping[str, tuple[str, str]],
    extras: Extras,
) -> RoundRow:
    us, uk, us_long, uk_long, us_left, uk_left = written
    base = us or uk or us_long or uk_long
    assert base is not None
    line = part.lines[index]
    first, last = line.courses
    working = base.kind in ("round", "row") or (first < last and bool(base.count))
    label = _split if working else _whole
    word, figure = label(us.label if us else "")
    text = _text(us, uk)
    left = _text(us_left, uk_left)
    return RoundRow(
        anchor="",
        line=index,
        kind="work" if working else base.kind,
        figure=figure,
        word=_said(word, label(uk.label if uk else "")[0]),
        spelled_word=_said(label(us_long.label if us_long else "")[0], label(uk_long.label if uk_long else "")[0]),
        text=text,
        spelled=_text(us_long, uk_long),
        count=_bracketed(us, uk),
        spelled_count=_bracketed(us_long, uk_long),
        left=left if us_left and left != text else Said(),
        courses=tuple(range(first, last)),
        boxes=_boxes(base, us_long, last - first) if working else (),
        repeats=_turns(line, part),
        colours=_colours(line, part, colours),
        correction=_correction(part, base, header.revisions, studio),
        picture=next((extras.pictures[n] for n in base.numbers if n in extras.pictures), None),
        film=_film(base, extras)[1],
        film_at=_film(base, extras)[0],
    )


def _bracketed(us: Written | None, uk: Written | None) -> Said:
    counts = [f"({one.count})" if one and one.count else "" for one in (us, uk)]
    return _said(*counts)


def _boxes(base: Written, spelled: Written | None, courses: int) -> tuple[str, ...]:
    word = "Row" if base.kind == "row" else "Round"
    if 1 < len(base.numbers) <= MOST_BOXES:
        return tuple(f"{word} {n}" for n in base.numbers)
    if not base.numbers and 1 < courses <= MOST_BOXES:
        return tuple(f"{word} {n + 1} of these" for n in range(courses))
    return ((spelled.label if spelled else base.label) or base.text,)


def _colours(line: WorkedLine, part: Part, colours: Mapping[str, tuple[str, str]]) -> tuple[tuple[str, str], ...]:
    keys = dict.fromkeys(run.yarn for course in part.courses[slice(*line.courses)] for run in course.runs)
    return tuple(colours[key] for key in keys if key in colours)


def _turns(line: WorkedLine, part: Part) -> int:
    """How often the line's one repeat is worked; 0 where there is none or more than one.

    Read off the fabric: stitches that come from the repeat's first instruction, over what it makes in one pass.
    """
    repeats = [step for step in line.steps if isinstance(step, Repeat)]
    if len(repeats) != 1 or not repeats[0].steps or line.courses[0] >= len(part.courses):
        return 0
    repeat = repeats[0]
    if not repeat.times.to_end and repeat.times.until is None:
        return repeat.times.n if repeat.times.n > 1 else 0
    first = next((step for step in repeat.steps if isinstance(step, Work) and step.target.count > 0), None)
    if first is None:
        return 0
    course = part.courses[line.courses[0]]
    made = sum(run.n for run in course.runs if first.span.start <= run.span.start and run.span.end <= first.span.end)
    turns, rest = divmod(made, first.each * first.target.count)
    return turns if rest == 0 and turns > 1 else 0


def _correction(part: Part, base: Written, revisions: Sequence[Revision], studio: Studio) -> str:
    for revision in revisions:
        here = not revision.part or revision.part.lower() == part.name.lower()
        if here and set(revision.rounds) & set(base.numbers):
            return f"corrected {day(revision.date, 'en-GB' if studio.terms == 'UK' else 'en-US')}"
    return ""


def _film(base: Written, extras: Extras) -> tuple[str, str]:
    for n in base.numbers:
        for word in ("rnd", "round", "row"):
            if (found := extras.film.get(f"{word} {n}")) is not None:
                return found
    return "", ""


def _placed(row: RoundRow, part: Part, taken: set[str]) -> RoundRow:
    """The row with its anchors: `cover-3`, and one for every round of a range, so that any round can be linked to."""
    base = anchor(part.name or "work")
    numbers = [int(n) for n in re.findall(r"\d+", row.figure)]
    if "–" in row.figure and len(numbers) == 2 and 0 < numbers[1] - numbers[0] < 200:
        numbers = list(range(numbers[0], numbers[1] + 1))
    names = [f"{base}-{n}" for n in numbers] or [f"{base}-{anchor(row.word.us or row.kind)}"]
    fresh = [unique(name, taken) for name in names]
    return replace(row, anchor=fresh[0], pins=tuple(fresh[1:]))


def unique(name: str, taken: set[str]) -> str:
    """The name, or the name with the next free number; remembered in `taken`."""
    candidate, n = name, 2
    while candidate in taken:
        candidate, n = f"{name}-again-{n}" if name[-1:].isdigit() else f"{name}-{n}", n + 1
    taken.add(candidate)
    return candidate

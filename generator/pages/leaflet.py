"""What a printed pattern says, as plain strings: the record every printed and spoken edition is made from.

Built by `binding`; booklets, plain text, JSON, show notes, cue sheets and test packs only print it. It has no place
for a private `why:` note, so none can slip into an edition.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Figure:
    """A drawing with its words."""

    kind: str
    """Kind of chart (`ring`, `strip`, `silhouette`)."""
    name: str
    """File-name part, such as `base-ring`."""
    svg: str
    """A whole SVG document with resolved colours."""
    title: str
    description: str
    """Text alternative, never empty."""
    width: float
    height: float
    """Size in the drawing's own units; only their ratio and `scale` matter."""
    scale: float = 0.0
    """Millimetres on paper of one drawing unit at the smallest readable size; 0 when unknown."""


@dataclass(frozen=True, slots=True)
class Entry:
    """One working line of a part, in a language and a style."""

    anchor: str
    """Unique in the leaflet: `base-3`."""
    label: str
    """`Rnd 3`, `Rnds 4–8`; empty for a note or a setting-up line."""
    text: str
    count: str
    """`18 sts`, printed in brackets at the end; empty when nothing is counted."""
    kind: str
    """`round`, `row`, `note` or `setup`."""
    steps: tuple[str, ...] = ()
    """Single instructions, in the style that gives them; then `text` says the same in one piece."""
    numbers: tuple[int, ...] = ()
    boxes: int = 0
    """Boxes to tick on paper: one for every round or row the line makes."""
    part: int = 0
    line: int = 0
    """Index of its part in the fabric, and of its line in the part."""
    live: int = 0
    made: int = 0
    corrected: str = ""
    """`corrected 20 September 2026`, when a revision names this round."""

    @property
    def whole(self) -> str:
        """The line in one piece: `Rnd 3: ... (18 sts)`."""
        return (f"{self.label}: " if self.label else "") + self.text + (f" ({self.count})" if self.count else "")


@dataclass(frozen=True, slots=True)
class Run:
    """A stretch of running text: `mark` is empty, `strong`, `emphasis` or `code`."""

    text: str
    mark: str = ""


@dataclass(frozen=True, slots=True)
class Passage:
    """One block of prose: `kind` is `paragraph`, `heading`, `bullet` or `numbered`; `number` counts the latter."""

    kind: str
    runs: tuple[Run, ...]
    number: int = 0

    def plain(self) -> str:
        """Its words alone."""
        return "".join(run.text for run in self.runs)


@dataclass(frozen=True, slots=True)
class Section:
    """One part of the work with its drawings, or prose between parts (then `lines` is empty and `name` too)."""

    name: str = ""
    make: int = 1
    lines: tuple[Entry, ...] = ()
    figures: tuple[Figure, ...] = ()
    prose: tuple[Passage, ...] = ()
    goes_on: bool = False
    """The part has begun in an earlier section."""


@dataclass(frozen=True, slots=True)
class Thread:
    """One yarn of the materials list."""

    key: str
    colour: str
    swatch: str = ""
    detail: str = ""
    amount: str = ""


@dataclass(frozen=True, slots=True)
class Change:
    """One revision, as readers see it."""

    date: str
    """ISO date."""
    day: str
    """The date in words."""
    where: str
    note: str
    was: str = ""
    now: str = ""
    changes_work: bool = True


@dataclass(frozen=True, slots=True)
class Leaflet:
    """A whole pattern in one language and one style, ready to print."""

    title: str
    slug: str
    language: str
    """BCP 47 code of the terms it is written in."""
    terms: str
    """`US terms`."""
    style: str
    summary: str = ""
    level: str = ""
    published: str = ""
    """Date in words; empty when it has none."""
    revised: str = ""
    """Date in words of the newest revision; empty when there is none."""
    address: str = ""
    studio: str = ""
    author: str = ""
    facts: tuple[tuple[str, str], ...] = ()
    """Name and value, in printing order: size, hook, gauge, time."""
    threads: tuple[Thread, ...] = ()
    notions: tuple[str, ...] = ()
    cautions: tuple[tuple[str, str], ...] = ()
    """Title and text."""
    abbreviations: tuple[tuple[str, str], ...] = ()
    sections: tuple[Section, ...] = ()
    about: tuple[Passage, ...] = ()
    """Prose before the first working part: the story, printed last."""
    changes: tuple[Change, ...] = ()
    """Newest first."""
    checked: tuple[str, ...] = ()
    """Sentences of the box `how this was checked`."""
    photo: Figure | None = None

    def entries(self) -> tuple[Entry, ...]:
        """All working lines of all parts."""
        return tuple(line for section in self.sections for line in section.lines)

    def warning(self) -> str:
        """What a reader with an older print has to know; empty when nothing that changes the work was revised."""
        dates = [change for change in self.changes if change.changes_work]
        return f"If you printed this before {dates[0].day}, please look at the corrections." if dates else ""

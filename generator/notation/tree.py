"""The plan of a pattern as it is written: repeats stay repeats, and what can be read two ways stays open.

The reader makes this tree; `fabric.work` works it, settles every `Choice` and keeps the settled steps beside the
stitches. Words have become identities here (`sc` means US single crochet whatever the writer called it); only
`wording` turns them back. Every step has the span of the words it was read from.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field
from enum import StrEnum
from typing import TYPE_CHECKING

from generator.source import NOWHERE, Span

if TYPE_CHECKING:
    from generator.notation.body import Body


class How(StrEnum):
    """How a place is chosen."""

    NEXT = "next"
    """each of the next `count`"""
    EACH = "each"
    """every one from here to the end of the round or row, less `leave`"""
    SAME = "same"
    """the place just worked into, or the place of the join"""
    FIRST = "first"
    LAST = "last"
    ANY = "any"
    """wherever the maker likes; only for joining a yarn"""
    FROM_HOOK = "from hook"
    """the `nth` chain counted back from the hook"""
    SKIPPED = "skipped"
    """the place skipped before (crossed stitches)"""
    PREVIOUS = "previous"
    """the stitch just made (picots, stitches round a post just made)"""


class Noun(StrEnum):
    """What kind of place it is."""

    STITCH = "stitch"
    SPACE = "space"
    """under a chain of one or more: chain space, loop, arch; `size` 0 when the text gives none"""
    CHAIN = "chain"
    """one single chain, as in a foundation or the `nth` chain of an arch"""
    PLACE = "place"
    """stitch or space, whichever comes (`in same place`)"""
    RING = "ring"
    GAP = "gap"
    """between two stitches"""
    CORNER = "corner"
    ROW_END = "row end"
    """Along a side; with a `kind` it is that of another piece (`first leg`), whose stitches are no course of this one."""
    START = "start"
    """the beginning or turning chain of the course below, or its `nth` chain"""


class Loop(StrEnum):
    """Which part of the stitch the hook takes up."""

    BOTH = ""
    FRONT = "front loop"
    BACK = "back loop"
    THIRD = "third loop"
    FRONT_POST = "front post"
    BACK_POST = "back post"


@dataclass(frozen=True, slots=True)
class Target:
    """Where stitches are worked."""

    how: How = How.NEXT
    noun: Noun = Noun.STITCH
    count: int = 1
    kind: str = ""
    """Identity of the stitch named as the place (`sc in next dc`), or empty."""
    size: int = 0
    """Chains of the space, when the text names its size."""
    nth: int = 0
    """Which one, counted from 1: chain of an arch, chain from the hook, stitch of a group; 0 when unsaid."""
    every: int = 1
    """2 for `every other`, 3 for `every 3rd`."""
    leave: int = 0
    """With EACH: how many are left at the end (`to last 2 sts`)."""
    loop: Loop = Loop.BOTH
    below: int = 0
    """Courses below the usual one (spikes, posts `2 rounds below`)."""
    course: int = 0
    """The number of the course the place is of, where the text names it (`sc of Rnd 5`); 0 for the one below."""
    spaces: bool = False
    """With EACH: chain spaces count as places too (`in each st and sp`)."""
    chains: bool = False
    """With EACH: every single chain counts as a place too (`in each st and each ch`)."""
    side: bool = False
    """On the other side of the foundation chain."""
    implied: bool = False
    """The text left the place out (`3 sc`, `inc`)."""


NEXT = Target(implied=True)


@dataclass(frozen=True, slots=True)
class Step:
    """Base of everything a line tells the maker to do."""

    span: Span = NOWHERE


@dataclass(frozen=True, slots=True)
class Work(Step):
    """Stitches worked into places: `each` stitches in every place of `target`.

    `increase` and `decrease` remember that the writer used the word (`inc`, `dec`) rather than the stitch.
    """

    stitch: str = "sc"
    each: int = 1
    target: Target = NEXT
    increase: bool = False
    decrease: bool = False


@dataclass(frozen=True, slots=True)
class Chain(Step):
    """`n` chains. `stands_for` is set where the text says what they count as (`counts as dc`, `= 1 tr, 2 ch`)."""

    n: int = 1
    stands_for: str = ""
    stands_chains: int = 0
    """Further chains that make a space after the stitch they stand for (`ch 5 (counts as dc, ch 2)`: 2)."""
    counts: bool | None = None
    """True or False where the text says so, None where it leaves it open."""


@dataclass(frozen=True, slots=True)
class Group(Step):
    """Several steps all worked into one place: `(2 dc, ch 2, 2 dc) in next ch-2 sp`."""

    steps: tuple[Step, ...] = ()
    target: Target = NEXT
    name: str = ""
    """`shell`, `fan`, `V-st` where the text names it."""


@dataclass(frozen=True, slots=True)
class Times:
    """How often something is repeated: `n` times in all, or to the end of the course, or until a place."""

    n: int = 1
    to_end: bool = False
    leave: int = 0
    """With `to_end`: places left at the end for what follows (`to last 2 sts`)."""
    until: Target | None = None


@dataclass(frozen=True, slots=True)
class Repeat(Step):
    """Steps worked several times over.

    `stop_at`: number of steps of the last pass that are worked (`ending last rep at **`), 0 for all.
    `mark`: the sign the writer used (`*`, `(`, `[`, empty for a bare `rep around`).
    """

    steps: tuple[Step, ...] = ()
    times: Times = Times()
    stop_at: int = 0
    mark: str = "*"


@dataclass(frozen=True, slots=True)
class Skip(Step):
    """Places passed over unworked. `behind`: they lie behind posts or spikes worked into a deeper course, which stand
    in their stead."""

    target: Target = NEXT
    behind: bool = False


@dataclass(frozen=True, slots=True)
class Mesh(Step):
    """Squares of filet, one after the other: spaces (`3 sps`) or, `filled`, blocks (`7 dc` behind a space: 2).

    `n` is 0 for as many as there are. A square has its further post and `chains` chains or stitches before it.
    """

    n: int = 1
    filled: bool = False
    stitch: str = "dc"
    chains: int = 2
    total: bool = False
    """Squares made before in this row are among them (`ch 7, dc in first st; total 4 sps`)."""
    more: bool = False
    """Said to be more than those made before (`make 4 more sps`)."""
    grows: bool = False
    """They are made beyond the row's end (`inc 1 sp`)."""


@dataclass(frozen=True, slots=True)
class Picot(Step):
    """`n` chains closed on themselves: an ornament on the edge that is no place for the next round."""

    n: int = 3
    close: str = "sl-st"
    into: str = ""
    """Where it closes: `top` of the last stitch, `first` of its chains, `hook` (n-th chain from hook)."""


@dataclass(frozen=True, slots=True)
class Join(Step):
    """Closes a round. `stitch` is usually a slip stitch; a taller one (`ch 1, hdc in first`) ends in a space."""

    stitch: str = "sl-st"
    target: Target = Target(how=How.FIRST)
    needle: bool = False
    """Joined with a needle or an invisible finish: replaces one stitch by itself."""


@dataclass(frozen=True, slots=True)
class Turn(Step):
    """The work is turned."""


@dataclass(frozen=True, slots=True)
class Stay(Step):
    """Said not to happen: `what` is `turn` or `join`."""

    what: str = "join"


@dataclass(frozen=True, slots=True)
class Ring(Step):
    """A beginning: an adjustable ring (`chains` 0) or a ring of chains joined with a slip stitch."""

    chains: int = 0


ANY_LENGTH = (1, 0)
"""As the `multiple` of a foundation: as long as one likes."""


@dataclass(frozen=True, slots=True)
class Foundation(Step):
    """A beginning: a chain to work along (`Ch 21`)."""

    chains: int = 1
    multiple: tuple[int, int] | None = None


@dataclass(frozen=True, slots=True)
class Yarn(Step):
    """From here on this yarn. `name` is the key in the header or the words used; empty for `change colour`.

    `how`: `with` (begins or goes on), `change` (in the last pull-through), `join` (fastened on at `target` with
    `stitch`: `sl-st`, or a standing stitch, or nothing said).
    """

    name: str = ""
    how: str = "with"
    target: Target | None = None
    stitch: str = ""
    standing: bool = False


@dataclass(frozen=True, slots=True)
class FastenOff(Step):
    """The yarn is cut."""

    invisible: bool = False


@dataclass(frozen=True, slots=True)
class OtherSide(Step):
    """From here on along the other side of the foundation chain."""


@dataclass(frozen=True, slots=True)
class Along(Step):
    """Edging without a count: `sc evenly around`, along row ends. `corners` stitches are put in each corner."""

    stitch: str = "sc"
    corners: int = 0
    beside: bool = False
    """Along the row ends, as many as the maker finds right."""


@dataclass(frozen=True, slots=True)
class Shape(Step):
    """Increase or decrease told in words: `increase 6 sts evenly`, `dec in every 3rd st`. `by` is negative for less."""

    by: int = 0
    every: int = 0
    stitch: str = "sc"


@dataclass(frozen=True, slots=True)
class Again(Step):
    """Earlier courses worked again: `Rep Rnd 2`, `Rep Rnds 2 and 3 twice`, `same as 5th row`.

    `numbers` empty means the last `last` courses. `passes` counts how often; `until_stitches` and `until_length_mm`
    give open ends; `ending` is the number of the course the last pass stops at.
    """

    numbers: tuple[int, ...] = ()
    last: int = 1
    passes: int = 1
    until_stitches: int = 0
    until_length_mm: float = 0.0
    open_end: bool = False
    ending: int = 0
    until_kind: str = ""
    """What `until_stitches` counts, where it is not all stitches: an identity, `shell`, `group`, `loop`, `space`."""
    until_each: bool = False
    """`until_stitches` is said of each pass of the course's repeat (`21 sc in each section`)."""


@dataclass(frozen=True, slots=True)
class Measure(Step):
    """`until piece measures 10 cm`: worked on evenly to a length. Solved from the gauge."""

    length_mm: float = 0.0


OPENING = -1
"""As `course` of a `PartRef`: places of several courses round a thumb hole, an armhole, a heel."""


@dataclass(frozen=True, slots=True)
class PartRef(Step):
    """Pieces used or joined: `holding both legs together`, `sew ear to head`. Words kept."""

    words: str = ""
    course: int = 0
    """The course all of the line is worked on, where it names one (`working in front loops of Rnd 3`); `OPENING` for
    the edge of a hole left earlier."""


@dataclass(frozen=True, slots=True)
class Convention(Step):
    """A rule for the whole part said once: `name` is `start-chain`, `rounds`, `terms`; `value` its setting."""

    name: str = ""
    value: str = ""


@dataclass(frozen=True, slots=True)
class Remark(Step):
    """Words without arithmetic, kept for the published text: `stuff firmly`, `place marker`, `loosely`.

    `act` names what it is where the tool cares: `marker`, `stuff`, `eyes`, `close`, `sew`, `tail`, `note`,
    `manner`, `side`, `hook`; empty otherwise.
    """

    words: str = ""
    act: str = ""


@dataclass(frozen=True, slots=True)
class Reached(Remark):
    """`after the 7th treble: …`: how many of a stitch the course has by here, a claim that tells readings apart."""

    stitch: str = ""
    n: int = 0


@dataclass(frozen=True, slots=True)
class Define(Step):
    """A stitch explained on the spot: `(popcorn: 5 dc in same st, ...)`. It makes nothing by itself."""

    name: str = ""
    words: str = ""


@dataclass(frozen=True, slots=True)
class Unread(Step):
    """Words that were not understood. A line with one is `not-understood`; nothing is skipped in silence."""

    words: str = ""


@dataclass(frozen=True, slots=True)
class Option:
    """One way to read a phrase. `cost` 0 is the usual way; `reason` finishes the sentence "read as ..."."""

    steps: tuple[Step, ...]
    reason: str = ""
    cost: int = 0


@dataclass(frozen=True, slots=True)
class Choice(Step):
    """A phrase with several readings, usual one first. Choices of one `kind` on a line are settled alike."""

    kind: str = ""
    options: tuple[Option, ...] = ()

    def between(self, readings: Iterable[tuple[Step, ...]]) -> "Choice":
        """The same choice between other steps, one reading for each option; itself where they are the same."""
        options = tuple(
            [
                option if steps == option.steps else Option(steps, option.reason, option.cost)
                for option, steps in zip(self.options, readings, strict=True)
            ]
        )
        return self if options == self.options else Choice(self.span, self.kind, options)


class Word(StrEnum):
    """What a line calls itself."""

    ROUND = "round"
    ROW = "row"
    FOUNDATION = "foundation"
    NEXT = "next"
    """`Next rnd`, `Next row`, `Last rnd`"""
    NONE = ""
    """No label: a setting-up line, a note, a line that goes on."""


@dataclass(frozen=True, slots=True)
class Label:
    """The beginning of a working line: `Rnds 4-8:`, `Row 3 (RS):`, `Next rnd:`."""

    word: Word = Word.NONE
    numbers: tuple[int, ...] = ()
    side: str = ""
    """`RS`, `WS` or empty."""
    span: Span = NOWHERE
    open_end: bool = False
    """`Rows 3-end`, `6th and subsequent rnds`."""


@dataclass(frozen=True, slots=True)
class Stated:
    """The count the author printed: a claim to compare, never an input to the work.

    `kinds` holds (identity, number) pairs where kinds are named; spaces are named `sp` or `sp:2` (ch-2 spaces);
    other nouns (`shells`, `petals`) stand under their own name. `total` is the plain number of stitches, or None
    when only kinds are given. `span` covers the whole count.
    """

    total: int | None = None
    kinds: tuple[tuple[str, int], ...] = ()
    chains_named: bool = False
    rounds: int = 0
    """`(4 rounds)`: how many courses the author says a range has; 0 when unsaid."""
    span: Span = NOWHERE
    each: bool = False
    """The count is that of each pass of the course's repeat (`21 sc in each section`)."""


@dataclass(frozen=True, slots=True)
class Line:
    """One working line."""

    span: Span
    label: Label = Label()
    steps: tuple[Step, ...] = ()
    stated: Stated | None = None
    slips: tuple[tuple[Span, str], ...] = ()
    """Typing slips that were read as something else: where, and as what."""
    intended: tuple[str, ...] = ()
    """Rules the author answered with `intended: reason` on this line, as `rule=reason` (or only a reason)."""
    why: str = ""
    """The author's private note on this line; never published."""
    body: "Body | None" = field(default=None, repr=False, compare=False)
    """Where its steps and its count come from: the same words, read before, may have been worked before."""


@dataclass(frozen=True, slots=True)
class Piece:
    """One part as written: `## Ear (make 2)` with its working lines."""

    name: str = ""
    make: int = 1
    lines: tuple[Line, ...] = ()
    span: Span = NOWHERE
    hook_mm: float = 0.0

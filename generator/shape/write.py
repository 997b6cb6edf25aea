"""A plan as working lines, as a designer would type them; proved by the reader and worker like anybody's."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from generator.shape.ovals import oval_round
from generator.shape.plan import Plan
from generator.shape.rounds import worked_round

LIFT = {"sc": "Ch 1", "hdc": "Ch 2", "dc": "Ch 2"}
"""Chains that lift a joined round. Taller stitches get one fewer than stands for a stitch, and it isn't one."""
HAND_MM = 95.0
"""Way round an opening through which a hand's fingers still push filling (own choice)."""


@dataclass(frozen=True, slots=True)
class Manner:
    """How the rounds are worked and told.

    `joined` closes every round; `corners` leaves the increases on top of each other. `yarns` has the yarn of every
    round (empty strings for one nameless yarn). `word` is what the writer calls the stitch (UK `dc` for sc).
    """

    joined: bool = False
    corners: bool = False
    yarns: tuple[str, ...] = ()
    word: str = ""


@dataclass(frozen=True, slots=True)
class Written:
    """One round written: what comes before its line, its words, its count, and whether it may stand in a range."""

    before: tuple[str, ...]
    words: str
    count: int
    plain: bool


def write(plan: Plan, manner: Manner) -> str:
    """The working lines of a plan, one a line."""
    rounds = list(_rounds(plan, manner))
    lines = list(_beginning(plan, manner))
    number = 0
    while number < len(rounds):
        first = rounds[number]
        last = number
        while last + 1 < len(rounds) and _same(first, rounds[last + 1]):
            last += 1
        label = f"Rnd {number + 1}" if last == number else f"Rnds {number + 1}-{last + 1}"
        lines += [*first.before, f"{label}: {sentence(first.words)}. ({first.count})"]
        if manner.corners and number == _last_shaped(plan):
            lines.append("intended (increases-stacked): corners are wanted here")
        number = last + 1
    return "\n".join((*lines, *_ending(plan))) + "\n"


def sentence(words: str) -> str:
    """The words with a capital, behind the sign of a repeat too."""
    at = 1 if words.startswith("*") else 0
    return words[:at] + words[at].upper() + words[at + 1 :]


def _last_shaped(plan: Plan) -> int:
    """Index of the last round that increases; -1 for none."""
    pairs = list(zip(plan.counts, plan.counts[1:], strict=False))
    return max((i + 1 for i, (a, b) in enumerate(pairs) if b > a), default=-1)


def _same(first: Written, other: Written) -> bool:
    return first.plain and other.plain and not other.before and first.words == other.words


def _beginning(plan: Plan, manner: Manner) -> Iterator[str]:
    if not manner.joined:
        yield "Work in a spiral; do not join rounds"
    if manner.yarns and manner.yarns[0]:
        yield f"With {manner.yarns[0]}"
    if plan.straight:
        yield f"Ch {plan.straight + 2}"
    elif plan.foundation:
        yield f"Ch {plan.foundation}, join with sl st to form ring"


def _rounds(plan: Plan, manner: Manner) -> Iterator[Written]:
    stuffed_after = _stuffing(plan)
    before = plan.foundation
    shaped = 0
    for i, count in enumerate(plan.counts):
        words = _words(plan, manner, i, before, shaped % 2 == 1 and not manner.corners)
        shaped += before != count
        front, words = _colour(manner, i, words, _word(plan, manner))
        if i == stuffed_after:
            front = ("Stuff firmly", *front)
        whole = count + 2 * plan.straight
        yield Written(tuple(front), _joined(plan, i, words, manner), whole, before == count and i > 0)
        before = count


def _word(plan: Plan, manner: Manner) -> str:
    return manner.word or plan.hand.stitch


def _words(plan: Plan, manner: Manner, i: int, before: int, shift: bool) -> str:
    stitch, count = _word(plan, manner), plan.counts[i]
    if plan.straight:
        return oval_round(stitch, before, count, plan.straight, i == 0)
    if i == 0:
        return f"{stitch} in each ch around" if plan.foundation else f"{count} {stitch} in magic ring"
    return worked_round(stitch, before, count, shift)


def _joined(plan: Plan, i: int, words: str, manner: Manner) -> str:
    """The round with its lift and its join, where rounds are joined."""
    if not manner.joined:
        return words
    stitch, lift = _word(plan, manner), LIFT[plan.hand.stitch]
    if i == 0 and plan.hand.stitch != "sc":
        lift += " (does not count as a st here and throughout)"
    start = "" if (plan.straight and i == 0) or words.startswith("standing") else lift + ", "
    return f"{start}{words}, join with sl st to first {stitch}"


def _colour(manner: Manner, i: int, words: str, stitch: str) -> tuple[Sequence[str], str]:
    """What is said before a round that begins a new yarn, and that round's words.

    A plain spiral round takes the level change (one shorter stitch past the end, a standing stitch to begin with);
    anywhere else the new yarn comes in with the last pull-through.
    """
    if i == 0 or not manner.yarns or manner.yarns[i] == manner.yarns[i - 1]:
        return (), words
    if words == f"{stitch} in each st around" and not manner.joined:
        level = f"To level the step: {stitch} in next st, sl st in next st, fasten off"
        return (level, f"With {manner.yarns[i]}"), f"standing {stitch} in any st, {stitch} in each st around"
    return (f"Change to {manner.yarns[i]}",), words


def _stuffing(plan: Plan) -> int:
    """Index of the round before which a closed solid is stuffed: the last opening that lets a hand in. -1 for none."""
    if not (plan.profile.solid and plan.profile.closed_end):
        return -1
    widest = max(range(len(plan.counts)), key=lambda i: plan.counts[i])
    room = min(HAND_MM, 0.6 * plan.counts[widest] * plan.hand.width)
    for i in range(widest, len(plan.counts)):
        if plan.counts[i] * plan.hand.width < room:
            return i
    return len(plan.counts) - 1


def _ending(plan: Plan) -> Iterator[str]:
    if plan.profile.closed_end:
        last = plan.around(len(plan.counts))
        yield f"Fasten off, leaving a tail; thread it through the front loops of the last {last} sts and draw tight"
    elif plan.profile.sewn:
        yield "Fasten off, leaving a long tail for sewing"
    else:
        yield "Fasten off"

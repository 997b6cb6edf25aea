"""Choosing among readings, and saying what was chosen, what the line comes to and what is wrong with it."""

from generator.fabric.count import PETALS, Tally, agrees, knows
from generator.fabric.model import Fault, Problem, Status
from generator.fabric.readings import choices
from generator.fabric.state import Outcome
from generator.notation.tree import (
    Along,
    Line,
    Remark,
    Stated,
)  # fmt: skip


def choose(outcomes: list[Outcome]) -> Outcome:
    """The first that fits and agrees; else the first that fits; else the usual one, or the one that got further."""
    for outcome in outcomes:
        if outcome.fits and outcome.agrees:
            return outcome
    for outcome in outcomes:
        if outcome.agrees and not outcome.strict and outcome.problem is not None and outcome.problem.lenient:
            return outcome
    for outcome in outcomes:
        if outcome.fits:
            return outcome
    return outcomes[0]


def explain(line: Line, chosen: Outcome, tried: int) -> tuple[str, bool]:
    """One sentence on the reading taken, and whether it is an unusual one."""
    if not chosen.reading.picks:
        return "", False
    unusual = chosen.reading.cost > 0 and chosen.fits
    words = "; ".join(chosen.reading.reasons)
    count = line.stated.total if line.stated else None
    if not words:
        return "", False
    because = f", because only that gives {count}" if unusual and count is not None else ""
    return f"read as {words}{because}", unusual and bool(choices(line.steps))


LASTING = ("rep-n",)
"""Kinds of choices that a writer settles once for all."""


def leans(chosen: Outcome, outcomes: list[Outcome], leaning: set[str]) -> set[str]:
    """Kinds of lasting choices that this line proves to be meant otherwise than the part has them so far: it fits, is
    sure of its places, and the other option was worked and does not."""
    if not chosen.fits or not chosen.agrees or len(outcomes) < 2:
        return set()
    out: set[str] = set()
    for kind in LASTING:
        picks = dict(chosen.reading.picks)
        if kind not in picks or (picks[kind] == 1) == (kind in leaning):
            continue
        others = [o for o in outcomes if dict(o.reading.picks).get(kind) == 1 - picks[kind]]
        if others and not any(o.fits and o.agrees for o in others):
            out.add(kind)
    return out


def count_problem(stated: Stated, found: Tally) -> Problem:
    """The first number of a stated count that is not what was worked."""
    if stated.each and stated.total is not None:
        return Problem(Fault.COUNT, stated.span, have=found.live, need=stated.total * max(1, found.passes))
    if stated.total is not None and stated.total != found.live:
        return Problem(Fault.COUNT, stated.span, have=found.live, need=stated.total)
    for name, n in stated.kinds:
        if found.of(name) != n and n not in found.heaped(name):
            have = found.of(name) or max(found.heaped(name), default=0)
            have = found.groups if name in PETALS else found.chains if name == "ch" else have
            have = max(have, found.spaces) if name == "block" else have
            have = found.meshes if name == "mesh" and found.meshes else found.spaces if name in ("sp", "mesh") else have
            return Problem(Fault.KINDS, stated.span, have=have, need=n, kind=name)
    return Problem(Fault.COUNT, stated.span, have=found.live, need=stated.total or 0)


def ambiguous(line: Line, chosen: Outcome, outcomes: list[Outcome]) -> str:
    """What else the line could mean, where no count tells and another common reading closes just as well."""
    if (line.stated is not None and knows(line.stated)) or not chosen.fits or not chosen.strict:
        return ""
    for other in outcomes:
        closes = other.fits and other.strict and other.reading.cost <= chosen.reading.cost + 1
        if closes and other.found.live != chosen.found.live and other.reading.reasons:
            here, there = "; ".join(chosen.reading.reasons), "; ".join(other.reading.reasons)
            return f"read as {here} it makes {chosen.found.live}, read as {there} it makes {other.found.live}"
    return ""


_OF_LENGTH = (Fault.FIT, Fault.OVER, Fault.SHORT, Fault.COUNT, Fault.KINDS)
"""What may come of a chain that is longer or shorter than the pattern's repeat asks for."""


def judge(line: Line, chosen: Outcome, unsure: bool, lost: set[str]) -> tuple[Status, Problem | None]:
    """What a line comes to, and what is wrong with it. `unsure`: the edge below is not what the pattern means; `lost`:
    numbers of courses that were not understood."""
    status, problem = _verdict(line, chosen, lost)
    if chosen.state.endless and (problem is None or problem.fault in _OF_LENGTH):
        return Status.WORKED, None
    if unsure and status in (Status.DIFFERS, Status.DOES_NOT_CLOSE):
        # What lies below could not be worked, so nothing can be held against this line.
        counted = line.stated is not None and (line.stated.total is not None or line.stated.kinds)
        return (Status.WORKED if counted or status is Status.DIFFERS else Status.DOES_NOT_CLOSE), None
    return status, problem


def _verdict(line: Line, chosen: Outcome, lost: set[str]) -> tuple[Status, Problem | None]:
    stated = line.stated
    problem = chosen.problem
    counted = stated is not None and (stated.total is not None or bool(stated.kinds))
    if problem is not None:
        if problem.fault is Fault.NO_COURSE:
            named = lost.intersection(problem.words.split(","))
            return (Status.NOT_UNDERSTOOD if named else Status.DOES_NOT_CLOSE), problem
        if problem.fault is Fault.NO_START and chosen.found.live and (not counted or chosen.agrees):
            # On a piece the text doesn't show; that it doesn't is told, the stitches are there.
            return Status.PROVED if counted and chosen.strict else Status.WORKED, problem
        if counted and stated is not None and agrees(stated, chosen.found) and not chosen.strict and problem.lenient:
            return Status.PROVED, None
        return Status.DOES_NOT_CLOSE, problem
    if not counted or stated is None or shaped_anyhow(chosen):
        return Status.WORKED, None
    if chosen.agrees:
        return Status.PROVED, None
    if not knows(stated, chosen.found):
        return Status.WORKED, None
    return Status.DIFFERS, count_problem(stated, chosen.found)


def shaped_anyhow(chosen: Outcome) -> bool:
    """Whether a course is shaped where and as often as the maker sees fit: no count of it can be checked."""
    return any(
        (isinstance(step, Remark) and step.act == "shaping") or (isinstance(step, Along) and step.beside)
        for step in chosen.steps
    )

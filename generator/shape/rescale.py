"""A whole pattern at another size or another gauge: same proportions, same repeats, same colour zones.

Only parts that are plain surfaces of revolution can be planned anew: one stitch, worked in rounds, counts that say
everything. Lace, motifs and rows are left as they are, and said to be.
"""

import re
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from itertools import pairwise

from generator.diagnostics.record import Checked, Finding, Severity
from generator.fabric.model import Course, Fabric, Make, Part, Role
from generator.measures.gauge import Scale, from_gauge, scale_of
from generator.notation.pattern import Gauge, Pattern, Working
from generator.shape.design import word_for
from generator.shape.hand import REPEATS, Hand, hand_of
from generator.shape.plan import plan
from generator.shape.profile import Point, Profile
from generator.shape.remake import Remaking
from generator.shape.renumber import prose_renumbered
from generator.shape.worked import step
from generator.shape.write import Manner, write
from generator.source import NOWHERE
from generator.vocabulary.load import stitch

LEAST, MOST = 0.2, 10.0
"""Smallest and largest factor."""


@dataclass(frozen=True, slots=True)
class Change:
    """One part before and after: counts round by round; `kept` says why a part stays as it was."""

    part: str
    before: tuple[int, ...]
    after: tuple[int, ...] = ()
    kept: str = ""
    lost: tuple[str, ...] = ()
    """Lines of the part that the plan can't carry over (notes, stuffing in another place)."""


@dataclass(frozen=True, slots=True)
class Rescaled:
    """The new source and what changed in it."""

    text: str
    changes: tuple[Change, ...]


def rescale(pattern: Pattern, fabric: Fabric, factor: float = 1.0, gauge: Gauge | None = None) -> Checked[Rescaled]:
    """The pattern `factor` times as large, at `gauge` where one is given.

    Gives `rescale-out-of-reach` and `rescale-without-gauge`.
    """
    source, scale = pattern.source, scale_of(pattern.header)
    nothing = Rescaled(source.text, ())
    if not LEAST <= factor <= MOST:
        message = f"{factor:g} times the size is more than a plan can answer for"
        return Checked(nothing, (_no("rescale-out-of-reach", message, f"between {LEAST:g} and {MOST:g} times"),))
    if not scale.width_mm:
        message = "without a gauge there is no size to change"
        return Checked(nothing, (_no("rescale-without-gauge", message, "gauge: 20 sc x 21 rounds = 10 cm"),))
    text, made = source.text, []
    working = [block for block in pattern.blocks if isinstance(block, Working)]
    for block, part in reversed(list(zip(working, fabric.parts, strict=False))):
        after = _after(pattern, part, scale, gauge, factor)
        made.append(after)
        if not after.change.kept:
            text = text[: block.piece.span.start] + after.lines + text[block.piece.span.end :]
    remade = [after for after in made if not after.change.kept]
    numbered = [after for after in remade if after.numbers]
    if len(numbered) == 1:  # with more parts nobody knows whose rounds the prose names
        text = prose_renumbered(text, numbered[0].numbers)
    if gauge:
        text = _new_gauge(text, gauge)
    if factor != 1.0 and remade:
        text = _new_size(text, factor)
    return Checked(Rescaled(text, tuple(after.change for after in reversed(made))))


@dataclass(frozen=True, slots=True)
class _After:
    """What became of one part: its change, its new lines, and where its rounds went (old number to new)."""

    change: Change
    lines: str = ""
    numbers: Mapping[int, int] = field(default_factory=dict)


def _after(pattern: Pattern, part: Part, scale: Scale, gauge: Gauge | None, factor: float) -> _After:
    kept, kind = _unfit(part), kind_of(part)
    before = tuple(course.live for course in rounds_of(part))
    if part.courses and all(run.kind == "ch" for course in part.courses for run in course.runs):
        return _cord(pattern, part, factor * scale.width_mm / (from_gauge(gauge) if gauge else scale).width_mm)
    if kind not in REPEATS:
        return _After(Change(part.name, before, before, kept))
    old = hand_of(scale, kind, _repeat(part))
    new = hand_of(from_gauge(gauge) if gauge else scale, kind, _repeat(part))
    if not kept and (never := _never(part, old)):
        return _After(Change(part.name, before, before, never))
    lost = tuple(_lost(pattern, part))
    if kept or lost:  # what is said between the rounds has to stay at its place
        remade = Remaking(pattern, part, kind, old, new, factor).run()
        if not remade.kept:
            return _After(Change(part.name, before, remade.counts), remade.lines, remade.numbers)
        if kept:
            return _After(Change(part.name, before, before, remade.kept))
    lines, after = _again(part, old, new, factor, pattern.header.terms)
    return _After(Change(part.name, before, after, lost=lost), lines, _numbers(part, len(after)))


def _no(rule: str, message: str, fits: str) -> Finding:
    return Finding(rule, Severity.ERROR, message, NOWHERE, fits)


def _cord(pattern: Pattern, part: Part, grow: float) -> _After:
    """A cord of chains, so many times as many."""
    block = next(b for b in pattern.blocks if isinstance(b, Working) and b.piece.name == part.name)
    words = pattern.source.words(block.piece.span)
    before = tuple(course.size for course in part.courses)

    def more(match: re.Match[str]) -> str:
        return f"{match[1]}{max(1, round(int(match[2]) * grow))}"

    lines = re.sub(r"(?i)\b(ch(?:ain)? )(\d+)\b", more, words)
    return _After(Change(part.name, before, tuple(round(n * grow) for n in before)), lines)


def rounds_of(part: Part) -> tuple[Course, ...]:
    """The part's rounds without what only levels their end."""
    return tuple(c for c in part.courses if any(run.role in (Role.STITCH, Role.START) for run in c.runs))


def kind_of(part: Part) -> str:
    """The stitch the part is worked in."""
    made = Counter[str]()
    for course in part.courses:
        for run in course.runs:
            if run.role is Role.STITCH and run.kind != "ch":
                base = stitch(run.kind).base
                made["sc" if base == "invdec" else base] += run.n
    return made.most_common(1)[0][0] if made else ""


def _unfit(part: Part) -> str:
    """Why a part can't be planned anew; empty where it can."""
    rounds = [course for course in rounds_of(part) if course.make is not Make.FOUNDATION]
    if len(rounds) < 2:
        return "nothing to plan"
    if any(course.make is Make.ROW for course in rounds):
        return "it is worked in rows"
    if any(kind.startswith("sp:") for course in rounds for kind, _ in course.kinds):
        return "it has chain spaces"
    kind = kind_of(part)
    if kind not in ("sc", "hdc", "dc"):
        return f"it is worked in {kind}" if kind else "nothing to plan"
    if any(k not in (kind, f"{kind}2tog") and not (kind == "sc" and k == "invdec") for c in rounds for k, _ in c.kinds):
        return "it mixes stitches"
    if any(run.loop for course in rounds for run in course.runs):
        return "it works into single loops or round posts"
    if any(course.make is Make.FOUNDATION for course in part.courses):
        return "it begins on a chain"
    return ""


def _never(part: Part, hand: Hand) -> str:
    """Why a part that is one stitch throughout still can't be planned anew."""
    if part.start_chain_counts and hand.stitch != "sc":
        return "its starting chains count as stitches"
    counts = [course.live for course in rounds_of(part)]
    if any(b - a > hand.most for a, b in pairwise(counts)):
        return "it ruffles: its size is how long you go on"
    return ""


def _repeat(part: Part) -> int:
    """The repeat the part is built on: its commonest change of count, or the count it begins with."""
    counts = [course.live for course in rounds_of(part)]
    changes = Counter(abs(b - a) for a, b in pairwise(counts) if b != a)
    if not changes:
        return max(2, min(24, counts[0]))
    return max(2, min(24, changes.most_common(1)[0][0]))


def _again(part: Part, old: Hand, new: Hand, factor: float, terms: str) -> tuple[str, tuple[int, ...]]:
    """The lines of the part at its new size, and their counts."""
    profile = _profile(part, old).scaled(factor)
    best = plan(profile, new)
    rounds = rounds_of(part)
    per_round = new.height / (old.height * factor)
    yarns = tuple(_yarn(rounds[min(len(rounds) - 1, int((i + 0.5) * per_round))]) for i in range(len(best.counts)))
    joined = sum(course.make is Make.JOINED for course in rounds) * 2 > len(rounds)
    return write(best, Manner(joined=joined, yarns=yarns, word=word_for(new.stitch, terms))), best.counts


def _profile(part: Part, hand: Hand) -> Profile:
    """The worked outline of a part as the wish for its next size."""
    points: list[Point] = [(0.0, 0.0)]
    upwards = Profile(((0.0, 0.0), (0.0, 1e9)))
    rounds = rounds_of(part)
    for number, course in enumerate(rounds, 1):
        points.append(step(upwards, points[-1], hand.radius(course.live), number * hand.height, hand.height))
    closed = rounds[-1].live <= max(hand.starts)
    if closed:
        points.append(step(upwards, points[-1], 0.0, 1e6, hand.height))
    return Profile(tuple(points), solid=closed)


def _numbers(part: Part, rounds: int) -> dict[int, int]:
    """Where the old rounds went, by their share of the way."""
    old = rounds_of(part)
    shares = ((course.number, (k + 1) / len(old)) for k, course in enumerate(old))
    return {number: max(1, round(share * rounds)) for number, share in shares if number is not None}


def _yarn(course: Course) -> str:
    made = Counter[str]()
    for run in course.runs:
        made[run.yarn] += run.n
    return made.most_common(1)[0][0]


_TOLD_ANEW = re.compile(r"(?i)(with|change|work in|to level|fasten|stuff|top up)\b")


def _lost(pattern: Pattern, part: Part) -> Iterator[str]:
    """What is said between the rounds of a part and a plan has no place for."""
    for line in part.lines:
        words = pattern.source.words(line.line.span).strip()
        if line.courses[0] == line.courses[1] and not _TOLD_ANEW.match(words):
            yield words


def _new_size(text: str, factor: float) -> str:
    """The header's stated size and its ties, so many times as large, to half a centimetre (a quarter inch)."""

    def larger(match: re.Match[str]) -> str:
        value = float(match["number"]) * factor
        step = {"mm": 1.0, "cm": 0.5, "in": 0.25}[match["unit"]]
        return f"{max(step, round(value / step) * step):g} {match['unit']}"

    length = re.compile(r"(?P<number>\d+(?:\.\d+)?)\s*(?P<unit>mm|cm|in)\b")
    text = re.sub(r"(?m)^size:.*$", lambda line: length.sub(larger, line[0]), text, count=1)
    return re.sub(r"(?m)^ +- \{name:.*\blength:.*$", lambda line: length.sub(larger, line[0]), text)


def _new_gauge(text: str, gauge: Gauge) -> str:
    over = f"{gauge.over_mm / 10:g} cm"
    words = f"gauge: {gauge.stitches:g} {gauge.stitch} x {gauge.rows:g} rounds = {over}"
    return re.sub(r"(?m)^gauge:.*$", words, text, count=1)

"""From one count to another in so many rounds: the evenest rounds that hands can work."""

from math import ceil, floor

from generator.diagnostics.record import Checked, Finding, Severity
from generator.shape.regular import regular
from generator.shape.rounds import worked_round
from generator.source import NOWHERE

OFF = 0.5
"""Weight of a stitch away from the straight way (squared), against an uneven round."""
MOST_ROUNDS = 200


def fit(have: int, want: int, rounds: int, stitch: str = "sc") -> Checked[tuple[int, ...]]:
    """Counts of the rounds from `have` (not included) to `want` (the last one).

    Gives `count-out-of-reach` where that can't be done, with what can.
    """
    if have < 3 or want < 3 or rounds < 1 or rounds > MOST_ROUNDS:
        message = f"{have} to {want} stitches in {rounds} rounds is no round work"
        fits = f"3 stitches or more, in 1 to {MOST_ROUNDS} rounds"
        return Checked((), (Finding("count-out-of-reach", Severity.ERROR, message, NOWHERE, fits),))
    if want > have * 2**rounds or have > want * 2**rounds:
        needed = _needed(have, want)
        message = f"{have} stitches can't become {want} in {rounds} rounds: a round at most doubles or halves"
        return Checked(
            (), (Finding("count-out-of-reach", Severity.ERROR, message, NOWHERE, f"{needed} rounds or more"),)
        )  # fmt: skip
    return Checked(_path(have, want, rounds))


def lines(have: int, counts: tuple[int, ...], stitch: str = "sc", first: int = 1) -> str:
    """The rounds in words, numbered from `first`, increases staggered."""
    written, before, shaped = [], have, 0
    for number, count in enumerate(counts, first):
        words = worked_round(stitch, before, count, shaped % 2 == 1)
        written.append(f"Rnd {number}: {words[:1].upper()}{words[1:]}. ({count})")
        shaped += before != count
        before = count
    return "\n".join(written) + "\n"


def _needed(have: int, want: int) -> int:
    rounds, small, large = 0, min(have, want), max(have, want)
    while small < large:
        small, rounds = small * 2, rounds + 1
    return rounds


def _path(have: int, want: int, rounds: int) -> tuple[int, ...]:
    """The evenest way there is; of equally even ones that with most regular rounds."""
    for reach in (0, 1, 2, 4, 8, 16):
        if way := _within(have, want, rounds, reach):
            return way
    return tuple(_straight(have, want, rounds))


def _within(have: int, want: int, rounds: int, reach: int) -> tuple[int, ...]:
    """The best way that stays within `reach` stitches of the straight line; empty where hands can't keep to it."""
    ways: dict[int, tuple[float, tuple[int, ...]]] = {have: (0.0, ())}
    for k in range(1, rounds + 1):
        wish = have + (want - have) * k / rounds
        following: dict[int, tuple[float, tuple[int, ...]]] = {}
        for count in range(max(3, floor(wish) - reach), ceil(wish) + reach + 1):
            found = [
                (cost + OFF * (count - wish) ** 2 + (not regular(before, count)), (*way, count))
                for before, (cost, way) in ways.items()
                if count <= 2 * before and before <= 2 * count
            ]
            if found:
                following[count] = min(found)
        ways = following
    return ways[want][1] if want in ways else ()


def _straight(have: int, want: int, rounds: int) -> list[int]:
    """As fast as hands can, then plain: always possible where anything is."""
    counts, now = [], have
    for _ in range(rounds):
        now = min(2 * now, want) if want > now else max(-(-now // 2), want)
        counts.append(now)
    return counts

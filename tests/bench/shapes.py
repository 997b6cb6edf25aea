"""Shapes: the planner beside plain rounding of each round by itself, on the same wishes: how far off, how many rounds uneven.

Run by `make bench`, or `python -m tests.bench shapes`.
"""

import time
from collections.abc import Iterator

from generator.shape.hand import Hand
from generator.shape.plan import plain, plan
from generator.shape.solids import FORMS

HANDS = (Hand("sc", 4.545, 4.348), Hand("hdc", 7.407, 9.524), Hand("dc", 6.25, 11.765))
WISHES = {
    "ball": {"width": 120.0},
    "egg": {"width": 90.0, "height": 122.0},
    "capsule": {"width": 90.0, "height": 180.0},
    "cone": {"width": 140.0, "height": 160.0},
    "tube": {"width": 120.0, "height": 100.0},
    "disc": {"width": 160.0},
    "bowl": {"width": 160.0, "height": 90.0},
    "ring": {"width": 240.0, "thickness": 80.0},
    "bell": {"width": 180.0, "height": 170.0},
    "hat": {"circumference": 500.0, "height": 200.0},
}


def run() -> Iterator[str]:
    """Lines of figures."""
    for hand in HANDS:
        uneven, rounded, rounds = 0, 0, 0
        for name, sizes in WISHES.items():
            wish = FORMS[name].make(sizes)
            begin = time.perf_counter()
            ours = plan(wish, hand)
            took = 1000 * (time.perf_counter() - begin)
            theirs = plain(wish, hand)
            uneven, rounded, rounds = uneven + ours.uneven, rounded + theirs.uneven, rounds + len(ours.counts)
            yield (
                f"{name} in {hand.stitch}, {len(ours.counts)} rounds: {ours.deviation.mm / hand.height:.2f} of a round off, "
                f"{ours.uneven} uneven, {took:.0f} ms; rounded {theirs.deviation.mm / hand.height:.2f} off, {theirs.uneven} uneven"
            )
        yield f"all in {hand.stitch}: {uneven} of {rounds} rounds uneven, against {rounded} when rounded"

"""Work that closes again: where the second disc of its chart begins."""

import itertools

from generator.fabric.model import Make, Part

CLOSED = 0.55
"""A piece closes when its last round has no more than this share of the widest one's stitches and chains."""


def second_pole(part: Part, shown: tuple[int, ...]) -> int | None:
    """The drawn course that is the widest before the work closes, or None where it doesn't close.

    Bodies that narrow and widen again are left in one disc: two would not hold them.
    """
    rounds = [c for c in shown if part.courses[c].make in (Make.SPIRAL, Make.JOINED)]
    if len(rounds) < 4:
        return None
    size = {c: sum(live.n for live in part.courses[c].edge) for c in rounds}
    most = max(size.values())
    rim = max(c for c in rounds if size[c] == most)
    after = [size[c] for c in rounds if c >= rim]
    if len(after) < 3 or after[-1] > CLOSED * most:
        return None
    falls = all(b <= a for a, b in itertools.pairwise(after))
    return rim if falls else None

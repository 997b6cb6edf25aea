"""Heaps: what was worked in one place. A shell, a fan, a V-stitch or a group is one, whatever the writer calls it.

Heaps are read off the stitches that were worked, never off the words: `ch 3, 2 dc in same st` is a heap of three, for
its chain stands on that stitch.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from generator.fabric.model import Into, Role, Run

SHELLS = ("shell", "fan")
GROUPS = ("group", "block", "bunch", "set")
V_STITCHES = ("v-st",)
HEAPS = (*SHELLS, *GROUPS, *V_STITCHES)
"""What may be stated of a course and is counted in heaps."""


@dataclass(slots=True)
class Heap:
    """Stitches one after the other in one place; `parts` are those between its chains."""

    place: tuple[int, Into]
    parts: list[int]

    @property
    def size(self) -> int:
        """All its stitches."""
        return sum(self.parts)


def heaps(runs: Iterable[Run], start_counts: bool) -> list[Heap]:
    """The heaps of a course in order of working, single stitches among them. In a ring every part is a heap of its own."""
    out: list[Heap] = []
    waiting = 0  # a beginning chain that counts and stands on nothing belongs to what follows it
    parted = False
    for run in runs:
        if run.role is Role.START:
            if run.parent >= 0:
                out.append(Heap((run.parent, run.into), [1]))
            elif start_counts:
                waiting = 1
            continue
        if run.role is not Role.STITCH or run.kind == "ch":
            parted = parted or (run.kind == "ch" and run.role is Role.STITCH)
            continue
        for place, n in _places(run):
            last = out[-1] if out else None
            if last is None or last.place != place or (parted and run.into is Into.RING):
                out.append(Heap(place, [n + waiting]))
            elif parted:
                last.parts.append(n)
            else:
                last.parts[-1] += n
            waiting, parted = 0, False
    return out


def _places(run: Run) -> list[tuple[tuple[int, Into], int]]:
    """Places of a run with the stitches in each of them."""
    share = max(run.share, 1)
    if run.parent < 0 and run.into is not Into.RING:
        return [((-2 - run.first - k, run.into), 1) for k in range(run.n)]
    return [
        ((run.parent + run.step * run.takes * k, run.into), min(share, run.n - share * k))
        for k in range(-(-run.n // share))
    ]


def numbers(noun: str, found: list[Heap]) -> set[int]:
    """How many of a noun there may be said to be: all heaps or only the full ones, a corner of two shells as one or as
    two; empty where nothing is heaped."""
    most = max((heap.size for heap in found), default=0)
    if most < 2:
        return set()
    if noun in V_STITCHES:
        parted = sum(1 for heap in found if len(heap.parts) > 1)
        return {parted} if parted else {sum(1 for heap in found if heap.size == 2)}
    least = 3 if noun in SHELLS and most >= 3 else 2
    sizes = [heap.size for heap in found if heap.size >= 2]
    apart = [n for heap in found for n in (heap.parts if min(heap.parts) >= least else (heap.size,)) if n >= 2]
    return {n for some in (sizes, apart) for n in _with_and_without_halves(some, least)}


def _with_and_without_halves(sizes: list[int], least: int) -> set[int]:
    """How many there are; half ones, with which a row begins and ends, are counted by some and not by others."""
    if len(sizes) < 3:
        return {sum(1 for n in sizes if n >= least)}
    inner, ends = sizes[1:-1], (sizes[0], sizes[-1])
    halves = sum(1 for n in ends if n <= (max(inner) + 1) // 2)
    whole = sum(1 for n in inner if n >= least) + 2 - halves
    return {whole, whole + halves}

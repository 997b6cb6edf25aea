"""Counting: what lies on an edge, and whether it is what the author states."""

from dataclasses import dataclass

from generator.fabric.edge import Item
from generator.fabric.heaps import HEAPS, heaps, numbers
from generator.fabric.model import Run
from generator.notation.tree import Stated
from generator.vocabulary.load import is_stitch, stitch

PETALS = ("petal", "scallop")
"""Figures of which each is worked in a place of its own."""


@dataclass(frozen=True, slots=True)
class Tally:
    """What a course leaves: `live` counted stitches, `kinds` by identity and `sp:n`, how many `groups` and `passes`
    of its outermost repeat it has, and how many single `chains`."""

    live: int
    kinds: tuple[tuple[str, int], ...]
    groups: int = 0
    passes: int = 0
    chains: int = 0
    picots: int = 0
    made: int = 0
    runs: tuple[Run, ...] = ()
    """What was worked, to be looked at where heaps are stated."""
    begun: bool = False
    """The edge begins with a chain that counts."""
    meshes: int = 0
    """Squares of filet, open and filled."""

    def heaped(self, noun: str) -> set[int]:
        """How many shells, groups, V-stitches there may be said to be; empty where nothing is heaped in one place."""
        return numbers(noun, heaps(self.runs, self.begun))

    def beside(self, kind: str) -> int:
        """Stitches of a kind that stand alone, beside the heaps that a count names (`10 V-sts, 2 dc`); -1 for others."""
        if not is_stitch(kind):
            return -1
        heaped = sum(heap.size for heap in heaps((r for r in self.runs if r.kind == kind), False) if heap.size > 1)
        return self.of(kind) - heaped

    def of(self, kind: str) -> int:
        """How many of a kind; families count their members (`cluster` counts every cluster)."""
        exact = sum(n for name, n in self.kinds if name == kind)
        if not is_stitch(kind) or (exact and kind != "cluster"):
            return exact
        if kind == "cluster":  # the trade calls stitches closed together a cluster, in one place or over several
            return sum(
                n for name, n in self.kinds if is_stitch(name) and stitch(name).family in ("cluster", "together")
            )
        return sum(
            n
            for name, n in self.kinds
            if is_stitch(name)
            and (
                stitch(name).family == kind
                or (stitch(name).base == kind and stitch(name).family != "chain" and "tog" not in name)
            )
        )

    def closed(self, kind: str) -> int:
        """How many stitches of a kind closed together, by whatever number: each of them counts as one."""
        return sum(n for name, n in self.kinds if is_stitch(name) and "tog" in name and stitch(name).base == kind)

    def kin(self, kind: str) -> int:
        """Stitches of a kind in whatever form: round a post, closed together, extended."""
        return sum(n for name, n in self.kinds if is_stitch(name) and kind in (name, stitch(name).base))

    @property
    def spaces(self) -> int:
        """All chain spaces."""
        return sum(n for name, n in self.kinds if name.startswith("sp:"))


def tally(
    items: list[Item], passes: int = 0, picots: int = 0, made: int = 0, groups: int = 0, runs: tuple[Run, ...] = ()
) -> Tally:
    """Count an edge."""
    kinds: dict[str, int] = {}
    live = chains = closed = 0
    for item in items:
        if item.closing:
            closed += 1
            chains += item.n
        elif item.space:
            kinds[f"sp:{item.n}"] = kinds.get(f"sp:{item.n}", 0) + 1
            chains += item.n
        elif item.counted:
            kinds[item.kind] = kinds.get(item.kind, 0) + item.n
            live += item.n
    if closed:  # the stitch that closes a round is the second half of its last loop, which is as long as the others
        usual = max((name for name in kinds if name.startswith("sp:")), key=lambda name: kinds[name], default="")
        kinds[usual or f"sp:{chains}"] = kinds.get(usual, 0) + closed
    return Tally(live, tuple(kinds.items()), groups, passes, chains, picots, made, runs, bool(items) and items[0].start)


def agrees(stated: Stated, found: Tally) -> bool:
    """Whether a stated count is what was worked. A count that names no kind may include chains or spaces."""
    if stated.each:
        return bool(found.passes) and stated.total is not None and stated.total * found.passes == found.live
    if stated.total is not None and not _total(stated.total, found, bool(stated.kinds)):
        return False
    if len(stated.kinds) == 1 and stated.total is None and _leaves_out(stated.kinds[0], found):
        return False
    heaped = any(name in HEAPS for name, _ in stated.kinds)
    if any(name.startswith("half ") for name, _ in stated.kinds) and not _whole(stated, found):
        return False
    return all(_kind(name, n, found) or (heaped and n == found.beside(name)) for name, n in stated.kinds)


def _leaves_out(kind: tuple[str, int], found: Tally) -> bool:
    """`[60 hdc]` for 60 hdc and 6 hdc2tog: who names one stitch counts those closed together with the others."""
    name, n = kind
    return is_stitch(name) and 0 < found.of(name) == n < found.live and found.closed(name) > 0


def _whole(stated: Stated, found: Tally) -> bool:
    """`5 shells, 2 half shells`: the whole ones are those of full size."""
    sizes = [heap.size for heap in heaps(found.runs, found.begun)]
    full = sizes.count(max(sizes, default=0))
    return all(n == full for name, n in stated.kinds if name in HEAPS)


def _total(total: int, found: Tally, kinds_named: bool) -> bool:
    if total == found.live:
        return True
    if not found.chains or kinds_named:  # `(36 sts, 6 ch-3 sps)` tells its spaces apart
        return False
    return total in (found.live + found.spaces, found.live + found.chains)


def _kind(name: str, n: int, found: Tally) -> bool:
    if name == "mesh":
        return n == found.meshes if found.meshes else _kind("sp", n, found)
    if name == "sp":
        return n == found.spaces if found.spaces else n in (found.passes, found.groups, found.live)
    if name.startswith("sp:"):
        return found.of(name) == n
    if name == "ch":
        sizes = {int(kind[3:]) for kind, _ in found.kinds if kind.startswith("sp:")}
        return not found.chains or n in (found.chains, found.spaces) or n in sizes
    if name in ("inc", "dec"):
        return True
    if name.startswith("half "):
        return n <= 2  # where a row begins and ends
    if name == "picot":
        return n == found.picots if found.picots else n == found.passes
    if name in HEAPS and (heaped := found.heaped(name)):
        if name == "block" and found.of("sl-st") and found.spaces:  # corner to corner each has its loop, or is a heap
            return n == max(found.spaces, *heaped)
        return n in heaped
    if is_stitch(name):
        have = found.of(name)
        if have == n:
            return True
        # `18 sc` for a round of sc and decreases names the round by its main stitch. Joining stitches are never meant,
        # and `9 clusters` means clusters: a beginning chain beside eight makes no ninth.
        if stitch(name).family == "cluster" or found.of("sl-st"):
            return False
        return n == found.live and found.kin(name) == n
    if name in PETALS and found.groups > 1:
        return n in (found.groups, found.passes, found.spaces)
    return n > 1 and n in (found.groups, found.passes, found.passes + 1, found.spaces, found.live)


def knows(stated: Stated, found: Tally | None = None) -> bool:
    """Whether the count is in units that can be compared without doubt; heaps are, where the work has any."""
    if stated.total is not None or any(is_stitch(name) or name.startswith(("sp", "mesh")) for name, _ in stated.kinds):
        return True
    if found is None:
        return False
    return any(
        (name in HEAPS and found.heaped(name)) or (name in PETALS and found.groups > 1) for name, _ in stated.kinds
    )

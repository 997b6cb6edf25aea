"""The live edge: the places of a course that can still be worked into.

The edge is a row of items in working order. An item is a run of stitches of one kind, or one chain space. The hand
(see `hand`) takes places from it. Chains between stitches are passed over unless somebody asks for them.
"""

from dataclasses import dataclass
from typing import NamedTuple

from generator.fabric.model import Live


@dataclass(slots=True)
class Item:
    """A stretch of the edge. `n` counts stitches, or the chains of one space (`kind` `ch`, not `counted`).

    `group` numbers the shell or fan it was worked in (-1: none); `first` and `step` give the stitches' numbers.
    """

    kind: str
    first: int
    n: int
    step: int = 1
    counted: bool = True
    group: int = -1
    start: bool = False
    """The beginning chain that stands for a stitch."""
    closing: str = ""
    """Of a space: the taller stitch that closed the round in place of its last chains; the work stands over it."""

    @property
    def space(self) -> bool:
        """Whether it is one place under chains."""
        return self.kind == "ch" and not self.counted

    def frozen(self) -> Live:
        """As kept in the fabric."""
        return Live(self.kind, self.first, self.n, self.step, self.counted)


class Taken(NamedTuple):
    """Places taken: `n` stitches from number `first` on at `step`; or one space of `n` chains."""

    first: int
    n: int
    step: int
    space: bool = False
    group: int = -1
    kind: str = ""
    """Kind of the stitches taken."""


def in_a_row(taken: list[Taken]) -> Taken:
    """Places one after the other as one; the first of them where something lies between."""
    first, n = taken[0], 0
    for one in taken:
        if one.step != first.step or one.first != first.first + first.step * n:
            return first
        n += one.n
    return first._replace(n=n)


def stitches_in(items: list[Item]) -> int:
    """Counted stitches of an edge."""
    return sum(item.n for item in items if item.counted)


def reversed_edge(items: list[Item]) -> list[Item]:
    """The edge as it lies after turning."""
    return [
        Item(i.kind, i.first + i.step * (i.n - 1), i.n, -i.step, i.counted, i.group, i.start) for i in reversed(items)
    ]


def split(item: Item, k: int) -> tuple[Item, Item]:
    """The first k stitches of an item and the rest."""
    return (
        Item(item.kind, item.first, k, item.step, item.counted, item.group, item.start),
        Item(item.kind, item.first + item.step * k, item.n - k, item.step, item.counted, item.group, item.start),
    )

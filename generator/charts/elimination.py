"""Elimination layer by layer, with nothing but numpy.

A stitch is tied to its neighbours and to what it stands on. Ordered by their distance from the end, unknowns are
tied to the layer before and the layer after alone: a block tridiagonal system, which small dense blocks solve exactly.
What depends on the ties alone is planned once and kept for the next pass, which has the same ties.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

Whole = NDArray[np.int64]
Real = NDArray[np.float64]

FEATHER = 1e-9
"""Weight on every unknown that keeps loose ends finite."""


@dataclass(frozen=True, slots=True)
class Plan:
    """Which entries of the normal equations belong together, for equations with the same unknowns in the same order."""

    one: Whole
    other: Whole
    """Pairs of terms that stand in one equation, as places in the list of all terms."""
    i: Whole
    j: Whole
    """Their unknowns: row and column of the entry the pair adds to."""
    layers: tuple[Whole, ...]
    squares: "Strips"
    strips: "Strips"

    def cost(self) -> int:
        """Multiplications of the elimination, but for a factor."""
        return sum(len(layer) ** 3 for layer in self.layers)


@dataclass(frozen=True, slots=True)
class Strips:
    """Blocks that lie one after the other in a flat array: which pairs belong there, where, and the blocks' bounds."""

    mine: Whole
    at: Whole
    bounds: tuple[tuple[int, int, int], ...]
    """Beginning, end and number of columns of every block."""

    def filled(self, entries: Real) -> list[Real]:
        """The blocks."""
        size = self.bounds[-1][1] if self.bounds else 0
        flat: Real = np.asarray(np.bincount(self.at, entries[self.mine], size), np.float64)
        return [flat[begin:end].reshape(-1, wide) for begin, end, wide in self.bounds]


@lru_cache(maxsize=16)
def plan_of(columns: bytes, sizes: bytes, unknowns: int) -> Plan:
    """The plan for equations of those sizes (numbers of terms) with those unknowns, both as bytes of whole numbers."""
    column = np.frombuffer(columns, np.int64)
    one, other = _pairs(np.frombuffer(sizes, np.int64))
    i, j = column[one], column[other]
    layers = _layers(i, j, unknowns)
    long = np.asarray([len(layer) for layer in layers])
    layer_of, place = np.zeros(unknowns, np.int64), np.zeros(unknowns, np.int64)
    for k, layer in enumerate(layers):
        layer_of[layer], place[layer] = k, np.arange(len(layer))
    squares, strips = (_strips(layer_of[i], layer_of[j], place[i], place[j], long, step) for step in (0, 1))
    return Plan(one, other, i, j, tuple(layers), squares, strips)


def _pairs(sizes: Whole) -> tuple[Whole, Whole]:
    """All pairs of terms that stand in one equation, as two arrays of places in the list of terms."""
    first = np.repeat(np.cumsum(sizes) - sizes, sizes)  # where the equation of each term begins
    many = np.repeat(sizes, sizes)
    one = np.repeat(np.arange(len(first)), many)
    ahead = np.arange(len(one)) - np.repeat(np.cumsum(many) - many, many)
    return one, first[one] + ahead


def _layers(i: Whole, j: Whole, unknowns: int) -> list[Whole]:
    """The unknowns by their distance from the last one of each piece of the net that the equations tie.

    The last stitch lies at the edge of the work: seen from there the layers of a disc are no longer than its diameter,
    seen from the middle they would be whole rounds. Left out are unknowns no equation speaks of.
    """
    layer = np.full(unknowns, -1)
    found: list[Whole] = []
    left = np.unique(i)
    while len(left := left[layer[left] < 0]):
        here = np.zeros(unknowns, bool)
        here[left[-1]] = True
        while here.any():
            layer[here] = len(found)
            found.append(np.flatnonzero(here))
            reached = np.zeros(unknowns, bool)
            reached[j[here[i]]] = True
            here = reached & (layer < 0)
    return found


def _strips(row: Whole, column: Whole, down: Whole, across: Whole, long: Whole, step: int) -> Strips:
    """Where the entries go that tie each layer to the one `step` before it. `row` and `column` are their layers,
    `down` and `across` their places in them, `long` the sizes of the layers."""
    mine = np.flatnonzero(row == column + step)
    room = long[step:] * long[: len(long) - step]
    begin = np.cumsum(room) - room
    at = begin[column[mine]] + down[mine] * long[column[mine]] + across[mine]
    return Strips(mine, at, tuple((int(b), int(b + n), int(w)) for b, n, w in zip(begin, room, long, strict=False)))


def eliminated(plan: Plan, entries: Real, right: Real) -> Real:
    """The solution: forward through the layers, then back. `entries` are the products of the plan's pairs."""
    squares, strips = plan.squares.filled(entries), plan.strips.filled(entries)
    solved: list[Real] = []
    for k, layer in enumerate(plan.layers):
        square, ahead = squares[k], len(plan.layers[k + 1]) if k < len(strips) else 0
        wanted = np.empty((len(layer), ahead + 1))  # what ties the layer to the next one, and its right side
        wanted[:, -1] = right[layer]
        if ahead:
            wanted[:, :-1] = strips[k].T
        square.flat[:: len(layer) + 1] += FEATHER
        if k:
            square -= strips[k - 1] @ solved[-1][:, :-1]
            wanted[:, -1] -= strips[k - 1] @ solved[-1][:, -1]
        solved.append(np.asarray(np.linalg.solve(square, wanted), np.float64))
    result = np.zeros(len(right))
    after = np.zeros(0)
    for layer, both in zip(reversed(plan.layers), reversed(solved), strict=True):
        after = both[:, -1] - both[:, :-1] @ after
        result[layer] = after
    return result

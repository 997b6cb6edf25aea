"""Elimination layer by layer, with nothing but numpy.

A stitch is tied to its neighbours and to what it stands on. Ordered by their distance from the beginning, unknowns are
tied to the layer before and the layer after alone: a block tridiagonal system, which small dense blocks solve exactly.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Whole = NDArray[np.int64]
Real = NDArray[np.float64]

FEATHER = 1e-9
"""Weight on every unknown that keeps loose ends finite."""


@dataclass(frozen=True, slots=True)
class Normal:
    """The normal equations: entries at (i, j), some of them told in several summands, and the right-hand side."""

    i: Whole
    j: Whole
    entries: Real
    right: Real

    @property
    def unknowns(self) -> int:
        """How many there are."""
        return len(self.right)

    def with_feather(self, some: Whole) -> tuple[Whole, Whole, Real]:
        """The entries, with the feather on the diagonal of some unknowns."""
        feather = np.full(len(some), FEATHER)
        return np.append(self.i, some), np.append(self.j, some), np.append(self.entries, feather)


def layers_of(normal: Normal) -> list[Whole]:
    """The unknowns by their distance from the first one of each piece of the net that the equations tie.

    Left out are those no equation speaks of.
    """
    layer = np.full(normal.unknowns, -1)
    found: list[Whole] = []
    left = np.unique(normal.i)
    while len(left := left[layer[left] < 0]):
        here = np.zeros(normal.unknowns, bool)
        here[left[0]] = True
        while here.any():
            layer[here] = len(found)
            found.append(np.flatnonzero(here))
            reached = np.zeros(normal.unknowns, bool)
            reached[normal.j[here[normal.i]]] = True
            here = reached & (layer < 0)
    return found


def eliminated(normal: Normal, layers: list[Whole]) -> Real:
    """The solution: forward through the layers, then back."""
    squares, strips = _blocks(normal, layers)
    links: list[Real] = []
    rests: list[Real] = []
    for k, layer in enumerate(layers):
        square, right = squares[k], normal.right[layer]
        if k:
            square = square - strips[k - 1] @ links[-1]
            right = right - strips[k - 1] @ rests[-1]
        following = strips[k].T if k < len(strips) else np.zeros((len(layer), 0))
        solved: Real = np.asarray(np.linalg.solve(square, np.column_stack((following, right))), np.float64)
        links.append(solved[:, :-1])
        rests.append(solved[:, -1])
    result = np.zeros(normal.unknowns)
    after = np.zeros(0)
    for layer, link, rest in zip(reversed(layers), reversed(links), reversed(rests), strict=True):
        after = rest - link @ after
        result[layer] = after
    return result


def _blocks(normal: Normal, layers: list[Whole]) -> tuple[list[Real], list[Real]]:
    """The square of every layer, and the strip that ties each following layer to it."""
    sizes = np.asarray([len(layer) for layer in layers])
    layer_of, place = np.empty(normal.unknowns, np.int64), np.empty(normal.unknowns, np.int64)
    for k, layer in enumerate(layers):
        layer_of[layer], place[layer] = k, np.arange(len(layer))
    i, j, entries = normal.with_feather(np.concatenate(layers))
    row, column = layer_of[i], layer_of[j]
    found: list[list[Real]] = []
    for step in (0, 1):
        mine = row == column + step
        room = sizes[step:] * sizes[: len(sizes) - step]
        begin = np.cumsum(room) - room
        at = begin[column[mine]] + place[i[mine]] * sizes[column[mine]] + place[j[mine]]
        flat: Real = np.asarray(np.bincount(at, entries[mine], int(room.sum())), np.float64)
        found.append([flat[b : b + n].reshape(-1, wide) for b, n, wide in zip(begin, room, sizes, strict=False)])
    return found[0], found[1]

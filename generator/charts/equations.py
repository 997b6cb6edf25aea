"""Sparse least squares: soft equations collected one by one, solved together.

The same few lines place stitches along a round and across it, so the layout is linear algebra and therefore exact,
fast and the same every time.
"""

from collections.abc import Sequence
from itertools import chain

import numpy as np
from numpy.typing import NDArray

from generator.charts.elimination import Normal, Whole, eliminated, layers_of

MUCH = 8_000_000
"""Multiplications (sizes of the layers, cubed) from which scipy is faster even though it takes a third of a second to
load: about 1,200 stitches."""


class Equations:
    """Rows `sum(coefficient * unknown) = value`, each with a weight."""

    def __init__(self, unknowns: int) -> None:
        self.unknowns = unknowns
        self._terms: list[tuple[int, float]] = []
        self._sizes: list[int] = []
        self._values: list[float] = []
        self._weights: list[float] = []

    def add(self, terms: Sequence[tuple[int, float]], value: float, weight: float = 1.0) -> None:
        """One soft equation."""
        self._terms += terms
        self._sizes.append(len(terms))
        self._values.append(value)
        self._weights.append(weight)

    def solve(self) -> NDArray[np.float64]:
        """The unknowns that fit best."""
        normal = self._normal()
        layers = layers_of(normal)
        if sum(len(layer) ** 3 for layer in layers) > MUCH:
            return _solved_by_scipy(normal)
        return eliminated(normal, layers)

    def _normal(self) -> Normal:
        flat = np.fromiter(chain.from_iterable(self._terms), np.float64, 2 * len(self._terms)).reshape(-1, 2)
        columns, sizes = flat[:, 0].astype(np.int64), np.asarray(self._sizes, np.int64)
        weights = np.asarray(self._weights)
        numbers = flat[:, 1] * np.repeat(weights, sizes)
        values = np.repeat(np.asarray(self._values) * weights, sizes)
        one, other = _pairs(sizes)
        return Normal(
            columns[one],
            columns[other],
            numbers[one] * numbers[other],
            np.asarray(np.bincount(columns, numbers * values, self.unknowns), np.float64),
        )


def _pairs(sizes: Whole) -> tuple[Whole, Whole]:
    """All pairs of terms that stand in one equation, as two arrays of places in the list of terms."""
    first = np.repeat(np.cumsum(sizes) - sizes, sizes)  # where the equation of each term begins
    many = np.repeat(sizes, sizes)
    one = np.repeat(np.arange(len(first)), many)
    ahead = np.arange(len(one)) - np.repeat(np.cumsum(many) - many, many)
    return one, first[one] + ahead


def _solved_by_scipy(normal: Normal) -> NDArray[np.float64]:
    from scipy.sparse import csc_matrix
    from scipy.sparse.linalg import spsolve

    i, j, entries = normal.with_feather(np.arange(normal.unknowns))
    matrix = csc_matrix((entries, (i, j)), shape=(normal.unknowns, normal.unknowns))
    return np.atleast_1d(np.asarray(spsolve(matrix, normal.right, permc_spec="MMD_AT_PLUS_A")))

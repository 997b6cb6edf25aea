"""Sparse least squares: soft equations collected one by one, solved together.

The same few lines place stitches along a round and across it, so the layout is linear algebra and therefore exact,
fast and the same every time.
"""

from collections.abc import Sequence
from itertools import chain

import numpy as np

from generator.charts.elimination import FEATHER, Plan, Real, eliminated, plan_of

MUCH = 8_000_000
"""Multiplications (sizes of the layers, cubed) from which scipy is faster even though it takes a third of a second to
load: about 2,500 stitches of a disc."""


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

    def solve(self) -> Real:
        """The unknowns that fit best."""
        flat = np.fromiter(chain.from_iterable(self._terms), np.float64, 2 * len(self._terms)).reshape(-1, 2)
        columns, sizes = flat[:, 0].astype(np.int64), np.asarray(self._sizes, np.int64)
        weights = np.asarray(self._weights)
        numbers = flat[:, 1] * np.repeat(weights, sizes)
        values = np.repeat(np.asarray(self._values) * weights, sizes)
        plan = plan_of(columns.tobytes(), sizes.tobytes(), self.unknowns)
        entries = numbers[plan.one] * numbers[plan.other]
        right: Real = np.asarray(np.bincount(columns, numbers * values, self.unknowns), np.float64)
        return eliminated(plan, entries, right) if plan.cost() < MUCH else _by_scipy(plan, entries, right)


def _by_scipy(plan: Plan, entries: Real, right: Real) -> Real:
    from scipy.sparse import csc_matrix, identity
    from scipy.sparse.linalg import spsolve

    matrix = csc_matrix((entries, (plan.i, plan.j)), shape=(len(right), len(right)))
    matrix = (matrix + FEATHER * identity(len(right))).tocsc()
    return np.atleast_1d(np.asarray(spsolve(matrix, right, permc_spec="MMD_AT_PLUS_A")))

"""Sparse least squares: soft equations collected one by one, solved together.

The same few lines place stitches along a round and across it, so the layout is linear algebra and therefore exact,
fast and the same every time.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import chain

import numpy as np

from generator.charts.elimination import FEATHER, Plan, Real, Whole, eliminated, plan_of

MUCH = 8_000_000
"""Multiplications (sizes of the layers, cubed) from which scipy is faster even though it takes a third of a second to
load: about 2,500 stitches of a disc."""


@dataclass(frozen=True, slots=True)
class Ties:
    """Left sides of equations: what stays the same when the same work is placed again with other values."""

    columns: Whole
    """Unknowns of all terms, equation after equation."""
    numbers: Real
    """Their coefficients."""
    sizes: Whole
    """How many terms each equation has."""

    @classmethod
    def of(cls, equations: Sequence[Sequence[tuple[int, float]]]) -> "Ties":
        """From the terms of every equation."""
        sizes = np.fromiter(map(len, equations), np.int64, len(equations))
        terms = chain.from_iterable(chain.from_iterable(equations))
        flat = np.fromiter(terms, np.float64, 2 * int(sizes.sum())).reshape(-1, 2)
        return cls(flat[:, 0].astype(np.int64), flat[:, 1], sizes)

    @classmethod
    def steps(cls, pairs: Sequence[tuple[int, int]]) -> "Ties":
        """How far the second of each pair lies beyond the first."""
        ends = np.asarray(pairs, np.int64).reshape(-1, 2)
        return cls(ends[:, ::-1].ravel(), np.tile((1.0, -1.0), len(ends)), np.full(len(ends), 2))


class Equations:
    """Rows `sum(coefficient * unknown) = value`, each with a weight."""

    def __init__(self, unknowns: int) -> None:
        self.unknowns = unknowns
        self._blocks: list[tuple[Ties, Real, Real]] = []
        self._terms: list[Sequence[tuple[int, float]]] = []
        self._values: list[float] = []
        self._weights: list[float] = []

    def add(self, terms: Sequence[tuple[int, float]], value: float, weight: float = 1.0) -> None:
        """One soft equation."""
        self._terms.append(terms)
        self._values.append(value)
        self._weights.append(weight)

    def extend(self, ties: Ties, values: Sequence[float] | Real, weights: Sequence[float] | Real) -> None:
        """Many at once, a value and a weight for each."""
        if self._terms:
            terms, self._terms = self._terms, []
            self._blocks.append((Ties.of(terms), np.asarray(self._values), np.asarray(self._weights)))
            self._values, self._weights = [], []
        self._blocks.append((ties, np.asarray(values, np.float64), np.asarray(weights, np.float64)))

    def solve(self) -> Real:
        """The unknowns that fit best."""
        self.extend(Ties.of(()), (), ())
        columns = np.concatenate([ties.columns for ties, _, _ in self._blocks])
        sizes = np.concatenate([ties.sizes for ties, _, _ in self._blocks])
        weights = np.concatenate([weights for _, _, weights in self._blocks])
        numbers = np.concatenate([ties.numbers for ties, _, _ in self._blocks]) * np.repeat(weights, sizes)
        values = np.repeat(np.concatenate([values for _, values, _ in self._blocks]) * weights, sizes)
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

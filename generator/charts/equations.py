"""Sparse least squares: soft equations collected one by one, solved together.

The same few lines place stitches along a round and across it, so the layout is linear algebra and therefore exact,
fast and the same every time.
"""

import numpy as np
from numpy.typing import NDArray


class Equations:
    """Rows `sum(coefficient * unknown) = value`, each with a weight."""

    def __init__(self, unknowns: int) -> None:
        self.unknowns = unknowns
        self._rows: list[int] = []
        self._columns: list[int] = []
        self._numbers: list[float] = []
        self._values: list[float] = []

    def add(self, terms: list[tuple[int, float]], value: float, weight: float = 1.0) -> None:
        """One soft equation."""
        row = len(self._values)
        for column, number in terms:
            self._rows.append(row)
            self._columns.append(column)
            self._numbers.append(number * weight)
        self._values.append(value * weight)

    def solve(self) -> NDArray[np.float64]:
        """The unknowns that fit best. A feather weight on every unknown keeps loose ends finite."""
        from scipy.sparse import csc_matrix, identity
        from scipy.sparse.linalg import spsolve

        shape = (len(self._values), self.unknowns)
        matrix = csc_matrix((self._numbers, (self._rows, self._columns)), shape=shape)
        normal = (matrix.T @ matrix + 1e-9 * identity(self.unknowns)).tocsc()
        result: NDArray[np.float64] = spsolve(normal, matrix.T @ np.asarray(self._values), permc_spec="MMD_AT_PLUS_A")
        return np.atleast_1d(result)

"""How named items move together: a matrix with a row for each, one coefficient for all others."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from estimator.errors import CorrelationFaulty, Faults, quoted
from estimator.ranges.correlation_check import (
    ROOT_GRID,
    check_coefficient,
    check_entries,
    square_matrix,
)
from estimator.ranges.pert_quantiles import Values

_HAIR = 1e-9
_SHARE_STEPS = 100  # a remedy is said in whole percents


@dataclass(frozen=True)
class ByItems:
    """A coefficient for each two of some items, and one between any other two.

    Parameters
    ----------
    between : float
        0 to 1, of two lines of which one at least belongs to no item named here.
    items : tuple of str, shape (n,)
        Cost codes, each once.
    coefficients : tuple of tuple of float, shape (n, n)
        From -1 to 1, a row for each item: symmetric, 1 on the diagonal.

    Raises
    ------
    CorrelationFaulty
        If the matrix is none, or no items can move like that, alone or with all others at
        `between`; the remedy says by how much less they could.

    Notes
    -----
    A line's score is sqrt(b) of a factor that all lines share. Of named items the rest is a root
    of C - b J, J all ones, of the others sqrt(1 - b) of their own. So C, with any number of others
    beside it, is possible if C - b J is positive semidefinite.

    Examples
    --------
    >>> ByItems(0.2, ("30.020", "40.060"), ((1.0, 0.7), (0.7, 1.0))).coefficient("30.020", "40.060")
    0.7
    >>> ByItems(0.5, ("30.020", "40.060"), ((1.0, -0.6), (-0.6, 1.0)))
    Traceback (most recent call last):
        ...
    estimator.errors.CorrelationFaulty: correlation: these items cannot move together like this \
while any two other lines do by 0.5; take at most 20 % between other lines
    """

    between: float
    items: tuple[str, ...]
    coefficients: tuple[tuple[float, ...], ...]

    def __post_init__(self) -> None:
        matrix, faults = square_matrix(self.coefficients), Faults()
        check_coefficient(self.between, "between all", faults)
        self._check_items(len(matrix), faults)
        faults.raise_if_any(CorrelationFaulty)
        check_entries(matrix)
        self._check_possible(matrix)
        rows = tuple(tuple(float(one) for one in row) for row in matrix)
        object.__setattr__(self, "items", tuple(self.items))
        object.__setattr__(self, "coefficients", rows)

    def _check_items(self, rows: int, faults: Faults) -> None:
        if len(self.items) != rows:
            what = f"{len(self.items)} items and {rows} rows"
            faults.add("correlation", what, "give one row and one column for each item")
        for item, times in Counter(self.items).items():
            if times > 1:
                faults.add("correlation", f"item {quoted(item)} is listed twice")

    def _check_possible(self, matrix: Values) -> None:
        faults, least = Faults(), _least_eigenvalue(matrix)
        if least < -_HAIR:
            most = int(_SHARE_STEPS / (1.0 - least))
            what = "no items can move together like this"
            remedy = f"take {most} % of each coefficient off the diagonal, or less"
            faults.add("correlation", what, remedy)
        elif _least_eigenvalue(matrix - self.between) < -_HAIR:
            steps = range(int(self.between * _SHARE_STEPS), 0, -1)
            possible = (n for n in steps if _least_eigenvalue(matrix - n / _SHARE_STEPS) >= -_HAIR)
            what = (
                "these items cannot move together like this while any two other lines do by "
                f"{self.between:g}"
            )
            remedy = f"take at most {next(possible, 0)} % between other lines"
            faults.add("correlation", what, remedy)
        faults.raise_if_any(CorrelationFaulty)

    def coefficient(self, one: str, other: str) -> float:
        """Return the coefficient of two lines by their items."""
        if one in self.items and other in self.items:
            return self.coefficients[self.items.index(one)][self.items.index(other)]
        return self.between

    @property
    def is_independent(self) -> bool:
        """Whether no two lines move together."""
        return not self.between and not np.any(
            np.array(self.coefficients) - np.eye(len(self.items))
        )

    @property
    def statement(self) -> str:
        """What was assumed, for the report."""
        return (
            f"{len(self.items)} items move together by the matrix that the scope states, any two "
            f"other lines by {self.between:g}."
        )

    @cached_property
    def root(self) -> Values:
        """A matrix that gives C - b J when multiplied by its transpose, shape (n, n).

        Rounded to 24 binary places, far above what two computers may differ by.
        """
        residual = np.array(self.coefficients) - self.between
        lifted = residual + _HAIR * len(residual) * 2.0 * np.eye(len(residual))
        return np.asarray(np.rint(np.linalg.cholesky(lifted) * ROOT_GRID) / ROOT_GRID)


def _least_eigenvalue(matrix: Values) -> float:
    return float(np.linalg.eigvalsh(matrix)[0])

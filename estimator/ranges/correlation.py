"""How lines move together: by one coefficient within groups and one between all, or by a matrix.

Costs of one job share their weather, their crew and their market. A total of independent lines
looks surer than it is: 580 equal lines of 12 % spread add up to a spread of 0.5 % if they are
independent, and of 6.6 % if each two of them correlate by 0.3.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from math import sqrt
from types import MappingProxyType

import numpy as np

from estimator.errors import CorrelationFaulty, Faults, fault, quoted
from estimator.ranges.correlation_check import (
    ROOT_GRID,
    check_coefficient,
    check_entries,
    square_matrix,
)
from estimator.ranges.item_correlation import ByItems
from estimator.ranges.pert_quantiles import Values

DEFAULT_COEFFICIENT = 0.3
_HAIR = 1e-9


@dataclass(frozen=True)
class ByGroups:
    """One coefficient between any two lines, and larger ones within named groups.

    Parameters
    ----------
    between : float
        0 to 1, of two lines that share no group named in `within`.
    within : mapping of str to float
        By group, such as the kind `labor`; each at least `between`.

    Raises
    ------
    CorrelationFaulty
        If a coefficient is not within 0 to 1, or one within a group is below that between all.

    Notes
    -----
    A line's score is sqrt(b) of a factor that all lines share, sqrt(w - b) of its group's factor
    and sqrt(1 - w) of its own. Any such set of coefficients is possible, and no matrix is made.

    Examples
    --------
    >>> ByGroups(0.3, {"labor": 0.6}).coefficient("labor", "labor")
    0.6
    """

    between: float = DEFAULT_COEFFICIENT
    within: Mapping[str, float] = field(default_factory=dict)

    def __post_init__(self) -> None:
        faults = Faults()
        check_coefficient(self.between, "between all", faults)
        for group, value in self.within.items():
            check_coefficient(value, f"within {quoted(group)}", faults)
        faults.raise_if_any(CorrelationFaulty)
        for group, value in self.within.items():
            if value < self.between:
                faults.add(
                    f"within {quoted(group)}",
                    f"{value:g} is below the {self.between:g} between all lines",
                    "lower the one between all, or give a matrix",
                )
        faults.raise_if_any(CorrelationFaulty)
        object.__setattr__(self, "within", MappingProxyType(dict(self.within)))

    def __reduce__(self) -> tuple[type[ByGroups], tuple[float, dict[str, float]]]:
        return ByGroups, (self.between, dict(self.within))

    def of_group(self, group: str) -> float:
        """Return the coefficient of two lines in a group."""
        return self.within.get(group, self.between)

    def coefficient(self, one: str, other: str) -> float:
        """Return the coefficient of two lines by their groups."""
        return self.of_group(one) if one == other else self.between

    @property
    def is_independent(self) -> bool:
        """Whether no two lines move together."""
        return not any((self.between, *self.within.values()))

    @property
    def statement(self) -> str:
        """What was assumed, for the report."""
        if self.is_independent:
            return (
                "Lines are taken as independent of each other, which they hardly are: the total "
                "looks surer than it is."
            )
        groups = "".join(
            f", two lines of {group} by {value:g}" for group, value in sorted(self.within.items())
        )
        default = " (the default)" if self == DEFAULT_CORRELATION else ""
        return f"Any two lines move together by {self.between:g}{default}{groups}."


@dataclass(frozen=True, eq=False)
class ByMatrix:
    """A coefficient for each two lines.

    Parameters
    ----------
    coefficients : float array, shape (n, n)
        In the order of the lines.

    Raises
    ------
    CorrelationFaulty
        If it is no square of finite numbers from -1 to 1, not symmetric, its diagonal is not 1, or
        it is not positive semidefinite: the smallest eigenvalue is then named.

    Examples
    --------
    >>> ByMatrix([[1.0, 0.9, -0.9], [0.9, 1.0, 0.9], [-0.9, 0.9, 1.0]])
    Traceback (most recent call last):
        ...
    estimator.errors.CorrelationFaulty: correlation: no lines can move together like this: the \
smallest eigenvalue is -0.8, it must not be negative; bring the coefficients nearer to zero
    """

    coefficients: Values

    def __post_init__(self) -> None:
        matrix = square_matrix(self.coefficients)
        check_entries(matrix)
        matrix.setflags(write=False)
        object.__setattr__(self, "coefficients", matrix)
        _ = self.root

    @property
    def is_independent(self) -> bool:
        """Whether no two lines move together."""
        return not np.any(self.coefficients - np.eye(len(self.coefficients)))

    @property
    def statement(self) -> str:
        """What was assumed, for the report."""
        size = len(self.coefficients)
        if size < 2:
            return "A single line moves with no other."
        mean = (self.coefficients.sum() - size) / (size * (size - 1))
        return f"Lines move together by a given matrix; two of them by {mean:.2f} on average."

    @cached_property
    def root(self) -> Values:
        """A matrix that gives the coefficients when multiplied by its transpose.

        Rounded to 24 binary places, so that its products with scores add up exactly.
        """
        return np.asarray(np.rint(self._root() * ROOT_GRID) / ROOT_GRID)

    def _root(self) -> Values:
        try:
            return np.asarray(np.linalg.cholesky(self.coefficients))
        except np.linalg.LinAlgError:
            values, vectors = np.linalg.eigh(self.coefficients)
        if values[0] < -_HAIR * len(values):
            raise fault(
                CorrelationFaulty,
                "no lines can move together like this: the smallest eigenvalue is "
                f"{values[0]:.3g}, it must not be negative",
                "bring the coefficients nearer to zero",
                "correlation",
            )
        return np.asarray(vectors * np.sqrt(np.maximum(values, 0.0)))


Correlation = ByGroups | ByMatrix | ByItems

INDEPENDENT = ByGroups(0.0)

# Where nobody knows better, 0.3 between any two elements: Joint Agency Cost Schedule Risk and
# Uncertainty Handbook (2014), from memory. The published seven-element case is checked with it.
DEFAULT_CORRELATION = ByGroups(DEFAULT_COEFFICIENT)


def total_sd(
    sds: Sequence[float] | Values, correlation: ByGroups | ByMatrix, groups: Sequence[str] = ()
) -> float:
    """Return the standard deviation of a total in closed form.

    Parameters
    ----------
    sds : sequence of float, shape (n,)
        Of the lines.
    correlation : ByGroups or ByMatrix
        Of their costs.
    groups : sequence of str, shape (n,)
        Group of each line; needed where groups are named.

    Raises
    ------
    CorrelationFaulty
        If the lines do not fit the groups or the matrix.

    Notes
    -----
    Variance = sum over all pairs of coefficient x sd x sd.

    Examples
    --------
    >>> total_sd([3.0, 4.0], INDEPENDENT), total_sd([3.0, 4.0], ByGroups(1.0))
    (5.0, 7.0)
    """
    spread = np.asarray(sds, dtype=np.float64)
    if isinstance(correlation, ByMatrix):
        check_line_count(correlation, len(spread))
        return sqrt(max(0.0, float(spread @ correlation.coefficients @ spread)))
    names = list(groups) if len(groups) else [""] * len(spread)
    if len(names) != len(spread):
        raise fault(CorrelationFaulty, f"{len(names)} groups for {len(spread)} lines")
    within = np.array([correlation.of_group(name) for name in names])
    variance = float((spread**2 * (1.0 - within)).sum()) + correlation.between * spread.sum() ** 2
    for name in set(names):
        of_group = spread[[one == name for one in names]].sum()
        variance += (correlation.of_group(name) - correlation.between) * of_group**2
    return sqrt(variance)


def check_line_count(correlation: Correlation, lines: int) -> None:
    """Check that a matrix has a row for each line.

    Raises
    ------
    CorrelationFaulty
        If it has not.
    """
    if isinstance(correlation, ByMatrix) and len(correlation.coefficients) != lines:
        raise fault(
            CorrelationFaulty,
            f"a matrix of {len(correlation.coefficients)} does not fit {lines} lines",
            "give one row and one column for each line, in their order",
            "correlation",
        )

"""Coefficients of correlation at the door: numbers of the right size, in a square of them."""

from __future__ import annotations

from math import isfinite
from numbers import Real

import numpy as np
import numpy.typing as npt

from estimator.errors import CorrelationFaulty, Faults, fault, quoted
from estimator.ranges.pert_quantiles import Values

ROOT_GRID = 2.0**24

_HAIR = 1e-9


def check_coefficient(value: object, where: str, faults: Faults) -> None:
    """Note a coefficient that is no number of 0 to 1."""
    if isinstance(value, bool) or not isinstance(value, Real) or not isfinite(value):
        faults.add(where, f"{quoted(value)} is not a plain number", "write it as 0.3")
    elif not 0.0 <= float(value) <= 1.0:
        faults.add(where, f"{float(value):g} is not between 0 and 1", "write it as 0.3")


def square_matrix(coefficients: npt.ArrayLike) -> Values:
    """Return a copy of the values as a matrix of floats.

    Raises
    ------
    CorrelationFaulty
        If it is not a table of numbers with as many rows as columns.
    """
    try:
        matrix = np.array(coefficients, dtype=np.float64)
    except (TypeError, ValueError) as error:
        raise fault(
            CorrelationFaulty, "is not a table of numbers", "one row for each line", "correlation"
        ) from error
    if matrix.ndim != 2 or matrix.shape[0] != matrix.shape[1] or not matrix.size:
        raise fault(
            CorrelationFaulty,
            f"has the shape {' x '.join(map(str, matrix.shape))}",
            "give as many rows as columns, one for each line",
            "correlation",
        )
    return matrix


def check_entries(matrix: Values) -> None:
    """Check that a matrix may hold coefficients, and tell every fault at once.

    Raises
    ------
    CorrelationFaulty
        If an entry is not finite or not from -1 to 1, the diagonal is not 1, or the matrix is not
        symmetric.
    """
    faults = Faults()
    if not np.isfinite(matrix).all():
        faults.add("correlation", f"{_first(~np.isfinite(matrix))} is not a finite number")
        faults.raise_if_any(CorrelationFaulty)
    if (off := np.abs(matrix) > 1.0 + _HAIR).any():
        faults.add("correlation", f"{_first(off)} is not between -1 and 1")
    if (off := np.abs(np.diag(matrix) - 1.0) > _HAIR).any():
        place = int(np.argmax(off)) + 1
        faults.add(
            "correlation", f"row {place}, column {place} is not 1", "each line moves with itself"
        )
    if (off := np.abs(matrix - matrix.T) > _HAIR).any():
        faults.add(
            "correlation",
            f"{_first(off)} differs from the entry across the diagonal",
            "the matrix must be symmetric",
        )
    faults.raise_if_any(CorrelationFaulty)


def _first(off: npt.NDArray[np.bool_]) -> str:
    row, column = (int(place[0]) + 1 for place in np.nonzero(off))
    return f"row {row}, column {column}"

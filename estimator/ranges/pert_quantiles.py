"""Quantiles of the PERT distribution out of a table, because its inverse has no closed form.

All PERT distributions of the same mode position are one shape, stretched: the table is made once
for a position and read by straight lines. Its nodes lie close together at both ends, where the
inverse is steep.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np
import numpy.typing as npt

Values = npt.NDArray[np.float64]

LAMBDA = 4.0
LARGEST_ERROR_OF_RANGE = 1e-6

_CELLS = 4096
_GAUSS_POINTS, _GAUSS_WEIGHTS = np.polynomial.legendre.leggauss(3)
_HALF_CELL = np.pi / 4.0 / _CELLS
_ANGLES = _HALF_CELL * (2.0 * np.arange(_CELLS)[:, None] + 1.0 + _GAUSS_POINTS)
_LOG_SIN, _LOG_COS = np.log(np.sin(_ANGLES)), np.log(np.cos(_ANGLES))
_NODES = np.sin(2.0 * _HALF_CELL * np.arange(_CELLS + 1)) ** 2


def pert_quantiles(u: Values, mode_position: float) -> Values:
    """Return quantiles of the PERT distribution on 0 to 1.

    Parameters
    ----------
    u : float array
        Probabilities, 0 to 1; fastest in rising order.
    mode_position : float
        Where the likely value lies between low (0) and high (1).

    Notes
    -----
    Beta with alpha = 1 + 4 m and beta = 1 + 4 (1 - m). With x = sin^2 t its density becomes
    sin^(2 alpha - 1) t cos^(2 beta - 1) t, smooth at both ends; it is summed by Gauss's rule of
    three points in 4,096 cells, and inverted by straight lines between the nodes. The error is
    below 10^-6 of the range for u from 10^-9 to 1 - 10^-9 (measured beside
    `scipy.stats.beta.ppf`).

    Examples
    --------
    >>> pert_quantiles(np.array([0.0, 0.5, 1.0]), 0.5).round(6).tolist()
    [0.0, 0.5, 1.0]
    """
    return np.asarray(np.interp(u, _cumulative(mode_position), _NODES))


@lru_cache(maxsize=256)
def _cumulative(mode_position: float) -> Values:
    """Return the probability below each node."""
    alpha = 1.0 + LAMBDA * mode_position
    beta = 2.0 + LAMBDA - alpha
    density = np.exp((2.0 * alpha - 1.0) * _LOG_SIN + (2.0 * beta - 1.0) * _LOG_COS)
    below = np.concatenate([[0.0], np.cumsum(density @ _GAUSS_WEIGHTS)])
    return np.asarray(below / below[-1])

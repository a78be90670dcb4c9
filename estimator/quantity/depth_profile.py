"""How a depth is spread over the ground: a few depths with their shares, and the deepest.

A fill that is 1 ft deep at one end and 9 ft at the other is 5 ft deep on average, but what has
sloping sides is not the volume at 5 ft. The means of all powers of the depth are those of the
slope::

    1 ft ._____________________
          `-.                  |        shares of the ground with each depth:
             `-.               |        Gauss's points, exact for every polynomial
                `-. . . . . . .| 9 ft   up to the fifteenth power
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

Values = npt.NDArray[np.float64]

POINTS = 8
_PLACES, _WEIGHTS = np.polynomial.legendre.leggauss(POINTS)
_NOTHING = 1e-12


@dataclass(frozen=True)
class DepthProfile:
    """Depths over the ground, each relative to their mean.

    Parameters
    ----------
    relative : tuple of float
        Eight depths over the mean depth.
    shares : tuple of float
        Of the ground, adding up to 1.
    deepest : float
        The deepest depth over the mean depth.
    """

    relative: tuple[float, ...]
    shares: tuple[float, ...]
    deepest: float


def end_depths(depths: Sequence[float]) -> DepthProfile:
    """Return the profile of a floor that slopes evenly between two ends or four corners.

    Parameters
    ----------
    depths : sequence of 2 or 4 float
        Of the ends, or of the corners in turn; not all zero.

    Examples
    --------
    >>> slope = end_depths([1.0, 9.0])
    >>> parts = zip(slope.relative, slope.shares)
    >>> round(sum(share * (5 * depth) ** 2 for depth, share in parts), 6)  # (81 + 9 + 1) / 3
    30.333333
    """
    along, shares = (_PLACES + 1.0) / 2.0, _WEIGHTS / 2.0
    if len(depths) == 2:
        return _profile(depths[0] + (depths[1] - depths[0]) * along, shares, max(depths))
    first = depths[0] + (depths[1] - depths[0]) * along
    other = depths[3] + (depths[2] - depths[3]) * along
    over = first[:, None] + (other - first)[:, None] * along
    return scattered_depths(over.ravel(), np.outer(shares, shares).ravel(), max(depths))


def scattered_depths(depths: Values, shares: Values, deepest: float) -> DepthProfile:
    """Return the profile of depths that each hold for a share of the ground.

    Notes
    -----
    Eight points with the same means of all powers up to the fifteenth: the eigenvalues of the
    Jacobi matrix that the three-term recurrence of the shares gives.

    References
    ----------
    G. H. Golub and J. H. Welsch, Calculation of Gauss quadrature rules, Mathematics of Computation
    23 (1969) (from memory).
    """
    shares = shares / shares.sum()
    before, here = np.zeros_like(depths), np.ones_like(depths)
    diagonal: list[float] = []
    beside: list[float] = []
    for _ in range(POINTS):
        size = float(shares @ here**2)
        if diagonal and size <= _NOTHING:
            break
        if diagonal:
            beside.append(size**0.5)
        here = here / size**0.5
        diagonal.append(float(shares @ (depths * here**2)))
        step = beside[-1] if beside else 0.0
        before, here = here, (depths - diagonal[-1]) * here - step * before
    jacobi = np.diag(diagonal) + np.diag(beside, 1) + np.diag(beside, -1)
    points, vectors = np.linalg.eigh(jacobi)
    return _profile(points, vectors[0] ** 2, deepest)


def _profile(depths: Values, shares: Values, deepest: float) -> DepthProfile:
    """Return the profile with as many points as every other, the last repeated with no share."""
    mean = float(depths @ shares)
    if missing := POINTS - len(depths):
        depths = np.append(depths, np.full(missing, depths[-1]))
        shares = np.append(shares, np.zeros(missing))
    return DepthProfile(tuple((depths / mean).tolist()), tuple(shares.tolist()), deepest / mean)

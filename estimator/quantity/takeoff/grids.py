"""Cut or fill over a grid of squares, from the depth at each stake: the borrow-pit method.

Lengths in feet, volumes in cubic feet. Spots that stand in no grid are taken in `spot_depths`.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from estimator.errors import GeometryFaulty, fault
from estimator.quantity.takeoff.dimensions import dimensions


def borrow_pit_cf(
    depth_ft: npt.ArrayLike,
    cell_length_ft: npt.ArrayLike,
    cell_width_ft: npt.ArrayLike,
    dug: npt.ArrayLike | None = None,
) -> float:
    """Return the volume over a grid of equal rectangles from the depths at their corners [cf].

    Parameters
    ----------
    depth_ft : array, shape (rows, columns) [ft]
        Cut or fill at each stake, zero or more; at least two rows and two columns.
    cell_length_ft, cell_width_ft : float [ft]
        Distance of the rows, and of the columns.
    dug : array of bool, shape (rows - 1, columns - 1), optional
        Which rectangles count; all of them unless said otherwise.

    Raises
    ------
    GeometryFaulty
        If there are fewer than two rows or columns, `dug` does not fit or leaves nothing, a
        depth is negative, or a cell has no size.

    Notes
    -----
    V = a/4 (sum h1 + 2 sum h2 + 3 sum h3 + 4 sum h4), where hn are the depths at stakes that n
    counted rectangles share. The same as the sum of the rectangles, each by its four corners.

    Examples
    --------
    >>> borrow_pit_cf([[2, 3, 4], [1, 2, 3]], 50, 50)
    12500.0
    """
    (depths,) = dimensions(depth_ft=depth_ft, may_be_zero=("depth_ft",))
    length, width = dimensions(cell_length_ft=cell_length_ft, cell_width_ft=cell_width_ft)
    if np.ndim(depths) != 2 or min(np.shape(depths)) < 2:
        raise fault(
            GeometryFaulty, "is not a grid", "give two rows of two stakes or more", "depth_ft"
        )
    if np.ndim(length) or np.ndim(width):
        raise fault(GeometryFaulty, "are lists", "give one size for all", "cell_length_ft")
    return float(length * width / 4.0 * np.sum(_stake_weights(np.shape(depths), dug) * depths))


def _stake_weights(
    shape: tuple[int, ...], dug: npt.ArrayLike | None = None
) -> npt.NDArray[np.int64]:
    """Return how many counted rectangles share each stake: 1 at a corner, 4 inside, 0 outside."""
    cells = (shape[0] - 1, shape[1] - 1)
    counted = np.ones(cells, dtype=bool) if dug is None else np.asarray(dug, dtype=bool)
    if counted.shape != cells:
        raise fault(
            GeometryFaulty, f"has the shape {counted.shape}", f"it should be {cells}", "dug"
        )
    if not np.any(counted):
        raise fault(GeometryFaulty, "counts no rectangle", "mark those that are dug", "dug")
    weights = np.zeros(shape, dtype=np.int64)
    for rows in (slice(None, -1), slice(1, None)):
        for columns in (slice(None, -1), slice(1, None)):
            weights[rows, columns] += counted
    return weights

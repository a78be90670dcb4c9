"""Tons that a landfill or transfer station charges for, load by load."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from estimator.quantity.takeoff.dimensions import Numbers, dimensions


def tipped_ton(
    debris_cy: npt.ArrayLike,
    ton_per_cy: npt.ArrayLike,
    loads: npt.ArrayLike = 1.0,
    least_ton: npt.ArrayLike = 0.0,
) -> Numbers:
    """Return the weight that is charged at the scale [short tons].

    Parameters
    ----------
    debris_cy : float or array [loose cy]
        Of all loads; zero or more.
    ton_per_cy : float or array [short tons per loose cy]
        Of what is in the box as it is in the box: loose, and wet if it rained into it.
    loads : float or array
        How many are weighed, each about alike.
    least_ton : float or array [short tons]
        Charged for a load at the least; zero if there is no minimum.

    Notes
    -----
    T = max(debris x density, loads x minimum), nothing for no debris. The scale weighs tons, so a
    tip fee per cubic yard of box is another thing and is counted by boxes.

    Examples
    --------
    >>> tipped_ton(40, 0.7, loads=3)  # broken brick
    28.0
    >>> tipped_ton(20, 0.15, loads=2, least_ton=2.0)  # loose wood weighs 3, two minimums are 4
    4.0
    """
    debris, density, weighed, least = dimensions(
        debris_cy=debris_cy, ton_per_cy=ton_per_cy, loads=loads, least_ton=least_ton,
        may_be_zero=("debris_cy", "least_ton"),
    )  # fmt: skip
    charged = np.maximum(debris * density, weighed * least)
    charge = np.where(np.asarray(debris) > 0, charged, 0.0)
    return float(charge) if charge.ndim == 0 else charge

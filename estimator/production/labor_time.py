"""Numbers of labor, checked: numbers and numpy arrays are taken alike and broadcast."""

from __future__ import annotations

from collections.abc import Collection
from typing import Any

import numpy as np
import numpy.typing as npt

from estimator.errors import Faults, GeometryFaulty, LaborFaulty
from estimator.quantity.takeoff.dimensions import Numbers, dimensions


def labor_numbers(
    *,
    may_be_zero: Collection[str] = (),
    fractions: Collection[str] = (),
    **by_name: npt.ArrayLike,
) -> tuple[Numbers, ...]:
    """Return the given numbers as floats or float64 arrays, in the order given.

    Parameters
    ----------
    may_be_zero : collection of str
        Names of those that may be zero; the others must be positive.
    fractions : collection of str
        Names of those that may not be above 1.
    **by_name : float or array
        Numbers under the names that a fault tells; arrays must broadcast together.

    Raises
    ------
    LaborFaulty
        With one fault for each number that is wrong.

    Examples
    --------
    >>> labor_numbers(efficiency=0.75, fractions=["efficiency"])
    (0.75,)
    """
    numbers: dict[str, Any] = dict(by_name)
    try:
        values = dimensions(may_be_zero=may_be_zero, **numbers)
    except GeometryFaulty as faulty:
        raise LaborFaulty(faulty.faults) from None
    faults = Faults()
    for name, value in zip(by_name, values, strict=True):
        if name in fractions and np.any(np.asarray(value) > 1.0):
            faults.add(name, "is above 1", "write 75 % as 0.75")
    faults.raise_if_any(LaborFaulty)
    return values

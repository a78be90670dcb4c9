"""Man-hours of a piece of work.

A man-hour is one person working one hour; a crew of four does four of them in an hour. Numbers
and numpy arrays are taken alike and broadcast.
"""

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


def man_hours(
    quantity: npt.ArrayLike,
    man_hours_per_unit: npt.ArrayLike,
    unit_size: npt.ArrayLike = 1.0,
    delay_factor: npt.ArrayLike = 1.0,
) -> Numbers:
    """Return the man-hours of a quantity of work [man-hr].

    Parameters
    ----------
    quantity : float or array [unit of the work]
        May be zero.
    man_hours_per_unit : float or array [man-hr per unit size]
        As the handbook lists them.
    unit_size : float or array [unit of the work]
        What the table's man-hours are for: 1,000 for "33 man-hours per 1,000 sf".
    delay_factor : float or array
        Above 1 where the job is harder than the table's.

    Raises
    ------
    LaborFaulty
        If a number is not positive, or the quantity is negative.

    Notes
    -----
    H = Q / S x h x DF.

    References
    ----------
    NAVFAC P-405, as quoted in NAVEDTRA 14045, Builder Advanced, ch. 2.

    Examples
    --------
    >>> man_hours(16000, 33, unit_size=1000)
    528.0
    """
    amount, hours, size, delay = labor_numbers(
        quantity=quantity, man_hours_per_unit=man_hours_per_unit, unit_size=unit_size,
        delay_factor=delay_factor, may_be_zero=("quantity",),
    )  # fmt: skip
    return amount / size * hours * delay

"""Slower first days: the unit-time learning curve, and a crew that has to get into the work.

A learning curve fits work that repeats: the tenth joist pocket, not the tenth trade. It stops
where the crew has learned; nobody gets faster for ever.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from estimator.errors import LaborFaulty, fault
from estimator.production.labor_time import labor_numbers
from estimator.production.number_check import Number
from estimator.quantity.takeoff.dimensions import Numbers

_MOST_UNITS = 1_000_000


def unit_hours(
    first_hr: npt.ArrayLike, unit_number: npt.ArrayLike, learning_fraction: npt.ArrayLike
) -> Numbers:
    """Return the time of the n-th unit [hr].

    Parameters
    ----------
    first_hr : float or array [hr]
        Time of the first unit.
    unit_number : float or array
        1 for the first.
    learning_fraction : float or array
        Time of the second over that of the first, above 0 to 1: 0.9 where a tenth is saved with
        each doubling; 1 where nothing is learned.

    Raises
    ------
    LaborFaulty
        If a number is not positive, the unit is before the first, or the fraction is above 1.

    Notes
    -----
    T_n = T_1 n^b with b = log2(learning fraction), so that T_2n / T_n is the fraction everywhere.
    This is the unit curve; where the average of all units so far follows the power law instead,
    use `total_hours_by_average`.

    References
    ----------
    J. R. Crawford, Learning Curve, Ship Curve, Ratios, Related Data, c. 1944 (from memory).

    Examples
    --------
    >>> unit_hours(10, [1, 2, 4], 0.8)
    array([10. ,  8. ,  6.4])
    """
    first, number, fraction = labor_numbers(
        first_hr=first_hr, unit_number=unit_number, learning_fraction=learning_fraction,
        fractions=("learning_fraction",),
    )  # fmt: skip
    if np.any(np.asarray(number) < 1):
        raise fault(LaborFaulty, "is before the first unit", "count from 1", "unit_number")
    return first * number ** np.log2(fraction)


def total_hours(first_hr: Number, units: int, learning_fraction: Number) -> float:
    """Return the time of the first n units together, each by `unit_hours` [hr].

    Parameters
    ----------
    first_hr : float [hr]
        What the first unit takes.
    units : int
        1 to 1,000,000.
    learning_fraction : float
        Time of the second over that of the first, above 0 to 1.

    Raises
    ------
    LaborFaulty
        As for `unit_hours`, and if the number of units is out of range.

    Notes
    -----
    The sum of T_1 k^b for k = 1 to n, term by term.

    Examples
    --------
    >>> round(total_hours(10, 4, 0.8), 4)
    31.421
    """
    _check_units(units)
    return float(np.sum(unit_hours(first_hr, np.arange(1.0, units + 1.0), learning_fraction)))


def total_hours_by_average(first_hr: Number, units: int, learning_fraction: Number) -> float:
    """Return the time of the first n units where their average follows the curve [hr].

    Parameters
    ----------
    first_hr : float [hr]
        What the first unit takes.
    units : int
        1 to 1,000,000.
    learning_fraction : float
        Average of two over the time of the first.

    Raises
    ------
    LaborFaulty
        As for `total_hours`.

    Notes
    -----
    Sum = n T_1 n^b. The older of the two conventions, and the lower one: a fraction that was
    observed under one of them belongs to no other.

    References
    ----------
    T. P. Wright, Factors Affecting the Cost of Airplanes, 1936 (from memory).

    Examples
    --------
    >>> round(total_hours_by_average(10, 4, 0.8), 4)
    25.6
    """
    _check_units(units)
    return float(units * unit_hours(first_hr, float(units), learning_fraction))


def days_with_slow_start(
    quantity: npt.ArrayLike,
    steady_rate_per_day: Number,
    first_day_fractions: Sequence[Number],
) -> Numbers:
    """Return the workdays for a quantity when the first days bring less [workday].

    Parameters
    ----------
    quantity : float or array [unit of the work]
        May be zero.
    steady_rate_per_day : float [unit of the work per workday]
        Once the crew has found its pace.
    first_day_fractions : sequence of float
        What the first, second ... day brings of a steady day, each above 0 to 1; then 1.

    Notes
    -----
    The crew's own record of its first days; common practice, no source. Within a day the work
    goes on evenly.

    Examples
    --------
    >>> days_with_slow_start(100, 20, [0.5, 0.75])
    5.75
    """
    amount, rate = labor_numbers(
        quantity=quantity, steady_rate_per_day=steady_rate_per_day, may_be_zero=("quantity",)
    )
    (starts,) = labor_numbers(
        first_day_fractions=list(first_day_fractions), fractions=("first_day_fractions",)
    )
    done = np.concatenate(([0.0], np.cumsum(starts * rate)))
    in_start = np.interp(amount, done, np.arange(len(done)))
    days = in_start + np.maximum(0.0, np.asarray(amount) - done[-1]) / rate
    return float(days) if np.ndim(days) == 0 else days


def _check_units(units: int) -> None:
    if not 1 <= units <= _MOST_UNITS:
        raise fault(LaborFaulty, f"is {units}", "a whole number from 1 to 1,000,000", "units")

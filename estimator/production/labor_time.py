"""Man-hours, man-days and the days a crew is on a piece of work.

A man-hour is one person working one hour; a crew of four does four of them in an hour. Numbers
and numpy arrays are taken alike and broadcast.
"""

from __future__ import annotations

from collections.abc import Collection
from typing import Any

import numpy as np
import numpy.typing as npt

from estimator.errors import Faults, GeometryFaulty, LaborFaulty
from estimator.quantity.takeoff.dimensions import Numbers, dimensions, whole_count

_HOURS_PER_MAN_DAY = 8.0


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


def crew_hours(
    quantity: npt.ArrayLike, production_rate_per_hr: npt.ArrayLike, efficiency: npt.ArrayLike = 1.0
) -> Numbers:
    """Return how long a crew works on a quantity [hr on the clock].

    Parameters
    ----------
    quantity : float or array [unit of the work]
        May be zero.
    production_rate_per_hr : float or array [unit of the work per hr]
        Of the whole crew in an hour without interruption.
    efficiency : float or array
        The part of a clock hour that is worked, 0 to 1: 50 minutes are 0.8333.

    Raises
    ------
    LaborFaulty
        If a rate is not positive, an efficiency is outside 0 to 1, or the quantity is negative.

    Notes
    -----
    A rate from the crew's own records has its breaks in it already: leave efficiency at 1.

    Examples
    --------
    >>> crew_hours(120, 10, efficiency=0.75)
    16.0
    """
    amount, rate, worked = labor_numbers(
        quantity=quantity, production_rate_per_hr=production_rate_per_hr, efficiency=efficiency,
        may_be_zero=("quantity",), fractions=("efficiency",),
    )  # fmt: skip
    return amount / (rate * worked)


def man_days(
    man_hours: npt.ArrayLike, hours_per_man_day: npt.ArrayLike = _HOURS_PER_MAN_DAY
) -> Numbers:
    """Return man-days of eight man-hours [man-day].

    Parameters
    ----------
    man_hours : float or array [man-hr]
        May be zero.
    hours_per_man_day : float or array [man-hr]
        The source counts eight, however long the working day is.

    Raises
    ------
    LaborFaulty
        If the hours of a day are not positive or the man-hours are negative.

    References
    ----------
    NAVEDTRA 14045, ch. 2, "Man-day estimates and durations".

    Examples
    --------
    >>> man_days(528)
    66.0
    """
    hours, day = labor_numbers(
        man_hours=man_hours, hours_per_man_day=hours_per_man_day, may_be_zero=("man_hours",)
    )
    return hours / day


def crew_days(
    man_days: npt.ArrayLike,
    crew_size: npt.ArrayLike,
    availability: npt.ArrayLike = 1.0,
    man_days_per_workday: npt.ArrayLike = 1.0,
) -> Numbers:
    """Return how many workdays a crew needs, not yet rounded up [workday].

    Parameters
    ----------
    man_days : float or array [man-day]
        May be zero.
    crew_size : float or array
        People who work on it; half a foreman is 0.5.
    availability : float or array
        The part of the crew that is there on an average day, 0 to 1.
    man_days_per_workday : float or array [man-day per person and workday]
        Hours really worked on a day over eight: 7.5 / 8 = 0.9375, 9 / 8 = 1.125.

    Raises
    ------
    LaborFaulty
        If a number is not positive, availability is above 1, or man-days are negative.

    Notes
    -----
    D = MD / (CS x AF x ME). `whole_workdays` rounds up.

    References
    ----------
    NAVEDTRA 14045, ch. 2, "Construction activity durations".

    Examples
    --------
    >>> round(crew_days(70, 12, 0.75, 0.9375), 1)
    8.3
    """
    work, crew, there, day = labor_numbers(
        man_days=man_days, crew_size=crew_size, availability=availability,
        man_days_per_workday=man_days_per_workday, may_be_zero=("man_days",),
        fractions=("availability",),
    )  # fmt: skip
    return work / (crew * there * day)


def whole_workdays(days: npt.ArrayLike) -> Numbers:
    """Return the whole workdays that are enough [workday].

    Raises
    ------
    LaborFaulty
        If days are negative or not finite.

    Examples
    --------
    >>> whole_workdays(crew_days(70, 12, 0.75, 0.9375))
    9.0
    """
    (number,) = labor_numbers(days=days, may_be_zero=("days",))
    return whole_count(number)

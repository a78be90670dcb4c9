"""Hours and days that a quantity takes at a rate."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from estimator.errors import ProductionFaulty, fault
from estimator.production.number_check import Number, check_numbers, number_inputs
from estimator.quantity.rounding import whole_above, whole_below


@number_inputs()
@dataclass(frozen=True)
class WorkingTime:
    """How long work takes.

    Parameters
    ----------
    hours : float [hr]
        At work, above zero.
    shift_hr : float [hr/day]
        Length of the working day.

    Raises
    ------
    ProductionFaulty
        If the hours or the shift are not above zero, or a day has more than 24 of them.

    Examples
    --------
    >>> time = WorkingTime(20.0, 8.0)
    >>> time.days, time.whole_days, time.full_days, time.last_day_hr
    (2.5, 3, 2, 4.0)
    """

    hours: Number
    shift_hr: Number

    def __post_init__(self) -> None:
        check_numbers(hours=self.hours, shift_hr=self.shift_hr)
        if self.shift_hr > 24.0:
            raise fault(ProductionFaulty, "is above 24", "enter one working day", "shift_hr")

    @property
    def days(self) -> float:
        """Working days, with the part of the last one [day]."""
        return self.hours / self.shift_hr

    @property
    def whole_days(self) -> int:
        """Working days on which somebody is there, at least one."""
        return max(1, int(whole_above(np.asarray(self.days))))

    @property
    def full_days(self) -> int:
        """Days that are worked to the end of the shift."""
        return int(whole_below(np.asarray(self.days)))

    @property
    def last_day_hr(self) -> float:
        """Hours on the day that is not worked to the end; 0 if there is none [hr]."""
        if self.full_days == self.whole_days:
            return 0.0
        return self.hours - self.full_days * self.shift_hr


@number_inputs()
def working_time(quantity: Number, output_per_hr: Number, shift_hr: Number) -> WorkingTime:
    """Return how long a quantity takes at a rate.

    Parameters
    ----------
    quantity : float [unit]
        What is to be done.
    output_per_hr : float [unit/hr]
        How much of it in an hour on the clock.
    shift_hr : float [hr/day]
        Length of the working day.

    Raises
    ------
    ProductionFaulty
        If a number is not above zero, or a day has more than 24 hours.

    Examples
    --------
    >>> working_time(290.0, 14.5, 8.0).hours
    20.0
    """
    check_numbers(quantity=quantity, output_per_hr=output_per_hr, shift_hr=shift_hr)
    return WorkingTime(quantity / output_per_hr, shift_hr)


@number_inputs()
def whole_loads(quantity: Number, load_size: Number) -> int:
    """Return how many loads bring a quantity, the last of them perhaps not full.

    Examples
    --------
    >>> whole_loads(290.0, 18.0), whole_loads(8.4, 2.8)
    (17, 3)
    """
    check_numbers(quantity=quantity, load_size=load_size)
    return int(whole_above(np.asarray(quantity / load_size)))

"""What makes work slower than its production rate: lost minutes, hard conditions, first days."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import numpy.typing as npt

from estimator.errors import LaborFaulty
from estimator.production.labor_time import labor_numbers
from estimator.production.number_check import Number, number_inputs
from estimator.production.productive_time import (
    USUAL_EFFICIENCY,
    delay_factor,
    hour_efficiency,
    production_efficiency,
)
from estimator.quantity.rounding import percent_text
from estimator.quantity.takeoff.dimensions import Numbers

Values = npt.NDArray[np.float64]


@number_inputs(LaborFaulty)
@dataclass(frozen=True)
class Delays:
    """What makes a crew slower than the production rate of its work.

    Parameters
    ----------
    working_minutes : float [min]
        Of an hour on the clock, above 0 to 60.
    conditions : tuple of (str, float)
        What affects the work, each with its share, above 0 to 1; none where the rate holds.
    first_days : tuple of float
        What the first, second ... day brings of a steady day, each above 0 to 1.

    Raises
    ------
    LaborFaulty
        If a number is out of its range.

    Notes
    -----
    Hours at the rate, times 60 / working minutes, times 0.67 / the average of the conditions;
    then so many days longer as the first days lack.

    Examples
    --------
    >>> delays = Delays(50.0, (("site", 0.5), ("weather", 0.84)), (0.5, 0.75))
    >>> round(delays.factor, 6), delays.hours(np.array([20.0]), 8.0)
    (1.2, array([30.]))
    """

    working_minutes: Number = 60.0
    conditions: tuple[tuple[str, float], ...] = ()
    first_days: tuple[float, ...] = ()

    def __post_init__(self) -> None:
        (starts,) = labor_numbers(first_day_fractions=list(self.first_days))
        shares = [(name, production_efficiency([share])) for name, share in self.conditions]
        object.__setattr__(self, "first_days", tuple(np.asarray(starts).tolist()))
        object.__setattr__(self, "conditions", tuple(shares))
        self.hours(np.ones(1), 8.0)

    @cached_property
    def factor(self) -> float:
        """What an hour at the rate takes on the clock, once the first days are over [hr]."""
        by_conditions = delay_factor(self.average) if self.conditions else 1.0
        return by_conditions / hour_efficiency(self.working_minutes)

    @property
    def average(self) -> float:
        """The average of the conditions."""
        return production_efficiency([share for _, share in self.conditions])

    def hours(self, at_rate: Values, shift_hr: float) -> Values:
        """Return how long work takes whose hours at the rate are known [hr].

        Parameters
        ----------
        at_rate : float array [hr]
            What is no number stays so.
        shift_hr : float [hr/day]
            Length of the working day.
        """
        steady = np.asarray(at_rate * self.factor)
        if not self.first_days:
            return steady
        is_time = np.isfinite(steady) & (steady >= 0.0)
        days = days_with_slow_start(np.where(is_time, steady, 0.0), shift_hr, self.first_days)
        return np.where(is_time, np.asarray(days) * shift_hr, steady)

    def words(self) -> Iterator[str]:
        """Yield what delays the work, in parts of a sentence."""
        if self.working_minutes < 60.0:
            yield f"{self.working_minutes:g} minutes of each hour are worked (x {self._by_hour})"
        if self.conditions:
            each = ", ".join(f"{name} {percent_text(share)}" for name, share in self.conditions)
            yield (
                f"conditions average {percent_text(self.average)} ({each}) where "
                f"{percent_text(USUAL_EFFICIENCY)} is usual (x {delay_factor(self.average):.4g})"
            )
        if self.first_days:
            yield f"{_days(self.first_days)} of a steady day"

    @property
    def _by_hour(self) -> str:
        return f"{1.0 / hour_efficiency(self.working_minutes):.4g}"


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


def _days(shares: Sequence[float]) -> str:
    each = [percent_text(share) for share in shares]
    if len(each) == 1:
        return f"the first day brings {each[0]}"
    return f"the first {len(each)} days bring {', '.join(each[:-1])} and {each[-1]}"

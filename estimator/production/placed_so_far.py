"""What now: the pace of the days so far, and the days that it leaves.

A plan says how much a day should place; the log says what it did. The mean of the log is the next
rate to plan with, and its spread tells how far to trust it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum, sqrt

from estimator.errors import ProductionFaulty, fault
from estimator.production.number_check import Number, check_each, check_numbers, number_inputs

MOST_DAYS = 10_000

_HAIR = 1e-9


@dataclass(frozen=True)
class ObservedPace:
    """The pace of the days so far.

    Parameters
    ----------
    days : int
        How many days were recorded.
    placed : float [unit]
        On all of them together.
    per_day : float [unit/day]
        Mean.
    deviation : float [unit/day]
        Standard deviation of a day; 0 where `has_spread` is false.
    has_spread : bool
        False while one day placed all there is, or nearly: it tells nothing about the next.
    """

    days: int
    placed: float
    per_day: float
    deviation: float
    has_spread: bool

    @property
    def error_of_mean(self) -> float:
        """Standard error of the mean [unit/day]: what more days of the same would make smaller."""
        return self.deviation / sqrt(self.days)

    @property
    def usual_range(self) -> tuple[float, float]:
        """The mean less and plus its standard error [unit/day], right about two times in three."""
        return self.per_day - self.error_of_mean, self.per_day + self.error_of_mean


@dataclass(frozen=True)
class WhatNow:
    """Where the work stands and what its own pace says about the rest.

    Parameters
    ----------
    pace : ObservedPace
        What the recorded days show.
    remaining : float [unit]
        Never below zero.
    beyond_plan : float [unit]
        What was placed beyond the planned quantity: a reason to measure again.
    remaining_days : float [day]
        At the observed pace.
    remaining_days_range : tuple of 2 floats [day]
        At the fast and at the slow end of the usual range.
    planned_days : float [day]
        For the rest, at the planned pace.
    pace_of_plan : float
        Observed over planned pace; below 1 is behind.
    """

    pace: ObservedPace
    remaining: float
    beyond_plan: float
    remaining_days: float
    remaining_days_range: tuple[float, float]
    planned_days: float
    pace_of_plan: float


@number_inputs()
def observed_pace(placed_per_day: Sequence[Number]) -> ObservedPace:
    """Return the pace of the days so far.

    Parameters
    ----------
    placed_per_day : sequence of float [unit]
        One number for each day on which the crew was there for this work, zeros included: a day
        that broke down belongs to the pace.

    Raises
    ------
    ProductionFaulty
        If there is no day, a number is negative, or nothing was placed at all.

    Notes
    -----
    Mean and standard deviation (with n - 1) of the days. The order of days does not matter.

    Examples
    --------
    >>> pace = observed_pace([38.0, 46.0, 42.0, 50.0])
    >>> pace.per_day, round(pace.deviation, 2), round(pace.error_of_mean, 2)
    (44.0, 5.16, 2.58)
    """
    if not 0 < len(placed_per_day) <= MOST_DAYS:
        raise fault(
            ProductionFaulty,
            f"has {len(placed_per_day)} days",
            f"enter what was placed on 1 to {MOST_DAYS:,} days",
            "placed_per_day",
        )
    check_each("placed on day", placed_per_day, may_be_zero=True)
    days, placed = len(placed_per_day), fsum(placed_per_day)
    if placed == 0.0:
        raise fault(
            ProductionFaulty, "is zero on all days: there is no pace yet", where="placed_per_day"
        )
    mean = placed / days
    squares = fsum((one - mean) ** 2 for one in placed_per_day)
    deviation = sqrt(squares / (days - 1)) if days > 1 else mean
    has_spread = deviation < mean * sqrt(days) * (1.0 - _HAIR)  # equal if one day placed all
    if not has_spread:
        return ObservedPace(days, placed, mean, 0.0, has_spread=False)
    return ObservedPace(days, placed, mean, deviation, has_spread=True)


@number_inputs()
def what_now(
    placed_per_day: Sequence[Number], quantity: Number, planned_per_day: Number
) -> WhatNow:
    """Return where the work stands, and the days that its own pace leaves.

    Parameters
    ----------
    placed_per_day : sequence of float [unit]
        Of each day so far, zeros included.
    quantity : float [unit]
        Of the whole work.
    planned_per_day : float [unit/day]
        The pace of the plan.

    Raises
    ------
    ProductionFaulty
        If a number is not above zero, or no day has placed anything.

    Notes
    -----
    Remaining days = remaining / mean; their range takes the mean plus and less its standard error.

    Examples
    --------
    >>> now = what_now([38.0, 46.0, 42.0, 50.0], 290.0, 58.0)
    >>> now.remaining, round(now.remaining_days, 2), round(now.pace_of_plan, 2)
    (114.0, 2.59, 0.76)
    """
    check_numbers(quantity=quantity, planned_per_day=planned_per_day)
    pace = observed_pace(placed_per_day)
    remaining = max(0.0, quantity - pace.placed)
    slow, fast = pace.usual_range
    return WhatNow(
        pace=pace,
        remaining=remaining,
        beyond_plan=max(0.0, pace.placed - quantity),
        remaining_days=remaining / pace.per_day,
        remaining_days_range=(remaining / fast, remaining / slow),
        planned_days=remaining / planned_per_day,
        pace_of_plan=pace.per_day / planned_per_day,
    )

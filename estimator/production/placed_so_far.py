"""What now: the pace of the days so far, and the days that it leaves.

A plan says how much a day should place; the log says what it did. The mean of the log is the next
rate to plan with, and its spread tells how far to trust it; two days tell no spread worth the name.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum, inf, sqrt

from estimator.errors import ProductionFaulty, fault
from estimator.production.number_check import (
    Count,
    Number,
    check_count,
    check_each,
    check_numbers,
    number_inputs,
)
from estimator.production.student_t import student_t

MOST_DAYS = 10_000
LEAST_DAYS_OF_RANGE = 3
CONFIDENCE = 0.8


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
        True if three days or more were recorded, each by itself; fewer, or one sum over all days,
        tell nothing about the next.
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
    def likely_range(self) -> tuple[float, float] | None:
        """Two ends that hold the true pace four times in five [unit/day], by Student's t.

        None without a spread.
        """
        if not self.has_spread:
            return None
        reach = _t_of(self.days) * self.error_of_mean
        return max(0.0, self.per_day - reach), self.per_day + reach


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
    remaining_days_range : tuple of 2 floats or None [day]
        Between these the rest takes its days four times in five; the later is infinite where the
        days differ so much that no end can be named. None without a spread.
    planned_days : float [day]
        For the rest, at the planned pace.
    pace_of_plan : float
        Observed over planned pace; below 1 is behind.
    """

    pace: ObservedPace
    remaining: float
    beyond_plan: float
    remaining_days: float
    remaining_days_range: tuple[float, float] | None
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
    >>> [round(end, 1) for end in pace.likely_range]
    [39.8, 48.2]
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
    if days < LEAST_DAYS_OF_RANGE:
        return ObservedPace(days, placed, mean, 0.0, has_spread=False)
    squares = fsum((one - mean) ** 2 for one in placed_per_day)
    return ObservedPace(days, placed, mean, sqrt(squares / (days - 1)), has_spread=True)


@number_inputs()
def pace_of_sum(placed: Number, days: Count) -> ObservedPace:
    """Return the pace of one sum over some days: a mean without a spread.

    Parameters
    ----------
    placed : float [unit]
        On all days together.
    days : int
        On which the crew was there for this work.

    Raises
    ------
    ProductionFaulty
        If nothing was placed, or the days are not a whole number from 1.

    Examples
    --------
    >>> pace_of_sum(400.0, 8).per_day
    50.0
    """
    check_numbers(placed=placed)
    check_count("days", days, MOST_DAYS)
    return ObservedPace(days, placed, placed / days, 0.0, has_spread=False)


@number_inputs()
def what_now(pace: ObservedPace, quantity: Number, planned_per_day: Number) -> WhatNow:
    """Return where the work stands, and the days that its own pace leaves.

    Parameters
    ----------
    pace : ObservedPace
        Of the days so far.
    quantity : float [unit]
        Of the whole work.
    planned_per_day : float [unit/day]
        The pace of the plan.

    Raises
    ------
    ProductionFaulty
        If a number is not above zero.

    Notes
    -----
    Remaining days = remaining / mean.

    Examples
    --------
    >>> now = what_now(observed_pace([38.0, 46.0, 42.0, 50.0]), 290.0, 58.0)
    >>> now.remaining, round(now.remaining_days, 2), round(now.pace_of_plan, 2)
    (114.0, 2.59, 0.76)
    """
    check_numbers(quantity=quantity, planned_per_day=planned_per_day)
    remaining = max(0.0, quantity - pace.placed)
    return WhatNow(
        pace=pace,
        remaining=remaining,
        beyond_plan=max(0.0, pace.placed - quantity),
        remaining_days=remaining / pace.per_day,
        remaining_days_range=days_range(pace, remaining),
        planned_days=remaining / planned_per_day,
        pace_of_plan=pace.per_day / planned_per_day,
    )


def days_range(pace: ObservedPace, quantity: float) -> tuple[float, float] | None:
    """Return between which days a quantity is placed four times in five; None without a spread.

    Parameters
    ----------
    pace : ObservedPace
        Of n days, with mean m and standard deviation s.
    quantity : float [unit]
        R, still to be placed.

    Notes
    -----
    The sum of T days to come differs from T m by the error of the mean and by the days' own spread:
    a variance of s^2 (T^2 / n + T). Where it reaches R, with Student's t of n - 1 degrees,
    (R - T m)^2 = t^2 s^2 (T^2 / n + T); the two roots are the ends. Days are taken as independent
    and normal; the part of a last day as if it varied like a whole number of days.

    Examples
    --------
    >>> pace = observed_pace([38.0, 46.0, 42.0, 50.0])
    >>> [round(end, 2) for end in days_range(pace, 114.0)]
    [2.23, 3.03]
    """
    if not pace.has_spread:
        return None
    if quantity == 0.0:
        return 0.0, 0.0
    reach = _t_of(pace.days) * pace.deviation
    square = pace.per_day**2 - reach**2 / pace.days
    linear = 2.0 * quantity * pace.per_day + reach**2
    root = sqrt(reach**2 * (4.0 * quantity * (pace.per_day + quantity / pace.days) + reach**2))
    slow = (linear + root) / (2.0 * square) if square > 0.0 else inf
    return 2.0 * quantity**2 / (linear + root), slow


def _t_of(days: int) -> float:
    return student_t(1.0 - CONFIDENCE, days - 1)

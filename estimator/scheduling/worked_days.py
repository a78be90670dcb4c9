"""Working time as dates: hundredths of a working day from the start of the job, and back."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator
from datetime import date, timedelta
from math import floor

import numpy as np
import numpy.typing as npt

from estimator.production.working_calendar import (
    WorkingCalendar,
    next_working_day,
    work_done_by_day,
)

Integers = npt.NDArray[np.int64]

UNITS_A_DAY = 100
_HAIR = 1e-7


class WorkedDays:
    """The days of a job, from its first day of work on.

    Parameters
    ----------
    calendar : WorkingCalendar
        The days that are worked; of each, what weather leaves.
    start : date
        First day of work; if it is not worked, the next that is.

    Raises
    ------
    CalendarFaulty
        If no day is worked within 60 years; so do all methods, for work that does not end by then.
    """

    def __init__(self, calendar: WorkingCalendar, start: date) -> None:
        self.start = next_working_day(calendar, start)
        self._days: list[date] = []
        self._done: list[int] = []
        self._more: Iterator[tuple[date, float]] = work_done_by_day(calendar, self.start)

    def first_day(self, units: int) -> date:
        """Return the day on which work begins after so much working time."""
        return self._days[self._place_of_start(units)]

    def last_day(self, units: int) -> date:
        """Return the day on which work ends after so much working time; at zero, the first."""
        return self._days[self._place_of_finish(units)]

    def span(self, begun: int, done: int) -> tuple[date, date]:
        """Return first and last day of work; work of no length ends on the day it begins."""
        first = self.first_day(begun)
        return first, first if begun == done else self.last_day(done)

    def after(self, units: int, calendar_days: int, *, from_start: bool) -> int:
        """Return the working time of the first day that is so many calendar days later.

        Parameters
        ----------
        units : int
            [hundredth of a working day] When the other begins or ends.
        calendar_days : int
            Zero changes nothing.
        from_start : bool
            Whether it begins then; else it ends.
        """
        if not calendar_days:
            return units
        day = self.first_day(units) if from_start else self.last_day(units)
        place = self._place_of_day(day + timedelta(days=calendar_days))
        return max(units, self._begin(place))

    def latest(self, units: int, calendar_days: int, *, from_start: bool) -> int:
        """Return the latest time from which a wait of so many days is over at a working time.

        Parameters
        ----------
        units : int
            [hundredth of a working day] When the wait must be over.
        calendar_days, from_start
            As of `after`, which this is the inverse of.
        """
        if not calendar_days:
            return units
        day = self.first_day(units) - timedelta(days=calendar_days)
        place = bisect_right(self._days, day) - 1
        latest = self._done[place] - from_start if place >= 0 else -1
        return min(units, latest)

    def waits(self, until: int, calendar_days: int, *, from_start: bool) -> list[tuple[int, int]]:
        """Return for each day until a working time its last moment, and when a wait from it ends.

        Parameters
        ----------
        until : int
            [hundredth of a working day]
        calendar_days, from_start
            As of `after`.
        """
        last = self._place_of_start(until)
        ends = [self._done[place] - from_start for place in range(last + 1)]
        return [(end, self.after(end, calendar_days, from_start=from_start)) for end in ends]

    def table(self, units: int, calendar_days: int) -> tuple[Integers, Integers]:
        """Return the days until so many calendar days after a working time, as arrays.

        Parameters
        ----------
        units : int
            [hundredth of a working day]
        calendar_days : int
            Beyond the day on which that is done.

        Returns
        -------
        numbers, done : int64 arrays, shape (n,)
            The ordinal of each worked day, and the working time done by its evening.
        """
        self._place_of_day(self._days[self._place_of_start(units)] + timedelta(calendar_days))
        return np.array([day.toordinal() for day in self._days]), np.array(self._done)

    def _begin(self, place: int) -> int:
        return self._done[place - 1] if place else 0

    def _place_of_start(self, units: int) -> int:
        while not self._done or self._done[-1] <= units:
            self._grow()
        return bisect_right(self._done, units)

    def _place_of_finish(self, units: int) -> int:
        while not self._done or self._done[-1] < units:
            self._grow()
        return bisect_left(self._done, units)

    def _place_of_day(self, day: date) -> int:
        while not self._days or self._days[-1] < day:
            self._grow()
        return bisect_left(self._days, day)

    def _grow(self) -> None:
        day, done = next(self._more)
        self._days.append(day)
        self._done.append(floor(done * UNITS_A_DAY + _HAIR))

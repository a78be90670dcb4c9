"""The longest path through the work for many lengths of each activity at once."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from estimator.scheduling.activities import START, Activity, Link, in_working_order
from estimator.scheduling.waits_in_a_row import with_mornings
from estimator.scheduling.worked_days import UNITS_A_DAY, WorkedDays

Times = npt.NDArray[np.float32]
_HAIR = 0.02  # [hundredth of a working day] far above what a float of 32 bits leaves out


@dataclass(frozen=True, eq=False)
class ManyTimes:
    """When each activity is done, n times; each array has the shape (n,).

    Parameters
    ----------
    starts, finishes : mapping of str to float32 array [hundredth of a working day]
        By code.
    critical : mapping of str to bool array
        By code, in which of the n times a delay would put off the end.
    """

    starts: Mapping[str, Times]
    finishes: Mapping[str, Times]
    critical: Mapping[str, npt.NDArray[np.bool_]]


def many_times(
    activities: Sequence[Activity],
    length_of: Callable[[Activity], Times],
    days: WorkedDays,
) -> ManyTimes:
    """Return when activities are done, for many lengths of each.

    Parameters
    ----------
    activities : sequence of Activity
        With their links, those of few crews included; their own lengths do not count.
    length_of : callable
        Gives the lengths of an activity, shape (n,) [hundredth of a working day].
    days : WorkedDays
        The days of the job, by which waits of the calendar are counted.

    Notes
    -----
    Forward as in `critical_path`. An activity is critical where it ends with the job, or where one
    that is critical begins when this one lets it. Held in 32 bits: half the memory, and a job of a
    thousand days is right to a hundredth of a day.
    """
    path, own = _Path(days), [one.code for one in activities]
    ordered = in_working_order(with_mornings(activities))
    for one in ordered:
        length = length_of(one) if one.code in own else 0.0
        path.add(one, np.asarray(length, dtype=np.float32))
    critical = path.critical(ordered)
    return ManyTimes(
        {code: path.starts[code] for code in own},
        {code: path.finishes[code] for code in own},
        {code: critical[code] for code in own},
    )


class _Path:
    def __init__(self, days: WorkedDays) -> None:
        self.days = days
        self.starts: dict[str, Times] = {}
        self.finishes: dict[str, Times] = {}

    def add(self, one: Activity, length: Times) -> None:
        start = np.zeros_like(length)
        for link in one.links:
            start = np.maximum(start, self.ready(link))
        self.starts[one.code], self.finishes[one.code] = start, start + length

    def ready(self, link: Link) -> Times:
        """Return when a link lets the one that has it begin."""
        from_start = link.from_ == START
        other = (self.starts if from_start else self.finishes)[link.after] + np.float32(link.wait)
        if not link.calendar_days:
            return other
        return self.after(other, link.calendar_days, from_start=from_start)

    def after(self, units: Times, calendar_days: int, *, from_start: bool) -> Times:
        """Return what `WorkedDays.after` gives, for many times at once."""
        numbers, done = self.days.table(int(units.max()) + 1, calendar_days)
        if from_start:
            place = np.searchsorted(done, units + _HAIR, side="right")
        else:
            place = np.searchsorted(done, units - _HAIR, side="left")
        over = np.searchsorted(numbers, numbers[place] + calendar_days, side="left")
        return np.maximum(units, done[over - 1].astype(np.float32))

    def critical(self, ordered: Sequence[Activity]) -> dict[str, npt.NDArray[np.bool_]]:
        end = np.maximum.reduce([self.finishes[one.code] for one in ordered])
        is_critical = {one.code: np.asarray(self.finishes[one.code] == end) for one in ordered}
        for one in reversed(ordered):
            for link in one.links:
                leads = self.ready(link) == self.starts[one.code]
                is_critical[link.after] = is_critical[link.after] | (is_critical[one.code] & leads)
        return is_critical


def calendar_spans(days: WorkedDays, begun: Times, done: Times) -> npt.NDArray[np.int64]:
    """Return the days on the calendar from begin to end, first and last counted [day].

    Parameters
    ----------
    days : WorkedDays
        The days of the job.
    begun, done : float32 array, shape (n,) [hundredth of a working day]
        As `WorkedDays.span` takes them, many at once; work of no length takes the day it begins.
    """
    numbers, by_evening = days.table(int(done.max()) + 1, 0)
    first = np.searchsorted(by_evening, begun + _HAIR, side="right")
    last = np.searchsorted(by_evening, done - _HAIR, side="left")
    return np.asarray(numbers[np.maximum(last, first)] - numbers[first] + 1)


def in_days(units: Times) -> npt.NDArray[np.float64]:
    """Return hundredths of a working day as days."""
    return units.astype(np.float64) / UNITS_A_DAY

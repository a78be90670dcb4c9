"""The days of hold points that are open: when they hold up work, and when who decides is called."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date, timedelta

from estimator.pricing.estimate import Estimate
from estimator.scheduling.icalendar_file import calendar_file
from estimator.scheduling.job_dates import JobSchedule
from estimator.scheduling.noted_days import NOTICE, JobDay
from estimator.tracking.hold_points import HoldPoint

HOLD = "hold"


def hold_days(holds: Iterable[HoldPoint], schedule: JobSchedule, as_of: date) -> tuple[JobDay, ...]:
    """Return the day of each open hold, and of the call before it.

    Parameters
    ----------
    holds : iterable of HoldPoint
        From `open_holds`.
    schedule : JobSchedule
        Of the job.
    as_of : date
        The day on which they are open.

    Notes
    -----
    A hold is on the day on which its work begins; on `as_of` where that has begun, or where nothing
    of the schedule has its code. A call that is late is due on `as_of`.
    """
    begins = {one.code: one.start for one in schedule.items}
    return tuple(day for hold in holds for day in _days(hold, begins.get(hold.code, as_of), as_of))


def books_calendar(
    estimate: Estimate, schedule: JobSchedule, holds: Iterable[HoldPoint], as_of: date
) -> bytes:
    """Return the days of a job as an iCalendar file, with those of its open holds.

    Parameters
    ----------
    estimate, schedule
        As of `calendar_file`.
    holds, as_of
        As of `hold_days`.
    """
    return calendar_file(estimate, schedule, hold_days(holds, schedule, as_of))


def _days(hold: HoldPoint, begin: date, as_of: date) -> Iterator[JobDay]:
    day, key = max(begin, as_of), f"{hold.code} {hold.name}"
    before = f"No more than {hold.allowed:f} may be" if hold.allowed else "Nothing may be"
    text = f"It needs {hold.needs}; {hold.decider} decides. {before} in place until it is passed."
    yield JobDay(day, HOLD, key, f"Hold: {hold.code} {hold.name}", text)
    if hold.notice_days:
        called = max(day - timedelta(hold.notice_days), as_of)
        title = f"Call {hold.decider}: {hold.name}, for {day}"
        yield JobDay(called, NOTICE, f"hold {key}", title, text)

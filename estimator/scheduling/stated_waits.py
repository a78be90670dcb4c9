"""The waits that a scope states, as days: curing, drying, a notice."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta

from estimator.pricing.estimate import Estimate
from estimator.scheduling.activities import START, Link
from estimator.scheduling.activities_of_job import job_activities
from estimator.scheduling.job_dates import JobSchedule
from estimator.scheduling.longest_path import earliest
from estimator.scheduling.worked_days import UNITS_A_DAY, WorkedDays
from estimator.scope.work_order import begin_of, end_of

_ONE_DAY = timedelta(days=1)


@dataclass(frozen=True)
class WaitSpan:
    """The whole days between two pieces of work on which the later one may not begin.

    Parameters
    ----------
    code, after : str
        Of the phase or item that waits, and of what it waits for.
    first, last : date
        Nights, Sundays and holidays counted.
    """

    code: str
    after: str
    first: date
    last: date


def wait_spans(estimate: Estimate, schedule: JobSchedule) -> tuple[WaitSpan, ...]:
    """Return the stated waits that hold work for one whole day or more, in the order of the scope.

    Parameters
    ----------
    estimate : Estimate
        That was scheduled.
    schedule : JobSchedule
        From `job_schedule`.
    """
    return tuple(_Waits(estimate, schedule).spans())


class _Waits:
    """The begins and ends of a job's work, in working time, under the codes of its activities."""

    def __init__(self, estimate: Estimate, schedule: JobSchedule) -> None:
        self.activities = job_activities(estimate)
        self.days = WorkedDays(schedule.calendar, schedule.start)
        self.starts: dict[str, int] = {}
        self.finishes: dict[str, int] = {}
        self.plain: dict[str, str] = {}
        for one in (*schedule.phases, *schedule.items):
            begun = round(one.begin_days * UNITS_A_DAY)
            done = begun + round(one.days * UNITS_A_DAY)
            for code in (one.code, begin_of(one.code), end_of(one.code)):
                self.plain[code] = one.code
                self.starts[code] = done if code == end_of(one.code) else begun
                self.finishes[code] = begun if code == begin_of(one.code) else done

    def spans(self) -> Iterator[WaitSpan]:
        for one in self.activities:
            for link in one.links:
                if link.wait or link.calendar_days:
                    first, last = self.between(link, self.starts[one.code])
                    if first <= last:
                        yield WaitSpan(self.plain[one.code], self.plain[link.after], first, last)

    def between(self, link: Link, begun: int) -> tuple[date, date]:
        """Return the first day after the other ends or begins, and the last before the begin."""
        other = self.plain[link.after]
        if self.starts[other] == self.finishes[other]:  # of no length: done on the day it begins
            link = replace(link, from_=START)
        ready = earliest(link, self.starts, self.finishes, self.days)
        if link.from_ == START:
            since = self.days.first_day(self.starts[link.after])
        else:
            since = self.days.last_day(self.finishes[link.after])
        return since + _ONE_DAY, self.days.first_day(min(ready, begun)) - _ONE_DAY

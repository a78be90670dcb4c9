"""The first day of an item, in the schedule of the whole job."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from estimator.production.working_calendar import WorkingCalendar, finish
from estimator.studies.comparison.rates_by_dates import DatedJob


@dataclass(frozen=True)
class ItemStart:
    """When an item begins, and by which calendar it goes on.

    Parameters
    ----------
    day : date
        Its first day of work in the schedule of the whole job, as the scope has it.
    job : DatedJob
        The whole job.
    place : int
        Of the item in the scope.
    """

    day: date
    job: DatedJob
    place: int

    @property
    def calendar(self) -> WorkingCalendar:
        """The days that are worked."""
        return self.job.schedule.calendar

    def finish(self, days: float) -> date:
        """Return the last day of work that takes so many working days from there."""
        return finish(self.calendar, self.day, days).last_day if days > 0.0 else self.day


def item_start(job: DatedJob | None, item_code: str) -> ItemStart | None:
    """Return when an item begins; None where its job has no dates.

    Parameters
    ----------
    job : DatedJob or None
        As of `dated_job`.
    item_code : str
        Cost code.
    """
    if job is None:
        return None
    for place, one in enumerate(job.schedule.items):
        if one.code == item_code:
            return ItemStart(one.start, job, place)
    return None

"""When the work of each method is done, by the calendar and the schedule of the whole job."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from estimator.assemblies.tables import Tables
from estimator.errors import InputFaulty
from estimator.pricing.estimate import estimate_by_the_day
from estimator.production.working_calendar import WorkingCalendar, finish
from estimator.scheduling.job_dates import job_schedule
from estimator.scope.job_calendar import NO_CALENDAR
from estimator.scope.scope import Scope

if TYPE_CHECKING:
    from estimator.studies.comparison.changing_course import ChangedCourse
    from estimator.studies.comparison.comparison import Comparison

_MOST_ITEMS = 300
_EFFORT = 2.0


@dataclass(frozen=True)
class ItemStart:
    """When an item begins, and by which calendar it goes on.

    Parameters
    ----------
    day : date
        Its first day of work in the schedule of the whole job, as the scope has it.
    calendar : WorkingCalendar
        The days that are worked.
    """

    day: date
    calendar: WorkingCalendar

    def finish(self, days: float) -> date:
        """Return the last day of work that takes so many working days from there."""
        return finish(self.calendar, self.day, days).last_day if days > 0.0 else self.day


def item_start(scope: Scope, tables: Tables, on: date, item_code: str) -> ItemStart | None:
    """Return when an item begins; None where the scope has no calendar, or it cannot be said.

    Parameters
    ----------
    scope, tables, on, item_code
        As of `compare`.
    """
    if scope.calendar == NO_CALENDAR or (scope.crew and len(scope.items) > _MOST_ITEMS):
        return None
    try:
        dates = job_schedule(estimate_by_the_day(scope, tables, on), effort=_EFFORT)
    except InputFaulty:  # another item cannot be priced: the methods still can be compared
        return None
    days = {one.code: one.start for one in dates.items}
    return ItemStart(days[item_code], dates.calendar) if item_code in days else None


def date_sentences(comparison: Comparison, course: ChangedCourse | None) -> Iterator[str]:
    """Yield when each method is done, and the rest of work that is under way.

    Parameters
    ----------
    comparison : Comparison
        With the start of its item.
    course : ChangedCourse or None
        Of work that is under way.
    """
    start = comparison.start
    if start is None:
        return
    ends = "; ".join(
        f"{one.method.name}, by {start.finish(one.days)}" for one in comparison.possible
    )
    yield f"from the morning of {start.day}, the day that the schedule has it begin: {ends}"
    if course is not None:
        done = course.now.pace.days
        ends = "; ".join(
            f"{way.method.name}, by {start.finish(done + way.days)}"
            for way in course.ways
            if not way.method.obstacle
        )
        yield f"the rest, with {done} days worked from that morning on: {ends}"

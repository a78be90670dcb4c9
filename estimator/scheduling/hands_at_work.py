"""How many of each crew are at work on each day, as the schedule has it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from itertools import accumulate, pairwise
from types import MappingProxyType

from estimator.money import exact_arithmetic
from estimator.pricing.estimate import Estimate
from estimator.production.working_calendar import is_working_day
from estimator.scheduling.activities import Activity
from estimator.scheduling.activities_of_job import PARTS_OF_ONE, job_activities
from estimator.scheduling.job_dates import JobSchedule
from estimator.scheduling.worked_days import UNITS_A_DAY, WorkedDays

_ONE_DAY = timedelta(days=1)


@dataclass(frozen=True)
class CrewLoad:
    """How many of a crew or machine are at work, day by day.

    Parameters
    ----------
    resource, name : str
        As in the tables.
    there : int or None
        How many there are; None for as many as the work takes.
    by_day : mapping of date to Decimal
        The most that are at work at one time of the day; half a foreman is 0.5. Days on which none
        is at work are not in it.
    """

    resource: str
    name: str
    there: int | None
    by_day: Mapping[date, Decimal]

    @property
    def most(self) -> Decimal:
        """The most at one time of the whole job."""
        return max(self.by_day.values())

    @property
    def words(self) -> str:
        """The most at one time, and of how many: `up to 3 of 4`."""
        of = "" if self.there is None else f" of {self.there}"
        return f"up to {self.most.normalize():f}{of}"


@exact_arithmetic
def crew_load(estimate: Estimate, schedule: JobSchedule) -> tuple[CrewLoad, ...]:
    """Return how many of each crew are at work day by day, by the name of the resource.

    Parameters
    ----------
    estimate : Estimate
        That was scheduled.
    schedule : JobSchedule
        From `job_schedule`.

    Notes
    -----
    What runs along others takes no hands from them, so it is not counted.
    """
    begun = {one.code: one.begin_days for one in (*schedule.items, *schedule.phases)}
    changes: dict[str, dict[int, int]] = {}
    for one in job_activities(estimate):
        if one.length:
            _note(changes, one, round(begun[one.code] * UNITS_A_DAY))
    days = WorkedDays(schedule.calendar, schedule.start)
    name_of = estimate.tables.rates.name_of
    loads = [
        CrewLoad(
            resource, name_of(resource), schedule.there.get(resource), _by_day(own, days, schedule)
        )
        for resource, own in changes.items()
    ]
    return tuple(sorted(loads, key=lambda one: (one.name, one.resource)))


def _note(changes: dict[str, dict[int, int]], one: Activity, begun: int) -> None:
    """Note by how many hands each moment at which a piece of work begins or ends changes them."""
    for resource, parts in one.needs.items():
        own = changes.setdefault(resource, {})
        for moment, more in ((begun, parts), (begun + one.length, -parts)):
            own[moment] = own.get(moment, 0) + more


def _by_day(
    changes: Mapping[int, int], days: WorkedDays, schedule: JobSchedule
) -> Mapping[date, Decimal]:
    moments = sorted(changes)
    most: dict[date, int] = {}
    levels = accumulate(changes[moment] for moment in moments)
    for (begun, done), level in zip(pairwise(moments), levels, strict=False):
        if level:
            for day in _worked(schedule, days.first_day(begun), days.last_day(done)):
                most[day] = max(level, most.get(day, 0))
    return MappingProxyType({day: Decimal(most[day]) / PARTS_OF_ONE for day in sorted(most)})


def _worked(schedule: JobSchedule, first: date, last: date) -> Iterable[date]:
    days = (first + number * _ONE_DAY for number in range((last - first).days + 1))
    return (day for day in days if is_working_day(schedule.calendar, day))

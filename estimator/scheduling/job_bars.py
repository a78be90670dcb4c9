"""A job as bars: one row a phase or item with its words, its waits, its crews and its rent."""

from __future__ import annotations

from dataclasses import dataclass

from estimator.pricing.estimate import Estimate
from estimator.production.working_calendar import WorkingCalendar, next_working_day
from estimator.scheduling.hands_at_work import CrewLoad, crew_load
from estimator.scheduling.job_dates import Dated, JobSchedule
from estimator.scheduling.rent_by_dates import RentSpan, rent_spans
from estimator.scheduling.stated_waits import WaitSpan, wait_spans
from estimator.scope.work_order import is_whole


@dataclass(frozen=True)
class BarRow:
    """A phase or an item as a bar.

    Parameters
    ----------
    work : Dated
        With its dates.
    is_phase : bool
        Else an item.
    waits : tuple of WaitSpan
        The stated waits that hold it.
    """

    work: Dated
    is_phase: bool
    waits: tuple[WaitSpan, ...] = ()

    @property
    def words(self) -> str:
        """Whether the finish date depends on it, or how late it may be."""
        if self.work.along:
            return f"along {', '.join(self.work.along)}"
        if not self.work.days:
            return "takes no days"
        if self.work.is_critical:
            return "critical"
        return f"float {self.work.float_days:.1f} days"


@dataclass(frozen=True)
class JobBars:
    """A job as bars.

    Parameters
    ----------
    project : str
        Its name.
    schedule : JobSchedule
        Its dates.
    rows : tuple of BarRow
        Each phase, and after it its items, unless they are dated with their phase.
    load : tuple of CrewLoad
        How many of each member of the crews are at work, machines among them.
    rents : tuple of RentSpan
        Rented machines.
    assumed : str
        See `assumed_calendar`.
    """

    project: str
    schedule: JobSchedule
    rows: tuple[BarRow, ...]
    load: tuple[CrewLoad, ...]
    rents: tuple[RentSpan, ...]
    assumed: str = ""

    @property
    def is_one_year(self) -> bool:
        """Whether the job begins and ends in the same year, so that days may go without it."""
        return self.schedule.start.year == self.schedule.finish.year

    @property
    def crews(self) -> tuple[CrewLoad, ...]:
        """The load of all that is not rented."""
        rented = {one.resource for one in self.rents}
        return tuple(one for one in self.load if one.resource not in rented)

    @property
    def rents_by_machine(self) -> tuple[tuple[RentSpan, ...], ...]:
        """The rents of each machine, by the first."""
        by_machine: dict[str, list[RentSpan]] = {}
        for one in self.rents:
            by_machine.setdefault(one.resource, []).append(one)
        return tuple(tuple(spans) for spans in by_machine.values())


def bars_of(estimate: Estimate, schedule: JobSchedule) -> JobBars:
    """Return a job as bars.

    Parameters
    ----------
    estimate : Estimate
        That was scheduled.
    schedule : JobSchedule
        From `job_schedule`.
    """
    waits: dict[str, list[WaitSpan]] = {}
    for one in wait_spans(estimate, schedule):
        waits.setdefault(one.code, []).append(one)
    items = {one.code: one for one in schedule.items}
    rows: list[BarRow] = []
    for phase, dated in zip(estimate.scope.phases, schedule.phases, strict=True):
        rows.append(BarRow(dated, True, tuple(waits.get(phase.code, ()))))
        own = () if is_whole(phase) else phase.items
        rows += (BarRow(items[one.code], False, tuple(waits.get(one.code, ()))) for one in own)
    return JobBars(
        estimate.scope.project,
        schedule,
        tuple(rows),
        crew_load(estimate, schedule),
        rent_spans(estimate, schedule),
        assumed_calendar(estimate, schedule),
    )


def assumed_calendar(estimate: Estimate, schedule: JobSchedule) -> str:
    """Return what is assumed where the scope states no calendar, or no first day; else nothing.

    Parameters
    ----------
    estimate : Estimate
        That was scheduled.
    schedule : JobSchedule
        From `job_schedule`.
    """
    scope = estimate.scope
    begin = next_working_day(schedule.calendar, estimate.on)
    is_pricing_date = scope.first_day is None and schedule.start == begin
    since = f"from {begin} on, as it is priced on {estimate.on}"
    if scope.calendar.working is None and schedule.calendar == WorkingCalendar():
        days = "work is on Monday to Friday, except federal holidays"
        return f"No calendar is stated: {days}{f', {since}' if is_pricing_date else ''}."
    return f"No first day is stated: work is {since}." if is_pricing_date else ""

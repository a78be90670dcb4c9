"""When each phase and item of an estimate is done, by the calendar and with the crews there are."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from types import MappingProxyType

from estimator.errors import Faults, PhaseOrderFaulty, did_you_mean, quoted
from estimator.pricing.estimate import Estimate
from estimator.production.working_calendar import WorkingCalendar
from estimator.scheduling.activities import Activity
from estimator.scheduling.activities_of_job import in_parts, item_days, job_activities
from estimator.scheduling.crew_chain import with_crew_links
from estimator.scheduling.longest_path import critical_path, earliest
from estimator.scheduling.scarce_crews import USUAL_EFFORT, shortest_order
from estimator.scheduling.worked_days import UNITS_A_DAY, WorkedDays
from estimator.scope.job_crew import crew_resources, members_at_work
from estimator.scope.scope import Item, Phase
from estimator.scope.work_order import begin_of, end_of, full_code, is_whole


@dataclass(frozen=True)
class Dated:
    """When a phase or an item is done.

    Parameters
    ----------
    code, name : str
        As in the scope.
    start, finish : date
        First and last day of work; of an item in a phase that is dated as a whole, of the phase.
    begin_days : float
        [working day] From the start of the job to its begin.
    days : float
        [working day] From its begin to its end.
    work_days : float
        [working day] Of the work itself: of an item by its pace, of a phase of all its items.
    float_days : float
        [working day] By how much it may be late without putting off the end, the crews in their
        order.
    path_float_days : float
        [working day] The same with crews without limit.
    waits_for : tuple of str
        Items whose crew it waits for, beyond what the order asks.
    along : tuple of str
        What it runs beside, if it does.
    """

    code: str
    name: str
    start: date
    finish: date
    begin_days: float
    days: float
    work_days: float
    float_days: float
    path_float_days: float
    waits_for: tuple[str, ...] = ()
    along: tuple[str, ...] = ()

    @property
    def is_critical(self) -> bool:
        """Whether its delay would put off the end of the job, by the order or by the crews.

        What runs along other work never does: that work is, if any.
        """
        return self.float_days == 0.0 and not self.along


@dataclass(frozen=True)
class JobSchedule:
    """The dates of a job.

    Parameters
    ----------
    start, finish : date
        First and last day of work.
    days : float
        [working day] From the start to the end.
    phases, items : tuple of Dated
        Every phase and every item, in the order of the scope.
    there : mapping of str to int
        The crews and machines that are few, by resource.
    at_least_days : float
        [working day] No order ends sooner.
    path_days : float
        [working day] From the start to the end with crews without limit.
    chain : tuple of str
        The items, and phases that are dated as a whole, that put off the end if they are late, in
        the order of their dates: the critical path where crews have no limit.
    calendar : WorkingCalendar
        The days that are worked.
    in_order : tuple of Activity
        The work with all its links, those of the crews in their order included.
    """

    start: date
    finish: date
    days: float
    phases: tuple[Dated, ...]
    items: tuple[Dated, ...]
    there: Mapping[str, int]
    at_least_days: float
    path_days: float
    chain: tuple[str, ...]
    calendar: WorkingCalendar
    in_order: tuple[Activity, ...] = ()

    @property
    def is_shortest(self) -> bool:
        """Whether it was proven that no order ends sooner."""
        return self.days <= self.at_least_days

    @property
    def gap(self) -> float:
        """By how much a shorter order might still end sooner, as a share of this one's length."""
        return (self.days - self.at_least_days) / self.days if self.days else 0.0


def job_schedule(
    estimate: Estimate,
    calendar: WorkingCalendar | None = None,
    start: date | None = None,
    there: Mapping[str, int] | None = None,
    effort: float = USUAL_EFFORT,
) -> JobSchedule:
    """Return the dates of a job.

    Parameters
    ----------
    estimate : Estimate
        Priced; its items have their days at their own pace.
    calendar : WorkingCalendar or None
        The days that are worked; None for what the scope states.
    start : date or None
        First day of work; if it is not worked, the next that is. None for what the scope states,
        else the pricing date.
    there : mapping of str to int, or None
        How many of each resource there are, where they are few; a resource that is not named is
        not scarce. None for the crew that the scope states.
    effort : float
        As of `shortest_order`.

    Raises
    ------
    PhaseOrderFaulty
        If an item needs more than there is, or no crew has such a resource.
    CalendarFaulty
        If the work does not end on the calendar.
    """
    working = calendar or estimate.scope.working_calendar
    few = estimate.scope.crew if there is None else there
    check_enough(estimate, few)
    days = WorkedDays(working, start or estimate.scope.first_day or estimate.on)
    return _Dates(estimate, days, few, effort).schedule(working)


def check_enough(estimate: Estimate, there: Mapping[str, int]) -> None:
    """Refuse a crew that is smaller than an item needs.

    Parameters
    ----------
    estimate, there
        As of `job_schedule`.

    Raises
    ------
    PhaseOrderFaulty
        With every item that needs more than there is, and every resource that no crew has.
    """
    faults, known = Faults(), crew_resources(estimate.tables)
    for resource in there:
        if resource not in known:
            what = f"no crew has {quoted(resource)}"
            faults.add("crew", what, did_you_mean(resource, known))
    for item in estimate.scope.items:
        for resource, number in members_at_work(item.method, estimate.tables).items():
            if number > there.get(resource, number):
                what = f"needs {number:f} of {quoted(resource)}, and the job has {there[resource]}"
                faults.add(f"item {item.code}", what, "hire more, or split the work")
    faults.raise_if_any(PhaseOrderFaulty)


class _Dates:
    """The times of a job's activities, and what they are as dates."""

    def __init__(
        self,
        estimate: Estimate,
        days: WorkedDays,
        there: Mapping[str, int],
        effort: float,
    ) -> None:
        self.estimate, self.days, self.there = estimate, days, there
        activities = job_activities(estimate)
        self.activities = {one.code: one for one in activities}
        self.free = critical_path(activities, days)
        self.linked, self.table, self.at_least = self.activities, self.free, self.free.finish
        if there:
            order = shortest_order(activities, in_parts(there), effort, days=days)
            linked = with_crew_links(activities, order.starts, in_parts(there))
            self.linked = {one.code: one for one in linked}
            self.table = critical_path(linked, days)
            self.at_least = min(order.at_least, self.table.finish)
        self.work_days = item_days(estimate)

    def schedule(self, calendar: WorkingCalendar) -> JobSchedule:
        end = self.table.finish
        phases = tuple(self.phase(one) for one in self.estimate.scope.phases)
        return JobSchedule(
            self.days.start,
            # What takes no time may stand on the day after the last of work, once a wait is over.
            max((one.finish for one in phases), default=self.days.start),
            end / UNITS_A_DAY,
            phases=phases,
            items=tuple(self.items()),
            there=MappingProxyType(dict(self.there)),
            at_least_days=self.at_least / UNITS_A_DAY,
            path_days=self.free.finish / UNITS_A_DAY,
            chain=tuple(self.chain()),
            calendar=calendar,
            in_order=tuple(self.linked.values()),
        )

    def chain(self) -> Iterator[str]:
        """Yield what is critical and takes time, in the order of its dates."""
        for code in sorted(self.activities, key=self.table.starts.__getitem__):
            if self.activities[code].length and not self.table.total_float[code]:
                yield code

    def phase(self, phase: Phase) -> Dated:
        along = phase.plan.along
        begin, end = begin_of(phase.code), end_of(phase.code)
        work = sum(self.work_days[item.code] for item in phase.items)
        if phase.plan.days is not None:
            work = phase.plan.days.likely
        waits = () if phase.plan.days is None else self.waits_for(phase.code)
        return self.dated(phase, begin, end, work, along, waits)

    def items(self) -> Iterator[Dated]:
        for phase in self.estimate.scope.phases:
            for item in phase.items:
                work = self.work_days[item.code]
                if is_whole(phase):
                    along = phase.plan.along
                    begin, end = begin_of(phase.code), end_of(phase.code)
                    yield self.dated(item, begin, end, work, along)
                else:
                    along = tuple(full_code(code, phase.code) for code in item.plan.along)
                    waits = self.waits_for(item.code)
                    yield self.dated(item, item.code, item.code, work, along, waits)

    def dated(
        self,
        of: Phase | Item,
        begin: str,
        end: str,
        work_days: float,
        along: tuple[str, ...],
        waits_for: tuple[str, ...] = (),
    ) -> Dated:
        begun = min(map(self.start_of, along)) if along else self.table.starts[begin]
        done = max(self.table.finishes[end], begun)
        first, last = self.days.span(begun, done)
        return Dated(
            of.code,
            of.name,
            first,
            last,
            begun / UNITS_A_DAY,
            (done - begun) / UNITS_A_DAY,
            work_days,
            self.table.total_float[end] / UNITS_A_DAY,
            self.free.total_float[end] / UNITS_A_DAY,
            waits_for,
            along,
        )

    def start_of(self, code: str) -> int:
        begin = begin_of(code)
        return self.table.starts[begin if begin in self.table.starts else code]

    def waits_for(self, code: str) -> tuple[str, ...]:
        """Return from whom the crew of a piece of work comes, if it begins later for them."""
        own, linked = self.activities[code], self.linked[code]
        start, finishes = self.table.starts[code], self.table.finishes
        own_links = (earliest(one, self.table.starts, finishes, self.days) for one in own.links)
        if start <= max(own_links, default=0):
            return ()
        come_from = [link.after for link in linked.links[len(own.links) :]]
        return tuple(dict.fromkeys(one for one in come_from if finishes[one] == start))

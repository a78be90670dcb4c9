"""When each phase and item of an estimate is done, by the calendar and with the crews there are."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from math import ceil
from types import MappingProxyType

from estimator.pricing.estimate import Estimate
from estimator.production.working_calendar import (
    WorkingCalendar,
    finish,
    next_working_day,
)
from estimator.scheduling.activities import Activity, Link
from estimator.scheduling.longest_path import critical_path
from estimator.scheduling.scarce_crews import shortest_order
from estimator.scope.scope import Item, Phase

UNITS_A_DAY = 100
_BEGINS, _ENDS = "begins ", "ends "


@dataclass(frozen=True)
class Dated:
    """When a phase or an item is done.

    Parameters
    ----------
    code, name : str
        As in the scope.
    start, finish : date
        First and last day of work.
    days : float
        [working day] Of work, one item after the other.
    float_days : float
        [working day] By how much it may be late without putting off the end, with crews without
        limit.
    waits_for : tuple of str
        Items whose crew it waits for, beyond what the order asks.
    """

    code: str
    name: str
    start: date
    finish: date
    days: float
    float_days: float
    waits_for: tuple[str, ...] = ()

    @property
    def is_critical(self) -> bool:
        """Whether its delay would put off the end of the job."""
        return self.float_days == 0.0


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
        In the order of the scope.
    there : mapping of str to int
        The crews and machines that are few, by resource.
    at_least_days : float
        [working day] No order ends sooner.
    """

    start: date
    finish: date
    days: float
    phases: tuple[Dated, ...]
    items: tuple[Dated, ...]
    there: Mapping[str, int]
    at_least_days: float

    @property
    def is_shortest(self) -> bool:
        """Whether it was proven that no order ends sooner."""
        return self.days == self.at_least_days


def job_activities(estimate: Estimate) -> list[Activity]:
    """Return the items of an estimate as activities, in hundredths of a working day.

    Parameters
    ----------
    estimate : Estimate
        Of a scope whose phases say what they wait for.

    Notes
    -----
    The items of a phase follow one another in the order of the scope. A phase that does not say
    what it waits for waits for the phase before it. A phase that states its duration is one
    activity of its likely length, which keeps the crews of all its items busy. Days are rounded up
    to the hundredth.
    """
    activities: list[Activity] = []
    phases = estimate.scope.phases
    codes = (item.code for item in estimate.scope.items)
    days = dict(zip(codes, estimate.priced.days.tolist(), strict=True))
    for number, phase in enumerate(phases):
        before = (phases[number - 1].code,) if number else ()
        after = before if phase.plan.after is None else phase.plan.after
        waits = tuple(Link(f"{_ENDS}{code}") for code in after)
        activities.append(Activity(f"{_BEGINS}{phase.code}", phase.name, 0, waits))
        activities += _in_phase(estimate, phase, days)
    return activities


def _in_phase(estimate: Estimate, phase: Phase, days: Mapping[str, float]) -> Iterator[Activity]:
    begun = f"{_BEGINS}{phase.code}"
    if phase.plan.days is not None:
        length = ceil(phase.plan.days.likely * UNITS_A_DAY)
        needs = _most(_needs(estimate, item) for item in phase.items)
        yield Activity(phase.code, phase.name, length, (Link(begun),), needs)
        last = phase.code
    else:
        last = begun
        for item in phase.items:
            length = ceil(_item_days(item, days) * UNITS_A_DAY - 1e-6)
            yield Activity(item.code, item.name, length, (Link(last),), _needs(estimate, item))
            last = item.code
    yield Activity(f"{_ENDS}{phase.code}", phase.name, 0, (Link(last),))


def _item_days(item: Item, days: Mapping[str, float]) -> float:
    if item.stated is not None and item.stated.days is not None:
        return float(item.stated.days.base_value)
    return days[item.code]


def _needs(estimate: Estimate, item: Item) -> Mapping[str, int]:
    crew = estimate.tables.crews.get(item.method.crew)
    members = crew.members if crew else ()
    return MappingProxyType({one.resource: ceil(one.number) for one in members})


def _most(needs: Iterator[Mapping[str, int]]) -> Mapping[str, int]:
    most: dict[str, int] = {}
    for one in needs:
        for resource, number in one.items():
            most[resource] = max(most.get(resource, 0), number)
    return MappingProxyType(most)


def job_schedule(
    estimate: Estimate,
    calendar: WorkingCalendar,
    start: date,
    there: Mapping[str, int] = MappingProxyType({}),
) -> JobSchedule:
    """Return the dates of a job.

    Parameters
    ----------
    estimate : Estimate
        Priced; its items have their days at their own pace.
    calendar : WorkingCalendar
        The days that are worked.
    start : date
        First day of work; if it is not worked, the next that is.
    there : mapping of str to int
        How many of each resource there are, where they are few; a resource that is not named is
        not scarce.

    Raises
    ------
    PhaseOrderFaulty
        If phases wait for each other or for one that is not there, or an item needs more than
        there is.
    CalendarFaulty
        If the work does not end on the calendar.
    """
    activities = job_activities(estimate)
    free = critical_path(activities)
    order = shortest_order(activities, there) if there else None
    starts = order.starts if order else free.starts
    finishes = order.finishes if order else free.finishes
    dates = _Dates(calendar, start)
    waits = _waits(activities, starts, finishes, there)

    def dated(code: str, name: str, begins: str, ends: str) -> Dated:
        return Dated(
            code,
            name,
            dates.first_day(starts[begins]),
            dates.last_day(starts[begins], finishes[ends]),
            (finishes[ends] - starts[begins]) / UNITS_A_DAY,
            free.total_float[ends] / UNITS_A_DAY,
            waits.get(code, ()),
        )

    work = [one for one in activities if not one.code.startswith((_BEGINS, _ENDS))]
    phases = estimate.scope.phases
    end = max(finishes.values(), default=0)
    return JobSchedule(
        start=dates.first_day(0),
        finish=dates.last_day(0, end),
        days=end / UNITS_A_DAY,
        phases=tuple(
            dated(one.code, one.name, _BEGINS + one.code, _ENDS + one.code) for one in phases
        ),
        items=tuple(dated(one.code, one.name, one.code, one.code) for one in work),
        there=MappingProxyType(dict(there)),
        at_least_days=(order.at_least if order else end) / UNITS_A_DAY,
    )


@dataclass(frozen=True)
class _Dates:
    """Working time from the start of the job as dates."""

    calendar: WorkingCalendar
    start: date

    def first_day(self, units: int) -> date:
        """Return the day on which work begins that waits so long."""
        if not units:
            return next_working_day(self.calendar, self.start)
        return finish(self.calendar, self.start, (units + 0.5) / UNITS_A_DAY).last_day

    def last_day(self, begun: int, units: int) -> date:
        """Return the day on which work ends; work of no length ends on the day it begins."""
        if units == begun:
            return self.first_day(begun)
        return finish(self.calendar, self.start, units / UNITS_A_DAY).last_day


def _waits(
    activities: Sequence[Activity],
    starts: Mapping[str, int],
    finishes: Mapping[str, int],
    there: Mapping[str, int],
) -> Mapping[str, tuple[str, ...]]:
    """Return for what begins later than its order asks whose crew it waits for."""
    waits = {}
    for one in activities:
        ready = max((finishes[link.after] + link.wait for link in one.links), default=0)
        few = {crew for crew in one.needs if crew in there}
        if starts[one.code] > ready and few:
            waits[one.code] = tuple(
                other.code
                for other in activities
                if finishes[other.code] == starts[one.code] and few & other.needs.keys()
            )
    return waits


@dataclass(frozen=True)
class OneMore:
    """What one more of a crew or machine is worth.

    Parameters
    ----------
    resource : str
        One more of this.
    days : float
        [working day] By which the job ends sooner.
    worth : float
        [$] At the worth of a day that the scope states; what the one more costs is not in it.
    is_proven : bool
        Whether no order ends sooner, with and without the one more; else both are the best found.
    """

    resource: str
    days: float
    worth: float
    is_proven: bool


def one_more(estimate: Estimate, there: Mapping[str, int], day_worth: float) -> list[OneMore]:
    """Return what one more of each scarce resource is worth, the most days first.

    Parameters
    ----------
    estimate, there
        As for `job_schedule`.
    day_worth : float
        [$/day] What a day sooner is worth.
    """
    activities = job_activities(estimate)
    now = shortest_order(activities, there)
    ways = []
    for resource, number in there.items():
        then = shortest_order(activities, {**there, resource: number + 1})
        sooner = max(now.finish - then.finish, 0)  # what was found before can still be done
        days, is_proven = sooner / UNITS_A_DAY, now.is_shortest and then.is_shortest
        ways.append(OneMore(resource, days, days * day_worth, is_proven))
    return sorted(ways, key=lambda one: -one.days)

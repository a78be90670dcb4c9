"""The rates of each method by the dates of the job: as the estimate would have them.

The rest of the job stays at its dates, as it is written. A method's machines are rented for the
span that they would stand, together with those of the other work, and its prices are moved to the
middle of the phase, where the scope says so: the chosen method then costs what the item costs in
the estimate, to the cent.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date

from estimator.assemblies.tables import Tables
from estimator.errors import InputFaulty
from estimator.pricing.engine import PricedGroups
from estimator.pricing.estimate import Estimate, estimate_by_the_day
from estimator.pricing.priced_lines import PricedLines
from estimator.production.working_calendar import finish
from estimator.rates.resources import ResourceRate
from estimator.scheduling.dated_estimate import DATED_EFFORT, MOST_ITEMS, dated_crew
from estimator.scheduling.dated_rents import has_rents, lines_by_dates
from estimator.scheduling.dated_times import has_dated_times, with_dated_times
from estimator.scheduling.job_dates import Dated, JobSchedule, job_schedule
from estimator.scheduling.midpoint_prices import lines_at_midpoints
from estimator.scope.job_calendar import NO_CALENDAR
from estimator.scope.methods.method import Method
from estimator.scope.scope import Item, Scope
from estimator.scope.work_order import is_whole

RatesByLine = Mapping[int, ResourceRate]


@dataclass(frozen=True)
class DatedJob:
    """A job with the dates that its price goes by.

    Parameters
    ----------
    estimate : Estimate
        As it is written, machines by the day.
    schedule : JobSchedule
        Of it.
    priced : PricedGroups
        Of its scope, and of each that was priced since.
    """

    estimate: Estimate
    schedule: JobSchedule
    priced: PricedGroups

    def rates(self, item: Item, method: Method) -> RatesByLine:
        """Return the rates that the dates change for one method of an item, by number of line.

        Parameters
        ----------
        item : Item
            Of the scope.
        method : Method
            One of its methods.

        Notes
        -----
        None of a job of more than `MOST_ITEMS` items: each method prices the whole job.
        """
        scope = self.estimate.scope
        if len(scope.items) > MOST_ITEMS:
            return {}
        place = [one.code for one in scope.items].index(item.code)
        chosen = self._with(replace(item, choice=method.name))
        before = estimate_by_the_day(chosen, self.estimate.tables, self.estimate.on, self.priced)
        schedule = self.schedule
        if method.name != item.method.name:
            schedule = self._lasting(place, float(before.priced.days[place]))
        return dict(_changed(before.priced.lines, self._by_dates(before, schedule), place))

    def _with(self, item: Item) -> Scope:
        phases = tuple(
            replace(
                phase, items=tuple(item if one.code == item.code else one for one in phase.items)
            )
            for phase in self.estimate.scope.phases
        )
        changed = replace(self.estimate.scope, phases=phases)
        return with_dated_times(changed, self.schedule) if has_dated_times(changed) else changed

    def _lasting(self, place: int, days: float) -> JobSchedule:
        """Return the schedule with an item of so many days from its start, all else as it is."""
        items = list(self.schedule.items)
        if days > 0.0 and not self._is_dated_with_others(items[place]):
            last = finish(self.schedule.calendar, items[place].start, days).last_day
            items[place] = replace(items[place], finish=last)
        return replace(self.schedule, items=tuple(items))

    def _is_dated_with_others(self, item: Dated) -> bool:
        phases = {phase.code: phase for phase in self.estimate.scope.phases}
        return bool(item.along) or is_whole(phases[item.code.partition(".")[0]])

    def _by_dates(self, estimate: Estimate, schedule: JobSchedule) -> PricedLines:
        lines, escalation = estimate.priced.lines, estimate.scope.calendar.escalation
        if has_rents(estimate):
            lines = lines_by_dates(estimate, schedule)
        if escalation is not None:
            rented = replace(estimate, priced=replace(estimate.priced, lines=lines))
            lines = lines_at_midpoints(rented, self.schedule, escalation)
        return lines


def dated_job(scope: Scope, tables: Tables, on: date) -> DatedJob | None:
    """Return a job with its dates; None where it has no calendar, or they cannot be said.

    Parameters
    ----------
    scope, tables, on
        As of `compare`.
    """
    if scope.calendar == NO_CALENDAR or (scope.crew and len(scope.items) > MOST_ITEMS):
        return None
    priced = PricedGroups()
    try:
        estimate = estimate_by_the_day(scope, tables, on, priced)
        schedule = job_schedule(estimate, there=dated_crew(scope), effort=DATED_EFFORT)
    except InputFaulty:  # another item cannot be priced: the methods still can be compared
        return None
    return DatedJob(estimate, schedule, priced)


def _changed(
    before: PricedLines, after: PricedLines, place: int
) -> Iterator[tuple[int, ResourceRate]]:
    """Yield the lines of an item whose rate is another, with that rate."""
    for row in (after.item == place).nonzero()[0].tolist():
        rate = after.rates[after.kind_of_line[row]]
        if rate is not before.rates[before.kind_of_line[row]]:
            yield int(after.number[row]), rate

"""Times that last as long as other work: what stands along it is paid until it is done."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import date
from fractions import Fraction

from estimator.errors import how_many
from estimator.pricing.estimate import Estimate
from estimator.quantity.units import unit
from estimator.scheduling.job_dates import Dated, JobSchedule
from estimator.scope.input_value import AS_LONG, UNTIL, InputValue
from estimator.scope.scope import Item, Scope

_TIME = unit("day").dimension


def has_dated_times(scope: Scope) -> bool:
    """Whether some input lasts as long as other work."""
    return any(item.lasts_along for item in scope.items)


def with_dated_times(scope: Scope, schedule: JobSchedule) -> Scope:
    """Return a scope in which each time along other work has its days.

    Parameters
    ----------
    scope : Scope
        Its inputs of toilets, fences, scaffolds and the like may be `along`.
    schedule : JobSchedule
        Of it: from the first day of the work along which they run to its last, both counted; or
        from the first day of the item to the last of the work until which they are needed.

    Notes
    -----
    What runs along other work takes no time of its own, so the dates stay what they are.
    """
    dates = {one.code: one for one in (*schedule.phases, *schedule.items)}
    return with_times(scope, lambda item: _days_of(item, dates))


def with_times(scope: Scope, time_of: Callable[[Item], InputValue]) -> Scope:
    """Return a scope in which each time along other work is what it is said to be.

    Parameters
    ----------
    scope : Scope
        As of `with_dated_times`.
    time_of : callable
        Gives the time of an item that has one.
    """
    phases = (
        replace(phase, items=tuple(_with_time(item, time_of) for item in phase.items))
        for phase in scope.phases
    )
    return replace(scope, phases=tuple(phases))


def planned_days(estimate: Estimate, schedule: JobSchedule) -> dict[str, tuple[date, date]]:
    """Return the first and the last day on which each item is planned, by its code.

    Parameters
    ----------
    estimate : Estimate
        With its times as the dates say.
    schedule : JobSchedule
        Of it.

    Notes
    -----
    What is measured by the time that it stands, a toilet by its months, is planned until that time
    is over; what is put up and then stands, while it is put up.
    """
    times = {one.code for one in estimate.scope.items if one.assembly.unit.dimension == _TIME}
    until = days_until(estimate.scope, schedule)
    last = {code: day for code, day in until.items() if code in times}
    return {one.code: (one.start, last.get(one.code, one.finish)) for one in schedule.items}


def days_until(scope: Scope, schedule: JobSchedule) -> dict[str, date]:
    """Return the last day on which what an item puts up still stands, by the code of the item.

    Parameters
    ----------
    scope : Scope
        Only its items with a time along other work, or until it is done, are named.
    schedule : JobSchedule
        Of it.
    """
    dates = {one.code: one for one in (*schedule.phases, *schedule.items)}
    return {item.code: _last_day(item, dates) for item in scope.items if item.lasts_along}


def _with_time(item: Item, time_of: Callable[[Item], InputValue]) -> Item:
    if not item.lasts_along:
        return item
    time = time_of(item)
    methods = (replace(one, inputs=_put(one.inputs, time)) for one in item.methods)
    return replace(item, inputs=_put(item.inputs, time), methods=tuple(methods))


def _put(inputs: Mapping[str, InputValue], time: InputValue) -> Mapping[str, InputValue]:
    return {name: time if value.is_along else value for name, value in inputs.items()}


def _days_of(item: Item, dates: Mapping[str, Dated]) -> InputValue:
    own, finish = dates[item.code], _last_day(item, dates)
    days = (finish - own.start).days + 1
    how = f"{UNTIL} {item.until} is done," if item.until else AS_LONG
    text = f"{how_many(days, 'day')}, {how} from {own.start} to {finish}"
    return InputValue(Fraction(days), text, is_along=True, until=item.until)


def _last_day(item: Item, dates: Mapping[str, Dated]) -> date:
    """Return the last day on which an item stands: its own, or of the work that it stands for."""
    own = dates[item.code].finish
    return max(own, dates[item.until].finish) if item.until in dates else own

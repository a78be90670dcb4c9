"""Times that last as long as other work: what stands along it is paid until it is done."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction

from estimator.scheduling.job_dates import Dated, JobSchedule
from estimator.scope.input_value import InputValue
from estimator.scope.scope import Item, Scope


def has_dated_times(scope: Scope) -> bool:
    """Whether some input lasts as long as other work."""
    return any(value.is_along for item in scope.items for value in item.inputs.values())


def with_dated_times(scope: Scope, schedule: JobSchedule) -> Scope:
    """Return a scope in which each time along other work has its days.

    Parameters
    ----------
    scope : Scope
        Its inputs of toilets, fences, scaffolds and the like may be `along`.
    schedule : JobSchedule
        Of it: from the first day of the work along which they run to its last, both counted.

    Notes
    -----
    What runs along other work takes no time of its own, so the dates stay what they are.
    """
    dates = {one.code: one for one in schedule.items}
    phases = (
        replace(phase, items=tuple(_dated(item, dates[item.code]) for item in phase.items))
        for phase in scope.phases
    )
    return replace(scope, phases=tuple(phases))


def _dated(item: Item, dates: Dated) -> Item:
    methods = (replace(one, inputs=_with_days(one.inputs, dates)) for one in item.methods)
    return replace(item, inputs=_with_days(item.inputs, dates), methods=tuple(methods))


def _with_days(inputs: Mapping[str, InputValue], dates: Dated) -> Mapping[str, InputValue]:
    days = (dates.finish - dates.start).days + 1
    text = f"{days} days, along from {dates.start} to {dates.finish}"
    along = InputValue(Fraction(days), text)
    return {name: along if value.is_along else value for name, value in inputs.items()}

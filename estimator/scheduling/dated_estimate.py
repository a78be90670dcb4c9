"""The estimate with what its dates cost: machines are rented for the span that they stand."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from datetime import date

from estimator.assemblies.tables import Tables
from estimator.pricing.engine import PricedGroups
from estimator.pricing.estimate import (
    Estimate,
    estimate_by_the_day,
    estimate_of,
    with_alternates,
)
from estimator.scheduling.dated_rents import has_rents, lines_by_dates
from estimator.scheduling.dated_times import has_dated_times, with_dated_times
from estimator.scheduling.job_dates import job_schedule
from estimator.scheduling.midpoint_prices import lines_at_midpoints, move_notes
from estimator.scope.scope import Scope

# Of a job whose crews are few; its order takes the solver about a second at most.
MOST_ITEMS = 300
DATED_EFFORT = 2.0


def price(scope: Scope, tables: Tables, on: date) -> Estimate:
    """Return the estimate of a scope at the rates of a day, machines rented by its dates.

    A pure function: the same scope, tables and day give the same figures to the byte.

    Parameters
    ----------
    scope : Scope
        From `read_scope`.
    tables : Tables
        From `load_tables`.
    on : date
        The pricing date.

    Raises
    ------
    RateMissing
        If a resource has no rate on that day.
    ScopeFaulty
        If the inputs of an item lead to no sensible quantity.
    AmountTooLarge
        If a line cannot be priced to the cent.
    PhaseOrderFaulty
        If an item needs more people than there are.

    Notes
    -----
    Dates count only where the scope has a calendar, and only for machines by the day for which the
    tables have a rent (rents.csv). All else is priced as by `estimate_by_the_day`. A
    machine's lines stand at an average day of its rental, so that quantity x rate is what is
    printed; its source says the mix, the dates and what is charged. Where the calendar has an
    `escalation`, each price then moves to the middle of its phase.
    """
    groups = PricedGroups()
    return with_alternates(scope, lambda one: _dated(one, tables, on, groups))


def _dated(scope: Scope, tables: Tables, on: date, groups: PricedGroups) -> Estimate:
    estimate = estimate_by_the_day(scope, tables, on, groups)
    is_rented = has_rents(estimate)
    escalation = scope.calendar.escalation
    if not (is_rented or has_dated_times(scope) or escalation):
        return estimate
    schedule = job_schedule(estimate, there=dated_crew(scope), effort=DATED_EFFORT)
    if has_dated_times(scope):
        estimate = estimate_by_the_day(with_dated_times(scope, schedule), tables, on, groups)
    if is_rented:
        priced = replace(estimate.priced, lines=lines_by_dates(estimate, schedule))
        estimate = estimate_of(estimate.scope, tables, priced, on)
    notes = list(_undated_crews(scope))
    if escalation is not None:
        lines = lines_at_midpoints(estimate, schedule, escalation)
        notes += move_notes(estimate, lines, escalation)
        priced = replace(estimate.priced, lines=lines)
        estimate = estimate_of(estimate.scope, tables, priced, on)
    return replace(estimate, warnings=(*estimate.warnings, *notes))


def _undated_crews(scope: Scope) -> Iterator[str]:
    """Yield that a job is too large to be dated with the crews that it has."""
    if scope.crew and not dated_crew(scope):
        yield (
            f"rents and times are by dates without regard to the crew: {len(scope.items):,} items "
            "are too many to find the order that it can work them in"
        )


def dated_crew(scope: Scope) -> Mapping[str, int]:
    """Return the crew of a scope by which its ranges are dated: none of a job that is too large.

    Parameters
    ----------
    scope : Scope
        Of more than `MOST_ITEMS` items, the crews count as without limit.
    """
    return scope.crew if len(scope.items) <= MOST_ITEMS else {}

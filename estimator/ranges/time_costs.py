"""Costs that run with time: overhead of the site, rentals, interest, on the simulated duration."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

import numpy as np

from estimator.errors import Faults, RangeFaulty, quoted
from estimator.production.working_calendar import WorkingCalendar, days_net_of_weather, finish
from estimator.ranges.pert_quantiles import Values
from estimator.ranges.phase_dates import SimulatedDates
from estimator.ranges.range_check import check_cents
from estimator.ranges.totals import AddedCost, SimulatedTotals

_HAIR = 1e-9


@dataclass(frozen=True)
class TimeCost:
    """What a day costs, whatever is done on it.

    Parameters
    ----------
    name : str
        "Interest", "scaffold rental".
    cents_per_day : int [cent/day]
        In whole cents.
    phase : str
        Whose duration it runs with; that of the whole job if empty.
    by_calendar_day : bool
        Whether nights, Sundays and holidays cost, too, as interest does; only of the whole job,
        because phases start in the middle of a day.

    Raises
    ------
    RangeFaulty
        If the cost is not in whole cents, or calendar days are wanted for a single phase.
    """

    name: str
    cents_per_day: int
    phase: str = ""
    by_calendar_day: bool = False

    def __post_init__(self) -> None:
        where, faults = f"time cost {quoted(self.name)}", Faults()
        check_cents(self.cents_per_day, where, faults)
        if self.phase and self.by_calendar_day:
            faults.add(
                where,
                "calendar days of a single phase are not simulated",
                "let it run with the whole job, or by working days",
            )
        faults.raise_if_any(RangeFaulty)


def with_time_costs(
    totals: SimulatedTotals,
    dates: SimulatedDates,
    time_costs: Sequence[TimeCost],
    calendar: WorkingCalendar | None = None,
    start: date | None = None,
) -> SimulatedTotals:
    """Return totals with the costs that run with time.

    Both the estimate and the totals grow: the estimate by the cost of the likely duration. Lines
    that cover the same must be left out of the job.

    Parameters
    ----------
    totals : SimulatedTotals
        Of the lines and events alone.
    dates : SimulatedDates
        Drawn with the same seed and as many iterations.
    time_costs : sequence of TimeCost
        Those of the whole job go to the phase without a name.
    calendar, start : WorkingCalendar, date
        Needed where calendar days cost.

    Raises
    ------
    RangeFaulty
        If seed or iterations differ, a phase is unknown, or the calendar is missing.
    CalendarFaulty
        If the work does not end on the calendar.
    """
    _check(totals, dates, time_costs, calendar is not None and start is not None)
    added = []
    for cost in time_costs:
        days, likely = _days_of(cost, dates)
        if cost.by_calendar_day and calendar is not None and start is not None:
            days = calendar_days(days, calendar, start)
            likely = float(calendar_days(np.array([likely]), calendar, start)[0])
        cents = np.rint(cost.cents_per_day * days).astype(np.int64)
        estimate = int(np.rint(cost.cents_per_day * likely))
        added.append(AddedCost(cost.name, "time", cost.phase, estimate, cents))
    return with_added(totals, added)


def calendar_days(working_days: Values, calendar: WorkingCalendar, start: date) -> Values:
    """Return days on the calendar that working days take, first and last counted [day].

    Parameters
    ----------
    working_days : float array [working day]
        Net of weather.
    calendar : WorkingCalendar
        Which days are worked.
    start : date
        If it is not worked, work starts on the next day that is.

    Raises
    ------
    CalendarFaulty
        If the work does not end on the calendar.

    Notes
    -----
    The same as `working_calendar.finish` for each, with one walk along the calendar.

    Examples
    --------
    >>> calendar_days(np.array([1.0, 2.5, 0.0]), WorkingCalendar(), date(2026, 3, 5)).tolist()
    [1.0, 5.0, 0.0]
    """
    longest = float(working_days.max(initial=0.0))
    if longest == 0.0:
        return np.zeros_like(working_days)
    work = finish(calendar, start, longest)
    days = [work.first_day + timedelta(days=one) for one in range(work.calendar_days)]
    done = np.cumsum([days_net_of_weather(calendar, day, day) for day in days])
    passed = np.searchsorted(done, working_days - _HAIR, side="left") + 1.0
    return np.where(working_days > 0.0, np.minimum(passed, len(days)), 0.0)


def _days_of(cost: TimeCost, dates: SimulatedDates) -> tuple[Values, float]:
    """Return the simulated days that a cost runs, and the likely ones [working day]."""
    if not cost.phase:
        return dates.finish_days, dates.likely.finish_days
    place = dates.place(cost.phase)
    return dates.durations[place], dates.phases[place].days.likely


def with_added(totals: SimulatedTotals, added: Sequence[AddedCost]) -> SimulatedTotals:
    """Return totals with costs that ride on something else than the lines.

    Parameters
    ----------
    totals : SimulatedTotals
        Without them.
    added : sequence of AddedCost
        Each with as many iterations.
    """
    phases = tuple(dict.fromkeys((*totals.phases, *(one.phase for one in added))))
    estimates = dict.fromkeys(phases, 0)
    estimates |= dict(zip(totals.phases, totals.phase_estimates, strict=True))
    sums = np.zeros((len(phases), totals.iterations), dtype=np.int64)
    sums[: len(totals.phases)] = totals.phase_totals
    for one in added:
        estimates[one.phase] += one.estimate_cents
        sums[phases.index(one.phase)] += one.cents
    return replace(
        totals,
        phases=phases,
        phase_estimates=tuple(estimates.values()),
        phase_totals=sums,
        added=(*totals.added, *added),
    )


def _check(
    totals: SimulatedTotals,
    dates: SimulatedDates,
    time_costs: Sequence[TimeCost],
    has_calendar: bool,
) -> None:
    faults = Faults()
    if totals.job.seed != dates.seed or totals.iterations != dates.iterations:
        faults.add("dates", "were drawn with another seed or number of iterations", "use the same")
    for cost in time_costs:
        where = f"time cost {quoted(cost.name)}"
        if cost.phase and cost.phase not in {phase.code for phase in dates.phases}:
            faults.add(where, f"{quoted(cost.phase)} is not a phase with a duration")
        if cost.by_calendar_day and not has_calendar:
            faults.add(where, "needs a calendar", "give the calendar and the first day")
    faults.raise_if_any(RangeFaulty)

"""How long the phases of an estimate take, and what each waits for."""

from __future__ import annotations

from estimator.pricing.estimate import Estimate
from estimator.ranges.distributions import Distribution, Fixed, Pert
from estimator.ranges.phase_order import PhaseDuration
from estimator.scope.scope import Phase


def phase_durations(estimate: Estimate) -> tuple[PhaseDuration, ...]:
    """Return the phases with their durations and predecessors, in the order of the scope.

    Notes
    -----
    A phase that states no duration takes the crew hours of its items, one after the other, over
    the working day, and the days that a stated price names; at most and at least as long as if all
    its items went at their slowest or fastest pace. What has to wait, such as a lift a day, waits
    as long at any pace: an item takes that if it is more. A phase that does not say what it waits
    for waits for the phase before it.
    """
    durations: list[PhaseDuration] = []
    first = 0
    for phase in estimate.scope.phases:
        days = phase.plan.days or _days(estimate, phase, first)
        first += len(phase.items)
        before = (durations[-1].code,) if durations else ()
        after = before if phase.plan.after is None else phase.plan.after
        durations.append(PhaseDuration(phase.code, days, after, kind="labor"))
    return tuple(durations)


def _days(estimate: Estimate, phase: Phase, first: int) -> Distribution:
    """Return how long a phase takes, the first of whose items is the nth of all."""
    usual, priced = estimate.scope.risk.usual, estimate.priced
    low = likely = high = 0.0
    for place, item in enumerate(phase.items, start=first):
        pace = item.spread.within(usual).pace or Fixed(1.0)
        work, waiting = float(priced.work_days[place]), float(priced.waiting_days[place])
        if item.stated is not None and item.stated.days is not None:
            work = item.stated.days.base_value
        low += max(work / pace.high, waiting)
        likely += max(work, waiting)
        high += max(work / pace.low, waiting)
    return Pert(low, likely, high) if low < high else Fixed(likely)

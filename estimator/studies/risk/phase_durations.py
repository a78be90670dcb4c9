"""How long the phases of an estimate take, and what each waits for."""

from __future__ import annotations

import numpy as np

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
    its items went at their slowest or fastest pace. A phase that does not say what it waits for
    waits for the phase before it.
    """
    durations: list[PhaseDuration] = []
    first = 0
    for phase in estimate.scope.phases:
        item_days = estimate.priced.days[first : first + len(phase.items)]
        first += len(phase.items)
        days = phase.plan.days or _days(estimate, phase, item_days)
        before = (durations[-1].code,) if durations else ()
        after = before if phase.plan.after is None else phase.plan.after
        durations.append(PhaseDuration(phase.code, days, after, kind="labor"))
    return tuple(durations)


def _days(estimate: Estimate, phase: Phase, item_days: np.ndarray) -> Distribution:
    usual = estimate.scope.risk.usual
    low = likely = high = 0.0
    for item, days in zip(phase.items, item_days.tolist(), strict=True):
        pace = item.spread.within(usual).pace or Fixed(1.0)
        if item.stated is not None and item.stated.days is not None:
            days = item.stated.days.base_value
        low, likely, high = low + days / pace.high, likely + days, high + days / pace.low
    return Pert(low, likely, high) if low < high else Fixed(likely)

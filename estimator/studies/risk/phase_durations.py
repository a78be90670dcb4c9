"""How long the phases of an estimate take, and what each waits for."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

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
    for waits for the phase before it. One that runs along others ends with them and takes no time
    of its own; one that starts with another waits for what that one waits for; an item that is
    waited for stands for its phase. Of a wait by the calendar, the share of the week that is worked
    counts.
    """
    durations: list[PhaseDuration] = []
    first = 0
    for phase in estimate.scope.phases:
        days = phase.plan.days or _days(estimate, phase, first)
        first += len(phase.items)
        if phase.plan.along:
            days = Fixed(0.0)
        before = {one.code: one for one in durations}
        waited = list(dict.fromkeys(_waited(estimate, phase, before)))
        after, waits = tuple(code for code, _ in waited), tuple(days for _, days in waited)
        is_waiting = any(waits)
        durations.append(
            PhaseDuration(phase.code, days, after, "labor", waits if is_waiting else ())
        )
    return tuple(durations)


def _waited(
    estimate: Estimate, phase: Phase, before: Mapping[str, PhaseDuration]
) -> Iterator[tuple[str, float]]:
    """Yield what a phase waits for, and for how many working days after it."""
    worked_share = len(estimate.scope.working_calendar.weekdays) / 7.0
    yield from ((code.partition(".")[0], 0.0) for code in phase.plan.along)
    for one in phase.plan.waits_for(tuple(before)[-1:]):
        days = one.wait.days * worked_share if one.wait.by_calendar else one.wait.days
        code = one.code.partition(".")[0]
        if not one.from_start:
            yield code, days
        elif code in before:
            other = before[code]
            waits = other.waits or (0.0,) * len(other.after)
            yield from ((name, wait + days) for name, wait in zip(other.after, waits, strict=True))


def _days(estimate: Estimate, phase: Phase, first: int) -> Distribution:
    """Return how long a phase takes, the first of whose items is the nth of all."""
    usual, priced = estimate.scope.risk.usual, estimate.priced
    low = likely = high = 0.0
    for place, item in enumerate(phase.items, start=first):
        pace = item.spread.within(usual).pace or Fixed(1.0)
        work, waiting = float(priced.work_days[place]), float(priced.waiting_days[place])
        if item.plan.days is not None:
            low += item.plan.days.low
            likely += item.plan.days.likely
            high += item.plan.days.high
            continue
        if item.stated is not None and item.stated.days is not None:
            work = item.stated.days.base_value
        low += max(work / pace.high, waiting)
        likely += max(work, waiting)
        high += max(work / pace.low, waiting)
    return Pert(low, likely, high) if low < high else Fixed(likely)

"""When a job and its phases may be done: the lengths of its work drawn, in the schedule's order."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np
import numpy.typing as npt

from estimator.errors import RangeFaulty, fault
from estimator.pricing.estimate import Estimate
from estimator.ranges.correlation import ByGroups
from estimator.ranges.distributions import Distribution, Fixed, Pert
from estimator.ranges.events import drawn_days
from estimator.ranges.item_correlation import ByItems
from estimator.ranges.latin_hypercube import (
    DURATION_SCORES,
    DURATIONS,
    check_run,
    line_generator,
)
from estimator.ranges.pert_quantiles import Values
from estimator.ranges.phase_dates import LikelyDates, SimulatedDates
from estimator.ranges.phase_order import PhaseDuration
from estimator.ranges.scores import Ranks, ranks_of
from estimator.rates.kinds import LABOR
from estimator.scheduling.activities import Activity
from estimator.scheduling.job_dates import JobSchedule
from estimator.scheduling.many_dates import (
    ManyTimes,
    Times,
    calendar_spans,
    in_days,
    many_times,
)
from estimator.scheduling.worked_days import UNITS_A_DAY, WorkedDays
from estimator.scope.scope import Item, Phase
from estimator.scope.work_order import begin_of, end_of, full_code, is_whole

_MOST_LENGTHS = 30_000_000
_CERTAIN = Fixed(1.0)


@dataclass(frozen=True, eq=False)
class DrawnJob:
    """When a job may be done, and how long what stands along its work may stand.

    Parameters
    ----------
    dates : SimulatedDates
        Of the job and its phases.
    spans : mapping of str to int64 array, shape (iterations,) [day]
        By cost code, of each item with a time along other work: days on the calendar from the first
        start of that work to its last finish, both counted.
    """

    dates: SimulatedDates
    spans: Mapping[str, npt.NDArray[np.int64]]


def drawn_job(
    estimate: Estimate,
    schedule: JobSchedule,
    seed: int,
    iterations: int,
    correlation: ByGroups | ByItems,
) -> DrawnJob:
    """Return when a job may be done, in the order, calendar and crews of its schedule.

    Parameters
    ----------
    estimate : Estimate
        Its scope states ranges of quantities, paces and durations.
    schedule : JobSchedule
        Of it: crews take their work in the order that this has.
    seed, iterations : int
        As of the simulation of its costs, with which the dates share their luck.
    correlation : ByGroups or ByItems
        How lengths move together, all as labor does; or each as its item.

    Raises
    ------
    RangeFaulty
        If seed or iterations are absurd, or too much would be drawn.

    Notes
    -----
    An item takes the duration that it states; else its days at its pace times a drawn quantity over
    a drawn pace, or what has to wait, if that is more. Days of a quote go by pace alone. The days
    of an event, where it happens, go by before its phase goes on.
    """
    check_run(seed, iterations)
    activities = schedule.in_order
    if len(activities) * iterations > _MOST_LENGTHS:
        what = f"{len(activities):,} pieces of work by {iterations:,} iterations are too many"
        raise fault(RangeFaulty, what, "take fewer iterations", "iterations")
    by_items = isinstance(correlation, ByItems)
    groups = [one.code if by_items else LABOR for one in activities]
    ranks = ranks_of(correlation, groups, seed, iterations, DURATION_SCORES)
    lengths = _Lengths(estimate, activities, seed, iterations, ranks)
    days = WorkedDays(schedule.calendar, schedule.start)
    drawn = many_times(activities, lengths.of, days)
    likely = many_times(activities, _likely_length, days)
    dates = _simulated(estimate, drawn, likely, seed, correlation)
    return DrawnJob(dates, MappingProxyType(dict(_spans(estimate, drawn, days))))


def _spans(
    estimate: Estimate, drawn: ManyTimes, days: WorkedDays
) -> Iterator[tuple[str, npt.NDArray[np.int64]]]:
    for phase in estimate.scope.phases:
        for item in phase.items:
            if item.lasts_along:
                own = [full_code(code, phase.code) for code in item.plan.along]
                here = phase.code if is_whole(phase) else item.code
                begun = _first_start(phase.plan.along or own or (here,), drawn)
                end = np.maximum(begun, _finish(here, drawn))
                if item.until:
                    end = np.maximum(end, _finish(item.until, drawn))
                yield item.code, calendar_spans(days, begun, end)


def _likely_length(one: Activity) -> Times:
    return np.array([one.length], dtype=np.float32)


class _Lengths:
    """The drawn lengths of each activity [hundredth of a working day]."""

    def __init__(
        self,
        estimate: Estimate,
        activities: Sequence[Activity],
        seed: int,
        iterations: int,
        ranks: Ranks,
    ) -> None:
        scope = estimate.scope
        self.estimate, self.seed, self.iterations, self.ranks = estimate, seed, iterations, ranks
        self.place = {one.code: number for number, one in enumerate(activities)}
        self.items = {item.code: number for number, item in enumerate(scope.items)}
        self.phases = {phase.code: phase for phase in scope.phases}
        self.delays: dict[str, Values] = {}
        for number, event in enumerate(scope.risk.events):
            if event.takes_time:
                days, begin = drawn_days(event, number, seed, iterations), begin_of(event.phase)
                self.delays[begin] = self.delays.get(begin, 0.0) + days

    def of(self, one: Activity) -> Times:
        if not one.length:
            delay = self.delays.get(one.code, np.zeros(self.iterations))
            return (delay * UNITS_A_DAY).astype(np.float32)
        place = self.place[one.code]
        chance = line_generator(self.seed, DURATIONS, place)
        days, order = self.sample(one, chance), self.ranks.order(place)
        if order is not None:
            rising = np.sort(days)
            days[order] = rising
        return (days * UNITS_A_DAY).astype(np.float32)

    def sample(self, one: Activity, chance: np.random.Generator) -> Values:
        """Return the days of a piece of work in random order."""
        if one.code in self.phases:
            stated = self.phases[one.code].plan.days
            assert stated is not None
            return self.drawn(stated, chance)
        number = self.items[one.code]
        item = self.estimate.scope.items[number]
        if item.plan.days is not None:
            return self.drawn(item.plan.days, chance)
        return self.at_pace(item, number, chance)

    def at_pace(self, item: Item, number: int, chance: np.random.Generator) -> Values:
        priced = self.estimate.priced
        spread = item.spread.within(self.estimate.scope.risk.usual)
        pace = self.drawn(spread.pace or _CERTAIN, chance)
        if item.stated is not None and item.stated.days is not None:
            return np.asarray(item.stated.days.base_value / pace)
        quantity = self.drawn(spread.quantity or _CERTAIN, chance)
        work = float(priced.work_days[number]) * quantity / pace
        return np.maximum(work, float(priced.waiting_days[number]))

    def drawn(self, days: Distribution, chance: np.random.Generator) -> Values:
        sample = days.rising_sample(chance, self.iterations)
        chance.shuffle(sample)
        return sample


def _simulated(
    estimate: Estimate,
    drawn: ManyTimes,
    likely: ManyTimes,
    seed: int,
    correlation: ByGroups | ByItems,
) -> SimulatedDates:
    phases = estimate.scope.phases
    spans = [in_days(_length(phase, drawn)) for phase in phases]
    likely_days = [float(in_days(_length(phase, likely))[0]) for phase in phases]
    durations = zip(phases, spans, likely_days, _after(phases), strict=True)
    return SimulatedDates(
        phases=tuple(_duration(*one) for one in durations),
        likely=_likely_dates(phases, likely),
        durations=np.stack(spans),
        finishes=np.stack([in_days(drawn.finishes[end_of(phase.code)]) for phase in phases]),
        criticality={phase.code: float(_is_critical(phase, drawn).mean()) for phase in phases},
        seed=seed,
        correlation=correlation,
    )


def _is_critical(phase: Phase, times: ManyTimes) -> npt.NDArray[np.bool_]:
    """Return in which times a phase is critical: where any of its work is, not its end alone.

    What runs along other phases never is: they are, if any.
    """
    if phase.plan.along:
        return np.zeros(1, dtype=bool)
    codes = (phase.code, *(one.code for one in phase.items))
    work = [times.critical[code] for code in codes if code in times.critical]
    critical = work or [times.critical[end_of(phase.code)]]
    return np.asarray(np.logical_or.reduce(np.broadcast_arrays(*critical)))


def _duration(phase: Phase, span: Values, likely: float, after: tuple[str, ...]) -> PhaseDuration:
    low, high = min(float(span.min()), likely), max(float(span.max()), likely)
    days = Pert(low, likely, high) if low < high else Fixed(likely)
    return PhaseDuration(phase.code, days, after, LABOR)


def _length(phase: Phase, times: ManyTimes) -> Times:
    return np.asarray(times.finishes[end_of(phase.code)] - _start(phase, times))


def _start(phase: Phase, times: ManyTimes) -> Times:
    """Return when a phase begins: what runs along others, with the first of them."""
    if not phase.plan.along:
        return times.starts[begin_of(phase.code)]
    return _first_start(phase.plan.along, times)


def _first_start(along: Sequence[str], times: ManyTimes) -> Times:
    """Return when the first of some phases or items begins, passing over what is not there."""
    begins = (begin_of(code) if begin_of(code) in times.starts else code for code in along)
    return np.asarray(np.minimum.reduce([times.starts[c] for c in begins if c in times.starts]))


def _finish(code: str, times: ManyTimes) -> Times:
    """Return when a phase or an item ends; at the start of the job, where it is not there."""
    end = end_of(code)
    begin = np.zeros(1, dtype=np.float32)
    return times.finishes.get(end if end in times.finishes else code, begin)


def _after(phases: Sequence[Phase]) -> Iterator[tuple[str, ...]]:
    """Yield the phases that each waits for, or runs along."""
    before: tuple[str, ...] = ()
    for phase in phases:
        waits = [one.code for one in phase.plan.waits_for(before)] if not phase.plan.along else []
        codes = (code.partition(".")[0] for code in (*phase.plan.along, *waits))
        yield tuple(dict.fromkeys(codes))
        before = (phase.code,)


def _likely_dates(phases: Sequence[Phase], likely: ManyTimes) -> LikelyDates:
    finishes = {one.code: float(in_days(likely.finishes[end_of(one.code)])[0]) for one in phases}
    starts = {one.code: float(in_days(_start(one, likely))[0]) for one in phases}
    critical = tuple(one.code for one in phases if _is_critical(one, likely).all())
    return LikelyDates(starts, finishes, critical)

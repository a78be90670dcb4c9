"""When phases may be done: durations drawn together, and carried along who waits for whom.

Durations are working days, net of weather; the working calendar turns them into dates last. The
finish is later than the likely durations say: where phases run side by side, the next one waits
for whichever is late.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from functools import cached_property

import numpy as np
import numpy.typing as npt

from estimator.errors import RangeFaulty, did_you_mean, fault, quoted
from estimator.production.working_calendar import WorkingCalendar, finish, next_working_day
from estimator.quantity.rounding import whole_above
from estimator.ranges.correlation import DEFAULT_CORRELATION, ByGroups
from estimator.ranges.item_correlation import ByItems
from estimator.ranges.latin_hypercube import (
    DEFAULT_ITERATIONS,
    DEFAULT_SEED,
    DURATION_SCORES,
    DURATIONS,
    check_run,
    line_generator,
)
from estimator.ranges.pert_quantiles import Values
from estimator.ranges.phase_order import PhaseDuration, Predecessors, Waits, waits_of, working_order
from estimator.ranges.scores import Ranks, ranks_of
from estimator.ranges.totals import check_share

_MOST_DURATIONS = 50_000_000


@dataclass(frozen=True)
class LikelyDates:
    """Start and finish of each phase if all take their likely time.

    Parameters
    ----------
    starts, finishes : mapping of str to float [working day]
        By phase, from the start of the job.
    critical : tuple of str
        Phases that would put off the finish if they were late, in working order.
    """

    starts: Mapping[str, float]
    finishes: Mapping[str, float]
    critical: tuple[str, ...]

    @property
    def finish_days(self) -> float:
        """The longest path: when the job is done [working day]."""
        return max(self.finishes.values())


@dataclass(frozen=True, eq=False)
class SimulatedDates:
    """When a job and its phases may be done.

    Parameters
    ----------
    phases : tuple of PhaseDuration
        In the order of the job.
    likely : LikelyDates
        By the likely durations.
    durations, finishes : float array, shape (phases, iterations) [working day]
        What each phase took, and when it ended, in each iteration.
    criticality : mapping of str to float
        By phase, the share of iterations in which its delay would have put off the finish.
    seed : int
        That the durations were drawn with.
    correlation : ByGroups or ByItems
        How durations were taken to move together.
    """

    phases: tuple[PhaseDuration, ...]
    likely: LikelyDates
    durations: Values
    finishes: Values
    criticality: Mapping[str, float]
    seed: int
    correlation: ByGroups | ByItems

    @cached_property
    def finish_days(self) -> Values:
        """The finish of the job in each iteration [working day]."""
        return np.asarray(self.finishes.max(axis=0))

    @property
    def iterations(self) -> int:
        """How many times the job was drawn."""
        return len(self.finish_days)

    def percentile_days(self, share: float, phase: str = "") -> float:
        """Return the working days that suffice with a confidence, for the job or for a phase.

        Raises
        ------
        RangeFaulty
            If the share is not above 0 and below 1, or there is no such phase.
        """
        check_share(share)
        done = self.finishes[self.place(phase)] if phase else self.finish_days
        rank = int(whole_above(np.array(share * self.iterations))) - 1
        return float(np.partition(done, rank)[rank])

    def percentile_date(
        self, share: float, calendar: WorkingCalendar, start: date, phase: str = ""
    ) -> date:
        """Return the last day of work that suffices with a confidence.

        Raises
        ------
        RangeFaulty
            If the share is not above 0 and below 1, or there is no such phase.
        CalendarFaulty
            If the work does not end on the calendar.
        """
        days = self.percentile_days(share, phase)
        if days == 0.0:
            return next_working_day(calendar, start)
        return finish(calendar, start, days).last_day

    def place(self, phase: str) -> int:
        """Return the row of a phase.

        Raises
        ------
        RangeFaulty
            If there is no such phase.
        """
        codes = [one.code for one in self.phases]
        if phase not in codes:
            what = f"there is no phase {quoted(phase)}"
            raise fault(RangeFaulty, what, did_you_mean(phase, codes), "phase")
        return codes.index(phase)


def likely_dates(phases: Sequence[PhaseDuration]) -> LikelyDates:
    """Return start and finish of each phase by the likely durations.

    Raises
    ------
    PhaseOrderFaulty
        As `working_order` does.

    Examples
    --------
    >>> from estimator.ranges.distributions import Fixed
    >>> dates = likely_dates([PhaseDuration("20", Fixed(5)), PhaseDuration("30", Fixed(2)),
    ...                       PhaseDuration("40", Fixed(3), ("20", "30"))])
    >>> dates.finish_days, dates.critical
    (8.0, ('20', '40'))
    """
    order, waits_for = working_order(phases)
    waits = waits_of(phases, waits_for)
    durations = np.array([[phase.days.likely] for phase in phases])
    finishes = _finishes(durations, order, waits_for, waits)
    is_critical = _is_critical(finishes, order, waits_for, waits)
    codes = [phase.code for phase in phases]
    ends = [float(row[0]) for row in finishes]
    begins = [float(_start(finishes, *both)[0]) for both in zip(waits_for, waits, strict=True)]
    return LikelyDates(
        dict(zip(codes, begins, strict=True)),
        dict(zip(codes, ends, strict=True)),
        tuple(codes[one] for one in order if is_critical[one, 0]),
    )


def simulated_dates(
    phases: Sequence[PhaseDuration],
    *,
    seed: int = DEFAULT_SEED,
    iterations: int = DEFAULT_ITERATIONS,
    correlation: ByGroups = DEFAULT_CORRELATION,
) -> SimulatedDates:
    """Return when a job may be done.

    With the seed, the iterations and the correlation of a simulation of costs, both share the
    factors by which everything moves together: an iteration that is slow is dear, too.

    Raises
    ------
    PhaseOrderFaulty
        As `working_order` does.
    RangeFaulty
        If seed or iterations are absurd.

    Notes
    -----
    A phase starts when the last of those that it waits for is finished, and the wait after it is
    over. It is critical in an iteration if it ends with the job, or a critical phase starts when
    that is so.

    Examples
    --------
    >>> from estimator.ranges.distributions import Triangular
    >>> sides = [PhaseDuration(code, Triangular(8, 10, 12)) for code in ("east", "west")]
    >>> roof = PhaseDuration("roof", Triangular(4, 5, 6), ("east", "west"))
    >>> dates = simulated_dates([*sides, roof])
    >>> dates.likely.finish_days, round(dates.percentile_days(0.5), 1)
    (15.0, 15.4)
    """
    order, waits_for = working_order(phases)
    check_run(seed, iterations)
    if len(phases) * iterations > _MOST_DURATIONS:
        what = f"{len(phases):,} phases by {iterations:,} iterations are too many"
        raise fault(RangeFaulty, what, "take fewer iterations", "iterations")
    groups = [phase.kind for phase in phases]
    ranks = ranks_of(correlation, groups, seed, iterations, DURATION_SCORES)
    durations = np.stack(
        [_days(phase, place, seed, iterations, ranks) for place, phase in enumerate(phases)]
    )
    waits = waits_of(phases, waits_for)
    finishes = _finishes(durations, order, waits_for, waits)
    critical = _is_critical(finishes, order, waits_for, waits).mean(axis=1)
    criticality = {phase.code: float(share) for phase, share in zip(phases, critical, strict=True)}
    return SimulatedDates(
        tuple(phases), likely_dates(phases), durations, finishes, criticality, seed, correlation
    )


def _days(phase: PhaseDuration, place: int, seed: int, iterations: int, ranks: Ranks) -> Values:
    chance = line_generator(seed, DURATIONS, place)
    rising, order = phase.days.rising_sample(chance, iterations), ranks.order(place)
    if order is None:
        chance.shuffle(rising)
        return rising
    days = np.empty_like(rising)
    days[order] = rising
    return days


def _start(finishes: Values, before: tuple[int, ...], waits: tuple[float, ...]) -> Values:
    if not before:
        return np.zeros(finishes.shape[1])
    return np.asarray((finishes[list(before)] + np.array(waits)[:, None]).max(axis=0))


def _finishes(
    durations: Values, order: tuple[int, ...], waits_for: Predecessors, waits: Waits
) -> Values:
    finishes = np.empty_like(durations)
    for phase in order:
        finishes[phase] = _start(finishes, waits_for[phase], waits[phase]) + durations[phase]
    return finishes


def _is_critical(
    finishes: Values, order: tuple[int, ...], waits_for: Predecessors, waits: Waits
) -> npt.NDArray[np.bool_]:
    """Return in which iterations each phase is critical, from the last to the first.

    A start is exactly the latest of the finishes before it, so that equal floats tell.
    """
    is_critical = np.asarray(finishes == finishes.max(axis=0))
    for phase in reversed(order):
        start = _start(finishes, waits_for[phase], waits[phase])
        for before, wait in zip(waits_for[phase], waits[phase], strict=True):
            is_critical[before] |= is_critical[phase] & (finishes[before] + wait == start)
    return is_critical

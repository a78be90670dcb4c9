"""Results of a simulation: mean, spread, percentiles, the curve, and what was assumed.

A percentile is the smallest simulated total that enough iterations do not exceed, so that the
chance of staying within P80 is 80 % by counting. Percentiles of phases do not add up to that of
the job: not everything goes wrong at once.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from numbers import Real

import numpy as np

from estimator.cents import Cents, divide_half_up
from estimator.errors import RangeFaulty, fault, quoted
from estimator.money import dollars, money_text
from estimator.quantity.rounding import percent_text, whole_above
from estimator.ranges.job_ranges import JobRanges

REPORTED_SHARES = (0.10, 0.20, 0.30, 0.40, 0.50, 0.60, 0.70, 0.80, 0.90, 0.95)


@dataclass(frozen=True)
class AddedCost:
    """What time costs beyond the lines of the estimate, or less, as the dates come out.

    Parameters
    ----------
    name, kind, phase : str
        As a driver of the spread is called, and where it belongs.
    cents : int64 array, shape (iterations,) [cent]
        In each iteration; none at the likely dates.
    """

    name: str
    kind: str
    phase: str
    cents: Cents


@dataclass(frozen=True, eq=False)
class SimulatedTotals:
    """What a job may come to.

    Parameters
    ----------
    job : JobRanges
        What was simulated.
    phases : tuple of str
        In order; an empty name is what belongs to no phase.
    phase_estimates : tuple of int [cent]
        What the estimate has for each.
    phase_totals : int64 array, shape (phases, iterations) [cent]
        What each phase came to in each iteration.
    added : tuple of AddedCost
        What was added to the lines and events.
    """

    job: JobRanges
    phases: tuple[str, ...]
    phase_estimates: tuple[int, ...]
    phase_totals: Cents
    added: tuple[AddedCost, ...] = field(default=())

    @cached_property
    def total_cents(self) -> Cents:
        """The total of each iteration [cent]."""
        return np.asarray(self.phase_totals.sum(axis=0))

    @cached_property
    def sorted_cents(self) -> Cents:
        """The totals in rising order [cent]."""
        return np.sort(self.total_cents)

    @property
    def iterations(self) -> int:
        """How many times the job was drawn."""
        return self.job.iterations

    @property
    def estimate_cents(self) -> int:
        """What the estimate has: every line at its likely cost, and no event [cent]."""
        return sum(self.phase_estimates)

    @property
    def mean_cents(self) -> int:
        """The mean total, to the cent."""
        return mean_of(self.total_cents)

    @property
    def sd_cents(self) -> float:
        """The standard deviation of the total [cent]."""
        return spread(self.total_cents)

    def percentile_cents(self, share: float) -> int:
        """Return the smallest total that a share of iterations do not exceed [cent]."""
        return percentile(self.sorted_cents, share)

    def phase_percentile_cents(self, share: float) -> dict[str, int]:
        """Return the percentile of each phase by itself [cent]; they do not add up."""
        check_share(share)
        rising = np.sort(self.phase_totals, axis=1)
        return {name: percentile(row, share) for name, row in zip(self.phases, rising, strict=True)}

    def percentiles(self, shares: Sequence[float] = REPORTED_SHARES) -> dict[float, int]:
        """Return several percentiles by their share, P10 to P95 if none are named [cent]."""
        return {share: self.percentile_cents(share) for share in shares}

    def probability_within(self, budget_cents: int) -> float:
        """Return the chance that the job costs no more than a budget, 0 to 1."""
        within = int(np.searchsorted(self.sorted_cents, budget_cents, side="right"))
        return within / self.iterations

    def curve(self, points: int = 101) -> list[tuple[int, float]]:
        """Return points of the S-curve: a total, and the chance of staying within it.

        Parameters
        ----------
        points : int
            2 or more, evenly spaced from the least to the most that was drawn.

        Raises
        ------
        RangeFaulty
            If there are fewer than two points.
        """
        if points < 2:
            raise fault(RangeFaulty, f"a curve cannot have {points} points", "take 101", "points")
        least, most = int(self.sorted_cents[0]), int(self.sorted_cents[-1])
        totals = sorted({least + (most - least) * step // (points - 1) for step in range(points)})
        return [(total, self.probability_within(total)) for total in totals]

    @property
    def statements(self) -> tuple[str, ...]:
        """What was assumed, and what the estimate is not, for the report."""
        over = self.mean_cents - self.estimate_cents
        side = "above" if over >= 0 else "below"
        within = self.probability_within(self.estimate_cents)
        return (
            self.job.correlation.statement,
            f"{self.iterations:,} iterations in Latin hypercubes, seed {self.job.seed}.",
            f"The estimate of {money_text(dollars(self.estimate_cents))} is the likely cost of "
            f"every line. The mean is {money_text(dollars(abs(over)))} {side} it, at "
            f"{money_text(dollars(self.mean_cents))}; the chance of staying within the estimate "
            f"is {percent_text(within)}.",
        )


def percentile(rising: Cents, share: float) -> int:
    """Return the smallest of sorted amounts that a share of them do not exceed.

    Raises
    ------
    RangeFaulty
        If the share is not above 0 and below 1.

    Examples
    --------
    >>> percentile(np.array([10, 20, 30, 40, 50]), 0.8)
    40
    """
    check_share(share)
    return int(rising[int(whole_above(np.array(share * len(rising)))) - 1])


def mean_of(amounts: Cents) -> int:
    """Return the mean of amounts as a whole number, halves away from zero.

    Examples
    --------
    >>> mean_of(np.array([10, 11]))
    11
    """
    return int(divide_half_up(amounts.sum(), len(amounts)))


def spread(amounts: Cents) -> float:
    """Return the standard deviation of a sample.

    Notes
    -----
    Over n - 1.

    Examples
    --------
    >>> spread(np.array([1, 3, 5]))
    2.0
    """
    return float(np.std(amounts, ddof=1))


def check_share(share: object, where: str = "confidence") -> None:
    """Check that a confidence lies above 0 and below 1.

    Raises
    ------
    RangeFaulty
        If it does not: of nothing, one cannot be sure.

    Examples
    --------
    >>> check_share(1.0)
    Traceback (most recent call last):
        ...
    estimator.errors.RangeFaulty: confidence: 1.0 is not above 0 and below 1; write 0.8 for 80 %
    """
    if isinstance(share, bool) or not isinstance(share, Real) or not 0.0 < float(share) < 1.0:
        what = f"{share if isinstance(share, Real) else quoted(share)} is not above 0 and below 1"
        raise fault(RangeFaulty, what, "write 0.8 for 80 %", where)


def with_added(totals: SimulatedTotals, added: Sequence[AddedCost]) -> SimulatedTotals:
    """Return totals with what time costs beyond the lines.

    Parameters
    ----------
    totals : SimulatedTotals
        Without it.
    added : sequence of AddedCost
        Each with as many iterations, of phases that have lines.
    """
    sums = totals.phase_totals.copy()
    for one in added:
        sums[totals.phases.index(one.phase)] += one.cents
    return replace(totals, phase_totals=sums, added=(*totals.added, *added))

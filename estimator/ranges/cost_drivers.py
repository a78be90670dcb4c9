"""What the spread of a job comes from: lines, events and time, ranked by share of variance."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from estimator.cents import Cents
from estimator.ranges.simulation import Progress
from estimator.ranges.totals import SimulatedTotals, mean_of, spread

SHARE_MEASURE = (
    "Share of variance: how a cost varies together with the total, over how the total varies. "
    "The shares add up to 1; a cost that falls when others rise has a negative one."
)


@dataclass(frozen=True)
class Driver:
    """How much of the spread of a job one line, event or added cost carries.

    Parameters
    ----------
    name, kind, phase : str
        Of the line, event or added cost.
    share : float
        Covariance with the total over the variance of the total; all of them add up to 1.
    estimate_cents, mean_cents : int [cent]
        What the estimate has for it, and what it came to on average.
    sd_cents : float [cent]
        Its own standard deviation.
    """

    name: str
    kind: str
    phase: str
    share: float
    estimate_cents: int
    mean_cents: int
    sd_cents: float


def drivers(totals: SimulatedTotals, *, progress: Progress | None = None) -> tuple[Driver, ...]:
    """Return what carries the spread, the largest share first.

    Costs that are certain are left out; nothing is returned where nothing varies.

    Parameters
    ----------
    totals : SimulatedTotals
        Every line is drawn once more, to the same costs as before, instead of being kept.
    progress : callable or None
        Called with the share that is done, up to 1.

    Notes
    -----
    Share = cov(cost, total) / var(total). Since the total is the sum of the costs, the shares add
    up to 1, correlated or not; among independent lines a share is the squared correlation with the
    total.

    Examples
    --------
    >>> from estimator.ranges.distributions import Uniform
    >>> from estimator.ranges.job_ranges import JobRanges
    >>> from estimator.ranges.correlation import INDEPENDENT
    >>> from estimator.ranges.line_ranges import CostRange
    >>> from estimator.ranges.simulation import simulated_totals
    >>> lines = CostRange("stone", Uniform(0, 2e6)), CostRange("beam", Uniform(0, 1e6))
    >>> shares = drivers(simulated_totals(JobRanges(lines, correlation=INDEPENDENT)))
    >>> [(one.name, round(one.share, 1)) for one in shares]
    [('stone', 0.8), ('beam', 0.2)]
    """
    centered = totals.total_cents - totals.total_cents.mean()
    variance = float(centered @ centered)
    if variance == 0.0:
        return ()
    shares = []
    for done, (name, kind, phase, estimate, cents) in enumerate(_costs(totals), 1):
        if progress is not None:
            progress(done / (totals.job.count + len(totals.added)))
        if cents[0] == cents[-1] and not np.ptp(cents):
            continue
        together = centered @ (cents - cents.mean())
        share = float(together / variance)
        shares.append(Driver(name, kind, phase, share, estimate, mean_of(cents), spread(cents)))
    return tuple(sorted(shares, key=lambda one: -one.share))


def _costs(totals: SimulatedTotals) -> Iterator[tuple[str, str, str, int, Cents]]:
    """Yield name, kind, phase, estimate and simulated costs of all that adds up to the total."""
    job, ranks = totals.job, totals.job.ranks()
    for number, line in enumerate(job.lines):
        costs = job.costs(number, ranks)
        yield line.name, line.kind, line.phase, line.estimate_cents, costs
    for number, event in enumerate(job.events, len(job.lines)):
        yield event.name, "event", event.phase, 0, job.costs(number, ranks)
    for one in totals.added:
        yield one.name, one.kind, one.phase, 0, one.cents

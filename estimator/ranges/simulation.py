"""What a job may come to: all its lines and events, drawn together many times.

1. Each line draws its costs in strata, by a generator of its own.
2. They are laid out by the line's ranks, so that lines move together as assumed.
3. Whole cents are added up by phase. Whole numbers add up to the same in any order, so a job may
   be cut into parts, and parts given to as many processes as there are, without a byte changing.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

import numpy as np

from estimator.cents import Cents
from estimator.errors import RangeFaulty, fault
from estimator.ranges.job_ranges import JobRanges
from estimator.ranges.scores import Ranks
from estimator.ranges.totals import SimulatedTotals

Progress = Callable[[float], None]


def simulated_totals(
    job: JobRanges, *, chunk: int = 50, progress: Progress | None = None
) -> SimulatedTotals:
    """Return what a job may come to, phase by phase and in all.

    Parameters
    ----------
    job : JobRanges
        Lines, events and how they move together.
    chunk : int
        How many lines are added up between two reports of progress; changes no figure.
    progress : callable or None
        Called with the share that is done, up to 1.

    Examples
    --------
    >>> from estimator.ranges.distributions import Triangular
    >>> from estimator.ranges.line_ranges import CostRange
    >>> beam = CostRange("beam", Triangular(900_000, 1_000_000, 1_400_000))
    >>> totals = simulated_totals(JobRanges((beam,), seed=1906))
    >>> totals.estimate_cents, totals.mean_cents
    (1000000, 1100001)
    """
    ranks = job.ranks()
    sums = np.zeros((len(job.phases), job.iterations), dtype=np.int64)
    for first, last in _chunks(job.count, chunk):
        _add_part(job, first, last, ranks, sums)
        if progress is not None:
            progress(last / job.count)
    return SimulatedTotals(job, job.phases, job.phase_estimates, sums)


def part_of_totals(job: JobRanges, first: int, last: int) -> Cents:
    """Return what lines and events `first` to `last` - 1 add to the totals of each phase [cent].

    Parts of a job, from however many processes, add up to the totals of the whole, to the byte.

    Parameters
    ----------
    job : JobRanges
        Lines, events and how they move together.
    first, last : int
        0 to `job.count`.

    Returns
    -------
    int64 array, shape (phases, iterations)

    Examples
    --------
    >>> from estimator.ranges.distributions import Triangular
    >>> from estimator.ranges.line_ranges import CostRange
    >>> lines = tuple(CostRange(name, Triangular(8e5, 1e6, 2e6)) for name in "abc")
    >>> job = JobRanges(lines, seed=1906)
    >>> parts = part_of_totals(job, 0, 1) + part_of_totals(job, 1, 3)
    >>> bool((parts == simulated_totals(job).phase_totals).all())
    True
    """
    sums = np.zeros((len(job.phases), job.iterations), dtype=np.int64)
    _add_part(job, first, last, job.ranks(), sums)
    return sums


def _add_part(job: JobRanges, first: int, last: int, ranks: Ranks, sums: Cents) -> None:
    row = {phase: place for place, phase in enumerate(job.phases)}
    everything = (*job.lines, *job.events)
    for number in range(first, last):
        sums[row[everything[number].phase]] += job.costs(number, ranks)


def _chunks(count: int, size: int) -> Iterator[tuple[int, int]]:
    if size < 1:
        raise fault(RangeFaulty, f"a chunk of {size} lines has none", "take 1 or more", "chunk")
    for first in range(0, count, size):
        yield first, min(first + size, count)

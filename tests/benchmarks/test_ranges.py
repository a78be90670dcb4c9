"""Time and memory of 1,000 lines by 10,000 iterations, beside bare numpy in the same run.

    pytest tests/benchmarks/test_ranges.py --benchmark-enable -n 0

Bare are: the generator of triangular variables; a Gaussian copula by a Cholesky root, read through
the inverse triangle; a sorted beta sample laid out by the ranks of the same copula. None of them
takes strata, keeps phases apart, counts cents, or comes out the same when cut into parts.
"""

import tracemalloc
from time import perf_counter

import numpy as np
import pytest
from scipy.special import ndtr

from estimator.ranges.correlation import DEFAULT_CORRELATION, INDEPENDENT, ByMatrix
from estimator.ranges.cost_drivers import drivers
from estimator.ranges.distributions import Pert, Triangular
from estimator.ranges.job_ranges import JobRanges
from estimator.ranges.line_ranges import CostRange
from estimator.ranges.simulation import simulated_totals

SIZE, SIZE_WITHOUT_TIMING = (1_000, 10_000), (40, 1_000)
KINDS = ("labor", "material", "equipment", "haul", "subcontract")
COEFFICIENT = 0.3


def ranges_of(lines):
    """Return low, likely and high of so many lines, in cents."""
    chance = np.random.default_rng(1906)
    likely = chance.uniform(1e4, 1e6, lines)
    low, high = likely * chance.uniform(0.7, 0.98, lines), likely * chance.uniform(1.02, 1.6, lines)
    return list(zip(low.tolist(), likely.tolist(), high.tolist(), strict=True))


def job_of(size, kind, correlation):
    lines = tuple(
        CostRange(str(number), kind(*one), KINDS[number % 5], str(number % 10))
        for number, one in enumerate(ranges_of(size[0]))
    )
    return JobRanges(lines, (), correlation, 1906, size[1])


def bare_triangular(size):
    chance, total = np.random.default_rng(1906), np.zeros(size[1])
    for low, likely, high in ranges_of(size[0]):
        total += chance.triangular(low, likely, high, size[1])
    return total


def matrix_of(lines):
    return np.full((lines, lines), COEFFICIENT) + (1.0 - COEFFICIENT) * np.eye(lines)


def bare_scores(size, chance):
    return np.linalg.cholesky(matrix_of(size[0])) @ chance.standard_normal(size)


def bare_copula(size):
    u, total = ndtr(bare_scores(size, np.random.default_rng(1906))), np.zeros(size[1])
    for share, (low, likely, high) in zip(u, ranges_of(size[0]), strict=True):
        width, left = high - low, likely - low
        rising = low + np.sqrt(share * width * left)
        falling = high - np.sqrt((1.0 - share) * width * (width - left))
        total += np.where(share < left / width, rising, falling)
    return total


def bare_reordering(size):
    chance, total = np.random.default_rng(1906), np.zeros(size[1])
    for scores, (low, likely, high) in zip(
        bare_scores(size, chance), ranges_of(size[0]), strict=True
    ):
        alpha = 1.0 + 4.0 * (likely - low) / (high - low)
        costs = low + (high - low) * chance.beta(alpha, 6.0 - alpha, size[1])
        total[scores.argsort()] += np.sort(costs)
    return total


def shortest_of(rounds, *runs):
    """Return the shortest time of each run, taken in alternation."""
    shortest = [np.inf] * len(runs)
    for _ in range(rounds):
        for which, run in enumerate(runs):
            start = perf_counter()
            run()
            shortest[which] = min(shortest[which], perf_counter() - start)
    return shortest


def megabytes_of(run):
    """Return the most memory that a run holds at once beyond what was there before."""
    tracemalloc.start()
    try:
        run()
        return tracemalloc.get_traced_memory()[1] / 1e6
    finally:
        tracemalloc.stop()


CASES = [
    ("independent triangular", Triangular, "none", bare_triangular, 2.0, 30.0),
    ("correlated triangular", Triangular, "groups", bare_copula, 1.6, 60.0),
    ("triangular by a matrix", Triangular, "matrix", bare_copula, 1.6, 60.0),
    ("correlated PERT", Pert, "groups", bare_reordering, 1.6, 60.0),
]


def correlation_of(word, lines):
    if word == "matrix":
        return ByMatrix(matrix_of(lines))
    return DEFAULT_CORRELATION if word == "groups" else INDEPENDENT


@pytest.mark.parametrize("case", CASES, ids=[case[0] for case in CASES])
def test_a_job_is_simulated_about_as_fast_as_bare_arithmetic_in_little_memory(benchmark, case):
    _, kind, word, bare, most_times, most_megabytes = case
    size = SIZE if benchmark.enabled else SIZE_WITHOUT_TIMING
    job = job_of(size, kind, correlation_of(word, size[0]))
    totals = benchmark.pedantic(simulated_totals, args=(job,), rounds=3, warmup_rounds=1)
    beside = bare(size)
    error = 5.0 * beside.std() / np.sqrt(size[1])
    assert totals.mean_cents == pytest.approx(beside.mean(), abs=error)
    assert totals.sd_cents == pytest.approx(beside.std(), rel=0.15)
    if benchmark.enabled:
        ours, theirs = shortest_of(5, lambda: simulated_totals(job), lambda: bare(size))
        megabytes = megabytes_of(lambda: simulated_totals(job))
        benchmark.extra_info |= {
            "bare_numpy_seconds": theirs, "ratio": ours / theirs, "megabytes": megabytes,
            "megabytes_of_bare_numpy": megabytes_of(lambda: bare(size)),
        }  # fmt: skip
        assert ours / theirs <= most_times
        assert megabytes <= most_megabytes


def test_drivers_take_about_as_long_as_the_simulation(benchmark):
    size = SIZE if benchmark.enabled else SIZE_WITHOUT_TIMING
    job = job_of(size, Triangular, DEFAULT_CORRELATION)
    totals = simulated_totals(job)
    found = benchmark.pedantic(drivers, args=(totals,), rounds=3, warmup_rounds=1)
    assert sum(one.share for one in found) == pytest.approx(1.0, abs=1e-9)
    assert len(found) == size[0]
    if benchmark.enabled:
        ours, whole = shortest_of(3, lambda: drivers(totals), lambda: simulated_totals(job))
        benchmark.extra_info["ratio_to_simulation"] = ours / whole
        assert ours / whole < 2.0

"""The cheapest rental for every span of 1 to 400 days at once, beside a bare numpy baseline."""

from decimal import Decimal
from time import perf_counter

import numpy as np

from estimator.rates.machines.rental import cheapest_rental
from estimator.rates.machines.rental_rates import RentalRates

SPANS = np.arange(1, 401)
HOURS = SPANS * 6.0
RATES = RentalRates(Decimal(295), Decimal(1040), Decimal(2950), over_hour=Decimal("36.88"))
MOST_SECONDS = 0.050


def bare_numpy() -> np.ndarray:
    """Return the least cost in cents over all mixes of months and weeks, without any check."""
    months, weeks = np.mgrid[0:16, 0:59].reshape(2, -1)
    months, weeks = np.stack((months, weeks))[:, 28 * months + 7 * weeks < 428]
    days = np.maximum(0, SPANS[:, None] - 28 * months - 7 * weeks)
    over = np.maximum(0.0, HOURS[:, None] - 160 * months - 40 * weeks - 8 * days)
    cents = 295000 * months + 104000 * weeks + 29500 * days + 3688 * over
    return cents.min(axis=1)


def seconds_of(run) -> float:
    """Return the shortest of five runs."""
    times = []
    for _ in range(5):
        start = perf_counter()
        run()
        times.append(perf_counter() - start)
    return min(times)


def test_every_span_of_a_year_is_priced_within_fifty_milliseconds(benchmark):
    rentals = benchmark(cheapest_rental, SPANS, RATES, HOURS)
    assert rentals.cost_cents[:3].tolist() == [29500, 59000, 88500]
    assert len(rentals.cost_cents) == 400
    if benchmark.enabled:
        baseline = seconds_of(bare_numpy)
        benchmark.extra_info["bare_numpy_seconds"] = baseline
        benchmark.extra_info["ratio_to_bare_numpy"] = benchmark.stats.stats.min / baseline
        assert benchmark.stats.stats.min < MOST_SECONDS

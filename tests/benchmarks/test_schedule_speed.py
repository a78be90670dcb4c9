"""How fast dates are worked out: the sample with its crew, and two hundred activities.

    pytest tests/benchmarks --benchmark-enable -n 0

Asserted is the processor's time, which is what a person waits for where nothing else runs: half a
second for the sample, two for ten thousand drawings of its dates, five for a job of two hundred
activities that share two crews, whether or not it is proven that none ends sooner.
"""

from time import process_time

from estimator.scheduling.activities import Activity, Link
from estimator.scheduling.dated_estimate import price
from estimator.scheduling.job_dates import job_schedule
from estimator.scheduling.scarce_crews import shortest_order, solution_of
from estimator.studies.risk.job_dates_drawn import drawn_job
from tests.scope.methods.choices import sample

MOST_SECONDS_OF_THE_SAMPLE, MOST_SECONDS_OF_TWO_HUNDRED = 0.5, 5.0
MOST_SECONDS_OF_DRAWINGS = 2.0


def test_the_sample_is_scheduled_while_one_waits(benchmark):
    scope, tables = sample()
    estimate = price(scope, tables, scope.on)
    solution_of.cache_clear()  # the solver's library is loaded, the order is not known
    begun = process_time()
    schedule = benchmark.pedantic(job_schedule, (estimate,), rounds=1)
    assert process_time() - begun < MOST_SECONDS_OF_THE_SAMPLE
    assert schedule.is_shortest


def test_ten_thousand_drawings_of_the_samples_dates(benchmark):
    scope, tables = sample()
    estimate = price(scope, tables, scope.on)
    schedule = job_schedule(estimate)
    begun = process_time()
    drawn = benchmark.pedantic(
        drawn_job, (estimate, schedule, 1906, 10_000, scope.risk.correlation), rounds=1
    )
    assert process_time() - begun < MOST_SECONDS_OF_DRAWINGS
    assert drawn.dates.iterations == 10_000


def test_two_hundred_activities_of_two_crews(benchmark):
    activities = [
        Activity(
            f"{place}",
            f"{place}",
            50 + place * 37 % 400,
            tuple(Link(f"{before}") for before in (place - 7, place - 13) if before >= 0),
            {"laborer": 1 + place % 3, "mason": place % 2},
        )
        for place in range(200)
    ]
    begun = process_time()
    order = benchmark.pedantic(
        shortest_order, (activities, {"laborer": 5, "mason": 2}), {"effort": 2.0}, rounds=1
    )
    assert process_time() - begun < MOST_SECONDS_OF_TWO_HUNDRED
    assert order.gap < 0.1

from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimator.errors import AmountTooLarge, CorrelationFaulty, RangeFaulty
from estimator.ranges.correlation import (
    DEFAULT_CORRELATION,
    INDEPENDENT,
    ByGroups,
    ByMatrix,
    total_sd,
)
from estimator.ranges.distributions import Fixed, Pert, Triangular, Uniform
from estimator.ranges.item_range import ItemRange
from estimator.ranges.job_ranges import JobRanges
from estimator.ranges.line_ranges import CostRange, LineRange
from estimator.ranges.simulation import part_of_totals, simulated_totals
from tests.ranges.jobs import CISTERN, LINES, alike, job

MATRIX = ByMatrix(np.full((5, 5), 0.3) + 0.7 * np.eye(5))
CORRELATIONS = [INDEPENDENT, DEFAULT_CORRELATION, ByGroups(0.2, {"labor": 0.7}), MATRIX]


@settings(max_examples=20)
@given(st.integers(1, 70), st.sampled_from(CORRELATIONS), st.integers(0, 2**63 - 1))
def test_the_same_seed_gives_the_same_bytes_for_any_chunk(chunk, correlation, seed):
    ranges = job(300, seed, correlation)
    whole = simulated_totals(ranges).phase_totals.tobytes()
    assert simulated_totals(ranges, chunk=chunk).phase_totals.tobytes() == whole


@settings(max_examples=10)
@given(st.lists(st.integers(0, 150), max_size=6), st.sampled_from([0, 1]))
def test_parts_add_up_to_the_same_bytes_wherever_they_are_cut(cuts, which):
    matrix = ByMatrix(np.full((150, 150), 0.3) + 0.7 * np.eye(150))
    ranges = alike(150, 200, correlation=[DEFAULT_CORRELATION, matrix][which])
    ends = sorted({0, *cuts, 150})
    parts = sum(part_of_totals(ranges, *ends[place : place + 2]) for place in range(len(ends) - 1))
    assert parts.tobytes() == simulated_totals(ranges).phase_totals.tobytes()


@pytest.mark.parametrize("processes", [1, 3])
def test_the_number_of_processes_changes_no_byte(processes):
    ranges = alike(90, 500)
    with ProcessPoolExecutor(processes, mp_context=get_context("spawn")) as pool:
        parts = sum(pool.map(part_of_totals, [ranges] * 3, [0, 30, 60], [30, 60, 90]))
    assert parts.tobytes() == simulated_totals(ranges).phase_totals.tobytes()


def test_another_seed_gives_another_sample():
    assert simulated_totals(job(seed=1)).total_cents.tolist() != (
        simulated_totals(job(seed=2)).total_cents.tolist()
    )


@pytest.mark.parametrize("correlation", CORRELATIONS)
def test_the_mean_does_not_depend_on_what_moves_together(correlation):
    # 1,033,333.33 + 550,000 + crew + 40,000 - 100,000 + 125,000; the crew by its own simulation
    crew = 650_000 * 1.075 * np.mean(1 / Pert(0.7, 1.0, 1.2).quantile(np.linspace(0, 1, 200_001)))
    found = simulated_totals(job(correlation=correlation)).mean_cents
    assert found == pytest.approx(1_648_333.33 + crew, rel=5e-4)


def test_the_estimate_is_the_likely_cost_and_not_the_mean():
    found = simulated_totals(job())
    assert found.estimate_cents == 900_000 + 500_000 + 650_000 + 40_000 - 120_000
    assert found.mean_cents > found.estimate_cents
    text = found.statements[-1]
    assert text.startswith("The estimate of $19,700.00 is the likely cost of every line.")
    assert "above it" in text


def test_a_mean_below_the_estimate_is_said_to_lie_below_it():
    found = simulated_totals(JobRanges((CostRange("stone", Triangular(3e5, 9e5, 9e5)),)))
    assert found.mean_cents == pytest.approx(700_000, abs=50)
    assert "The mean is $1,999.99 below it, at $7,000.01" in found.statements[-1]


def test_the_report_says_how_lines_move_together_and_which_seed_was_used():
    found = simulated_totals(job(seed=1906))
    assert found.statements[0] == "Any two lines move together by 0.3 (the default)."
    assert found.statements[1] == "2,000 iterations in Latin hypercubes, seed 1906."


def test_phases_stand_in_the_order_of_the_lines_and_add_up():
    found = simulated_totals(job())
    assert found.phases == ("20", "30", "10")
    assert found.phase_estimates == (1_400_000, 690_000, -120_000)
    assert (found.phase_totals.sum(axis=0) == found.total_cents).all()


def test_a_job_without_ranges_is_certain():
    sure = JobRanges((LineRange("permit", 40_000), CostRange("sign", Fixed(2_500.4))))
    found = simulated_totals(sure)
    assert set(found.total_cents.tolist()) == {42_500}
    assert found.sd_cents == 0.0
    assert found.probability_within(42_500) == 1.0
    assert found.probability_within(42_499) == 0.0


def test_percentiles_are_what_so_many_iterations_stay_within():
    found = simulated_totals(job())
    for share, cents in found.percentiles().items():
        assert found.probability_within(cents) >= share
        assert found.probability_within(cents - 1) < share
    assert list(found.percentiles().values()) == sorted(found.percentiles().values())
    assert found.percentile_cents(0.5) == sorted(found.total_cents.tolist())[999]


def test_the_curve_rises_from_the_least_to_certainty():
    found = simulated_totals(job())
    points = found.curve(21)
    assert len(points) == 21
    assert [share for _, share in points] == sorted(share for _, share in points)
    assert points[0][0] == found.sorted_cents[0]
    assert points[-1] == (found.sorted_cents[-1], 1.0)


def test_quantity_and_rate_multiply_and_production_divides():
    line = LineRange(
        "crew", 100_000, quantity=Fixed(1.1), rate=Uniform(0.9, 1.1), production=Fixed(0.5)
    )
    found = simulated_totals(JobRanges((line,), iterations=10_000))
    assert found.mean_cents == pytest.approx(220_000, abs=5)
    assert found.sorted_cents[[0, -1]] == pytest.approx([198_000, 242_000], abs=10)


@pytest.mark.parametrize("correlation", [INDEPENDENT, DEFAULT_CORRELATION])
def test_a_slow_crew_costs_more_on_average_than_the_likely_one(correlation):
    line = LineRange("crew", 100_000, production=Uniform(0.5, 1.5))
    found = simulated_totals(JobRanges((line, LINES[0]), correlation=correlation))
    # E[1/p] = ln 3
    assert found.phase_totals[0].mean() == pytest.approx(100_000 * np.log(3.0), rel=1e-4)


@pytest.mark.parametrize("correlation", [INDEPENDENT, DEFAULT_CORRELATION, ByGroups(1.0)])
def test_every_line_keeps_its_strata_whatever_moves_together(correlation):
    ranges = job(1_000, correlation=correlation)
    ranks = ranges.ranks()
    salvage = np.sort(ranges.costs(4, ranks)) / -120_000
    of_each = Triangular(0.3, 1.0, 1.2).quantile(np.arange(1_001) / 1_000)[::-1]
    assert (salvage <= of_each[:-1] + 1e-5).all()
    assert (salvage >= of_each[1:] - 1e-5).all()


@settings(max_examples=10)
@given(st.integers(0, 10_000))
def test_more_correlation_widens_the_simulated_total(seed):
    sds = [
        simulated_totals(alike(30, 2_000, seed, ByGroups(between))).sd_cents
        for between in (0.0, 0.15, 0.3, 0.6, 1.0)
    ]
    assert sds == sorted(sds)


def test_the_simulated_spread_is_that_of_the_formula():
    ranges = alike(100, 10_000)
    sds = [np.sqrt(line.cost.variance) for line in ranges.lines]
    expected = total_sd(sds, DEFAULT_CORRELATION)
    # Skewed costs correlate by a hair less than the normal scores behind them.
    assert simulated_totals(ranges).sd_cents == pytest.approx(expected, rel=0.02)


def test_lines_of_an_item_share_its_quantity():
    parts = (
        LineRange("stone", 600_000, rate=Uniform(0.9, 1.1)),
        LineRange("crew", 400_000, production=Fixed(0.8)),
    )
    item = ItemRange("20.010", Uniform(0.8, 1.2), parts, "material", "20")
    found = simulated_totals(JobRanges((item,)))
    assert found.estimate_cents == 1_000_000
    assert found.mean_cents == pytest.approx(1_100_000, rel=1e-3)
    # var(Q R) of independent Q and R, R = 500,000 + 600,000 x rate
    rate_variance = 600_000**2 * 0.2**2 / 12
    quantity_variance = 0.4**2 / 12
    variance = rate_variance * quantity_variance + rate_variance + 1_100_000**2 * quantity_variance
    assert found.sd_cents == pytest.approx(np.sqrt(variance), rel=0.01)


def test_an_item_moves_with_other_lines_as_a_whole():
    parts = (LineRange("stone", 600_000, rate=Uniform(0.9, 1.1)), LineRange("crew", 400_000))
    item = ItemRange("20.010", Uniform(0.8, 1.2), parts, "material", "20")
    ranges = JobRanges((item, LINES[1]), correlation=ByGroups(0.5))
    ranks = ranges.ranks()
    found = np.corrcoef(ranges.costs(0, ranks), ranges.costs(1, ranks))[0, 1]
    assert found == pytest.approx(0.5, abs=0.03)


def test_an_item_without_ranges_is_certain():
    sure = ItemRange("20.010", Fixed(1.1), (LineRange("stone", 600_000),))
    assert set(simulated_totals(JobRanges((sure,))).total_cents.tolist()) == {660_000}


def test_an_event_happens_as_often_as_its_probability_says():
    found = simulated_totals(job(2_000, events=(CISTERN,), lines=()))
    assert found.estimate_cents == 0
    assert (found.total_cents > 0).mean() == pytest.approx(0.25, abs=1e-3)
    assert found.mean_cents == pytest.approx(125_000, rel=1e-3)


def test_an_event_moves_with_no_line():
    ranges = job(20_000, correlation=ByGroups(1.0))
    ranks = ranges.ranks()
    costs = [ranges.costs(number, ranks) for number in (0, 1, 5)]
    found = np.corrcoef(costs)
    assert found[0, 1] > 0.95
    assert abs(found[0, 2]) < 0.03


def test_progress_is_reported_up_to_the_whole():
    told = []
    simulated_totals(alike(95), chunk=30, progress=told.append)
    assert told == pytest.approx([30 / 95, 60 / 95, 90 / 95, 1.0])


@pytest.mark.parametrize(
    ("make", "error", "said"),
    [
        (lambda: JobRanges(()), RangeFaulty, "there is neither a line nor an event"),
        (lambda: JobRanges(LINES, seed=-1), RangeFaulty, "seed: is not a whole number"),
        (lambda: JobRanges(LINES, iterations=5), RangeFaulty, "iterations: 5 are too few"),
        (
            lambda: JobRanges(LINES, correlation=ByMatrix(np.eye(2))),
            CorrelationFaulty,
            "a matrix of 2 does not fit 5 lines",
        ),
        (
            lambda: JobRanges((CostRange("palace", Uniform(0, 1e20)),)),
            AmountTooLarge,
            "line palace: may cost more than can be counted in cents",
        ),
        (
            lambda: JobRanges((CostRange("palace", Uniform(0, 9e15)),) * 60),
            AmountTooLarge,
            "may add up to more than can be counted in cents",
        ),
        (
            lambda: JobRanges(
                tuple(CostRange("x", Fixed(1), phase=str(n)) for n in range(60)),
                iterations=1_000_000,
            ),
            RangeFaulty,
            "60 phases by 1,000,000 iterations are too many",
        ),
        (lambda: LineRange("stone", 12.5), RangeFaulty, "line 'stone': '12.5' is not in whole"),
        (
            lambda: LineRange("stone", 5, rate=0.9),
            RangeFaulty,
            "line 'stone', rate: is not a range",
        ),
        (
            lambda: LineRange("stone", 5, quantity=Uniform(-0.1, 1)),
            RangeFaulty,
            "line 'stone', quantity: may be as low as -0.1",
        ),
        (
            lambda: LineRange("stone", 5, production=Uniform(0, 1)),
            RangeFaulty,
            "line 'stone', production: may be as low as 0",
        ),
        (
            lambda: ItemRange("20.010", Uniform(-1, 1), ()),
            RangeFaulty,
            "item '20.010', quantity: may be as low as -1",
        ),
        (lambda: ItemRange("20.010", Fixed(1), ()), RangeFaulty, "item '20.010': has no line"),
        (lambda: CostRange("stone", 5), RangeFaulty, "line 'stone': its cost is not a range"),
        (lambda: simulated_totals(job(), chunk=0), RangeFaulty, "a chunk of 0 lines has none"),
        (lambda: simulated_totals(job()).curve(1), RangeFaulty, "a curve cannot have 1 points"),
        (
            lambda: simulated_totals(job()).percentile_cents(1.0),
            RangeFaulty,
            "confidence: 1.0 is not above 0 and below 1; write 0.8 for 80 %",
        ),
    ],
)
def test_what_cannot_be_simulated_is_refused(make, error, said):
    with pytest.raises(error) as caught:
        make()
    assert said in str(caught.value)


def test_all_that_is_wrong_with_a_line_is_reported_at_once():
    with pytest.raises(RangeFaulty) as caught:
        LineRange("stone", 12.5, quantity=Uniform(-1, 1), rate=None, production=Fixed(0))
    assert len(caught.value.faults) == 4

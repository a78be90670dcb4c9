"""Earned value, indexes and forecasts against published cases."""

from fractions import Fraction

import pytest

from estimator.tracking.earned_value import Performance, earned_cents
from estimator.tracking.forecast import (
    at_budgeted_cost,
    at_cost_and_schedule_index,
    at_cost_index,
)
from tests.published.source import published

PRA = "R package PRA, reference manual 0.3.0"
GOLD_CARD = "U.S. Department of Defense, Earned Value Management Gold Card"
NASA = "NASA Earned Value Management, EVM Tutorial (evm.nasa.gov)"
CASE = Performance(50_000_000, 25_000_000, 20_000_000, 29_000_000)


@published(
    source="Source not recorded: an exercise on a fence of four sides at $1,000",
    section="fence",
    status="seen",
    note="prints EAC 4,479 from a cost index rounded to .893; the exact one gives 4,480",
)
def test_a_fence_half_a_side_behind_is_300_over_and_ends_at_4_480():
    fence = Performance(400_000, 300_000, 250_000, 280_000)
    assert (fence.cost_variance_cents, fence.schedule_variance_cents) == (-30_000, -50_000)
    assert (str(fence.cost_index), str(fence.schedule_index)) == ("0.893", "0.833")
    assert at_cost_index(fence) == 448_000
    assert int(4_000 / 0.893) == 4_479


@published(
    source="P. Govan, Project Risk Analysis with R, chapter 5",
    section="5, earned value management",
    status="seen",
)
def test_a_project_at_40_percent_that_was_planned_at_50():
    assert earned_cents(50_000_000, 100, 40) == 20_000_000
    assert (CASE.cost_index.ratio, str(CASE.schedule_index)) == (Fraction(20, 29), "0.800")
    assert at_cost_index(CASE) == 72_500_000
    assert at_budgeted_cost(CASE) == 59_000_000
    assert at_cost_and_schedule_index(CASE) == 83_375_000
    assert str(CASE.to_complete_index) == "1.429"


@published(source=PRA, section="cpi, examples", status="seen")
def test_35_000_earned_for_36_000_is_a_cost_index_of_0_972():
    earned = earned_cents(10_000_000, 100, 35)
    index = Performance(10_000_000, 0, earned, 3_600_000).cost_index
    assert (earned, float(index.ratio)) == (3_500_000, pytest.approx(0.9722222, abs=5e-8))


@published(source=PRA, section="eac, examples, spi of the same project", status="seen")
def test_35_000_earned_where_40_000_was_planned_is_a_schedule_index_of_0_875():
    assert str(Performance(10_000_000, 4_000_000, 3_500_000, 1).schedule_index) == "0.875"


@published(source=PRA, section="eac, examples, typical", status="seen")
def test_100_000_at_a_cost_index_of_0_83_ends_at_120_481_90():
    assert at_cost_index(Performance(10_000_000, 0, 83, 100)) == pytest.approx(12_048_190, abs=5)


@published(source=PRA, section="eac, examples, atypical", status="seen")
def test_63_000_spent_and_35_000_earned_of_100_000_end_at_128_000_at_the_budgets_rates():
    assert at_budgeted_cost(Performance(10_000_000, 0, 3_500_000, 6_300_000)) == 12_800_000


@published(source=PRA, section="tcpi, examples", status="seen")
def test_the_rest_of_that_project_must_be_done_at_an_index_of_1_76():
    index = Performance(10_000_000, 0, 3_500_000, 6_300_000).to_complete_index
    assert round(float(index.ratio), 2) == 1.76


@published(source=NASA, section="tutorial, concluded: schedule and cost variance", status="seen")
def test_60_earned_of_100_planned_for_110_is_40_behind_and_50_over():
    task = Performance(10_000_000, 10_000_000, 6_000_000, 11_000_000)
    assert task.schedule_variance_cents == -4_000_000
    assert task.cost_variance_cents == -5_000_000


@published(
    source=GOLD_CARD,
    section="formulas",
    status="derived",
    note="earned less cost, earned less planned, and their ratios; the sums are an exercise's",
)
def test_90_earned_of_100_planned_for_110_is_over_budget_and_behind():
    project = Performance(0, 10_000_000, 9_000_000, 11_000_000)
    assert project.cost_variance_cents == -2_000_000
    assert project.schedule_variance_cents == -1_000_000
    assert (str(project.cost_index), str(project.schedule_index)) == ("0.818", "0.900")


@published(
    source=GOLD_CARD,
    section="formulas",
    status="derived",
    note="a job that is under budget and ahead; the sums are an exercise's",
)
def test_900_earned_of_800_planned_for_850_is_under_budget_and_ahead():
    project = Performance(0, 80_000_000, 90_000_000, 85_000_000)
    assert project.cost_variance_cents == 5_000_000
    assert project.schedule_variance_cents == 10_000_000
    assert (str(project.cost_index), str(project.schedule_index)) == ("1.059", "1.125")


ARIZVAL = "Project Control and Monitoring, examples (ce.arizval.com)"


@published(source=ARIZVAL, section="Forecasting Estimate at Completion", status="seen")
def test_450_earned_for_480_is_a_cost_index_of_0_9375():
    project = Performance(100_000_000, 50_000_000, 45_000_000, 48_000_000)
    assert project.cost_index.ratio == Fraction("0.9375")


@published(
    source="M. Salama, Earned Value Overview (lecture), chapter 14",
    section="1 to 5, ten houses",
    status="seen",
)
def test_three_houses_of_ten_after_four_weeks_for_6_000_are_3_000_over():
    earned = earned_cents(1_000_000, 10, 3)
    houses = Performance(1_000_000, 400_000, earned, 600_000)
    assert (earned, houses.cost_variance_cents) == (300_000, -300_000)


@published(
    source=GOLD_CARD,
    section="formulas",
    status="derived",
    note="its identities, tried on the case above: EAC = AC + (BAC - EV) / CPI is BAC / CPI",
)
def test_the_two_forms_of_the_forecast_by_the_cost_index_agree():
    rest = CASE.budget_cents - CASE.earned_cents
    assert at_cost_index(CASE) == CASE.incurred_cents + rest / CASE.cost_index.ratio
    assert at_cost_index(CASE) == CASE.budget_cents / CASE.cost_index.ratio

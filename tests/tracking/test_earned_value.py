"""Earned and planned value, and what is undefined."""

from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import AmountFaulty
from estimator.tracking.earned_value import Index, Performance, earned_cents, planned_cents
from estimator.tracking.forecast import at_cost_and_schedule_index, at_cost_index

CENTS = st.integers(0, 10**12)
QUANTITIES = st.decimals("0.01", "999999.99", places=2)


@given(CENTS, QUANTITIES, QUANTITIES)
def test_earned_value_is_never_above_the_budget(budget, whole, done):
    assert 0 <= earned_cents(budget, whole, done) <= budget


@given(CENTS, QUANTITIES)
def test_all_in_place_earns_the_budget_and_nothing_earns_nothing(budget, whole):
    assert earned_cents(budget, whole, whole) == budget
    assert earned_cents(budget, whole, 0) == 0


def test_a_half_cent_is_rounded_up():
    """$0.05 over 10 sf is half a cent a square foot; 1 sf earns a cent."""
    assert earned_cents(5, 10, 1) == 1


def test_a_budget_without_a_quantity_has_no_earned_value():
    with pytest.raises(AmountFaulty, match="budgeted quantity above zero"):
        earned_cents(100, 0, 1)
    with pytest.raises(AmountFaulty):
        earned_cents(100, 1, Decimal("-0.01"))


def test_planned_value_is_nothing_the_day_before_and_all_on_the_last_day():
    start, finish = date(2026, 5, 4), date(2026, 5, 8)
    days = [date(2026, 5, 3), start, date(2026, 5, 6), finish, date(2026, 5, 9)]
    values = [planned_cents(1_000, start, finish, day) for day in days]
    assert values == [0, 200, 600, 1_000, 1_000]


def test_work_of_one_day_is_planned_on_that_day():
    day = date(2026, 5, 4)
    assert planned_cents(777, day, day, day) == 777


def test_work_that_ends_before_it_starts_is_refused():
    with pytest.raises(AmountFaulty, match="before it starts"):
        planned_cents(1, date(2026, 5, 5), date(2026, 5, 4), date(2026, 5, 4))


def test_an_index_over_nothing_is_undefined_never_zero():
    nothing_spent = Performance(1_000, 0, 100, 0)
    assert str(nothing_spent.cost_index) == str(nothing_spent.schedule_index) == "undefined"
    assert not nothing_spent.cost_index.is_defined
    with pytest.raises(AmountFaulty, match="undefined"):
        _ = Index(1, 0).ratio


def test_the_budget_is_spent_so_the_index_to_complete_is_undefined():
    assert str(Performance(1_000, 0, 100, 1_000).to_complete_index) == "undefined"


def test_a_job_behind_its_schedule_ends_dearer_by_both_indexes():
    """Earned 4,000 of 10,000 for 6,000, 5,000 planned: 6,000 left x 1.5 / 0.8 is 11,250 more."""
    assert at_cost_and_schedule_index(Performance(10_000, 5_000, 4_000, 6_000)) == 17_250


def test_without_anything_earned_or_planned_the_indexes_forecast_nothing():
    with pytest.raises(AmountFaulty, match="nothing is earned yet"):
        at_cost_index(Performance(1_000, 500, 0, 200))
    with pytest.raises(AmountFaulty, match="nothing is planned"):
        at_cost_and_schedule_index(Performance(1_000, 0, 100, 200))

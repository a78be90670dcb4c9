"""Forecasts by what is left."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import AmountFaulty
from estimator.tracking.earned_value import Performance, earned_cents
from estimator.tracking.forecast import Observed, at_cost_index, what_is_left

PLANNED = Observed(Decimal(400), {"material": 1_100_000, "labor": 360_000})


def test_the_rest_costs_what_the_window_shows_each_kind_for_itself():
    """112 ton took $3,360.00 of stone and $1,321.60 of labor; 288 ton are left: x 288 / 112."""
    window = Observed(Decimal(112), {"material": 336_000, "labor": 132_160})
    rest = what_is_left(400, 112, window, PLANNED)
    assert (rest.quantity, rest.cents) == (Decimal(288), 1_203_840)
    assert dict(rest.basis_by_kind) == {"material": "observed", "labor": "observed"}


def test_before_anything_is_placed_the_budget_holds():
    rest = what_is_left(500, 0, Observed(Decimal(0), {}), PLANNED)
    assert dict(rest.cents_by_kind) == {"material": 1_375_000, "labor": 450_000}
    assert set(rest.basis_by_kind.values()) == {"budgeted"}


def test_what_is_ordered_comes_at_its_price():
    window = Observed(Decimal(100), {"material": 500_000, "labor": 90_000})
    rest = what_is_left(400, 100, window, PLANNED, {"material": 1_200_000})
    assert dict(rest.cents_by_kind) == {"material": 1_200_000, "labor": 270_000}
    assert rest.basis_by_kind["material"] == "committed"


def test_nothing_is_left_once_more_is_in_place_than_was_expected():
    rest = what_is_left(100, 120, Observed(Decimal(120), {"labor": 5_000}), PLANNED)
    assert (rest.quantity, rest.cents) == (Decimal(0), 0)


def test_of_work_all_in_place_only_the_orders_are_left_and_no_rent_that_runs_on():
    window = Observed(Decimal(80), {"equipment": 104_000, "material": 90_000})
    rest = what_is_left(80, 80, window, PLANNED, {"material": 52_000})
    assert dict(rest.cents_by_kind) == {"equipment": 0, "material": 52_000}


def test_work_without_any_quantity_cannot_be_forecast():
    nothing = Observed(Decimal(0), {})
    with pytest.raises(AmountFaulty, match="neither the window nor the budget"):
        what_is_left(10, 0, nothing, nothing)


@given(st.integers(1, 10_000), st.integers(1, 10_000), st.integers(1, 10**9), st.integers(1, 10**9))
def test_over_all_costs_and_the_planned_quantity_it_is_the_budget_over_the_cost_index(
    whole, done, budget, incurred
):
    done = min(done, whole)
    window = Observed(Decimal(done), {"labor": incurred})
    rest = what_is_left(whole, done, window, Observed(Decimal(whole), {"labor": budget}))
    earned = earned_cents(budget, whole, done)
    exact = incurred * whole / done
    assert incurred + rest.cents == pytest.approx(exact, abs=1)
    if earned > 1_000_000:  # the earned value is rounded to the cent, the index goes by it
        by_index = at_cost_index(Performance(budget, 0, earned, incurred))
        assert by_index == pytest.approx(exact, rel=1e-6, abs=1)

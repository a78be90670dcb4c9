"""Machines on rent: the accrual, and the day by which to call one off."""

from datetime import date, timedelta
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import EquipmentFaulty
from estimator.rates.machines.rental_rates import RentalRates
from estimator.tracking.machines_on_rent import OnRent, next_call_off, rent_accrued_cents
from tests.tracking.rows import MONDAY, at

RATES = RentalRates(day=Decimal(295), week=Decimal(1040), month=Decimal(2950))


def lift(called_off=None, rates=RATES):
    return OnRent(1, MONDAY, at(MONDAY), "lift", "Yard", "40.010", rates, called_off)


def test_on_the_fourth_day_the_week_is_charged_and_three_more_days_cost_nothing():
    thursday = date(2026, 5, 7)
    assert rent_accrued_cents(lift(), thursday) == 104_000
    step = next_call_off(lift(), thursday)
    assert (step.last_day, step.cents_now, step.cents_then) == (date(2026, 5, 10), 104_000, 133_500)


def test_the_accrual_stops_with_the_last_day_that_is_charged():
    called = lift(called_off=date(2026, 5, 5))
    assert rent_accrued_cents(called, date(2026, 7, 1)) == 59_000
    assert next_call_off(called, date(2026, 7, 1)) is None


def test_a_rent_that_has_not_begun_accrues_nothing_to_ask_for():
    with pytest.raises(EquipmentFaulty, match="lift is on rent from 2026-05-04, after 2026-05-03"):
        rent_accrued_cents(lift(), date(2026, 5, 3))


@given(st.integers(0, 80))
def test_through_the_named_day_the_rent_stays_and_on_the_next_it_is_what_was_said(days):
    as_of = MONDAY + timedelta(days)
    step = next_call_off(lift(), as_of)
    assert rent_accrued_cents(lift(), as_of) == step.cents_now
    assert rent_accrued_cents(lift(), step.last_day) == step.cents_now
    assert rent_accrued_cents(lift(), step.last_day + timedelta(1)) == step.cents_then
    assert step.last_day >= as_of

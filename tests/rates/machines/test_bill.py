from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import EquipmentFaulty
from estimator.rates.machines.bill import (
    BreakEven,
    RentalTerms,
    break_even_table,
    rental_bill,
    tier_starts,
)
from estimator.rates.machines.rental import cheapest_rental
from estimator.rates.machines.rental_rates import RentalRates

RATES = RentalRates(Decimal(295), Decimal(1040), Decimal(2950), over_hour=Decimal("36.88"))
TERMS = RentalTerms(
    delivery=Decimal(125), pick_up=Decimal(125), damage_waiver_fraction=Decimal("0.15"),
    environmental_fee_fraction=Decimal("0.02"), environmental_fee_most=Decimal(15),
    fuel_per_hr=Decimal("7.20"),
)  # fmt: skip


def test_a_week_with_hours_over_is_billed_line_by_line():
    bill = rental_bill(cheapest_rental(5, RATES, 46.0), TERMS, Decimal(46))
    assert (bill.rent, bill.over_hours) == (Decimal("1040.00"), Decimal("221.28"))
    assert (bill.damage_waiver, bill.environmental_fee) == (Decimal("189.19"), Decimal("15.00"))
    assert (bill.delivery, bill.pick_up, bill.fuel) == (
        Decimal("125.00"), Decimal("125.00"), Decimal("331.20"),
    )  # fmt: skip
    assert bill.total == Decimal("2046.67")


def test_a_fee_below_its_cap_is_charged_as_it_is():
    bill = rental_bill(cheapest_rental(1, RATES), TERMS, Decimal(0))
    assert (bill.environmental_fee, bill.fuel) == (Decimal("5.90"), Decimal("0.00"))


def test_rent_alone_is_the_bill_of_a_yard_without_extras():
    assert rental_bill(cheapest_rental(1, RATES), RentalTerms(), Decimal(8)).total == 295


def test_four_days_are_a_week_and_three_weeks_or_ten_days_a_month():
    assert break_even_table(RATES) == (
        BreakEven("day", "week", 4), BreakEven("week", "month", 3), BreakEven("day", "month", 10),
    )  # fmt: skip


def test_a_longer_tier_that_never_pays_is_left_out():
    assert break_even_table(RentalRates(Decimal(100), Decimal(701))) == ()
    assert break_even_table(RentalRates(Decimal(100), Decimal(700))) == (
        BreakEven("day", "week", 7),
    )


def test_a_week_for_the_price_of_a_day_pays_from_the_first_day():
    assert break_even_table(RentalRates(Decimal(100), Decimal(90))) == (
        BreakEven("day", "week", 1),
    )


def test_what_is_free_by_the_day_and_by_the_week_breaks_even_at_once():
    assert break_even_table(RentalRates(Decimal(0), Decimal(0))) == (BreakEven("day", "week", 1),)


def test_a_month_starts_before_three_whole_weeks_are_needed():
    assert tier_starts(RATES) == {"day": 1, "week": 4, "month": 17}


def test_tiers_that_are_absent_or_never_taken_have_no_start():
    assert tier_starts(RentalRates(week=Decimal(1040))) == {"week": 1}
    assert tier_starts(RentalRates(Decimal(100), Decimal(800), Decimal(2500))) == {
        "day": 1, "month": 25,
    }  # fmt: skip


@pytest.mark.parametrize(
    "make",
    [
        lambda: RentalTerms(delivery=Decimal(-1)),
        lambda: RentalTerms(damage_waiver_fraction=Decimal(15)),
        lambda: RentalTerms(environmental_fee_most=Decimal(-1)),
        lambda: rental_bill(cheapest_rental(1, RATES), TERMS, Decimal(-1)),
    ],
)
def test_charges_below_zero_and_percents_are_refused(make):
    with pytest.raises(EquipmentFaulty):
        make()


@given(st.integers(1, 400), st.decimals(0, 3000, places=2))
def test_a_bill_is_never_below_its_rent(days, hours):
    rental = cheapest_rental(days, RATES, float(hours))
    assert rental_bill(rental, TERMS, hours).total >= rental.rent


@given(st.decimals(1, 500, places=2), st.decimals(1, 3000, places=2))
def test_the_week_is_taken_from_its_break_even_and_not_before(day, week):
    rates = RentalRates(day, week)
    for one in break_even_table(rates):
        assert cheapest_rental(one.count, rates).weeks == 1
        assert one.count == 1 or cheapest_rental(one.count - 1, rates).weeks == 0

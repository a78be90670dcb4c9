from decimal import Decimal

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import EquipmentFaulty
from estimator.rates.machines.rental import cheapest_rental
from estimator.rates.machines.rental_rates import LONGEST_DAYS, RentalRates

SKID_STEER = RentalRates(day=Decimal(295), week=Decimal(1040), month=Decimal(2950))
SPANS = np.arange(1, 401)
price = st.none() | st.decimals(1, 9000, places=2)


@st.composite
def rental_rates(draw):
    day, week, month = draw(st.tuples(price, price, price).filter(any))
    return RentalRates(day, week, month)


def cheapest_by_the_book(rates: RentalRates, longest: int) -> list[Decimal]:
    """Return the least cost of spans 0 to longest, each from the shorter ones."""
    tiers = [tier for tier in rates.tiers if tier is not None]
    least = [Decimal(0)]
    for span in range(1, longest + 1):
        least.append(min(least[max(0, span - tier.days)] + tier.price for tier in tiers))
    return least


def mix(days: int, rates: RentalRates) -> tuple[int, int, int, Decimal]:
    rental = cheapest_rental(days, rates)
    return rental.months, rental.weeks, rental.days, rental.cost


def test_one_day_is_one_day():
    assert mix(1, SKID_STEER) == (0, 0, 1, Decimal("295.00"))


def test_the_fourth_day_makes_it_a_week():
    assert mix(3, SKID_STEER) == (0, 0, 3, Decimal("885.00"))
    assert mix(4, SKID_STEER) == (0, 1, 0, Decimal("1040.00"))


def test_ten_days_are_a_week_and_three_days():
    assert mix(10, SKID_STEER) == (0, 1, 3, Decimal("1925.00"))


def test_the_third_week_makes_it_a_month():
    assert mix(14, SKID_STEER) == (0, 2, 0, Decimal("2080.00"))
    assert mix(18, SKID_STEER) == (1, 0, 0, Decimal("2950.00"))


def test_five_weeks_are_a_month_and_a_week():
    assert mix(35, SKID_STEER) == (1, 1, 0, Decimal("3990.00"))


def test_of_equal_mixes_the_longer_tier_is_taken():
    assert mix(4, RentalRates(Decimal(250), Decimal(1000))) == (0, 1, 0, Decimal("1000.00"))


def test_a_month_that_is_dearer_than_its_weeks_is_never_taken():
    dear = RentalRates(Decimal(295), Decimal(700), Decimal(2950))
    assert mix(28, dear) == (0, 4, 0, Decimal("2800.00"))


def test_a_yard_without_days_bills_a_started_week():
    assert mix(8, RentalRates(week=Decimal(1040))) == (0, 2, 0, Decimal("2080.00"))


def test_a_yard_with_months_only_bills_a_started_month():
    assert mix(29, RentalRates(month=Decimal(2950))) == (2, 0, 0, Decimal("5900.00"))


def test_a_yard_with_days_only_bills_days():
    assert mix(30, RentalRates(day=Decimal(295))) == (0, 0, 30, Decimal("8850.00"))


def test_the_minimum_is_charged_for_a_shorter_span():
    least = RentalRates(day=Decimal(295), minimum_days=2)
    assert cheapest_rental(1, least).span_days == 2
    assert cheapest_rental(1, least).cost == Decimal("590.00")


def test_workdays_count_in_fives_and_twenties():
    workdays = RentalRates(
        Decimal(295), Decimal(1040), Decimal(2950), days_in_week=5, days_in_month=20
    )
    assert mix(25, workdays) == (1, 1, 0, Decimal("3990.00"))


def test_hours_beyond_the_included_ones_are_charged():
    rates = RentalRates(day=Decimal(295), over_hour=Decimal("36.875"))
    rental = cheapest_rental(2, rates, meter_hours=18.5)
    assert (rental.over_hours, rental.over_hour_charge) == (Decimal("2.50"), Decimal("92.19"))
    assert rental.cost == Decimal("682.19")


def test_hours_may_make_another_mix_the_cheapest():
    rates = RentalRates(Decimal(295), Decimal(1200), over_hour=Decimal(50))
    few = cheapest_rental(4, rates, meter_hours=32.0)
    many = cheapest_rental(4, rates, meter_hours=40.0)
    assert (few.days, few.cost) == (4, Decimal("1180.00"))
    assert (many.weeks, many.cost) == (1, Decimal("1200.00"))


def test_a_second_machine_is_never_rented_for_its_hours():
    rates = RentalRates(week=Decimal(100), over_hour=Decimal(50))
    assert cheapest_rental(5, rates, meter_hours=80.0).cost == Decimal("2100.00")


def test_with_many_hours_a_longer_span_may_be_cheaper():
    rates = RentalRates(day=Decimal(100), over_hour=Decimal(50))
    assert cheapest_rental(1, rates, meter_hours=16.0).cost == Decimal("500.00")
    assert cheapest_rental(2, rates, meter_hours=16.0).cost == Decimal("200.00")


def test_one_span_is_the_same_as_in_an_array():
    rentals = cheapest_rental([3, 35], SKID_STEER)
    assert rentals.months.tolist() == [0, 1]
    assert rentals.weeks.tolist() == [0, 1]
    assert rentals.days.tolist() == [3, 0]
    assert rentals.cost_cents.tolist() == [88500, 399000]


def test_hours_go_with_their_spans():
    rates = RentalRates(day=Decimal(100), over_hour=Decimal(50))
    rentals = cheapest_rental([1, 2], rates, meter_hours=[9.0, 20.0])
    assert rentals.over_hours_scaled.tolist() == [100, 400]
    assert rentals.cost_cents.tolist() == [15000, 40000]


def test_no_spans_are_no_rentals():
    assert cheapest_rental(np.array([], dtype=np.int64), SKID_STEER).cost_cents.tolist() == []


def test_three_years_can_be_priced():
    assert cheapest_rental(LONGEST_DAYS, SKID_STEER).months == 39


@pytest.mark.parametrize(
    "make",
    [
        lambda: RentalRates(),
        lambda: RentalRates(day=Decimal(-1)),
        lambda: RentalRates(day=Decimal("0.001")),
        lambda: RentalRates(day=295.0),
        lambda: RentalRates(day=Decimal(295), over_hour=Decimal(-1)),
        lambda: RentalRates(day=Decimal(295), over_hour=Decimal("0.00001")),
        lambda: RentalRates(day=Decimal(295), minimum_days=0),
        lambda: RentalRates(day=Decimal(295), days_in_week=28),
        lambda: RentalRates(day=Decimal(295), hours_in_day=Decimal(-8)),
        lambda: cheapest_rental(0, SKID_STEER),
        lambda: cheapest_rental(-3, SKID_STEER),
        lambda: cheapest_rental(LONGEST_DAYS + 1, SKID_STEER),
        lambda: cheapest_rental([1.5], SKID_STEER),
        lambda: cheapest_rental(3, SKID_STEER, meter_hours=-1.0),
        lambda: cheapest_rental(3, SKID_STEER, meter_hours=float("nan")),
    ],
)
def test_rentals_that_cannot_be_are_refused(make):
    with pytest.raises(EquipmentFaulty):
        make()


def test_a_week_may_be_two_days_and_no_shorter():
    two = RentalRates(day=Decimal(100), week=Decimal(150), days_in_week=2)
    assert cheapest_rental(2, two).cost == Decimal("150.00")
    with pytest.raises(EquipmentFaulty, match="a week is longer than a day"):
        RentalRates(day=Decimal(100), days_in_week=1)


def test_the_longest_rental_is_priced():
    assert cheapest_rental(LONGEST_DAYS, RentalRates(day=Decimal(1))).cost == LONGEST_DAYS == 1096


def test_rates_without_a_tier_are_named():
    with pytest.raises(EquipmentFaulty, match="there is no rental tier"):
        RentalRates()


@given(rental_rates())
def test_the_mix_is_the_cheapest_there_is(rates):
    least = cheapest_by_the_book(rates, 120)[1:]
    costs = cheapest_rental(np.arange(1, 121), rates).cost_cents.tolist()
    assert costs == [int(cost * 100) for cost in least]


@given(rental_rates())
def test_no_tier_by_itself_is_cheaper(rates):
    costs = cheapest_rental(SPANS, rates).cost_cents
    for tier in rates.tiers:
        if tier is not None:
            assert np.all(costs <= -(-SPANS // tier.days) * int(tier.price * 100))


@given(rental_rates())
def test_without_over_hours_a_longer_span_never_costs_less(rates):
    costs = cheapest_rental(SPANS, rates).cost_cents
    assert np.all(np.diff(costs) >= 0)


@given(rental_rates())
def test_one_day_more_never_adds_more_than_the_cheapest_tier(rates):
    costs = cheapest_rental(SPANS, rates).cost_cents
    cheapest_tier = min(int(tier.price * 100) for tier in rates.tiers if tier is not None)
    assert np.all(np.diff(costs) <= cheapest_tier)


@given(rental_rates(), st.integers(1, 400), st.floats(0, 2000), st.floats(0, 2000))
def test_more_hours_never_cost_less(rates, days, hours, more):
    charged = RentalRates(rates.day, rates.week, rates.month, over_hour=Decimal("36.88"))
    low, high = (cheapest_rental(days, charged, one) for one in (hours, hours + more))
    assert low.cost <= high.cost


@given(rental_rates(), st.integers(1, 400), st.floats(0, 3000))
def test_the_mix_covers_the_span_and_adds_up(rates, days, hours):
    charged = RentalRates(rates.day, rates.week, rates.month, over_hour=Decimal("36.88"))
    rental = cheapest_rental(days, charged, hours)
    counts = (rental.days, rental.weeks, rental.months)
    used = [(n, tier) for n, tier in zip(counts, charged.tiers, strict=True) if n]
    assert sum(n * tier.days for n, tier in used) >= days
    assert sum(n * tier.price for n, tier in used) == rental.rent


@pytest.mark.parametrize("days", [21, Decimal(21), "21 days", "3 weeks", 21.0])
@pytest.mark.parametrize("hours", [130, 130.0, Decimal(130), "130 hr", "7,800 min"])
def test_a_span_and_its_hours_are_taken_however_they_are_written(days, hours):
    rates = RentalRates("$295/day", "$1,040/week", "$2,950/month", over_hour="$50/hr")
    rental = cheapest_rental(days, rates, hours)
    assert (rental.months, rental.weeks, rental.days, rental.cost) == (1, 0, 0, Decimal("2950.00"))


def test_several_spans_may_be_written_each_in_its_own_unit():
    assert cheapest_rental(["4 days", 7, "2 weeks"], SKID_STEER).cost_cents.tolist() == [
        104000, 104000, 208000,
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("days", "hours", "said"),
    [
        ("3 ft", 0, "days: '3 ft' is a length"),
        ("1/2 day", 0, "days: are not whole days; count started days"),
        ([[1], [2, 3]], 0, "days: is not a number"),
        (float("nan"), 0, "days: are not whole days"),
        (3, "8", "meter_hours: '8' has no unit"),
        (3, [[1], [2, 3]], "meter_hours: is not a number"),
    ],
)
def test_what_is_no_span_or_no_hours_is_reported_by_its_name(days, hours, said):
    with pytest.raises(EquipmentFaulty, match=said):
        cheapest_rental(days, SKID_STEER, hours)

"""A week's pay with overtime, by the regular rate."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import LaborFaulty
from estimator.rates.labor.overtime import (
    HoursAtRate,
    earned_week_pay,
    overtime_hours,
    overtime_on_bonus,
    salaried_week_pay,
    week_pay,
    weekly_salary,
)

hours = st.decimals(Decimal("0.25"), 100, places=2)
rates = st.decimals(8, 90, places=2)


def at(worked: str, rate: str) -> HoursAtRate:
    return HoursAtRate(Decimal(worked), Decimal(rate))


def test_forty_hours_are_no_overtime_and_the_next_quarter_is():
    assert overtime_hours(Decimal(40)) == 0
    assert overtime_hours(Decimal("40.25")) == Decimal("0.25")


def test_a_week_of_forty_hours_is_paid_straight():
    week = week_pay([at("40", "24.00")])
    assert (week.total, week.overtime_premium) == (Decimal("960.00"), Decimal("0.00"))


def test_two_rates_give_their_weighted_average():
    week = week_pay([at("30", "24.00"), at("20", "34.00")])
    assert week.regular_rate == Decimal(28)
    assert (week.straight_pay, week.overtime_premium) == (Decimal("1400.00"), Decimal("140.00"))


def test_the_order_of_the_work_makes_no_difference_to_two_rates():
    assert week_pay([at("20", "34.00"), at("30", "24.00")]).total == Decimal("1540.00")


def test_a_bonus_raises_the_overtime_of_its_week():
    week = week_pay([at("50", "20.00")], bonus=Decimal(100))
    assert week.total == Decimal("1210.00")  # 1,000 + 100 + 10 h at half of 22


def test_cash_fringe_is_paid_for_every_hour_but_earns_no_overtime():
    week = week_pay([at("50", "20.00")], cash_fringe_per_hr=Decimal("2.00"))
    assert (week.regular_rate, week.cash_fringe) == (Decimal(20), Decimal("100.00"))
    assert week.total == Decimal("1200.00")


def test_a_salary_for_fewer_hours_pays_the_hours_up_to_forty_at_its_rate():
    assert salaried_week_pay(Decimal(700), Decimal(35), Decimal(40)).total == Decimal("800.00")


def test_a_salary_is_paid_whole_in_a_short_week():
    assert salaried_week_pay(Decimal(700), Decimal(35), Decimal(20)).total == Decimal("700.00")


def test_a_salary_for_fifty_hours_still_owes_half_time_beyond_forty():
    week = salaried_week_pay(Decimal(1000), Decimal(50), Decimal(50))
    assert (week.straight_pay, week.overtime_premium) == (Decimal("1000.00"), Decimal("100.00"))


def test_a_bonus_for_four_weeks_owes_overtime_only_in_the_long_ones():
    weeks = [Decimal(40), Decimal(50), Decimal(38), Decimal(44)]
    # 50 a week: half of 1.00 x 10 h, and half of 1.13636 x 4 h
    assert overtime_on_bonus(Decimal(200), weeks) == Decimal("7.27")


def test_no_hours_and_no_pay_are_an_empty_week():
    assert earned_week_pay(Decimal(0), Decimal(0)).total == 0


@pytest.mark.parametrize(
    "pay",
    [
        lambda: earned_week_pay(Decimal(100), Decimal(0)),
        lambda: week_pay([], bonus=Decimal(50)),
        lambda: week_pay([at("169", "20")]),
        lambda: at("40", "-20"),
        lambda: at("-1", "20"),
        lambda: week_pay([at("40", "20")], bonus=Decimal(-5)),
        lambda: salaried_week_pay(Decimal(700), Decimal(0), Decimal(40)),
        lambda: weekly_salary(Decimal(1000), 0),
        lambda: overtime_on_bonus(Decimal(100), []),
        lambda: overtime_on_bonus(Decimal(100), [Decimal(0), Decimal(45)]),
    ],
)
def test_pay_that_cannot_be_is_refused(pay):
    with pytest.raises(LaborFaulty):
        pay()


def test_a_salary_of_a_whole_year_is_52_weeks():
    assert weekly_salary(Decimal(52_000), 1) == Decimal(1000)


def test_a_week_has_168_hours_and_no_more():
    assert week_pay([at("168", "20")]).total == Decimal("4640.00")
    with pytest.raises(LaborFaulty, match="more than the 168 of a week"):
        week_pay([at("168.01", "20")])


def test_pay_without_hours_is_named():
    with pytest.raises(LaborFaulty, match="hours: are zero although there is pay"):
        earned_week_pay(Decimal(100), Decimal(0))


@given(hours, rates, st.decimals(0, 500, places=2))
def test_pay_with_overtime_is_never_below_straight_pay(worked, rate, bonus):
    week = week_pay([HoursAtRate(worked, rate)], bonus)
    assert week.total >= week.straight_pay
    assert (week.overtime_premium > 0) == (worked > 40)


@given(hours, rates, rates)
def test_the_regular_rate_of_two_rates_lies_between_them(worked, low, high):
    week = week_pay([HoursAtRate(worked / 2, low), HoursAtRate(worked / 2, high)])
    nearly = Decimal("1e-20")
    assert min(low, high) - nearly <= week.regular_rate <= max(low, high) + nearly


def test_a_salary_that_no_hour_divides_evenly_misses_no_half_cent():
    # 483.76 x 5.5 / (2 x 44) is 30.235, a tie; 483.76 / 44 first gives 30.2349999...
    week = salaried_week_pay(Decimal("483.76"), Decimal(44), Decimal("45.5"))
    assert str(week.overtime_premium) == "30.24"


def test_a_bonus_that_no_week_divides_evenly_misses_no_half_cent():
    # Each week 1948.65 x 26 / (2 x 66 x 13) is 29.525, a tie.
    assert str(overtime_on_bonus(Decimal("1948.65"), [Decimal(66)] * 13)) == "383.89"


@given(st.integers(1, 10**6), st.integers(1, 168 * 4), st.integers(1, 168 * 4))
def test_overtime_is_that_of_exact_fractions(cents, quarters, salary_quarters):
    pay, hours, covered = Fraction(cents, 100), Fraction(quarters, 4), Fraction(salary_quarters, 4)
    week = salaried_week_pay(Decimal(cents) / 100, _decimal(covered), _decimal(hours))
    premium = pay * max(Fraction(0), hours - 40) / (2 * covered)
    straight = pay + pay * max(Fraction(0), hours - covered) / covered
    assert week.overtime_premium == _half_up(premium)
    assert week.straight_pay == _half_up(straight)


def _decimal(number: Fraction) -> Decimal:
    return Decimal(number.numerator) / Decimal(number.denominator)


def _half_up(amount: Fraction) -> Decimal:
    return Decimal(int(amount * 100 + Fraction(1, 2))) / 100

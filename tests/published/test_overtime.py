"""Pay of a workweek against the examples of the federal overtime regulations."""

from decimal import Decimal

import pytest

from estimator.money import round_to_cent
from estimator.rates.labor.overtime import (
    HoursAtRate,
    earned_week_pay,
    overtime_on_bonus,
    salaried_week_pay,
    week_pay,
    weekly_salary,
)
from tests.published.source import published

OVERTIME_RULES = "29 CFR part 778, Overtime Compensation"


def at(hours: str, rate: str) -> HoursAtRate:
    return HoursAtRate(Decimal(hours), Decimal(rate))


@published(source=OVERTIME_RULES, section="778.110(a), an hourly rate", status="seen")
@pytest.mark.parametrize(("rate", "total"), [("12", "588.00"), ("6", "294.00")])
def test_46_hours_at_12_are_588_and_at_the_6_of_1981_294(rate, total):
    assert week_pay([at("46", rate)]).total == Decimal(total)


@published(source=OVERTIME_RULES, section="778.110(b), an hourly rate and a bonus", status="seen")
@pytest.mark.parametrize(
    ("rate", "bonus", "regular", "total"),
    [("12", "46", "13", "637.00"), ("6", "9.20", "6.2", "303.80")],
)
def test_a_production_bonus_raises_the_regular_rate_to_13(rate, bonus, regular, total):
    week = week_pay([at("46", rate)], bonus=Decimal(bonus))
    assert (week.regular_rate, week.total) == (Decimal(regular), Decimal(total))


@published(source=OVERTIME_RULES, section="778.111(a), a pieceworker who also waits", status="seen")
def test_a_pieceworker_of_50_hours_earns_575_30():
    week = earned_week_pay(Decimal(491) + 4 * Decimal(8), Decimal(50))
    assert (week.straight_pay, week.regular_rate) == (Decimal("523.00"), Decimal("10.46"))
    assert (week.overtime_premium, week.total) == (Decimal("52.30"), Decimal("575.30"))


@published(
    source=OVERTIME_RULES,
    section="778.112, a day rate",
    status="derived",
    note="the rule is from memory, the numbers are ours: 5 days at 150, 50 hours",
)
def test_a_day_rate_is_earned_by_all_hours_and_owes_half_time_beyond_forty():
    week = earned_week_pay(5 * Decimal(150), Decimal(50))
    assert (week.regular_rate, week.total) == (Decimal(15), Decimal("825.00"))


@published(source=OVERTIME_RULES, section="778.113(a), salary of 182.70 for 35 h", status="seen")
def test_a_salary_for_35_hours_gives_5_22_and_7_83_an_hour():
    salary, hours = Decimal("182.70"), Decimal(35)
    assert salaried_week_pay(salary, hours, hours).regular_rate == Decimal("5.22")
    forty = salaried_week_pay(salary, hours, Decimal(40)).total
    assert forty == Decimal("208.80")
    assert salaried_week_pay(salary, hours, Decimal(41)).total - forty == Decimal("7.83")


@published(source=OVERTIME_RULES, section="778.113(a), salary of 220.80 for 40 h", status="seen")
def test_a_salary_for_40_hours_gives_5_52_an_hour():
    week = salaried_week_pay(Decimal("220.80"), Decimal(40), Decimal(40))
    assert week.regular_rate == Decimal("5.52")


@published(
    source=OVERTIME_RULES,
    section="778.113(b), monthly 1,040",
    status="seen",
    note="the halves of the month and 6 an hour follow from the rule",
)
def test_1040_a_month_and_520_half_a_month_are_6_an_hour():
    assert weekly_salary(Decimal(1040), 12) == weekly_salary(Decimal(520), 24) == 240
    assert salaried_week_pay(Decimal(240), Decimal(40), Decimal(40)).regular_rate == 6


@published(
    source=OVERTIME_RULES,
    section="778.114, 600 a week for hours that vary",
    status="from memory",
    note=(
        "prints 627.28 for the week of 44 hours, from a half-rate rounded to 6.82; "
        "unrounded it is 627.27"
    ),
)
@pytest.mark.parametrize(
    ("hours", "total"), [("37.5", "600.00"), ("44", "627.27"), ("50", "660.00"), ("48", "650.00")]
)
def test_a_salary_for_all_hours_owes_half_of_a_rate_that_falls_with_them(hours, total):
    assert earned_week_pay(Decimal(600), Decimal(hours)).total == Decimal(total)


@published(
    source=OVERTIME_RULES,
    section="778.115, two or more rates",
    status="derived",
    note="the rule was read; 30 h at 24 and 20 h at 34 are ours",
)
def test_two_rates_make_one_regular_rate_weighted_by_hours():
    week = week_pay([at("30", "24"), at("20", "34")])
    assert (week.regular_rate, week.total) == (Decimal(28), Decimal("1540.00"))


@published(
    source=OVERTIME_RULES,
    section="778.209(a), (b), a bonus for several weeks",
    status="derived",
    note="the rule was read; 100 over weeks of 40 and 50 hours are ours",
)
def test_a_later_bonus_owes_half_of_its_hourly_share_for_the_overtime_hours():
    assert overtime_on_bonus(Decimal(100), [Decimal(40), Decimal(50)]) == Decimal("5.00")


@published(
    source=OVERTIME_RULES,
    section="778.210, a percentage of total earnings",
    status="derived",
    note="the rule as summed up in 778.503, which was read",
)
def test_a_bonus_of_ten_percent_of_all_earnings_has_its_overtime_in_it():
    week = week_pay([at("50", "20")])
    on_straight_pay_only = week_pay([at("50", "20")], bonus=Decimal(100))
    assert week.total + week.total / 10 == on_straight_pay_only.total == Decimal("1210.00")


@published(
    source=OVERTIME_RULES,
    section="778.322, salary of 200 for 35 h, 41 h worked",
    status="seen",
    note=(
        "prints 237.12: 200 + 5 x 5.71 + 8.57, from hourly rates rounded first. Exactly 200 x 41.5 "
        "/ 35 = 237.142857. We pay 237.15, because straight pay (234.29) and premium (2.86) stand "
        "on two lines, each rounded once: their sum is within a cent of the exact one"
    ),
)
def test_200_for_35_hours_is_237_12_in_print_237_14_exactly_and_237_15_on_our_two_lines():
    week = salaried_week_pay(Decimal(200), Decimal(35), Decimal(41))
    printed_rate, printed_overtime_rate = Decimal("5.71"), Decimal("8.57")
    assert round_to_cent(week.regular_rate) == printed_rate
    assert round_to_cent(week.regular_rate * Decimal("1.5")) == printed_overtime_rate
    assert 200 + 5 * printed_rate + printed_overtime_rate == Decimal("237.12")
    assert round_to_cent(week.regular_rate * Decimal("41.5")) == Decimal("237.14")
    assert (week.straight_pay, week.overtime_premium) == (Decimal("234.29"), Decimal("2.86"))
    assert week.total == Decimal("237.15")


@published(source=OVERTIME_RULES, section="778.325, salary of 275 for 55 h", status="seen")
def test_a_salary_for_55_hours_owes_2_50_beyond_40_and_7_50_beyond_55():
    week = salaried_week_pay(Decimal(275), Decimal(55), Decimal(55))
    assert (week.regular_rate, week.overtime_premium) == (Decimal(5), Decimal("37.50"))
    longer = salaried_week_pay(Decimal(275), Decimal(55), Decimal(60))
    assert longer.total - week.total == 5 * Decimal("7.50")
    reduced = salaried_week_pay(Decimal(275), Decimal(50), Decimal(50))
    assert reduced.regular_rate == Decimal("5.50")


@published(
    source="29 CFR 4.182, Overtime pay of service employees entitled to fringe benefits",
    section="(a), 4.50 in cash of which 0.50 is fringe",
    status="seen",
    note="the rule and the base of 4.00 are printed; the week of 44 hours is ours",
)
def test_fringe_in_cash_is_no_base_of_overtime():
    week = week_pay([at("44", "4.00")], cash_fringe_per_hr=Decimal("0.50"))
    assert (week.regular_rate, week.total) == (Decimal(4), Decimal("206.00"))
    assert week_pay([at("44", "4.50")]).total == Decimal("207.00")
